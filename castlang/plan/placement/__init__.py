"""How tasks are set on the board of the shop, one block after another."""
