"""The network of a build: its steps as tasks, with the gaps and holds between them."""
