"""What to order by when, and what it costs."""
