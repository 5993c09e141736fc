"""What is written: PDF, CSV, JSON, text."""
