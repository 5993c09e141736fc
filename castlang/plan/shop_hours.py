"""The build's hours, people and days in the planner's own time: minutes from midnight of the start day."""

import math
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from itertools import count

from castlang.plan.model import Hours
from castlang.spec.model import Build, Days

DAY = 1440


def minutes_up(seconds: Fraction) -> int:
    """Whole minutes, rounded up: for work and least waits."""
    return math.ceil(seconds / 60)


def minutes_down(seconds: Fraction) -> int:
    """Whole minutes, rounded down: for longest waits."""
    return math.floor(seconds / 60)


def minute_of(build: Build, moment: datetime) -> int:
    """A moment in minutes from midnight of the build's start."""
    first = datetime(build.start.year, build.start.month, build.start.day)
    return int((moment - first).total_seconds() // 60)


def day_of(build: Build, day: date) -> int:
    """A day counted from the build's start, which is 0."""
    return (day - build.start).days


def hours_of(build: Build) -> Hours:
    """The shop's week, closed days and people."""
    week: list[tuple[tuple[int, int], ...]] = [() for _ in range(7)]
    for shift in build.shifts:
        spells = tuple((_minutes(a), _minutes(b)) for a, b in shift.spells)
        for day in range(shift.first, shift.last + 1):
            week[day] = spells
    closed = frozenset(n for days in build.closed for n in _numbers(build, days) if n >= 0)
    away: dict[int, tuple[tuple[str | None, int], ...]] = {}
    for absence in build.away:
        for number in _numbers(build, absence.days):
            away[number] = (*away.get(number, ()), (absence.role, absence.count))
    return Hours(
        start=build.start,
        week=tuple(week),
        closed=closed,
        crew=tuple((gang.role, gang.count) for gang in build.crew),
        away=dict(sorted(away.items())),
    )


def first_open(hours: Hours, minute: int) -> int:
    """The first minute from `minute` on in which the shop is open; `minute` itself where it never is."""
    if not any(hours.week):
        return minute
    spells = (
        (day * DAY + begin, day * DAY + end)
        for day in count(minute // DAY)
        for begin, end in spells_of_day(hours, day)
    )
    return next(max(minute, begin) for begin, end in spells if minute < end)


def last_open_day(hours: Hours, day: date) -> date:
    """The last day up to `day` on which the shop is open; `day` itself where that is none from the start on.
    Which days before the start are closed is not told: they go by the week."""
    number = (day - hours.start).days
    before = range(number, -1 if number >= 0 else number - 7, -1)
    return hours.start + timedelta(days=next((n for n in before if spells_of_day(hours, n)), number))


def spells_of_day(hours: Hours, day: int) -> tuple[tuple[int, int], ...]:
    """The open spells of a day counted from the start, in minutes of that day; none on a closed day."""
    if day in hours.closed:
        return ()
    return hours.week[(hours.start.weekday() + day) % 7]


def _minutes(clock: time) -> int:
    """Minutes of the day; the last moment of the day counts as midnight at its end."""
    return DAY if clock.microsecond else clock.hour * 60 + clock.minute


def _numbers(build: Build, days: Days) -> range:
    return range(day_of(build, days.first), day_of(build, days.last) + 1)
