"""What a day sheet says of goods: what to order, what comes, what is used for the first time."""

from datetime import date

from castlang.sheets import times
from castlang.sheets.basis import Basis, called, is_arrival
from castlang.sheets.working_days import SheetDays
from castlang.spec.model import Spec


def date_of(basis: Basis, index: int) -> date:
    """The date of a day counted from the build's start."""
    return times.date_of(basis.plan.network.hours.start, index * times.DAY)


def ordered_on(spec: Spec, name: str) -> date:
    """When a stock or fitting was ordered; the first day of the build where that is not told."""
    thing = spec.stocks.get(name) or spec.fittings.get(name)
    return (thing.ordered if thing is not None else None) or spec.build.start


def orders(basis: Basis, span: SheetDays) -> tuple[str, ...]:
    """What must be ordered until the next sheet is turned; on the first also what should have been before."""
    start = basis.plan.network.hours.start
    lines = []
    for line in basis.costing.orders:
        if line.order_by is None or not line.buy:
            continue
        index, name = (line.order_by - start).days, called(basis.spec, line.name)
        if span.first <= index < span.after:
            exact = index == span.first == span.last
            lines.append(f"{name}: last day to order{'' if exact else f' is {times.day(line.order_by)}'}")
        elif span.before < 0 and index < span.first:
            lines.append(f"{name}: should have been ordered by {times.day(line.order_by)}")
    return tuple(lines)


def arrivals(basis: Basis, span: SheetDays) -> tuple[str, ...]:
    """What came since the last sheet, if it was ordered on the day told, or else on the build's first day."""
    lines = []
    for task in basis.run:
        index = basis.placed[task.name].start // times.DAY
        if is_arrival(task) and span.before < index <= span.last:
            thing = basis.spec.stocks.get(task.owner) or basis.spec.fittings.get(task.owner)
            ordered = ordered_on(basis.spec, task.owner)
            on = "" if index == span.first == span.last else f", {times.day(date_of(basis, index))}"
            lines.append(f"{called(basis.spec, task.owner)}{on}: if ordered {times.day(ordered)}")
            lines += [f"{called(basis.spec, task.owner)}: {note}" for note in (thing.notes if thing else ())]
    return tuple(lines)


def first_used(basis: Basis, span: SheetDays) -> tuple[str, ...]:
    """What must lie ready, because a step of these days is the first to use it."""
    days = [date_of(basis, index) for index in range(span.first, span.last + 1)]
    first = (line.name for line in basis.costing.orders if line.first_use in days)
    return tuple(dict.fromkeys(called(basis.spec, name) for name in first))
