"""Hours in which priced stations are in use, and what they cost.

    minutes = sum over the clock of ceil(places taken / places of one station)
    cost    = minutes / 60 x price

A step uses a station while people work at it, breaks and nights left out; what is taken and freed is held by
the clock. Two steps that share the places of one station at once cost it once.
"""

from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise
from math import ceil

from castlang.costing.model import Rate, StationHours
from castlang.costing.rates import turned
from castlang.costing.shares import apportioned
from castlang.plan.model import Plan
from castlang.spec.model import Spec, Station
from castlang.spec.quantity import Money
from castlang.spec.turns import places_of


def station_hours(spec: Spec, plan: Plan, rates: Mapping[str, Rate]) -> tuple[StationHours, ...]:
    """One line for each priced station in use, in order of name. rates: to the currency of the totals."""
    found = []
    for station in spec.stations.values():
        uses = _uses(plan, station.name) if station.price is not None else []
        minutes = _minutes(uses, max(1, places_of(station) // station.have))
        if station.price is None or not minutes:
            continue
        cost = turned(_hired(station, station.price, minutes), rates)
        if cost is None:
            continue
        by_owner: dict[str, Fraction] = {}
        for start, end, amount, owner in uses:
            by_owner[owner] = by_owner.get(owner, Fraction(0)) + (end - start) * amount
        owners = sorted(by_owner)
        parts = apportioned(cost, [by_owner[owner] for owner in owners], _bought(rates))
        found.append(
            StationHours(
                station=station.name,
                minutes=minutes,
                cost=cost,
                of=tuple(zip(owners, parts, strict=True)),
            )
        )
    return tuple(found)


def _hired(station: Station, price: Money, minutes: int) -> Money:
    return Money(amount=price.amount * Fraction(minutes, 60), currency=price.currency)


def _bought(rates: Mapping[str, Rate]) -> str:
    return next(rate.bought for rate in rates.values())


Use = tuple[int, int, int, str]  # from, to, places, owner


def _uses(plan: Plan, station: str) -> list[Use]:
    placed = {p.task: p for p in plan.placed}
    tasks = {task.name: task for task in plan.network.tasks}
    uses: list[Use] = []
    for task in plan.network.tasks:
        amount = sum(need.amount for need in task.needs if need.resource == station)
        if amount and task.name in placed:
            uses += [(start, end, amount, task.owner) for start, end in placed[task.name].spells]
    for hold in (*plan.network.holds, *plan.network.past):
        if hold.resource == station and hold.first in placed:
            end = plan.finish if hold.last is None else placed[hold.last].end
            uses.append((placed[hold.first].start, end, hold.amount, tasks[hold.first].owner))
    return [use for use in uses if use[1] > use[0]]


def _minutes(uses: list[Use], places: int) -> int:
    moments = sorted({moment for start, end, _, _ in uses for moment in (start, end)})
    total = 0
    for start, end in pairwise(moments):
        taken = sum(amount for begin, until, amount, _ in uses if begin <= start and until >= end)
        total += (end - start) * ceil(taken / places)
    return total
