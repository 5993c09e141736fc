"""A plan becomes an order list, the money, and the quote."""

from collections.abc import Mapping
from fractions import Fraction

from castlang.costing.currencies import apart, base_of, used_rates
from castlang.costing.days_of_use import days_of_use
from castlang.costing.findings import ORDERED_TOO_LATE
from castlang.costing.model import Costing, Hours, OrderLine
from castlang.costing.orders import orders_of
from castlang.costing.quotes import quote_of
from castlang.costing.rates import rates_to
from castlang.costing.shelf_life import kept_too_long
from castlang.costing.stations import station_hours
from castlang.costing.sums import pieces_of, spent, sums_of
from castlang.plan.model import Plan
from castlang.problems.model import Outcome, Problem
from castlang.spec.model import Build, Spec
from castlang.takeoff.model import Takeoff

NOUGHT = Fraction(0)


def costing_of(spec: Spec, takeoff: Takeoff, plan: Plan) -> Outcome[Costing]:
    """What to order by when, the hours of each owner, and the money.

    Findings: two currencies without a rate between them; something needed before it can have arrived;
    something bought that no longer keeps when it is used.
    """
    uses = days_of_use(spec, takeoff, plan)
    orders = orders_of(spec.stocks, spec.fittings, takeoff.bill, uses, (plan.network.hours,))
    problems = (
        *late(spec, orders),
        *kept_too_long(spec.stocks, orders, spec.build.start),
        *apart(spec, orders),
    )
    outcome = Outcome(value=_costing(spec, takeoff, plan, orders), problems=problems)
    return Outcome(value=None, problems=problems) if outcome.failed else outcome


def _costing(spec: Spec, takeoff: Takeoff, plan: Plan, orders: tuple[OrderLine, ...]) -> Costing:
    hours = _hours(plan)
    unpriced = tuple(o.name for o in orders if o.cost is None and (o.buy or o.package_size is None))
    material = laid_out(orders)
    labour = _labour(spec.build, hours)
    currency = base_of(spec, orders)
    if currency is None:
        return Costing(orders=orders, hours=hours, material=material, labour=labour, unpriced=unpriced)
    rates = rates_to(currency, spec.build.exchange)
    stations = station_hours(spec, plan, rates)
    money = spent(spec, orders, takeoff.bill, hours, stations, rates, currency)
    sums = sums_of(spec.build, money)
    pieces = pieces_of(spec, money, sums)
    return Costing(
        orders=orders,
        hours=hours,
        material=material,
        labour=labour,
        unpriced=unpriced,
        stations=stations,
        rates=used_rates(spec, orders, rates),
        sums=sums,
        pieces=pieces,
        quote=quote_of(spec.build, sums, pieces, rates),
    )


def late(spec: Spec, orders: tuple[OrderLine, ...]) -> tuple[Problem, ...]:
    """A finding for each thing that is ordered after the day by which it had to be."""
    problems = []
    for order in orders:
        thing = spec.fittings[order.name] if order.fitting else spec.stocks[order.name]
        ordered = thing.ordered or spec.build.start
        latest = order.latest
        if latest is None or latest >= ordered or order.lead_days == 0:
            continue
        problems.append(
            Problem(
                finding=ORDERED_TOO_LATE,
                message=f"{order.name} is needed on {order.first_use} and takes {order.lead_days} days, "
                f"so it must be ordered by {latest}, and it is ordered on {ordered}",
                span=thing.span,
                remedy=f"write `ordered {latest}` under {order.name} once it is, or start later",
                about=(order.name,),
            )
        )
    return tuple(problems)


def _hours(plan: Plan) -> tuple[Hours, ...]:
    """Person-minutes of every owner that has work, in order of name."""
    found: dict[str, int] = {}
    for task in plan.network.tasks:
        people = sum(number for _, number in task.crew)
        if people and task.minutes:
            found[task.owner] = found.get(task.owner, 0) + people * task.minutes
    return tuple(Hours(owner=owner, minutes=minutes) for owner, minutes in sorted(found.items()))


def laid_out(orders: tuple[OrderLine, ...]) -> Mapping[str, Fraction]:
    """What is paid for all that is bought, by currency."""
    found: dict[str, Fraction] = {}
    for order in orders:
        if order.cost is not None:
            found[order.cost.currency] = found.get(order.cost.currency, NOUGHT) + order.cost.amount
    return dict(sorted(found.items()))


def _labour(build: Build, hours: tuple[Hours, ...]) -> dict[str, Fraction]:
    if build.wage is None:
        return {}
    total = sum(h.minutes for h in hours)
    return {build.wage.currency: build.wage.amount * Fraction(total, 60)}
