"""Chance: draws that are the same on every machine."""

from random import Random


def bell(chance: Random) -> float:
    """A draw around 0 with a standard deviation of 1: three even draws added up, since a machine's own
    logarithm and sine may round otherwise than another's."""
    return 2 * (chance.random() + chance.random() + chance.random() - 1.5)
