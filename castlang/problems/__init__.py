"""What there is to say to the builder: findings, the problems found, and what was assumed."""
