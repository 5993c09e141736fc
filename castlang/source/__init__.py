"""Text that comes in: files, standard input, or texts held in memory, and places in them."""
