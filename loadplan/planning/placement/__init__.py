"""Placement: the layout of stands with the largest worst margin."""
