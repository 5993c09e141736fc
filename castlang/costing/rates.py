"""One currency for the totals: told amounts of another are turned by the rates of the `exchange` lines.

a in B = a x r,  where 1 A = r B was told;  1 B = 1/r A;  rates of several lines multiply
"""

from collections.abc import Iterable, Mapping
from fractions import Fraction

from castlang.costing.model import Rate
from castlang.spec.minor_units import paid
from castlang.spec.model import Exchange
from castlang.spec.quantity import Money


def rates_to(currency: str, exchange: Iterable[Exchange]) -> Mapping[str, Rate]:
    """What 1 of each currency is worth in `currency`, for each that the lines reach; by the fewest lines."""
    lines = tuple(exchange)
    found = {currency: Rate(sold=currency, rate=Fraction(1), bought=currency)}
    edge = [currency]
    while edge:
        following: list[str] = []
        for known in edge:
            for line in lines:
                for other, end, factor in _ways(line):
                    if end == known and other not in found:
                        reached = found[known]
                        found[other] = Rate(
                            sold=other,
                            rate=factor * reached.rate,
                            bought=currency,
                            by=(line, *reached.by),
                        )
                        following.append(other)
        edge = following
    return found


def _ways(line: Exchange) -> tuple[tuple[str, str, Fraction], ...]:
    """(from, to, factor): a rate can be walked in both directions."""
    if not line.rate:
        return ()
    return (line.sold, line.bought, line.rate), (line.bought, line.sold, 1 / line.rate)


def turned(money: Money, rates: Mapping[str, Rate]) -> Fraction | None:
    """`money` in the currency of `rates`, to its smallest coin; None where no rate reaches it."""
    rate = rates.get(money.currency)
    return None if rate is None else paid(money.amount * rate.rate, rate.bought)
