"""What was done, and what follows from it for the rest."""
