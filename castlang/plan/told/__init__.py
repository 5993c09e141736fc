"""What a plan says of itself: its chain, its slack, who hands on to whom, what more would save."""
