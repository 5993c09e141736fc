"""Waits that pass by the shop's warmth: when they are over, and when they have gone on too long.

The age of a wait is a sum over time, piecewise linear and never falling, held in millionths of a minute at
the temperature that it is told at: whole numbers, the same on every machine.
"""

from bisect import bisect_left, bisect_right
from dataclasses import replace
from functools import lru_cache

from castlang.plan.clock import WEEK
from castlang.plan.model import Ageing, GapEdge, Stretch
from castlang.takeoff.maturity import MILLION


class Clock:
    """The age at each minute, in millionths of a minute as told, of what was laid at minute 0."""

    __slots__ = ("_rates", "_times", "_totals", "_week", "settled")

    def __init__(self, ageing: Ageing) -> None:
        self.settled = ageing.settled
        self._times = [minute for minute, _, _ in ageing.spells]
        self._rates = [rate for _, _, rate in ageing.spells]
        # One more week, so that what begins in the first settled one ends in the table.
        self._cut(self.settled)
        again = bisect_left(self._times, self.settled)
        week = list(zip(self._times[again:], self._rates[again:], strict=True))
        self._times += [minute + WEEK for minute, _ in week]
        self._rates += [rate for _, rate in week]
        self._totals = [0]
        for k in range(1, len(self._times)):
            spell = self._times[k] - self._times[k - 1]
            self._totals.append(self._totals[-1] + spell * self._rates[k - 1])
        self._week = self._age(self.settled + WEEK) - self._age(self.settled)
        if self._week <= 0:
            raise ValueError("a wait that never ends")

    @property
    def turns(self) -> tuple[int, ...]:
        """The minutes at which it goes faster or slower, up to the second settled week."""
        return tuple(self._times)

    def age(self, minute: int) -> int:
        """The age at a minute; before minute 0 as fast as told."""
        if minute < 0:
            return minute * MILLION
        if minute < self.settled + WEEK:
            return self._age(minute)
        weeks, rest = divmod(minute - self.settled, WEEK)
        return weeks * self._week + self._age(self.settled + rest)

    def first(self, age: int) -> int:
        """The first minute at which the age is reached."""
        if age <= 0:
            return -(-age // MILLION)
        weeks = self._weeks(age - 1)
        age -= weeks * self._week
        k = bisect_left(self._totals, age) - 1
        return weeks * WEEK + self._times[k] - (self._totals[k] - age) // self._rates[k]

    def last(self, age: int) -> int:
        """The last minute at which no more than the age is reached."""
        if age < 0:
            return age // MILLION
        weeks = self._weeks(age)
        age -= weeks * self._week
        k = bisect_right(self._totals, age) - 1
        return weeks * WEEK + self._times[k] + (age - self._totals[k]) // self._rates[k]

    def _weeks(self, age: int) -> int:
        """How many whole weeks this age lies behind the beginning of the first settled one."""
        return max((age - self._age(self.settled)) // self._week, 0)

    def _age(self, minute: int) -> int:
        k = bisect_right(self._times, minute) - 1
        return self._totals[k] + (minute - self._times[k]) * self._rates[k]

    def _cut(self, minute: int) -> None:
        k = bisect_left(self._times, minute)
        if k == len(self._times) or self._times[k] != minute:
            self._times.insert(k, minute)
            self._rates.insert(k, self._rates[k - 1])


@lru_cache(maxsize=256)
def clock_of(ageing: Ageing) -> Clock:
    """The clock of a wait, made once."""
    return Clock(ageing)


class Passing:
    """One bound of a gap of which some passes by warmth: of its least time from the point before to the point
    after, or of its longest time back from the point after to the point before.

    shortest: the head comes no less than so many minutes after the tail, wherever the tail lies; greatest: it
    need not come more than so many minutes after it. number: those that pass alike bear the same.
    """

    __slots__ = ("_ahead", "_back", "_longest", "_parts", "greatest", "number", "settled", "shortest")

    def __init__(self, stretches: tuple[Stretch, ...], number: int, *, longest: bool) -> None:
        self.number = number
        self._longest = longest
        self._parts = _parts(stretches, longest=longest)
        self._ahead: dict[int, int] = {}
        self._back: dict[int, int] = {}
        self.settled = max((clock.settled for clock, _ in self._parts if clock is not None), default=0)
        shortest = greatest = 0
        for clock, minutes in self._parts:
            low, high = (minutes, minutes) if clock is None else _spans(clock, minutes, longest)
            shortest, greatest = shortest + low, greatest + high
        self.shortest, self.greatest = (-greatest, -shortest) if longest else (shortest, greatest)

    def ahead(self, tail: int) -> int:
        """The minute before which the head cannot come, its tail being at that minute."""
        found = self._ahead.get(tail)
        if found is None:
            found = self._ahead[tail] = (
                _since(self._parts, tail) if self._longest else _over(self._parts, tail)
            )
        return found

    def back(self, head: int) -> int:
        """The last minute at which the tail lets the head come by that minute."""
        found = self._back.get(head)
        if found is None:
            found = self._back[head] = (
                _until(self._parts, head) if self._longest else _begun(self._parts, head)
            )
        return found


_Parts = list[tuple[Clock | None, int]]


def _parts(stretches: tuple[Stretch, ...], *, longest: bool) -> _Parts:
    return [
        (
            None if part.ageing is None else clock_of(part.ageing),
            (part.longest or 0) if longest else part.least,
        )
        for part in stretches
    ]


def _over(parts: _Parts, minute: int) -> int:
    """When least waits that begin at a minute are over."""
    for clock, minutes in parts:
        if clock is None:
            minute += minutes
        elif minutes:
            minute = max(minute, clock.first(clock.age(minute) + minutes * MILLION))
    return minute


def _begun(parts: _Parts, minute: int) -> int:
    """The last minute to begin least waits that are to be over by a minute."""
    for clock, minutes in reversed(parts):
        if clock is None:
            minute -= minutes
        elif minutes:
            minute = min(minute, clock.last(clock.age(minute) - minutes * MILLION))
    return minute


def _until(parts: _Parts, minute: int) -> int:
    """The last minute before longest waits that begin at a minute have gone on too long."""
    for clock, minutes in parts:
        minute = minute + minutes if clock is None else clock.last(clock.age(minute) + minutes * MILLION)
    return minute


def _since(parts: _Parts, minute: int) -> int:
    """The first minute to begin longest waits that may go on until a minute."""
    for clock, minutes in reversed(parts):
        minute = minute - minutes if clock is None else clock.first(clock.age(minute) - minutes * MILLION)
    return minute


@lru_cache(maxsize=1024)
def _spans(clock: Clock, minutes: int, longest: bool) -> tuple[int, int]:
    """Of a wait that begins at minute 0 or later the fewest and the most minutes that it takes.

    How long it takes is piecewise linear over when it begins: it is least and greatest where the rate changes
    at its beginning or at its end.
    """
    part: _Parts = [(clock, minutes)]
    ends, begins = (_until, _since) if longest else (_over, _begun)
    spans = [ends(part, turn) - turn for turn in (0, *clock.turns)]
    week = 0
    while True:  # what begins before the weeks are alike may end many of them later
        found = [(turn + week, begins(part, turn + week)) for turn in clock.turns]
        spans += [turn - begin for turn, begin in found if begin >= 0]
        if week and min(begin for _, begin in found) >= clock.settled:
            return min(spans), max(spans)
        week += WEEK


def passings_of(stretches: tuple[Stretch, ...], number: int) -> tuple[Passing, Passing | None]:
    """How the least time of a gap with stretches passes, and its longest, where it has one."""
    ends = all(part.longest is not None for part in stretches)
    longest = Passing(stretches, number, longest=True) if ends else None
    return Passing(stretches, number, longest=False), longest


def backwards(ageing: Ageing, end: int) -> Ageing:
    """How fast a wait passes where time runs back from minute `end`, past minute 0 as in settled weeks."""
    far = ageing.settled + WEEK
    spells = [(end - until, warmth, rate) for _, until, warmth, rate in reversed(_repeated(ageing, end))]
    week = [(end + far - until, warmth, rate) for _, until, warmth, rate in reversed(_repeated(ageing, far))]
    week = [spell for spell in week if spell[0] < end + WEEK]
    return replace(ageing, settled=end, spells=tuple(spells + week))


def begun_later(ageing: Ageing, minutes: int) -> Ageing:
    """How fast a wait passes where time begins so many minutes sooner."""
    if not minutes:
        return ageing
    _, warmth, rate = ageing.spells[0]
    moved = tuple((minute + minutes, warmth, rate) for minute, warmth, rate in ageing.spells)
    return replace(ageing, settled=ageing.settled + minutes, spells=((0, warmth, rate), *moved))


def _repeated(ageing: Ageing, end: int) -> list[tuple[int, int, int, int]]:
    """The spells up to minute `end`, each with its own end, the settled week again and again."""
    found = [spell for spell in ageing.spells if spell[0] < end]
    week = [spell for spell in ageing.spells if spell[0] > ageing.settled]
    last = [spell for spell in ageing.spells if spell[0] <= ageing.settled][-1]
    week.insert(0, (ageing.settled, *last[1:]))
    begin = ageing.settled + WEEK
    while begin < end:
        by = begin - ageing.settled
        found += [(minute + by, warmth, rate) for minute, warmth, rate in week if minute + by < end]
        begin += WEEK
    ends = [*(minute for minute, _, _ in found[1:]), end]
    return [(minute, until, warmth, rate) for (minute, warmth, rate), until in zip(found, ends, strict=True)]


def over_at(gap: GapEdge, begin: int) -> int:
    """When the least time of a gap that begins at a minute is over."""
    return _over(_parts(gap.stretches, longest=False), begin) if gap.stretches else begin + gap.least


def closes_at(gap: GapEdge, begin: int) -> int | None:
    """When the longest time of a gap that begins at a minute is over; None where it has none."""
    if gap.longest is None:
        return None
    return _until(_parts(gap.stretches, longest=True), begin) if gap.stretches else begin + gap.longest
