"""What the trade knows: one small file a rule."""
