"""What a shop works with: molds, stations, fittings."""

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from castlang.source.model import Span
from castlang.spec.model.steps import Item, Step
from castlang.spec.model.times import NOWHERE, Days
from castlang.spec.quantity import Money, Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A board cut to `long` by `wide` m."""

    name: str
    long: Fraction
    wide: Fraction
    count: int = 1
    stock: str | None = None
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """A treated edge of a mold: `fillet 4 mm`."""

    kind: str
    size: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Mold:
    """A mold (`temporary` False) or a temporary work such as a dam or brace (True).

    `release` is the step that oils it before every casting, when there is one.
    `lasts`: castings each of the copies bears; None when not counted.
    """

    name: str
    label: str | None = None
    temporary: bool = False
    count: int = 1
    mirrored: int = 0
    fits: tuple[str, ...] = ()
    board: str | None = None
    panels: tuple[Panel, ...] = ()
    edges: tuple[Edge, ...] = ()
    release: Step | None = None
    lasts: int | None = None
    sequence: tuple[Item, ...] = ()
    hazards: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A mixer, table, rack, truck, hoist. holds: what stands on it or in it, pieces (count), volume or mass;
    lifts: kg that it carries in people's place; scale: least, greatest, step kg."""

    name: str
    label: str | None = None
    have: int = 1
    holds: Quantity | None = None
    lifts: Fraction | None = None
    least: Quantity | None = None
    scale: tuple[Fraction, Fraction, Fraction] | None = None
    price: Money | None = None  # an hour
    closed: tuple[Days, ...] = ()
    notes: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """Something bought or made outside. weight and carries kg each."""

    name: str
    label: str | None = None
    buy: int | None = None
    price: Money | None = None
    lead: Fraction = Fraction(0)
    ordered: date | None = None
    weight: Fraction | None = None
    carries: Fraction | None = None
    hazards: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)
