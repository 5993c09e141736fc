"""Money shared out, to the smallest coin, so that the shares add up to the whole.

Each share is its part rounded down; the coins that are missing go to the largest remainders, equal ones by
their order. A part that costs less than nothing does not occur.
"""

from collections.abc import Sequence
from fractions import Fraction

from castlang.spec.minor_units import places_of


def apportioned(whole: Fraction, by: Sequence[Fraction], currency: str) -> tuple[Fraction, ...]:
    """`whole` in shares that go by `by`; equal shares where all of `by` is nought. by is not empty."""
    weights = by if sum(by) else [Fraction(1)] * len(by)
    scale, total = 10 ** places_of(currency), sum(weights, Fraction(0))
    exact = [whole * scale * weight / total for weight in weights]
    floors = [part.__floor__() for part in exact]
    missing = int(whole * scale) - sum(floors)
    order = sorted(range(len(exact)), key=lambda i: (floors[i] - exact[i], i))
    up = frozenset(order[:missing])
    return tuple(Fraction(floor + (i in up), scale) for i, floor in enumerate(floors))
