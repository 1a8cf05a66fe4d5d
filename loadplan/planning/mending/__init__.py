"""Mending: the fewest changes to the stands after which nothing stops, and a stand changed while a unit is on it."""
