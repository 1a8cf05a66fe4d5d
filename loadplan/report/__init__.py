"""The reports: one assessment as machine output, terminal page and plan."""
