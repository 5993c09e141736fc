"""The shop's time: in which minutes a task may be worked, and where it fits.

Minutes count from midnight of the build's start day. The shop's spells repeat week by week; closed days,
absences and closings of stations are exceptions, so that from some minute on (`Shop.settled`) each week is
like the next. A spell reaches from its first minute to its last end, both in it for a task without length.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Sequence

from castlang.plan.clock import DAY, WEEK
from castlang.plan.model import Hours, Point, Resource, Task

Spell = tuple[int, int]


class Spells:
    """Sorted spells that do not touch, worked out day by day as far as they are asked for."""

    __slots__ = ("_day", "_days", "_from", "_to", "settled")

    def __init__(self, day: Callable[[int], Iterable[Spell]], settled: int) -> None:
        self._day = day
        self._days = 0
        self._from: list[int] = []
        self._to: list[int] = []
        self.settled = settled

    def first(self, minute: int, length: int) -> int | None:
        """The first minute from `minute` on at which `length` minutes fit into one spell; None for never."""
        k = bisect_left(self._to, minute)
        if k + 1 < len(self._to):  # the last spell may grow yet
            start = self._from[k]
            if start < minute:
                start = minute
            if self._to[k] - start >= length:
                return start
        limit = max(minute, self.settled) + 2 * WEEK
        self._reach(minute)
        k = bisect_left(self._to, minute)
        while True:
            while k >= len(self._from):
                if self._days * DAY > limit:
                    return None
                self._reach(self._days * DAY)
            start = max(self._from[k], minute)
            if start > limit:
                return None
            self._reach(start + length)
            if self._to[k] - start >= length:
                return start
            k += 1

    def last(self, minute: int, length: int) -> int | None:
        """The latest start of `length` minutes in one spell that are over by `minute`; None for never."""
        if minute < length:
            return None
        self._reach(minute)
        k = bisect_right(self._from, minute - length) - 1
        while k >= 0:
            start = min(minute, self._to[k]) - length
            if start >= self._from[k]:
                return start
            k -= 1
        return None

    def worked(self, start: int, minutes: int) -> tuple[Spell, ...]:
        """The spells in which `minutes` are worked off from `start`, which lies inside a spell."""
        spells: list[Spell] = []
        self._reach(start)
        k = bisect_right(self._to, start)
        left = minutes
        while left:
            while k >= len(self._from):
                if self._days * DAY > max(start, self.settled) + minutes * WEEK:
                    raise ValueError("the shop never opens again")
                self._reach(self._days * DAY)
            begin = max(self._from[k], start)
            self._reach(begin + left)
            end = min(self._to[k], begin + left)
            spells.append((begin, end))
            left -= end - begin
            k += 1
        return tuple(spells)

    def back(self, minute: int, minutes: int) -> int | None:
        """The latest start from which `minutes` are worked off by `minute`; None where there is none."""
        self._reach(max(minute, 0))
        k = bisect_left(self._from, minute) - 1
        left = minutes
        while k >= 0:
            end = min(self._to[k], minute)
            if end - self._from[k] >= left:
                return end - left
            left -= end - self._from[k]
            k -= 1
        return None

    def between(self, start: int, end: int) -> tuple[Spell, ...]:
        """The spells in `start` to `end`, cut off there."""
        self._reach(end)
        spells = []
        for k in range(bisect_right(self._to, start), len(self._from)):
            if self._from[k] >= end:
                break
            spells.append((max(self._from[k], start), min(self._to[k], end)))
        return tuple(spells)

    def longest(self) -> int:
        """The length of the longest spell there ever is; a spell without end counts four weeks."""
        spells = self.between(0, self.settled + 4 * WEEK)
        return max((end - start for start, end in spells), default=0)

    def _reach(self, minute: int) -> None:
        while self._days * DAY <= minute:
            for start, end in self._day(self._days):
                if self._to and start <= self._to[-1]:
                    self._to[-1] = max(self._to[-1], end)
                elif end > start:
                    self._from.append(start)
                    self._to.append(end)
            self._days += 1


class Shop:
    """The hours and people of a shop and the closings of its stations, asked about one task at a time."""

    __slots__ = ("_cache", "_closed", "_known", "hours", "settled")

    def __init__(self, hours: Hours, resources: Sequence[Resource]) -> None:
        self.hours = hours
        self._closed = {r.name: r.closed for r in resources}
        self._cache: dict[tuple[object, ...], Spells] = {}
        # Asked for hundreds of thousands of times in a large plan: to add up people and sort closings each
        # time was a fifth of the planning.
        self._known: dict[tuple[object, ...], Spells] = {}
        days = [*hours.closed, *hours.away]
        ends = [end for r in resources for _, end in r.closed]
        self.settled = max([0, *((day + 1) * DAY for day in days), *ends])

    def spells(self, task: Task, through: bool | None = None) -> Spells:
        """The spells in which `task` may be worked: the shop's (with its breaks, when it runs `through`
        them) on days with people enough for it, outside the closings of its stations. A task without crew
        runs by the clock."""
        over = task.through_breaks if through is None else through
        asked = (task.crew, task.needs, over)
        known = self._known.get(asked)
        if known is None:
            closed = self.closings(task)
            crew = people_wanted(task)
            key = (bool(crew), over and bool(crew), crew, closed)
            if key not in self._cache:
                self._cache[key] = Spells(self._days(crew, over, closed), self.settled)
            known = self._known[asked] = self._cache[key]
        return known

    def closings(self, task: Task) -> tuple[Spell, ...]:
        """When the stations that `task` needs are closed, sorted."""
        return tuple(sorted(c for need in task.needs for c in self._closed.get(need.resource, ())))

    def soonest(self, task: Task, minute: int) -> int | None:
        """The first start of `task` at or after `minute`; None when it never fits."""
        return self.spells(task).first(minute, self._piece(task))

    def last_start(self, task: Task, minute: int) -> int | None:
        """The latest start of `task` at or before `minute`; None when there is none from minute 0 on."""
        piece = self._piece(task)
        return self.spells(task).last(minute + piece, piece)

    def last_chance(self, task: Task, point: Point, minute: int) -> int:
        """The last minute up to `minute` at which `task` can start, or end, in the hours that the shop works
        on it; `minute` itself where there is none."""
        start = self.last_start(task, minute) if point is Point.START else self.last(task, minute)
        if start is None:
            return minute
        return start if point is Point.START else self.end(task, start)

    def last(self, task: Task, minute: int) -> int | None:
        """The latest start of `task` that has it ended by `minute`; None when there is none."""
        if task.may_pause and task.minutes:
            return self.spells(task).back(minute, task.minutes)
        return self.spells(task).last(minute, task.minutes)

    def end(self, task: Task, start: int) -> int:
        """When `task` ends, started at `start`, which must be one of its starts."""
        if task.may_pause and task.minutes:
            return self.spells(task).worked(start, task.minutes)[-1][1]
        return start + task.minutes

    def worked(self, task: Task, start: int) -> tuple[Spell, ...]:
        """The spells in which `task` is worked, started at `start`; none for a task without length."""
        if not task.minutes:
            return ()
        if task.may_pause:
            return self.spells(task).worked(start, task.minutes)
        return ((start, start + task.minutes),)

    def start_ending(self, task: Task, minute: int) -> int:
        """A minute before which `task` cannot start if it is to end at `minute` or later."""
        if not (task.may_pause and task.minutes):
            return minute - task.minutes
        start = self.spells(task).back(minute - 1, task.minutes)
        return 0 if start is None else start + 1

    def _piece(self, task: Task) -> int:
        """What has to fit into one spell at the start of a task: all of it, or a first minute."""
        return min(task.minutes, 1) if task.may_pause else task.minutes

    def _days(
        self, crew: tuple[tuple[str | None, int], ...], through: bool, closed: Sequence[Spell]
    ) -> Callable[[int], Iterable[Spell]]:
        def day(number: int) -> Iterable[Spell]:
            midnight = number * DAY
            if not crew:
                return _outside(((midnight, midnight + DAY),), closed)
            week = self.hours.week[(self.hours.start.weekday() + number) % 7]
            if not week or number in self.hours.closed or not self._people_enough(crew, number):
                return ()
            spells = ((week[0][0], week[-1][1]),) if through else week
            return _outside(tuple((midnight + a, midnight + b) for a, b in spells), closed)

        return day

    def _people_enough(self, crew: tuple[tuple[str | None, int], ...], day: int) -> bool:
        there = people_there(self.hours, day)
        return all(there.get(role, 0) >= wanted for role, wanted in crew)


def people_wanted(task: Task) -> tuple[tuple[str | None, int], ...]:
    """The people a task takes: by role, and under None all together."""
    wanted: dict[str | None, int] = {}
    for role, people in task.crew:
        if people > 0:
            wanted[None] = wanted.get(None, 0) + people
            if role is not None:
                wanted[role] = wanted.get(role, 0) + people
    return tuple(sorted(wanted.items(), key=lambda item: item[0] or ""))


def people_of(hours: Hours) -> dict[str | None, int]:
    """The crew: by role, and under None all together."""
    crew: dict[str | None, int] = {None: 0}
    for role, people in hours.crew:
        crew[None] = (crew[None] or 0) + people
        if role is not None:
            crew[role] = crew.get(role, 0) + people
    return crew


def people_away(hours: Hours, day: int) -> dict[str | None, int]:
    """Who is missing on a day, never more than there are: by role, and under None all together."""
    crew = people_of(hours)
    away: dict[str | None, int] = {}
    for role, people in hours.away.get(day, ()):
        away[None] = away.get(None, 0) + people
        if role is not None:
            away[role] = away.get(role, 0) + people
    return {role: min(people, crew.get(role, 0)) for role, people in away.items()}


def people_there(hours: Hours, day: int) -> dict[str | None, int]:
    """The crew on a day, less those away: by role, and under None all together."""
    away = people_away(hours, day)
    return {role: people - away.get(role, 0) for role, people in people_of(hours).items()}


def _outside(spells: Sequence[Spell], closed: Sequence[Spell]) -> tuple[Spell, ...]:
    """What is left of sorted spells outside the closings."""
    left = tuple(spells)
    for shut, opens in closed:
        cut: list[Spell] = []
        for start, end in left:
            if opens <= start or end <= shut:
                cut.append((start, end))
                continue
            if start < shut:
                cut.append((start, shut))
            if opens < end:
                cut.append((opens, end))
        left = tuple(cut)
    return left
