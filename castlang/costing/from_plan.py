"""A plan becomes an order list and the money."""

from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from castlang.costing.findings import ORDERED_TOO_LATE, TWO_CURRENCIES
from castlang.costing.first_uses import first_uses
from castlang.costing.model import Costing, Hours, OrderLine
from castlang.costing.order_dates import days_of, order_by
from castlang.costing.packages import bought
from castlang.plan.model import Plan
from castlang.problems.model import Outcome, Problem
from castlang.source.model import Span
from castlang.spec.model import Build, Fitting, Spec, Stock
from castlang.spec.quantity import Dimension, Money
from castlang.takeoff.model import BillLine, Takeoff

NOUGHT = Fraction(0)


def costing_of(spec: Spec, takeoff: Takeoff, plan: Plan) -> Outcome[Costing]:
    """What to order by when, the hours of each owner, and the money of each currency.

    Findings: two currencies without a rate between them; something needed before it can have arrived.
    """
    uses = first_uses(spec, takeoff, plan)
    orders = _orders(spec, takeoff, uses)
    hours = _hours(plan)
    material: dict[str, Fraction] = {}
    for order in orders:
        if order.cost is not None:
            material[order.cost.currency] = material.get(order.cost.currency, NOUGHT) + order.cost.amount
    labour = _labour(spec.build, hours)
    problems = (*_late(spec, orders), *_currencies(spec, orders, labour))
    outcome = Outcome(
        value=Costing(
            orders=orders,
            hours=hours,
            material=dict(sorted(material.items())),
            labour=labour,
            unpriced=tuple(o.name for o in orders if o.cost is None and (o.buy or o.package_size is None)),
        ),
        problems=problems,
    )
    return Outcome(value=None, problems=problems) if outcome.failed else outcome


# ---------------------------------------------------------------- orders


def _orders(spec: Spec, takeoff: Takeoff, uses: Mapping[str, date]) -> tuple[OrderLine, ...]:
    """One line for each line of the bill that the shop keeps or buys; tap water is not ordered."""
    lines = []
    for line in takeoff.bill:
        first = uses.get(line.stock)
        if line.dimension is Dimension.COUNT and line.stock in spec.fittings:
            lines.append(_fitting_order(spec.fittings[line.stock], line, first))
        elif line.stock in spec.stocks:
            lines.append(_stock_order(spec.stocks[line.stock], line, first))
    return tuple(lines)


def _fitting_order(fitting: Fitting, line: BillLine, first: date | None) -> OrderLine:
    whole = bought(line.gross, Fraction(1), NOUGHT)
    return OrderLine(
        name=fitting.name,
        fitting=True,
        dimension=Dimension.COUNT,
        need=line.gross,
        package=None,
        package_size=None,
        have=NOUGHT,
        buy=whole.packages,
        left=whole.left,
        price=fitting.price,
        cost=_cost(fitting.price, whole.packages),
        lead_days=days_of(fitting.lead),
        first_use=first,
        order_by=None if first is None else order_by(first, fitting.lead),
    )


def _stock_order(stock: Stock, line: BillLine, first: date | None) -> OrderLine:
    size = package_size(stock, line.dimension)
    whole = None if size is None else bought(line.gross, size, stock.have)
    packages = 0 if whole is None else whole.packages
    needed = size is None or packages > 0
    return OrderLine(
        name=stock.name,
        fitting=False,
        dimension=line.dimension,
        need=line.gross,
        package=stock.package.word if stock.package else None,
        package_size=size,
        have=stock.have,
        buy=packages,
        left=None if whole is None else whole.left,
        price=stock.price,
        cost=None if whole is None else _cost(stock.price, packages),
        lead_days=days_of(stock.lead),
        first_use=first,
        order_by=order_by(first, stock.lead) if first is not None and needed else None,
    )


def package_size(stock: Stock, dimension: Dimension) -> Fraction | None:
    """What one package holds in the SI unit of `dimension`; None when it is not sold by it."""
    package = stock.package
    if package is None:
        return None
    if package.sheet is not None:
        return package.sheet[0] * package.sheet[1] if dimension is Dimension.AREA else None
    if package.amount is None or package.amount.dimension is not dimension or package.amount.si <= 0:
        return None
    return package.amount.si


def _cost(price: Money | None, packages: int) -> Money | None:
    """What `packages` cost; nothing to buy costs nothing only where a price is told."""
    return None if price is None else Money(amount=price.amount * packages, currency=price.currency)


def _late(spec: Spec, orders: tuple[OrderLine, ...]) -> tuple[Problem, ...]:
    problems = []
    for order in orders:
        thing = spec.fittings[order.name] if order.fitting else spec.stocks[order.name]
        ordered = thing.ordered or spec.build.start
        if order.order_by is None or order.order_by >= ordered or order.lead_days == 0:
            continue
        problems.append(
            Problem(
                finding=ORDERED_TOO_LATE,
                message=f"{order.name} is needed on {order.first_use} and takes {order.lead_days} days, "
                f"so it must be ordered by {order.order_by}, and it is ordered on {ordered}",
                span=thing.span,
                remedy=f"write `ordered {order.order_by}` under {order.name} once it is, or start later",
                about=(order.name,),
            )
        )
    return tuple(problems)


# ---------------------------------------------------------------- hours and money


def _hours(plan: Plan) -> tuple[Hours, ...]:
    """Person-minutes of every owner that has work, in order of name."""
    found: dict[str, int] = {}
    for task in plan.network.tasks:
        people = sum(number for _, number in task.crew)
        if people and task.minutes:
            found[task.owner] = found.get(task.owner, 0) + people * task.minutes
    return tuple(Hours(owner=owner, minutes=minutes) for owner, minutes in sorted(found.items()))


def _labour(build: Build, hours: tuple[Hours, ...]) -> dict[str, Fraction]:
    if build.wage is None:
        return {}
    total = sum(h.minutes for h in hours)
    return {build.wage.currency: build.wage.amount * Fraction(total, 60)}


def _currencies(
    spec: Spec, orders: tuple[OrderLine, ...], labour: Mapping[str, Fraction]
) -> tuple[Problem, ...]:
    """A finding where two currencies meet that no `exchange` line joins."""
    first: dict[str, str] = dict.fromkeys(labour, "wage")
    for order in orders:
        if order.price is not None:
            first.setdefault(order.price.currency, order.name)
    if not first:
        return ()
    base = next(iter(first))
    joined = {base}
    for _ in spec.build.exchange:
        for rate in spec.build.exchange:
            if rate.sold in joined or rate.bought in joined:
                joined |= {rate.sold, rate.bought}
    apart = [currency for currency in first if currency not in joined]
    return tuple(
        Problem(
            finding=TWO_CURRENCIES,
            message=f"{first[currency]} is priced in {currency} and {first[base]} in {base}, "
            "with no rate between them",
            span=_priced(spec, first[currency]),
            remedy=f"write `exchange {currency} N {base} on DATE` in the build",
            related=((_priced(spec, first[base]), f"{first[base]}, in {base}"),),
            about=(first[currency],),
        )
        for currency in apart
    )


def _priced(spec: Spec, name: str) -> Span:
    """Where the price of `name` stands; the build for a wage."""
    thing: Stock | Fitting | None = spec.stocks.get(name) or spec.fittings.get(name)
    return spec.build.span if thing is None else thing.span
