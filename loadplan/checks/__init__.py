"""The checks, one file each; `check_table` has them in the order in which they are told."""
