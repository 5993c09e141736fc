"""The build's hours, people and days in the planner's own time: minutes from midnight of the start day."""

import math
from datetime import date, datetime, time
from fractions import Fraction

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


def _minutes(clock: time) -> int:
    """Minutes of the day; the last moment of the day counts as midnight at its end."""
    return DAY if clock.microsecond else clock.hour * 60 + clock.minute


def _numbers(build: Build, days: Days) -> range:
    return range(day_of(build, days.first), day_of(build, days.last) + 1)
