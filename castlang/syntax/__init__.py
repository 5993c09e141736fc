"""What was written: the lines of a build, parsed."""
