"""Day sheets: who is needed, what is done when, what closes, what cures, what to order."""

from collections.abc import Iterable
from dataclasses import replace

from castlang.plan.model import Task
from castlang.sheets import times
from castlang.sheets.basis import Basis
from castlang.sheets.cautions import in_short
from castlang.sheets.chart import spells_of_day
from castlang.sheets.deliveries import arrivals, date_of, first_used, orders
from castlang.sheets.instructions import batches_of, effort, joined, people
from castlang.sheets.model import Block, Column, Facts, Item, Items, Prose, Row, Sheet, Table
from castlang.sheets.travellers import code_of_traveller, hazards_of, item_of
from castlang.sheets.waits import bounds, closings, passes, says, span_of, until
from castlang.sheets.working_days import SheetDays, spans_of, spells_on, tasks_of_day

SECTION = "Days"


def day_sheets(basis: Basis) -> tuple[Sheet, ...]:
    """One for each day with work; days without work that follow one another share one, or have none when
    there is nothing to say of them: then the sheet before says so."""
    sheets: list[Sheet] = []
    for days in spans_of(basis):
        if not _is_empty(basis, days):
            sheets.append(_sheet(basis, days))
        elif sheets:
            off = Prose(lines=(f"Then there is nothing to do in the shop: {_title(basis, days)}.",))
            sheets[-1] = replace(sheets[-1], blocks=(*sheets[-1].blocks, off))
    return tuple(sheets)


def _is_empty(basis: Basis, days: SheetDays) -> bool:
    told = (tasks_of_day(basis, days.first), orders(basis, days), arrivals(basis, days))
    return not any(told) and not waiting_table(basis, days).rows


def _sheet(basis: Basis, days: SheetDays) -> Sheet:
    tasks = tasks_of_day(basis, days.first)
    blocks: list[Block] = [_facts(basis, days, tasks)]
    when = "today" if days.first == days.last else "in these days"
    for title, lines in (
        (f"Order {when}", orders(basis, days)),
        (f"Expected {when}", arrivals(basis, days)),
        ("Needed from today on", first_used(basis, days)),
    ):
        if lines:
            blocks.append(Prose(title=title, lines=lines, points=True))
    if tasks:
        blocks.append(Items(title="Work", items=tuple(_item(basis, task, days.first) for task in tasks)))
    waiting = waiting_table(basis, days)
    if not tasks:
        below = "; what waits stands below" if waiting.rows else ""
        blocks.append(Prose(lines=(f"Nothing to do in the shop{below}.",)))
    blocks += [table for table in (closing_table(basis, days.first), waiting) if table.rows]
    words = hazards_of(basis, tasks)
    if words:
        blocks.append(in_short("Cautions of the day", words, "In full on the travellers."))
    return Sheet(
        code=f"DAY {date_of(basis, days.first).isoformat()}",
        title=_title(basis, days),
        subtitle=_subtitle(days),
        blocks=tuple(blocks),
        section=SECTION,
    )


def _title(basis: Basis, days: SheetDays) -> str:
    last = times.full_day(date_of(basis, days.last))
    return last if days.first == days.last else f"{times.day(date_of(basis, days.first))} to {last}"


def _subtitle(days: SheetDays) -> str:
    if days.first == days.last:
        return f"day {days.first + 1} of the build"
    return f"days {days.first + 1} to {days.last + 1} of the build, without work"


def _item(basis: Basis, task: Task, index: int) -> Item:
    """In short: the traveller has the rest and the boxes to fill in. A task begun on an earlier day stands
    at the hour when it goes on."""
    item = item_of(basis, task, full=True)
    spell = spells_on(basis, task, index)[0]
    begun = basis.placed[task.name].start
    goes_on = spell[0] != begun
    batches, work = batches_of(basis, task), effort(basis, task)
    traveller = f"traveller: {code_of_traveller(basis, task)}"
    return Item(
        when=times.clock(spell[0] % times.DAY, basis.units),
        what=f"{item.what}, goes on" if goes_on else item.what,
        until=until(basis, task, spell[0]),
        lines=(
            *((f"begun {basis.moment(begun)}",) if goes_on else ()),
            *([work] if batches else [joined(work, traveller)]),
            *([joined(batches, traveller)] if batches else []),
            *bounds(basis, task),
        ),
        caution=item.caution,
        critical=item.critical,
    )


# ---------------------------------------------------------------- people


def _facts(basis: Basis, days: SheetDays, tasks: tuple[Task, ...]) -> Facts:
    if days.first != days.last:
        return Facts(pairs=(("people needed", "nobody"),))
    hours, index = basis.plan.network.hours, days.first
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
        for begin, end in spells_on(basis, task, index):
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
    """The windows that close on a day, soonest first; what was done on an earlier day needs no reminder."""
    rows = []
    for task in basis.run:
        for closing in closings(basis, task):
            done = basis.time_of(task.name, closing.point) < index * times.DAY
            if closing.minute // times.DAY == index and not done:
                rows.append(
                    (closing.minute, task.name, f"{closing.point.value} of {task.name}", closing.says)
                )
    return Table(
        key="closing-windows",
        title="Windows that close today",
        columns=(
            Column(key="by", title="by", share=1),
            Column(key="what", title="what must have happened", share=4),
            Column(key="why", title="why", share=4),
        ),
        rows=tuple(
            Row(
                cells=(times.clock(minute % times.DAY, basis.units), what, why),
                data=(("by", basis.iso(minute)),),
            )
            for minute, _, what, why in sorted(rows)
        ),
    )


def waiting_table(basis: Basis, days: SheetDays) -> Table:
    """What cures, dries or waits on the days of a sheet, those that end first above."""
    begin, end = days.first * times.DAY, (days.last + 1) * times.DAY
    found: dict[tuple[int, int, str, str], None] = {}
    for task in basis.run:
        for edge in basis.out_of[task.name]:
            since = basis.time_of(task.name, edge.before_point)
            over = since + edge.least
            if passes(edge) and since < end and over > begin:
                found[(over, since, says(edge), span_of(edge))] = None
    rows = tuple(
        Row(
            cells=(what, told, basis.moment(since), basis.moment(over)),
            data=(("since", basis.iso(since)), ("until", basis.iso(over))),
        )
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
