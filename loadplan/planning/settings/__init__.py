"""Settings: set heights and shims, and the order in which parts come off."""
