"""One order for several builds: needs added up before they are rounded, panels laid out together."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeVar

from castlang.costing.days_of_use import DaysOfUse, days_of_use
from castlang.costing.findings import STOCKS_DIFFER
from castlang.costing.model import OrderLine
from castlang.costing.orders import orders_of
from castlang.costing.shelf_life import kept_too_long
from castlang.plan.model import Plan
from castlang.problems.model import Outcome, Problem
from castlang.source.model import Span
from castlang.spec.model import Fitting, Spec, Stock
from castlang.takeoff.bill import area_of
from castlang.takeoff.model import BillLine, BoardPanel, Nest, Takeoff
from castlang.takeoff.nesting import nest_of
from castlang.takeoff.panels import sheet_of

NOUGHT = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A build that was planned: what an order takes from it."""

    spec: Spec
    takeoff: Takeoff
    plan: Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """The order of several builds: every stock and fitting that they name, the lines, and the sheets."""

    stocks: Mapping[str, Stock]
    fittings: Mapping[str, Fitting]
    bill: tuple[BillLine, ...]
    orders: tuple[OrderLine, ...]
    nests: tuple[Nest, ...] = ()


def joint_order(builds: Sequence[Planned]) -> Outcome[Joint]:
    """The one order of `builds`, each line in order of name; what is on hand serves all of them once.

    Findings: a stock or fitting that two builds tell differently, one that does not keep to its last use.
    """
    stocks, clashes = _as_one([build.spec.stocks for build in builds], "stock")
    fittings, more = _as_one([build.spec.fittings for build in builds], "fitting")
    if clashes or more:
        return Outcome(value=None, problems=(*clashes, *more))
    nests = _nests(stocks, builds)
    bill = _bill(builds, nests)
    orders = orders_of(stocks, fittings, bill, _days(builds), [b.plan.network.hours for b in builds])
    start = min(build.spec.build.start for build in builds)
    return Outcome(
        value=Joint(stocks=stocks, fittings=fittings, bill=bill, orders=orders, nests=nests),
        problems=kept_too_long(stocks, orders, start),
    )


T = TypeVar("T", Stock, Fitting)


def _as_one(told: Sequence[Mapping[str, T]], kind: str) -> tuple[dict[str, T], list[Problem]]:
    """All things by name, each told once or told the same; and those that are not."""
    known: dict[str, T] = {}
    problems: list[Problem] = []
    for things in told:
        for name, thing in things.items():
            other = known.setdefault(name, thing)
            if other != thing:
                problems.append(_differ(f"{kind} {name}", thing.span, other.span, name))
    return dict(sorted(known.items())), problems


def _differ(what: str, here: Span, there: Span, name: str) -> Problem:
    return Problem(
        finding=STOCKS_DIFFER,
        message=f"{what} is told differently by two of the builds",
        span=here,
        related=((there, "the other one"),),
        about=(name,),
    )


def _days(builds: Sequence[Planned]) -> Mapping[str, DaysOfUse]:
    """From the first use in any build to the last in any."""
    found: dict[str, DaysOfUse] = {}
    for build in builds:
        for name, days in days_of_use(build.spec, build.takeoff, build.plan).items():
            before = found.get(name, days)
            found[name] = DaysOfUse(first=min(before.first, days.first), last=max(before.last, days.last))
    return found


# ---------------------------------------------------------------- needs


def _bill(builds: Sequence[Planned], nests: Sequence[Nest]) -> tuple[BillLine, ...]:
    """One line a stock and dimension; of: the builds. Board is counted by the sheets of the joint layout."""
    lines: dict[tuple[str, str], BillLine] = {}
    for number, build in enumerate(builds):
        for line in build.takeoff.bill:
            gross = line.gross
            for nest in build.takeoff.nests:
                if nest.stock == line.stock:
                    gross += _sheet_area(nests, builds, nest.stock, number) - _area(nest)
            key = (line.stock, line.dimension.value)
            before = lines.get(key)
            of = (build.spec.build.name, gross)
            lines[key] = (
                replace(line, gross=gross, of=(of,))
                if before is None
                else replace(
                    before, net=before.net + line.net, gross=before.gross + gross, of=(*before.of, of)
                )
            )
    return tuple(lines[key] for key in sorted(lines))


def _area(nest: Nest) -> Fraction:
    return nest.number * nest.long * nest.wide


def _sheet_area(nests: Sequence[Nest], builds: Sequence[Planned], stock: str, number: int) -> Fraction:
    """The part of the joint sheets that one build's panels take, by their area."""
    nest = next(nest for nest in nests if nest.stock == stock)
    areas = [sum((area_of(p) for p in b.takeoff.panels if p.stock == stock), NOUGHT) for b in builds]
    return _area(nest) * areas[number] / sum(areas, NOUGHT)


def _nests(stocks: Mapping[str, Stock], builds: Sequence[Planned]) -> tuple[Nest, ...]:
    names = sorted({nest.stock for build in builds for nest in build.takeoff.nests})
    nests = []
    for name in names:
        sheet = sheet_of(stocks[name])
        panels: list[BoardPanel] = []
        for build in builds:
            called = f"{build.spec.build.name}: " if len(builds) > 1 else ""
            panels += [
                replace(panel, mold=f"{called}{panel.mold}")
                for panel in build.takeoff.panels
                if panel.stock == name
            ]
        if sheet is not None:
            nests.append(nest_of(sheet, panels))
    return tuple(nests)
