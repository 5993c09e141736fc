"""Words to calls."""
