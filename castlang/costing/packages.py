"""Whole packages to buy: never short, never one too many, and of several sizes those that cost least.

    n = max(0, ceil(need / size - have))

need and size in one unit, have in packages (parts of one count). Several sizes: the counts n_i that make

    sum n_i p_i  least,  with  sum n_i s_i >= need - have s_1

found by trying all counts that could still be the cheapest (branch and bound, on exact fractions).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

NOUGHT = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """packages to buy, and what is left over of all there is, in the unit of the need."""

    packages: int
    left: Fraction


def bought(need: Fraction, size: Fraction, have: Fraction) -> Bought:
    """The fewest packages of `size` that cover `need` with `have` packages on hand. size is above nought."""
    packages = max(0, ceil(need / size - have))
    return Bought(packages=packages, left=(have + packages) * size - need)


def cheapest(need: Fraction, sizes: Sequence[Fraction], prices: Sequence[Fraction]) -> tuple[int, ...]:
    """How many of each size cover `need` at least cost; of equal costs the fewest packages, then the least
    left over. sizes are above nought; prices, in one currency, are not below it."""
    if need <= 0:
        return (0,) * len(sizes)
    # The best value for money first: then the rest of a need is never met cheaper than at its rate.
    order = sorted(range(len(sizes)), key=lambda i: (prices[i] / sizes[i], -sizes[i], i))
    search = _Search(tuple(sizes[i] for i in order), tuple(prices[i] for i in order))
    search.fill(need, ())
    counts = [0] * len(sizes)
    for place, number in zip(order, search.best, strict=True):
        counts[place] = number
    return tuple(counts)


class _Search:
    def __init__(self, sizes: tuple[Fraction, ...], prices: tuple[Fraction, ...]) -> None:
        self.sizes, self.prices = sizes, prices
        self.best: tuple[int, ...] = ()
        self._least: tuple[Fraction, int, Fraction] | None = None

    def fill(self, need: Fraction, counts: tuple[int, ...]) -> None:
        """Try all counts of the sizes behind those of `counts`, which leave `need`."""
        at = len(counts)
        if at == len(self.sizes):
            if need <= 0:
                self._keep(counts, -need)
            return
        most = max(0, ceil(need / self.sizes[at]))
        least = most if at + 1 == len(self.sizes) else 0
        for number in range(most, least - 1, -1):
            rest = need - number * self.sizes[at]
            tried = (*counts, number)
            if self._least is None or self._bound(tried, rest) <= self._least[:2]:
                self.fill(rest, tried)
            elif rest > 0 and self._worse_below(at, tried, rest):
                return

    def _bound(self, counts: tuple[int, ...], rest: Fraction) -> tuple[Fraction, int]:
        """No way to meet what is left costs less, or takes fewer packages, than this."""
        cost, number, behind = self._cost(counts), sum(counts), self.sizes[len(counts) :]
        if rest > 0 and behind:
            cost += rest * self.prices[len(counts)] / behind[0]
            number += ceil(rest / max(behind))
        return cost, number

    def _worse_below(self, at: int, counts: tuple[int, ...], rest: Fraction) -> bool:
        """Whether fewer of the size at `at` can only be worse: more is left for those behind it, which give
        less for the money, or as much in smaller packages."""
        dearer = self._least is not None and self._bound(counts, rest)[0] > self._least[0]
        return dearer or max(self.sizes[at:]) == self.sizes[at]

    def _cost(self, counts: tuple[int, ...]) -> Fraction:
        return sum((n * p for n, p in zip(counts, self.prices, strict=False)), NOUGHT)

    def _keep(self, counts: tuple[int, ...], left: Fraction) -> None:
        found = (self._cost(counts), sum(counts), left)
        if self._least is None or found < self._least:
            self._least, self.best = found, counts
