"""Cures that somebody looks after every so often: when each visit is due, on paper and in the calendar."""

from collections.abc import Iterator, Sequence

from castlang.plan.model import Task
from castlang.plan.shop_hours import spells_of_day
from castlang.plan.told import tending
from castlang.plan.told.tending import Missing, Visit
from castlang.sheets import times
from castlang.sheets.basis import Basis
from castlang.sheets.dated_text import dated, sentence
from castlang.sheets.instructions import people
from castlang.sheets.waits import says
from castlang.sheets.working_days import SheetDays, spans_of

MOST_LISTED = 12  # visits of one cure named one by one; the day sheets have the rest
TOLD = {None: "", Missing.CLOSED: " (closed)", Missing.AWAY: " (away)", Missing.BUSY: " (all at work)"}


def visits_of(basis: Basis) -> tuple[Visit, ...]:
    """All visits of the plan, in order of time."""
    return tending.visits_of(basis.plan)


def visit_text(visit: Visit) -> str:
    """`cure of slab.body, by 1`."""
    return f"{says(visit.gap)}, {people(visit.tend.crew)}"


def tending_line(basis: Basis, task: Task) -> str:
    """`look after it Mon 1 Mar 19:20 (closed), 23:20 (closed), Tue 2 Mar 03:20`; empty without a visit."""
    if not any(edge.tended for edge in basis.into[task.name]):
        return ""
    visits = [visit for visit in visits_of(basis) if visit.task == task.name]
    return sentence("look after it ", dated(", ".join(_listed(basis, visits)))) if visits else ""


def tending_lines(basis: Basis, days: SheetDays) -> tuple[str, ...]:
    """The visits from the opening of the first day of a sheet to the opening of the next one's, so that those
    of the night stand on the sheet of the evening; on the last sheet all that are left."""
    if not any(edge.tended for edge in basis.plan.network.gaps):
        return ()
    spans = spans_of(basis)
    begin, end = _opens(basis, days.first), _opens(basis, days.after)
    first, final = days == spans[0], days == spans[-1]
    return tuple(
        dated(f"{basis.moment(visit.minute)}{TOLD[visit.missing]}: {visit_text(visit)}")
        for visit in visits_of(basis)
        if (first or begin <= visit.minute) and (final or visit.minute < end)
    )


def _opens(basis: Basis, day: int) -> int:
    """When a day begins for the crew: as the shop opens, or at midnight where it does not."""
    spells = spells_of_day(basis.plan.network.hours, day)
    return day * times.DAY + (spells[0][0] if spells else 0)


def _listed(basis: Basis, visits: Sequence[Visit]) -> Iterator[str]:
    before = -times.DAY
    for visit in visits[:MOST_LISTED]:
        yield f"{basis.moment_after(before, visit.minute)}{TOLD[visit.missing]}"
        before = visit.minute
    if len(visits) > MOST_LISTED:
        yield f"and {len(visits) - MOST_LISTED} more, on the day sheets"
