"""When and who: the network of steps and gaps, the shop's hours, the plan, and its check.

`network` makes the network, `warmth` and `records` change its waits and what is done; `gaps` looks at it
without crew and hours; `placement`, `searches`, `bounds` and `solving` find a plan; `told` says of it what a
crew asks.
"""
