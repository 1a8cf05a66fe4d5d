"""The reports: numbers in words, the machine output, the terminal page, the plan."""
