"""Records of more people, stations, molds or temporary works at once than there are."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from castlang.plan.clock import DAY, moment_text
from castlang.plan.gaps.sentence import place_text
from castlang.plan.hours import people_there, people_wanted
from castlang.plan.model import Network, Task
from castlang.plan.placement.profile import Line
from castlang.plan.records.came_before import Spell, into_of, sure_end
from castlang.plan.records.record_findings import DONE_AT_ONCE
from castlang.problems.model import Problem
from castlang.spec.model import Done


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """A `done` line: what it calls the work, its tasks, and from when to when."""

    done: Done
    says: str
    tasks: tuple[Task, ...]
    spell: Spell

    @property
    def about(self) -> tuple[str, ...]:
        """The step and its copies, as a waiver would name them."""
        step = f"{self.tasks[0].owner}.{self.tasks[0].step}"
        return tuple(dict.fromkeys([step, *(task.name for task in self.tasks)]))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Use:
    """`amount` of a line in use by what a record tells. key: uses of one key are one, however often told."""

    line: Line
    spell: Spell
    amount: int
    record: Record
    key: object


def clashes(
    network: Network, records: Sequence[Record], told: Mapping[str, Spell], sure: Mapping[str, Spell]
) -> Iterator[Problem]:
    """Each stretch of time in which the records have more at work, or in use, than there is; one record that
    says by itself that more people came is none. A mold or a work counts from the first step told that has it
    to the end of the last.

    sure: what is told and what came before it, had that taken no time."""
    uses: dict[Line, list[_Use]] = {}
    for use in (*_at_work(records), *_held(network, records, told, sure)):
        uses.setdefault(use.line, []).append(use)
    seen: set[frozenset[int]] = set()
    for line in sorted(uses, key=lambda line: (line[0] == "crew", line[1] != "", line)):
        for begin, end, over in _stretches(network, line, uses[line]):
            own = frozenset(id(use.record) for use in over)
            if line[0] == "crew" and own in seen:
                continue  # told already, of all people together
            seen.add(own)
            yield _problem(network, line, (begin, end), over)


def _at_work(records: Sequence[Record]) -> Iterator[_Use]:
    """The people and stations of what was done. A line that names several copies is one gang's work."""
    for record in records:
        ref = record.done.step
        key = (ref.owner, ref.copies, ref.step)
        gang = tuple((g.role, g.count) for g in record.done.gang)
        crews = [people_wanted(Task(name="", minutes=0, crew=gang))] if gang else [
            people_wanted(task) for task in record.tasks
        ]  # fmt: skip
        most: dict[Line, int] = {}
        for crew in crews:
            for role, count in crew:
                most["crew", role or ""] = max(most.get(("crew", role or ""), 0), count)
        for task in record.tasks:
            for need in task.needs:
                line = ("place", need.resource)
                most[line] = max(most.get(line, 0), need.amount)
        for line, amount in most.items():
            yield _Use(line=line, spell=record.spell, amount=amount, record=record, key=key)


def _held(
    network: Network, records: Sequence[Record], told: Mapping[str, Spell], sure: Mapping[str, Spell]
) -> Iterator[_Use]:
    """What was held, as far as the records are sure of it."""
    into = into_of(network.gaps)
    record_of = {task.name: record for record in records for task in record.tasks}
    for hold in network.holds:
        if hold.first not in sure:
            continue
        begin = sure[hold.first][0]
        end, name = sure_end(hold, told, sure, into)
        if end > begin:
            line = ("place", hold.resource)
            yield _Use(line=line, spell=(begin, end), amount=hold.amount, record=record_of[name], key=hold)


def _stretches(network: Network, line: Line, uses: Sequence[_Use]) -> Iterator[tuple[int, int, list[_Use]]]:
    """From when to when a line is over its limit, with what uses it at its worst."""
    found: tuple[int, int, list[_Use]] | None = None
    marks = sorted({minute for use in uses for minute in _marks(use.spell)})
    for begin, end in pairwise(marks):
        now = _once_each(use for use in uses if use.spell[0] <= begin and use.spell[1] >= end)
        room = max([_room(network, line, begin // DAY), *(use.amount for use in now if line[0] == "crew")])
        if sum(use.amount for use in now) <= room:
            if found is not None:
                yield found
            found = None
        elif found is None:
            found = (begin, end, now)
        else:
            worst = max(found[2], now, key=lambda own: sum(use.amount for use in own))
            found = (found[0], end, worst)
    if found is not None:
        yield found


def _marks(spell: Spell) -> Iterable[int]:
    """The ends of a spell, and each midnight in it, at which who is there may change."""
    return (*spell, *range(-(-spell[0] // DAY) * DAY, spell[1], DAY))


def _once_each(uses: Iterable[_Use]) -> list[_Use]:
    kept: dict[object, _Use] = {}
    for use in uses:
        known = kept.get(use.key)
        if known is None or use.amount > known.amount:
            kept[use.key] = use
    return list(kept.values())


def _room(network: Network, line: Line, day: int) -> int:
    if line[0] == "crew":
        return people_there(network.hours, day).get(line[1] or None, 0)
    return next((r.capacity for r in network.resources if r.name == line[1]), 0)


def _problem(network: Network, line: Line, spell: Spell, uses: Sequence[_Use]) -> Problem:
    start = network.hours.start
    begin, end = (moment_text(start, minute) for minute in spell)
    if begin[:14] == end[:14]:
        end = end[15:]  # the clock alone, on the same day
    records = list({id(use.record): use.record for use in uses}.values())
    records.sort(key=lambda record: (record.spell, record.says))
    steps = ", ".join(f"{record.says} ({place_text(record.done.span)})" for record in records)
    room, total = _room(network, line, spell[0] // DAY), sum(use.amount for use in uses)
    if line[0] == "crew":
        who = line[1] or "people"
        what, there = f"{total} {who} at work", f"{room} {'is' if room == 1 else 'are'} there"
    else:
        what, there = f"{total} of {line[1]} in use", f"there {'is' if room == 1 else 'are'} {room}"
    return Problem(
        finding=DONE_AT_ONCE,
        message=f"the records have {what} at once from {begin} to {end}, and {there}: {steps}",
        span=records[-1].done.span,
        about=tuple(dict.fromkeys(name for record in records for name in record.about)),
    )
