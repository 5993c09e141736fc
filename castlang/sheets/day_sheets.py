"""Day sheets: who is needed, what is done when, what closes, what cures, what to order."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import accumulate

from castlang.plan.model import Task
from castlang.plan.shop_hours import spells_of_day
from castlang.sheets import times
from castlang.sheets.basis import Basis
from castlang.sheets.cautions import in_short
from castlang.sheets.dated_text import DatedText, dated, joined, sentence
from castlang.sheets.day_windows import closing_table, closings_by_day, waiting_table
from castlang.sheets.deliveries import arrivals, date_of, first_used, orders
from castlang.sheets.drying_out import drying_line
from castlang.sheets.instructions import batches_of, effort, handled, people, told_of, writes_of
from castlang.sheets.model import Block, Facts, Item, Items, Prose, Row, Sheet, Table
from castlang.sheets.tending import tending_lines
from castlang.sheets.travellers import code_of_traveller, hazards_of, item_of
from castlang.sheets.used_notes import used_notes
from castlang.sheets.waits import (
    bounds,
    loose_gaps,
    texts_of,
    until,
)
from castlang.sheets.working_days import SheetDays, spans_of, spells_on, tasks_of_day

SECTION = "Days"


def day_sheets(basis: Basis) -> tuple[Sheet, ...]:
    """One for each day with work; days without work that follow one another share one, or are told on the
    sheet before where nobody has to come in for them."""
    sheets: list[Sheet] = []
    told: tuple[Row, ...] = ()
    closing = closings_by_day(basis)
    for days in spans_of(basis):
        waiting = waiting_table(basis, days)
        if _is_idle(basis, days) and all(row in told for row in waiting.rows):
            if sheets:
                sheets[-1] = replace(sheets[-1], blocks=(*sheets[-1].blocks, _idle(basis, days)))
                continue
            if not orders(basis, days):
                continue
        closes = closing_table(basis, days.first, closing.get(days.first, []))
        sheets.append(_sheet(basis, days, closes, waiting))
        told = waiting.rows
    return tuple(sheets)


def _is_idle(basis: Basis, days: SheetDays) -> bool:
    """Whether nothing is worked, comes or is looked after."""
    told = (tasks_of_day(basis, days.first), arrivals(basis, days), tending_lines(basis, days))
    return not any(told)


def _idle(basis: Basis, days: SheetDays) -> Prose:
    lines = (
        f"Then there is nothing to do in the shop: {_title(basis, days)}.",
        *(f"To be ordered then: {line}" for line in orders(basis, days)),
    )
    return Prose(lines=tuple(map(dated, lines)))


def _sheet(basis: Basis, days: SheetDays, closing: Table, waiting: Table) -> Sheet:
    """Sheets are numbered, not called by their dates, so that they are the same when the plan moves whole."""
    tasks = tasks_of_day(basis, days.first)
    blocks: list[Block] = [_facts(basis, days, tasks)]
    # What can hurt and what closes stands in front of the work, not on a second page behind it.
    words = hazards_of(basis, tasks)
    if words:
        blocks.append(in_short("Cautions of the day", words))
    if closing.rows:
        blocks.append(closing)
    when = "today" if days.first == days.last else "in these days"
    for title, lines in (
        (f"Order {when}", orders(basis, days)),
        (f"Expected {when}", arrivals(basis, days)),
        ("Needed from today on", tuple(filter(None, ["; ".join(first_used(basis, days))]))),
        ("Look after, by the clock", tending_lines(basis, days)),
    ):
        if lines:
            blocks.append(Prose(title=title, lines=tuple(map(dated, lines)), points=len(lines) > 1))
    if tasks:
        items = tuple(_item(basis, task, days.first) for task in tasks)
        blocks.append(Items(title="Work", items=items, by_date=True))
    if not tasks:
        below = "; what waits stands below" if waiting.rows else ""
        blocks.append(Prose(lines=(dated(f"Nothing to do in the shop{below}."),)))
    if waiting.rows:
        blocks.append(waiting)
    blocks += used_notes(basis, [(task.owner, task.step) for task in tasks])
    return Sheet(
        code=f"DAY {days.number:02d}",
        title=_title(basis, days),
        subtitle=_subtitle(days),
        blocks=tuple(blocks),
        section=SECTION,
    )


def _title(basis: Basis, days: SheetDays) -> DatedText:
    last = times.full_day(date_of(basis, days.last))
    return last if days.first == days.last else dated(f"{times.day(date_of(basis, days.first))} to {last}")


def _subtitle(days: SheetDays) -> DatedText:
    if days.first == days.last:
        return dated(f"calendar day {days.first + 1} of the build")
    return dated(f"calendar days {days.first + 1} to {days.last + 1} of the build, without work")


def _item(basis: Basis, task: Task, index: int) -> Item:
    """In short: the traveller has the rest, and the boxes for when and by whom. A task begun on an earlier
    day stands at the hour when it goes on."""
    item = item_of(basis, task, full=True)
    spell = spells_on(basis, task, index)[0]
    begun = basis.placed[task.name].start
    goes_on = spell[0] != begun
    batches, work = batches_of(basis, task), effort(basis, task)
    traveller = f"traveller: {code_of_traveller(basis, task)}"
    waits = loose_gaps(basis, task)
    return Item(
        when=times.clock(spell[0] % times.DAY, basis.units),
        what=sentence(item.what, dated(", goes on")) if goes_on else item.what,
        until=until(basis, task, spell[0]),
        lines=(
            *((dated(f"begun {basis.moment(begun)}"),) if goes_on else ()),
            *([work] if batches else [joined(work, traveller)]),
            *([joined(batches, traveller)] if batches else []),
            *handled(basis, task),
            *told_of(basis, task),
            *filter(None, [drying_line(basis, task)]),
            *bounds(basis, task),
            *texts_of(waits, basis.units),
        ),
        write=(*writes_of(basis, task), *(write for gap in waits for write in gap.writes)),
        caution=item.caution,
        critical=item.critical,
    )


# ---------------------------------------------------------------- people


def _facts(basis: Basis, days: SheetDays, tasks: tuple[Task, ...]) -> Facts:
    """All of them follow from which work the plan sets on the day."""
    if days.first != days.last:
        return Facts(pairs=(("people needed", dated("nobody")),))
    hours, index = basis.plan.network.hours, days.first
    spells = spells_of_day(hours, index)
    opening = ", ".join(f"{times.clock(a, basis.units)} to {times.clock(b, basis.units)}" for a, b in spells)
    away = hours.away.get(index, ())
    pairs = [
        ("shop open", opening or "closed"),
        ("people needed at once", at_once_text(most_at_once(basis, tasks, index))),
        ("work of people", times.working_hours(_work(basis, tasks, index))),
    ]
    if away:
        pairs.append(("away", people(away).removeprefix("by ")))
    return Facts(pairs=tuple((label, dated(value)) for label, value in pairs))


def _spells(basis: Basis, tasks: tuple[Task, ...], index: int) -> Iterable[tuple[Task, int, int]]:
    for task in tasks:
        for begin, end in spells_on(basis, task, index):
            yield task, begin, end


def _work(basis: Basis, tasks: tuple[Task, ...], index: int) -> int:
    """Person-minutes of the day."""
    return sum(sum(c for _, c in task.crew) * (b - a) for task, a, b in _spells(basis, tasks, index))


@dataclass(frozen=True, slots=True, kw_only=True)
class MostAtOnce:
    """The most people at any one moment of a day, and of each role the most at any one moment of it."""

    people: int
    roles: tuple[tuple[str, int], ...]


def most_at_once(basis: Basis, tasks: tuple[Task, ...], index: int) -> MostAtOnce:
    """How many people a day takes at the same moment; the roles go by name."""
    changes: dict[str | None, list[tuple[int, int]]] = {None: []}
    for task, begin, end in _spells(basis, tasks, index):
        for role, count in task.crew:
            for line in dict.fromkeys((None, role)):
                changes.setdefault(line, []).extend(((begin, count), (end, -count)))
    roles = tuple((role, _peak(changes[role])) for role in sorted(role for role in changes if role))
    return MostAtOnce(people=_peak(changes[None]), roles=roles)


def _peak(changes: list[tuple[int, int]]) -> int:
    return max(accumulate((change for _, change in sorted(changes)), initial=0))


def at_once_text(most: MostAtOnce) -> str:
    """`3: 1 caster, 2 helper`; `3, of them at most 1 caster` where anybody does for the rest; `1 at a time:
    caster or finisher` where not all come at one moment; the roles alone where they are one, and all."""
    if not most.people:
        return "nobody"
    roles = people(most.roles).removeprefix("by ")
    if most.roles and len(most.roles) == 1 and most.roles[0][1] == most.people:
        return roles
    if not roles:
        return str(most.people)
    if most.people == 1:
        return f"1 at a time: {' or '.join(role for role, _ in most.roles)}"
    told = sum(count for _, count in most.roles)
    if told > most.people:
        return f"{most.people} at a time, in turn up to {roles}"
    return f"{most.people}{':' if told == most.people else ', of them at most'} {roles}"
