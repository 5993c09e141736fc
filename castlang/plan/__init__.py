"""When and who: the network of steps and gaps, the shop's hours, the plan, and its check."""
