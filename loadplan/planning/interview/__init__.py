"""The interview: questions that lead to a first job."""
