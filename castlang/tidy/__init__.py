"""One style for every build: the same words, set the same way."""
