"""Where a figure comes from: its formula, its inputs, and the lines of the build below them."""
