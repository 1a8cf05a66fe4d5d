"""Plan where a powertrain stands while it is out of the vehicle, and whether it stays there."""
