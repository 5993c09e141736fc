"""What closes on a day, and what cures, dries or waits on it."""

from dataclasses import dataclass

from castlang.plan.records.recorded import done_of
from castlang.plan.warmth.ageing import over_at
from castlang.sheets import times
from castlang.sheets.basis import Basis
from castlang.sheets.dated_text import joined
from castlang.sheets.model import Column, Row, Table
from castlang.sheets.waits import Closing, closings, gaps_of, passes, says, span_of, texts_of
from castlang.sheets.warmth import here
from castlang.sheets.working_days import SheetDays


@dataclass(frozen=True, slots=True, kw_only=True)
class Closes:
    """A window that closes for a task, and the minute at which the plan closes it."""

    task: str
    closing: Closing
    planned: int


def closings_by_day(basis: Basis) -> dict[int, list[Closes]]:
    """The windows that the work of each day has to meet: those that close on it, in hours in which the work
    can be done, and that nothing has closed before. What needs nobody needs no reminder, and neither does
    what is recorded as done."""
    found: dict[int, list[Closes]] = {}
    for task in basis.run:
        if not task.crew or done_of(basis.spec, task):
            continue
        for closing in closings(basis, task):
            planned = basis.time_of(task.name, closing.point)
            day = closing.minute // times.DAY
            if day * times.DAY <= planned:
                found.setdefault(day, []).append(Closes(task=task.name, closing=closing, planned=planned))
    return found


def closing_table(basis: Basis, index: int, closing: list[Closes]) -> Table:
    """The windows that close on a day, soonest first, with the time at which the plan closes them."""
    begin = index * times.DAY
    rows = sorted(closing, key=lambda c: (c.closing.minute, c.task, c.closing.point))
    return Table(
        key="closing-windows",
        title="Windows that close today",
        columns=(
            Column(key="by", title="by", share=1),
            Column(key="what", title="what must have happened", share=3.6),
            Column(key="planned", title="planned", share=1),
            Column(key="why", title="why", share=4),
        ),
        rows=tuple(
            Row(
                cells=(
                    times.clock(row.closing.minute % times.DAY, basis.units),
                    f"{row.closing.point.value} of {row.task}",
                    basis.moment_after(begin, row.planned),
                    row.closing.says,
                ),
                data=(("by", basis.iso(row.closing.minute)), ("planned", basis.iso(row.planned))),
            )
            for row in rows
        ),
        by_date=True,
    )


def waiting_table(basis: Basis, days: SheetDays) -> Table:
    """What cures, dries or waits on the days of a sheet, those that end first above."""
    begin, end = days.first * times.DAY, (days.last + 1) * times.DAY
    found: dict[tuple[int, int, str, str], str] = {}
    for task in basis.run:
        for edge in basis.out_of[task.name]:
            since = basis.time_of(task.name, edge.before_point)
            over = over_at(edge, since)
            if passes(edge) and since < end and over > begin:
                lines = texts_of(gaps_of(basis, basis.tasks[edge.after]), basis.units)
                kept = joined(*lines, *here(edge, since, basis.units))
                key = (over, since, says(edge), span_of(edge))
                found[key] = found.get(key) or kept
    rows = tuple(
        Row(
            cells=(what, told, kept, basis.moment(since), basis.moment(over)),
            data=(("since", basis.iso(since)), ("until", basis.iso(over))),
        )
        for (over, since, what, told), kept in sorted(found.items())
    )
    return Table(
        key="waiting",
        title="Curing, drying, waiting: leave alone",
        columns=(
            Column(key="what", title="what", share=2.4),
            Column(key="told", title="time told", share=1.4),
            Column(key="kept", title="kept", share=4.2),
            Column(key="since", title="since", share=1.4),
            Column(key="until", title="not before", share=1.4),
        ),
        rows=rows,
        by_date=True,
    )
