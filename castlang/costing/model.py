"""The order list and the money. Amounts exact; money per currency."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from castlang.problems.model import Assumption
from castlang.spec.quantity import Dimension, Money


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One stock or fitting to have. need, left over in the SI unit of `dimension`; packages are whole.

    have: packages on hand. buy: packages to buy, the fewest that are never short. package None: the spec
    does not say how it is sold, so nothing can be rounded. first_use: the day it is first needed, by the
    plan; order_by: the latest order date that does not move the plan.
    """

    name: str
    fitting: bool
    dimension: Dimension
    need: Fraction
    package: str | None
    package_size: Fraction | None
    have: Fraction
    buy: int
    left: Fraction | None
    price: Money | None
    cost: Money | None
    lead_days: int
    first_use: date | None
    order_by: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """Work of one owner (piece, job, mold) in person-minutes, all copies."""

    owner: str
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Costing:
    """material and labour by currency; unpriced: names of what has no price."""

    orders: tuple[OrderLine, ...]
    hours: tuple[Hours, ...]
    material: Mapping[str, Fraction]
    labour: Mapping[str, Fraction]
    unpriced: tuple[str, ...]
    assumptions: tuple[Assumption, ...] = field(default=(), compare=False)
