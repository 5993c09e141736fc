"""Whole packages to buy: never short, and never one too many.

    n = max(0, ceil(need / size - have))

need and size in one unit, have in packages (parts of one count).
"""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """packages to buy, and what is left over of all there is, in the unit of the need."""

    packages: int
    left: Fraction


def bought(need: Fraction, size: Fraction, have: Fraction) -> Bought:
    """The fewest packages of `size` that cover `need` with `have` packages on hand. size is above nought."""
    packages = max(0, ceil(need / size - have))
    return Bought(packages=packages, left=(have + packages) * size - need)
