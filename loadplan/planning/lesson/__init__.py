"""What a lesson asks of the statics: the unit that stands on its own, and the trial on kitchen scales."""
