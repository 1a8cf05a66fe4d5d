"""The live plan in the browser."""
