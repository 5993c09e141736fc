"""Who uses what and when in a plan, and the order that this gives: who hands what on to whom."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from castlang.plan.clock import DAY
from castlang.plan.gaps.paths import NEVER
from castlang.plan.hours import Shop, people_away, people_of, people_wanted
from castlang.plan.placement.profile import FOREVER, Line
from castlang.plan.ties import Ties


class Use(NamedTuple):
    """`amount` of `line` from `start` to `end`. first and last: the tasks that begin and end it; None for
    people who are away."""

    line: Line
    start: int
    end: int
    amount: int
    first: int | None
    last: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Handing:
    """Something is free for task `to` when task `by` has ended."""

    by: int
    to: int
    line: Line


@dataclass(frozen=True, slots=True, kw_only=True)
class Hands:
    """The order of use in a plan. Any times that keep it, and the plan's own for the tasks in `pinned`, keep
    the capacities. before: minutes by which a task must have ended, since people go away then."""

    handings: tuple[Handing, ...]
    before: dict[int, int]
    pinned: frozenset[int]


def uses_of(ties: Ties, shop: Shop, start: Sequence[int]) -> tuple[Use, ...]:
    """All uses in a plan with these starts, by line, then start. Crew is used spell by spell."""
    uses: list[Use] = []
    for k, task in enumerate(ties.tasks):
        end = shop.end(task, start[k])
        for role, people in people_wanted(task):
            for begin, until in shop.worked(task, start[k]):
                uses.append(Use(("crew", role or ""), begin, until, people, k, k))
        for need in task.needs:
            uses.append(Use(("place", need.resource), start[k], end, need.amount, k, k))
    for hold in ties.network.holds:
        first = ties.index[hold.first]
        last = None if hold.last is None else ties.index[hold.last]
        end = FOREVER if last is None else shop.end(ties.tasks[last], start[last])
        uses.append(Use(("place", hold.resource), start[first], end, hold.amount, first, last))
    hours = ties.network.hours
    for day in sorted(hours.away):
        for role, people in people_away(hours, day).items():
            uses.append(Use(("crew", role or ""), day * DAY, (day + 1) * DAY, people, None, None))
    uses.sort(key=_order)
    return tuple(uses)


def hands_of(ties: Ties, uses: Sequence[Use], reach: Sequence[int]) -> Hands:
    """The order of use that `uses` show: each person and place handed from one use to the next.

    reach: for each task, a bit for every task that comes after it by gaps alone; who hands on to whom keeps
    to that order where it can, else takes what has been idle longest.
    """
    crew = people_of(ties.network.hours)
    room = {r.name: r.capacity for r in ties.network.resources}
    lines: dict[Line, list[Use]] = {}
    for use in uses:
        lines.setdefault(use.line, []).append(use)
    handings: dict[tuple[int, int], Handing] = {}
    before: dict[int, int] = {}
    pinned: set[int] = set()
    for line, own in lines.items():
        places = crew.get(line[1] or None, 0) if line[0] == "crew" else room[line[1]]
        split: set[int] = set()
        row = _Row(places, reach)
        while (stuck := row.hand_on(_joined(own, split), split)) - split:
            # A task paused and others worked meanwhile: it stays where it is, spell by spell.
            split |= stuck
            row = _Row(places, reach)
        pinned |= split
        for handing in row.handings:
            handings.setdefault((handing.by, handing.to), handing)
        for k, minute in row.before.items():
            before[k] = min(before.get(k, minute), minute)
    return Hands(handings=tuple(handings.values()), before=before, pinned=frozenset(pinned))


class _Row:
    """The places of one line, each with the minute since when it is idle and the task that had it last."""

    __slots__ = ("_free", "_reach", "before", "handings")

    def __init__(self, places: int, reach: Sequence[int]) -> None:
        self._free: list[tuple[int, int | None]] = [(NEVER, None)] * places
        self._reach = reach
        self.handings: list[Handing] = []
        self.before: dict[int, int] = {}

    def hand_on(self, uses: Sequence[Use], fixed: set[int]) -> set[int]:
        """Hand the places on along `uses`, those of `fixed` tasks at their minute.

        Where some use finds too few idle: the tasks that stand in the way; none when all went well."""
        for n, use in enumerate(uses):
            idle = [k for k, (since, _) in enumerate(self._free) if since <= use.start]
            if len(idle) < use.amount:
                others = [other for other in uses[:n] if other.end > use.start]
                return {k for other in [*others, use] for k in (other.first, other.last) if k is not None}
            idle.sort(key=lambda k: self._preference(k, use))
            moves = use.first is not None and use.first not in fixed
            for k in idle[: use.amount]:
                last = self._free[k][1]
                if last is not None and moves and use.first is not None:
                    if last != use.first:
                        self.handings.append(Handing(by=last, to=use.first, line=use.line))
                elif last is not None:
                    self.before[last] = min(self.before.get(last, use.start), use.start)
                self._free[k] = (use.end, use.last if moves else None)
        return set()

    def _preference(self, k: int, use: Use) -> tuple[bool, int, int]:
        since, last = self._free[k]
        known = last is not None and use.first is not None and bool(self._reach[last] >> use.first & 1)
        return not known, since, k


def _joined(uses: Sequence[Use], split: set[int]) -> list[Use]:
    """One use a task, from its first spell to its last, except for the tasks in `split`; without what has
    no length and begins and ends with the same task."""
    joined: dict[tuple[int | None, int | None, int], Use] = {}
    for use in uses:
        if use.start == use.end and use.first == use.last:
            continue
        alone = use.first is None or use.first in split or use.line[0] != "crew"
        key = (use.first, use.last, len(joined) if alone else -1)
        seen = joined.get(key)
        if seen is None:
            joined[key] = use
        else:
            joined[key] = seen._replace(start=min(seen.start, use.start), end=max(seen.end, use.end))
    return sorted(joined.values(), key=_order)


def _order(use: Use) -> tuple[Line, int, int, int, int]:
    first = -1 if use.first is None else use.first
    last = -1 if use.last is None else use.last
    return use.line, use.start, use.end, first, last
