"""Planning: what if."""
