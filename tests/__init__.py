"""Tests: published values, laws, kept files, and an independent judge."""
