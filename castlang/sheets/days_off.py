"""The days off that the plan goes round, with what they are."""

from datetime import timedelta

from castlang.sheets import times
from castlang.sheets.basis import Basis
from castlang.sheets.dated_text import dated
from castlang.sheets.model import Prose


def days_off(basis: Basis) -> tuple[Prose, ...]:
    """One line for each `closed` line and public holiday between start and finish on which the shop would
    otherwise be open; nothing where there is none. The plan's dates say which they are."""
    build, week = basis.spec.build, basis.plan.network.hours.week
    last = times.date_of(basis.plan.network.hours.start, basis.plan.finish)
    lines = []
    for off in sorted(build.closed, key=lambda d: (d.first, d.last, d.text or "")):
        within = range((off.last - off.first).days + 1)
        days = [off.first + timedelta(days=n) for n in within]
        if not any(build.start <= day <= last and week[day.weekday()] for day in days):
            continue
        ends = (
            [times.day(off.first)] if off.first == off.last else [times.day(off.first), times.day(off.last)]
        )
        lines.append(dated(f"{' to '.join(ends)}{f': {off.text}' if off.text else ''}"))
    return (Prose(title="Days off", lines=tuple(dict.fromkeys(lines)), points=True),) if lines else ()
