"""The days off and the people away that the plan goes round."""

from datetime import timedelta

from castlang.sheets import times
from castlang.sheets.basis import Basis
from castlang.sheets.dated_text import dated
from castlang.sheets.instructions import people
from castlang.sheets.model import Prose
from castlang.spec.model import Days


def days_off(basis: Basis) -> tuple[Prose, ...]:
    """One line for each `closed` line and public holiday between start and finish on which the shop would
    otherwise be open, and one for each `away` line with such a day; nothing where there is none. The plan's
    dates say which they are."""
    build, week = basis.spec.build, basis.plan.network.hours.week
    last = times.date_of(basis.plan.network.hours.start, basis.plan.finish)

    def met(off: Days) -> bool:
        days = [off.first + timedelta(days=n) for n in range((off.last - off.first).days + 1)]
        return any(build.start <= day <= last and week[day.weekday()] for day in days)

    closed = [
        dated(f"{_days(off)}{f': {off.text}' if off.text else ''}")
        for off in sorted(build.closed, key=lambda d: (d.first, d.last, d.text or ""))
        if met(off)
    ]
    gone = [
        dated(f"{_days(away.days)}: {people(((away.role, away.count),)).removeprefix('by ')}")
        for away in sorted(build.away, key=lambda a: (a.days.first, a.days.last, a.role or ""))
        if met(away.days)
    ]
    return tuple(
        Prose(title=title, lines=tuple(dict.fromkeys(lines)), points=True)
        for title, lines in (("Days off", closed), ("Away", gone))
        if lines
    )


def _days(off: Days) -> str:
    if off.first == off.last:
        return times.day(off.first)
    return f"{times.day(off.first)} to {times.day(off.last)}"
