"""How warm the shop is over time: by the lines of the build, and by its logger where that has readings.

`air` holds from a day's first start to its last end, `night` in all other hours and on days when the shop is
closed.
"""

from bisect import bisect_right
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from fractions import Fraction

from castlang.plan.clock import DAY
from castlang.plan.model import Hours
from castlang.spec.logger import pauses_of
from castlang.spec.model import Build, Climate, Reading

QUARTER = 15
"""Minutes over which readings are averaged: a shop does not warm up faster than that matters."""
DAYS_AFTER = 7

Spell = tuple[int, int]
"""(from minute, thousandths of K)."""


def warmth_of(build: Build, hours: Hours) -> tuple[tuple[Spell, ...], int]:
    """How warm the shop is from minute 0 on, spell by spell, and from which minute on each week is like the
    one before; the spells reach a week past it. None where the build says no air."""
    if not build.air:
        return (), 0
    last = max([-1, *hours.closed, *(_day(build, c.days.last) for c in (*build.air, *build.night) if c.days)])
    measured = _measured(build)
    if measured:
        last = max(last, measured[-1][1] // DAY)
    days = last + 1
    spells: list[Spell] = []
    for day in range(days + DAYS_AFTER):
        air, night = _told(build, day)
        open_ = () if day in hours.closed else hours.week[(hours.start.weekday() + day) % 7]
        begin = day * DAY
        spells.append((begin, night))
        if open_:
            spells += [(begin + open_[0][0], air), (begin + open_[-1][1], night)]
    return tuple(_merged(_overlaid(spells, measured))), days * DAY


def _told(build: Build, day: int) -> tuple[int, int]:
    """The air and the night of a day; where no line tells the air of that day, the coldest that one tells."""
    when = build.start + timedelta(days=day)
    air = _of(build.air, when)
    if air is None:
        air = min(line.value for line in build.air)
    night = _of(build.night, when)
    return _held(air), _held(air if night is None else night)


def _of(lines: Sequence[Climate], when: date) -> Fraction | None:
    plain = None
    for line in lines:
        if line.days is None:
            plain = line.value
        elif line.days.first <= when <= line.days.last:
            return line.value
    return plain


def _held(kelvin: Fraction) -> int:
    return round(kelvin * 1000)


def _day(build: Build, when: date) -> int:
    return (when - build.start).days


def _measured(build: Build) -> list[tuple[int, int, int]]:
    """(from minute, to minute, thousandths of K), quarter by quarter, where the logger has readings: between
    two of them their mean, and of what lies in one quarter the mean by time."""
    first = datetime(build.start.year, build.start.month, build.start.day)
    skipped = {one for one, _ in pauses_of(build.logged)}
    sums: dict[int, list[Fraction]] = {}
    for one, other in zip(build.logged, build.logged[1:], strict=False):
        if one.at in skipped:
            continue
        begin, end = (_seconds(first, reading) for reading in (one, other))
        mean = (one.value + other.value) / 2
        while begin < end:
            quarter = begin // (QUARTER * 60)
            until = min(end, (quarter + 1) * QUARTER * 60)
            so_far = sums.setdefault(quarter, [Fraction(0), Fraction(0)])
            so_far[0] += until - begin
            so_far[1] += (until - begin) * mean
            begin = until
    return [
        (quarter * QUARTER, (quarter + 1) * QUARTER, _held(total / seconds))
        for quarter, (seconds, total) in sorted(sums.items())
        if quarter >= 0
    ]


def _seconds(first: datetime, reading: Reading) -> int:
    return (reading.at - first) // timedelta(seconds=1)


def _overlaid(told: Sequence[Spell], measured: Sequence[tuple[int, int, int]]) -> list[Spell]:
    """What was measured over what was told."""
    if not measured:
        return list(told)
    begins = [minute for minute, _ in told]
    edges = sorted({*begins, *(minute for begin, end, _ in measured for minute in (begin, end))})
    known = [begin for begin, _, _ in measured]
    spells = []
    for minute in edges:
        k = bisect_right(known, minute) - 1
        if k >= 0 and minute < measured[k][1]:
            spells.append((minute, measured[k][2]))
        else:
            spells.append((minute, told[bisect_right(begins, minute) - 1][1]))
    return spells


def _merged(spells: Sequence[Spell]) -> list[Spell]:
    kept: list[Spell] = []
    for minute, warmth in spells:
        if kept and kept[-1][0] == minute:
            kept.pop()
        if not kept or kept[-1][1] != warmth:
            kept.append((minute, warmth))
    return kept
