"""Which days have a sheet of their own, and what runs on them."""

from dataclasses import dataclass

from castlang.plan.model import Task
from castlang.plan.shop_hours import spells_of_day
from castlang.sheets import times
from castlang.sheets.basis import Basis, is_arrival, is_ready


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDays:
    """The days of one sheet, counted from the build's start. before: the last day of the sheet before, -1 for
    the first; after: the first day of the sheet behind it. Between two sheets the shop is closed. number: how
    many days of the build the shop has been open, the first one counted, or work was done all the same."""

    number: int
    first: int
    last: int
    before: int
    after: int


def spans_of(basis: Basis) -> tuple[SheetDays, ...]:
    """The days of each sheet, from the first day of the build or of the last record to the last work."""
    placed = basis.plan.placed
    if not placed:
        return ()
    runs: list[list[int]] = []
    numbers: dict[int, int] = {}
    idle = False
    first = basis.plan.network.since // times.DAY
    for index in range(max(p.end for p in placed) // times.DAY + 1):
        works = bool(tasks_of_day(basis, index))
        counts = works or bool(spells_of_day(basis.plan.network.hours, index))
        if counts or _was_worked(basis, index):
            numbers[index] = len(numbers) + 1
        if index < first or not counts:
            continue
        if runs and idle and not works:
            runs[-1].append(index)
        else:
            runs.append([index])
        idle = not works
    befores = [-1, *(run[-1] for run in runs[:-1])]
    afters = [*(run[0] for run in runs[1:]), runs[-1][-1] + 1] if runs else []
    return tuple(
        SheetDays(number=numbers[run[0]], first=run[0], last=run[-1], before=before, after=after)
        for run, before, after in zip(runs, befores, afters, strict=True)
    )


def _was_worked(basis: Basis, index: int) -> bool:
    """Whether work is recorded on a day."""
    return any(task.done is not None and task.crew and spells_on(basis, task, index) for task in basis.run)


def tasks_of_day(basis: Basis, index: int) -> tuple[Task, ...]:
    """The tasks that run on a day and are not done, in the plan's order; a point in time with work counts to
    its day."""
    steps = (t for t in basis.run if not is_arrival(t) and not is_ready(t) and t.done is None)
    return tuple(task for task in steps if spells_on(basis, task, index))


def spells_on(basis: Basis, task: Task, index: int) -> list[tuple[int, int]]:
    """From when to when a task is worked on a day, in minutes of the plan."""
    begin, end = index * times.DAY, (index + 1) * times.DAY
    placed = basis.placed[task.name]
    spells = placed.spells or ((placed.start, placed.end),)
    return [
        (max(a, begin), min(b, end))
        for a, b in spells
        if (a < end and b > begin) or (a == b and begin <= a < end)
    ]
