"""What was meant: names resolved, units taken, nothing missing."""
