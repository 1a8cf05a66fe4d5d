"""Reading files: what comes in as users write it, and what goes on as nouns."""
