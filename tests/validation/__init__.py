"""Published and hand-derived values, one file a source; every case is a real job that goes through the real path."""
