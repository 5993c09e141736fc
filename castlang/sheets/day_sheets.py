"""Day sheets: who is needed, what is done when, what closes, what cures, what to order."""

from collections.abc import Iterable
from datetime import date

from castlang.plan.model import Task
from castlang.sheets import times
from castlang.sheets.basis import Basis, called, is_arrival, is_ready
from castlang.sheets.cautions import in_short
from castlang.sheets.chart import spells_of_day
from castlang.sheets.instructions import batches_of, effort, people
from castlang.sheets.model import Block, Column, Facts, Item, Items, Prose, Row, Sheet, Table
from castlang.sheets.travellers import code_of_traveller, hazards_of, item_of
from castlang.sheets.waits import bounds, closings, passes, says, span_of

SECTION = "Days"


def day_sheets(basis: Basis) -> tuple[Sheet, ...]:
    """One for each day on which the shop is open or something runs, from the first work to the last."""
    placed = basis.plan.placed
    if not placed:
        return ()
    first = min(p.start for p in placed) // times.DAY
    last = max(p.end for p in placed) // times.DAY
    indexes = (i for i in range(first, last + 1) if _is_working(basis, i))
    return tuple(_sheet(basis, index) for index in indexes)


def _is_working(basis: Basis, index: int) -> bool:
    return bool(spells_of_day(basis.plan.network.hours, index)) or bool(tasks_of_day(basis, index))


def tasks_of_day(basis: Basis, index: int) -> tuple[Task, ...]:
    """The tasks that run on a day, in the plan's order; a point in time with work counts to its day."""
    steps = (task for task in basis.run if not is_arrival(task) and not is_ready(task))
    return tuple(task for task in steps if _spells_of_day(basis, task, index))


def _spells_of_day(basis: Basis, task: Task, index: int) -> list[tuple[int, int]]:
    begin, end = index * times.DAY, (index + 1) * times.DAY
    placed = basis.placed[task.name]
    spells = placed.spells or ((placed.start, placed.end),)
    return [
        (max(a, begin), min(b, end))
        for a, b in spells
        if (a < end and b > begin) or (a == b and begin <= a < end)
    ]


def _sheet(basis: Basis, index: int) -> Sheet:
    day = times.date_of(basis.plan.network.hours.start, index * times.DAY)
    tasks = tasks_of_day(basis, index)
    blocks: list[Block] = [_facts(basis, index, tasks)]
    for title, lines in (
        ("Order today", _orders(basis, day, index)),
        ("Expected today", _arrivals(basis, index)),
        ("Needed from today on", _first_used(basis, day)),
    ):
        if lines:
            blocks.append(Prose(title=title, lines=lines, points=True))
    if tasks:
        blocks.append(Items(title="Work", items=tuple(_item(basis, task, index) for task in tasks)))
    else:
        blocks.append(Prose(lines=("Nothing to do in the shop; what waits stands below.",)))
    closing, curing = closing_table(basis, index), waiting_table(basis, index)
    blocks += [table for table in (closing, curing) if table.rows]
    words = hazards_of(basis, tasks)
    if words:
        blocks.append(in_short("Cautions of the day", words, "In full on the travellers."))
    return Sheet(
        code=f"DAY {day.isoformat()}",
        title=times.full_day(day),
        subtitle=f"day {index + 1} of the build",
        blocks=tuple(blocks),
        section=SECTION,
    )


def _item(basis: Basis, task: Task, index: int) -> Item:
    """In short: the traveller has the rest and the boxes to fill in. A task begun on an earlier day stands
    at the hour when it goes on."""
    item = item_of(basis, task, full=True)
    spell = _spells_of_day(basis, task, index)[0]
    begun = basis.placed[task.name].start
    goes_on = spell[0] != begun
    return Item(
        when=basis.moment(spell[0]),
        what=f"{item.what}, goes on" if goes_on else item.what,
        until=item.until,
        lines=(
            *((f"begun {basis.moment(begun)}",) if goes_on else ()),
            *(line for line in (effort(basis, task), batches_of(basis, task)) if line),
            *bounds(basis, task),
            f"traveller: {code_of_traveller(basis, task)}",
        ),
        caution=item.caution,
        critical=item.critical,
    )


# ---------------------------------------------------------------- people


def _facts(basis: Basis, index: int, tasks: tuple[Task, ...]) -> Facts:
    hours = basis.plan.network.hours
    spells = spells_of_day(hours, index)
    opening = ", ".join(f"{times.clock(a, basis.units)} to {times.clock(b, basis.units)}" for a, b in spells)
    away = hours.away.get(index, ())
    pairs = [
        ("shop open", opening or "closed"),
        ("people needed at once", people(most_at_once(basis, tasks, index)).removeprefix("by ") or "nobody"),
        ("work of people", times.working_hours(_work(basis, tasks, index))),
    ]
    if away:
        pairs.append(("away", people(away).removeprefix("by ")))
    return Facts(pairs=tuple(pairs))


