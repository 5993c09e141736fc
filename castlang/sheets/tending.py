"""Cures that somebody looks after every so often: when each visit is due, by the clock.

The plan keeps nobody free for a visit. The sheets say when it is due, and whether the shop is closed then.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from castlang.plan.ageing import over_at
from castlang.plan.model import Task
from castlang.sheets import times
from castlang.sheets.basis import Basis
from castlang.sheets.chart import spells_of_day
from castlang.sheets.dated_text import dated, sentence
from castlang.sheets.instructions import people
from castlang.sheets.waits import gaps_of, passing_into, says
from castlang.sheets.working_days import SheetDays, spans_of

MOST_LISTED = 12  # visits of one cure named one by one; the day sheets have the rest
CLOSED = " (closed)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """One visit to what waits for `task`. number: counted from 1 for each cure."""

    minute: int
    task: str
    number: int
    what: str
    who: str
    closed: bool


def visits_to(basis: Basis, task: Task) -> tuple[Visit, ...]:
    """The visits due while `task` waits for its cure, until it begins; none when it is done."""
    edges = passing_into(basis, task.name)
    if not edges or task.done is not None:
        return ()
    edge = edges[0]
    begin = basis.time_of(edge.before, edge.before_point)
    end = max(over_at(edge, begin), basis.placed[task.name].start)
    found: list[Visit] = []
    for gap in gaps_of(basis, task):
        if gap.tend is None:
            continue
        every, gang = gap.tend
        number = 1
        while (minute := begin + int(every * number // 60)) < end:
            found.append(
                Visit(
                    minute=minute,
                    task=task.name,
                    number=number,
                    what=says(edge),
                    who=people(gang),
                    closed=not _is_open(basis, minute),
                )
            )
            number += 1
    return tuple(visit for visit in found if visit.minute >= basis.plan.network.since)


def visits_of(basis: Basis) -> tuple[Visit, ...]:
    """All visits of the plan, in order of time."""
    found = (visit for task in basis.run for visit in visits_to(basis, task))
    return tuple(sorted(found, key=lambda visit: (visit.minute, visit.task)))


def tending_line(basis: Basis, task: Task) -> str:
    """`look after it Mon 1 Mar 19:20 (closed), 23:20 (closed), Tue 2 Mar 03:20`; empty without a visit."""
    visits = visits_to(basis, task)
    return sentence("look after it ", dated(", ".join(_listed(basis, visits)))) if visits else ""


def tending_lines(basis: Basis, days: SheetDays) -> tuple[str, ...]:
    """The visits from the first day of a sheet to the next one, or to the last visit of all."""
    begin, end = days.first * times.DAY, days.after * times.DAY
    final = days == spans_of(basis)[-1]
    return tuple(
        dated(f"{basis.moment(v.minute)}{CLOSED if v.closed else ''}: {v.what}, {v.who}")
        for v in visits_of(basis)
        if begin <= v.minute and (final or v.minute < end)
    )


def _listed(basis: Basis, visits: tuple[Visit, ...]) -> Iterator[str]:
    before = -times.DAY
    for visit in visits[:MOST_LISTED]:
        yield f"{basis.moment_after(before, visit.minute)}{CLOSED if visit.closed else ''}"
        before = visit.minute
    if len(visits) > MOST_LISTED:
        yield f"and {len(visits) - MOST_LISTED} more, on the day sheets"


def _is_open(basis: Basis, minute: int) -> bool:
    day, clock = divmod(minute, times.DAY)
    return any(a <= clock < b for a, b in spells_of_day(basis.plan.network.hours, day))
