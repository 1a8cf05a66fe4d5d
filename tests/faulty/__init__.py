"""Bad files, each with the faults that it must yield."""
