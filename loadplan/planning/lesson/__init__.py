"""The lesson: questions that a job can ask a class, and what the statics answer."""
