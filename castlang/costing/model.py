"""The order list and the money. Amounts exact; money in the smallest coin of its currency."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction

from castlang.problems.model import Assumption
from castlang.spec.model import Exchange, Package
from castlang.spec.quantity import Dimension, Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Packs:
    """So many packages of one size to buy. size in the SI unit of the line that it stands on."""

    package: Package
    size: Fraction
    number: int
    price: Money | None
    cost: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One stock or fitting to have. need, left over in the SI unit of `dimension`; packages are whole.

    have: packages on hand. buy: packages to buy, the fewest that are never short; of several sizes those that
    cost least, in `packs`. package None: the spec does not say how it is sold, so nothing can be rounded.
    first_use, last_use: the days on which it is needed, by the plan; order_by: the latest order date that
    does not move the plan, a day on which the shop is open; latest: the same, open or not. net: the need
    without waste. worth: the price of the need, on hand or bought.
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
    last_use: date | None = None
    packs: tuple[Packs, ...] = ()
    net: Fraction = Fraction(0)
    worth: Money | None = None

    @property
    def latest(self) -> date | None:
        if self.order_by is None or self.first_use is None:
            return None
        return self.first_use - timedelta(days=self.lead_days)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """Work of one owner (piece, job, mold) in person-minutes, all copies."""

    owner: str
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """1 of `sold` is worth `rate` of `bought`, by the exchange lines in `by`, one after another."""

    sold: str
    rate: Fraction
    bought: str
    by: tuple[Exchange, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StationHours:
    """Minutes in which a priced station is in use; cost in the currency of the totals; of: by owner."""

    station: str
    minutes: int
    cost: Fraction
    of: tuple[tuple[str, Fraction], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sums:
    """What the build costs, in one currency; material without its waste."""

    currency: str
    material: Fraction
    waste: Fraction
    labour: Fraction
    stations: Fraction
    contingency: Fraction

    @property
    def before(self) -> Fraction:
        """Everything that the contingency is a share of."""
        return self.material + self.waste + self.labour + self.stations

    @property
    def total(self) -> Fraction:
        return self.before + self.contingency


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceCost:
    """All copies of one piece, with the molds that cast it; shared: its part of jobs and temporary works.
    The totals of all pieces add up to the build's."""

    piece: str
    copies: int
    material: Fraction
    labour: Fraction
    stations: Fraction
    shared: Fraction
    contingency: Fraction

    @property
    def total(self) -> Fraction:
        return self.material + self.labour + self.stations + self.shared + self.contingency


@dataclass(frozen=True, slots=True, kw_only=True)
class Quote:
    """What the client pays: cost + overhead + margin + freight. pieces: (piece, copies, price of all copies
    without freight), which add up to the price without freight."""

    currency: str
    cost: Fraction
    overhead: Fraction
    margin: Fraction
    freight: Fraction
    pieces: tuple[tuple[str, int, Fraction], ...] = ()

    @property
    def goods(self) -> Fraction:
        """The price without freight."""
        return self.cost + self.overhead + self.margin

    @property
    def price(self) -> Fraction:
        return self.goods + self.freight


@dataclass(frozen=True, slots=True, kw_only=True)
class Costing:
    """material (to lay out for what is bought) and labour by currency; unpriced: names of what has no price.

    rates: of every currency of the build but the totals' own. sums None: nothing has a price. quote: only
    where the build tells a margin, an overhead or a freight.
    """

    orders: tuple[OrderLine, ...]
    hours: tuple[Hours, ...]
    material: Mapping[str, Fraction]
    labour: Mapping[str, Fraction]
    unpriced: tuple[str, ...]
    stations: tuple[StationHours, ...] = ()
    rates: tuple[Rate, ...] = ()
    sums: Sums | None = None
    pieces: tuple[PieceCost, ...] = ()
    quote: Quote | None = None
    assumptions: tuple[Assumption, ...] = field(default=(), compare=False)
