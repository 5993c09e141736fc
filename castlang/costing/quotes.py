"""What the client pays.

    overhead = o x cost      margin = m x (cost + overhead)      price = cost + overhead + margin + freight

o and m are the build's `overhead` and `margin`: shares that are added on, not shares of the price.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from castlang.costing.model import PieceCost, Quote, Rate, Sums
from castlang.costing.rates import turned
from castlang.costing.shares import apportioned
from castlang.spec.minor_units import paid
from castlang.spec.model import Build

NOUGHT = Fraction(0)


def quote_of(
    build: Build, sums: Sums, pieces: Sequence[PieceCost], rates: Mapping[str, Rate]
) -> Quote | None:
    """The quote; None where the build tells no margin, no overhead and no freight."""
    if build.margin is None and build.overhead is None and build.freight is None:
        return None
    currency = sums.currency
    overhead = paid((build.overhead or NOUGHT) * sums.total, currency)
    margin = paid((build.margin or NOUGHT) * (sums.total + overhead), currency)
    freight = None if build.freight is None else turned(build.freight, rates)
    goods = sums.total + overhead + margin
    prices = apportioned(goods, [p.total for p in pieces], currency) if pieces else ()
    return Quote(
        currency=currency,
        cost=sums.total,
        overhead=overhead,
        margin=margin,
        freight=freight or NOUGHT,
        pieces=tuple((p.piece, p.copies, price) for p, price in zip(pieces, prices, strict=True)),
    )
