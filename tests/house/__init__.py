"""Tests of the house around the code: README, walls, packaging, figures."""