def _spells(basis: Basis, tasks: tuple[Task, ...], index: int) -> Iterable[tuple[Task, int, int]]:
    for task in tasks:
        for begin, end in _spells_of_day(basis, task, index):
            yield task, begin, end


def _work(basis: Basis, tasks: tuple[Task, ...], index: int) -> int:
    """Person-minutes of the day."""
    return sum(sum(c for _, c in task.crew) * (b - a) for task, a, b in _spells(basis, tasks, index))


def most_at_once(basis: Basis, tasks: tuple[Task, ...], index: int) -> tuple[tuple[str | None, int], ...]:
    """The most people of each role at any moment of the day; people without a role stand last."""
    changes: dict[str | None, list[tuple[int, int]]] = {}
    for task, begin, end in _spells(basis, tasks, index):
        for role, count in task.crew:
            changes.setdefault(role, []).extend(((begin, count), (end, -count)))
    most = []
    for role, steps in changes.items():
        running = peak = 0
        for _, change in sorted(steps):
            running += change
            peak = max(peak, running)
        most.append((role, peak))
    return tuple(sorted(most, key=lambda pair: (pair[0] is None, pair[0] or "")))


# ---------------------------------------------------------------- windows and waits


def closing_table(basis: Basis, index: int) -> Table:
    """The windows that close on a day, soonest first."""
    rows = []
    for task in basis.run:
        for closing in closings(basis, task):
            if closing.minute // times.DAY == index:
                rows.append(
                    (closing.minute, task.name, f"{closing.point.value} of {task.name}", closing.says)
                )
    cells = [(times.clock(m % times.DAY, basis.units), what, why) for m, _, what, why in sorted(rows)]
    return Table(
        key="closing-windows",
        title="Windows that close today",
        columns=(
            Column(key="by", title="by", share=1),
            Column(key="what", title="what must have happened", share=4),
            Column(key="why", title="why", share=4),
        ),
        rows=tuple(Row(cells=row) for row in cells),
    )


def waiting_table(basis: Basis, index: int) -> Table:
    """What cures, dries or waits on a day, those that end first above."""
    begin, end = index * times.DAY, (index + 1) * times.DAY
    found: dict[tuple[int, int, str, str], None] = {}
    for task in basis.run:
        for edge in basis.out_of[task.name]:
            since = basis.time_of(task.name, edge.before_point)
            over = since + edge.least
            if passes(edge) and since < end and over > begin:
                found[(over, since, says(edge), span_of(edge))] = None
    rows = tuple(
        Row(cells=(what, told, basis.moment(since), basis.moment(over)))
        for over, since, what, told in sorted(found)
    )
    return Table(
        key="waiting",
        title="Curing, drying, waiting: leave alone",
        columns=(
            Column(key="what", title="what", share=4),
            Column(key="told", title="time told", share=2),
            Column(key="since", title="since", share=1.6),
            Column(key="until", title="not before", share=1.6),
        ),
        rows=rows,
    )


# ---------------------------------------------------------------- orders and deliveries


def _orders(basis: Basis, day: date, index: int) -> tuple[str, ...]:
    """What must be ordered today; on the first day also what should have been ordered before."""
    first = index == min(p.start for p in basis.plan.placed) // times.DAY
    lines = []
    for line in basis.costing.orders:
        if line.order_by is None or not (line.buy or line.package is None):
            continue
        if line.order_by == day:
            lines.append(f"{called(basis.spec, line.name)}: last day to order")
        elif first and line.order_by < day:
            told = times.day(line.order_by)
            lines.append(f"{called(basis.spec, line.name)}: should have been ordered by {told}")
    return tuple(lines)


def _arrivals(basis: Basis, index: int) -> tuple[str, ...]:
    """What is there from today on: when it was ordered on the day told, or else on the build's first day."""
    lines = []
    for task in basis.run:
        if is_arrival(task) and basis.placed[task.name].start // times.DAY == index:
            thing = basis.spec.stocks.get(task.owner) or basis.spec.fittings.get(task.owner)
            ordered = (thing.ordered if thing is not None else None) or basis.spec.build.start
            lines.append(f"{called(basis.spec, task.owner)}: if ordered {times.day(ordered)}")
    return tuple(lines)


def _first_used(basis: Basis, day: date) -> tuple[str, ...]:
    return tuple(called(basis.spec, line.name) for line in basis.costing.orders if line.first_use == day)
