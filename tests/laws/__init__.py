"""Laws that hold for every job."""
