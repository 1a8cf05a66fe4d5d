"""What a disk, a keyboard and a stranger can do to the program: it answers, and loses nothing."""
