"""Broken code on purpose: what no test notices, no test holds."""
