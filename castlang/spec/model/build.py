"""The build, its shop, and the whole spec."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from fractions import Fraction

from castlang.problems.model import Assumption
from castlang.source.model import Span
from castlang.spec.model.equipment import Fitting, Mold, Station
from castlang.spec.model.materials import Mix, Stock
from castlang.spec.model.pieces import Job, Piece
from castlang.spec.model.records import Done, Measured, Waiver
from castlang.spec.model.steps import Gang
from castlang.spec.model.times import NOWHERE, Days
from castlang.spec.quantity import Money, Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """Hours on weekdays `first` to `last` (Monday is 0), as (from, to) pairs."""

    first: int
    last: int
    spells: tuple[tuple[time, time], ...]
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """A value (K, or a share for humidity) for all days, or for `days`."""

    value: Fraction
    days: Days | None = None
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What a logger showed: K at a moment of the shop's own clock."""

    at: datetime
    value: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Away:
    """People missing on some days."""

    count: int
    days: Days
    role: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchange:
    """1 of `sold` is worth `rate` of `bought`, told on `on`."""

    sold: str
    rate: Fraction
    bought: str
    on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """The build and its shop. wage: money an hour. units: "metric" or "us"."""

    name: str
    label: str | None = None
    revision: str | None = None
    start: date = date(1970, 1, 5)
    due: date | None = None
    shifts: tuple[Shift, ...] = ()
    closed: tuple[Days, ...] = ()
    crew: tuple[Gang, ...] = ()
    away: tuple[Away, ...] = ()
    air: tuple[Climate, ...] = ()
    night: tuple[Climate, ...] = ()
    humidity: tuple[Climate, ...] = ()
    draft: Fraction | None = None
    wage: Money | None = None
    waste: Fraction | None = None
    units: str = "metric"
    contingency: Fraction | None = None
    margin: Fraction | None = None
    overhead: Fraction | None = None
    freight: Money | None = None
    exchange: tuple[Exchange, ...] = ()
    priority: int | None = None
    lift_limit: Fraction | None = None  # kg a person
    logger: str | None = None
    logged: tuple[Reading, ...] = field(default=(), repr=False)  # by time
    notes: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """A whole build, resolved. Every mapping goes by name, in sorted order of the names."""

    build: Build
    stocks: Mapping[str, Stock]
    mixes: Mapping[str, Mix]
    molds: Mapping[str, Mold]
    stations: Mapping[str, Station]
    fittings: Mapping[str, Fitting]
    pieces: Mapping[str, Piece]
    jobs: Mapping[str, Job]
    waivers: tuple[Waiver, ...] = ()
    measured: tuple[Measured, ...] = ()
    done: tuple[Done, ...] = ()
    defaults: Mapping[str, Quantity] = field(default_factory=dict)  # the shop's `assume` lines
    assumptions: tuple[Assumption, ...] = field(default=(), compare=False)

    def owners(self) -> tuple[Piece | Job | Mold, ...]:
        """Everything that has a sequence of steps: molds, pieces, jobs, each in order of name."""
        return (*self.molds.values(), *self.pieces.values(), *self.jobs.values())
