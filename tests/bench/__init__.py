"""Benchmarks: scripts that print ratios of two figures of one run. Nothing here is asserted."""
