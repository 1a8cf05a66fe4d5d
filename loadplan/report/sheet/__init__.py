"""Paper: the floor sheet of a job, and the register of a shop."""
