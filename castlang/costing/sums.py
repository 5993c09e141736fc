"""What the build costs in all, and each of its pieces.

    material    = sum(need x price / size)     with waste; what is on hand is worth what it costs to buy
    labour      = sum(people x minutes) / 60 x wage
    contingency = share x (material + labour + stations)

Each figure is rounded to the smallest coin where it is made, and the sums are those of what is shown. A mold
belongs to the pieces that it casts, by their castings; jobs, temporary works and loose fittings are shared
out by what the pieces cost of themselves.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from castlang.costing.model import Hours, OrderLine, PieceCost, Rate, StationHours, Sums
from castlang.costing.rates import turned
from castlang.costing.shares import apportioned
from castlang.spec.minor_units import paid
from castlang.spec.model import Build, Spec
from castlang.spec.quantity import Money
from castlang.takeoff.model import BillLine

NOUGHT = Fraction(0)
SHARED = ""  # the owner of what belongs to no piece and no mold


@dataclass(frozen=True, slots=True, kw_only=True)
class Spent:
    """Money by owner (piece, mold, job, or SHARED), in one currency; waste is a part of material."""

    currency: str
    material: Mapping[str, Fraction]
    labour: Mapping[str, Fraction]
    stations: Mapping[str, Fraction]
    waste: Fraction = NOUGHT


def spent(
    spec: Spec,
    orders: Sequence[OrderLine],
    bill: Sequence[BillLine],
    hours: Sequence[Hours],
    stations: Sequence[StationHours],
    rates: Mapping[str, Rate],
    currency: str,
) -> Spent:
    """All money by owner. rates: to `currency`."""
    material: dict[str, Fraction] = {}
    waste = NOUGHT
    for order in orders:
        worth = None if order.worth is None else turned(order.worth, rates)
        line = next((b for b in bill if (b.stock, b.dimension) == (order.name, order.dimension)), None)
        if worth is None or line is None or not line.of:
            continue
        waste += worth - net_worth(order, worth, currency)
        shares = apportioned(worth, [gross for _, gross in line.of], currency)
        for (source, _), share in zip(line.of, shares, strict=True):
            owner = owner_of(spec, source)
            material[owner] = material.get(owner, NOUGHT) + share
    used: dict[str, Fraction] = {}
    for station in stations:
        for owner, cost in station.of:
            used[owner] = used.get(owner, NOUGHT) + cost
    labour = {h.owner: wages(spec.build, h.minutes, rates) for h in hours}
    return Spent(currency=currency, material=material, labour=labour, stations=used, waste=waste)


def net_worth(order: OrderLine, worth: Fraction, currency: str) -> Fraction:
    """The part of `worth` that is no waste."""
    return paid(worth * order.net / order.need, currency) if order.need else worth


def wages(build: Build, minutes: int, rates: Mapping[str, Rate]) -> Fraction:
    """What `minutes` of people cost; nothing where no wage is told."""
    if build.wage is None:
        return NOUGHT
    money = Money(amount=build.wage.amount * Fraction(minutes, 60), currency=build.wage.currency)
    return turned(money, rates) or NOUGHT


def owner_of(spec: Spec, source: str) -> str:
    """The piece, mold or job that a line of the bill belongs to."""
    name = source.split(".")[0]
    return name if name in spec.pieces or name in spec.molds or name in spec.jobs else SHARED


def sums_of(build: Build, money: Spent) -> Sums:
    """What the build costs in all, per piece and per job, from its prices and hours."""
    material = sum(money.material.values(), NOUGHT)
    labour, stations = sum(money.labour.values(), NOUGHT), sum(money.stations.values(), NOUGHT)
    share = build.contingency or NOUGHT
    return Sums(
        currency=money.currency,
        material=material - money.waste,
        waste=money.waste,
        labour=labour,
        stations=stations,
        contingency=paid(share * (material + labour + stations), money.currency),
    )


# ---------------------------------------------------------------- by piece


@dataclass(slots=True)
class _Own:
    material: Fraction = NOUGHT
    labour: Fraction = NOUGHT
    stations: Fraction = NOUGHT

    @property
    def total(self) -> Fraction:
        return self.material + self.labour + self.stations


@dataclass(slots=True)
class _Division:
    spec: Spec
    money: Spent
    own: dict[str, _Own] = field(default_factory=dict)
    shared: Fraction = NOUGHT

    def divide(self) -> None:
        pieces = self.spec.pieces
        self.own = {name: _Own() for name in pieces}
        for kind, by_owner in (
            ("material", self.money.material),
            ("labour", self.money.labour),
            ("stations", self.money.stations),
        ):
            for owner, cost in sorted(by_owner.items()):
                self._give(kind, owner, cost)

    def _give(self, kind: str, owner: str, cost: Fraction) -> None:
        mold = self.spec.molds.get(owner)
        cast = [name for name in mold.fits if name in self.own] if mold is not None else []
        if owner in self.own:
            cast = [owner]
        if not cast:
            self.shared += cost
            return
        castings = [Fraction(copies_of(self.spec, name)) for name in cast]
        for name, share in zip(cast, apportioned(cost, castings, self.money.currency), strict=True):
            setattr(self.own[name], kind, getattr(self.own[name], kind) + share)


def copies_of(spec: Spec, piece: str) -> int:
    """How many copies of a piece are made, plain and mirrored."""
    return spec.pieces[piece].count + spec.pieces[piece].mirrored


def pieces_of(spec: Spec, money: Spent, sums: Sums) -> tuple[PieceCost, ...]:
    """The cost of each piece, in order of name; nothing where the build casts none."""
    if not spec.pieces:
        return ()
    division = _Division(spec=spec, money=money)
    division.divide()
    names = tuple(division.own)
    shared = apportioned(division.shared, _weights(spec, names, division), money.currency)
    with_shared = [division.own[n].total + s for n, s in zip(names, shared, strict=True)]
    contingency = apportioned(sums.contingency, with_shared, money.currency)
    return tuple(
        PieceCost(
            piece=name,
            copies=copies_of(spec, name),
            material=division.own[name].material,
            labour=division.own[name].labour,
            stations=division.own[name].stations,
            shared=part,
            contingency=more,
        )
        for name, part, more in zip(names, shared, contingency, strict=True)
    )


def _weights(spec: Spec, names: tuple[str, ...], division: _Division) -> list[Fraction]:
    """What shared cost is divided by: the pieces' own cost; where they cost nothing, their copies."""
    own = [division.own[name].total for name in names]
    return own if any(own) else [Fraction(copies_of(spec, name)) for name in names]
