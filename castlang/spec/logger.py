"""A table of measured temperatures: a file of times and values, as loggers export it.

    time,temperature degC
    2027-02-01T07:00,14.2

Read: UTF-8, columns set apart by comma, semicolon or tab, in the first column the shop's own clock by ISO
8601, in the second the temperature, in the unit that the heading of its column ends with.
"""

import re
from collections.abc import Callable, Iterator
from datetime import date, datetime
from fractions import Fraction
from itertools import pairwise

from castlang.spec import findings
from castlang.spec.ledger import Ledger
from castlang.spec.model import Reading
from castlang.spec.units import unit_of
from castlang.syntax.model import Statement

COLDEST, WARMEST = Fraction(213), Fraction(343)
"""K between which a shop's temperature lies; anything else is a slip, or the logger's fault."""
TOLD = 3
"""Lines of a file that are told as wrong; of more only how many."""
LONGEST = 3 * 3600
"""s between two readings, past which nobody knows how warm it was."""

_HEADING = "begin the file with a line such as `time,temperature degC`"
_TIME = re.compile(r"\d{4}-\d\d-\d\d[T ]\d\d:\d\d(:\d\d(\.\d+)?)?")
_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?")


def readings_of(
    ledger: Ledger, line: Statement, start: date | None, read: Callable[[str, str], bytes | str]
) -> tuple[Reading, ...]:
    """The readings in the file that a `logger` line names, by time; () where it cannot be used (told). start:
    the first day of the build."""
    word = line.body.word("text")
    if word is None:
        return ()
    name = word.text[1:-1]
    data = read(name, line.span.file)
    if isinstance(data, str):
        finding = findings.FILE_OUTSIDE if data.startswith("lies ") else findings.NO_FILE
        ledger.say(finding, f'the logger\'s file "{name}" {data}', word.span)
        return ()
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        ledger.say(findings.LOGGER_UNREAD, f'"{name}" is not UTF-8 text', word.span)
        return ()
    rows = [(n, row) for n, row in enumerate(text.splitlines(), start=1) if row.strip()]
    if not rows:
        ledger.say(findings.LOGGER_UNREAD, f'"{name}" is empty', word.span, _HEADING)
        return ()
    mark = next((mark for mark in (";", "\t", ",") if mark in rows[0][1]), ",")
    heading = [cell.strip().strip('"') for cell in rows[0][1].split(mark)]
    unit = _unit(heading)
    if unit is None:
        message = f'the first line of "{name}" does not say whether its temperatures are degC or degF'
        ledger.say(findings.LOGGER_UNREAD, message, word.span, _HEADING)
        return ()
    readings: list[Reading] = []
    wrong: list[str] = []
    for number, row in rows[1:]:
        found = _reading([cell.strip().strip('"') for cell in row.split(mark)], unit, mark)
        if isinstance(found, Reading) and readings and found.at <= readings[-1].at:
            found = "does not come after the line before it"
        if isinstance(found, str):
            wrong.append(f"line {number} {found}")
        else:
            readings.append(found)
    for number, message in enumerate(wrong[:TOLD], start=1):
        more = f"; so are {len(wrong) - TOLD} more lines" if number == TOLD < len(wrong) else ""
        ledger.say(findings.LOGGER_UNREAD, f'"{name}": {message}{more}', word.span)
    if len(readings) < 2 and not wrong:
        ledger.say(findings.LOGGER_UNREAD, f'"{name}" holds fewer than two readings', word.span)
    if wrong:
        return ()
    _tell_pauses(ledger, line, name, readings)
    if readings and start is not None and readings[-1].at.date() < start:
        ended = readings[-1].at.isoformat(" ", "minutes")
        message = f'"{name}" ends on {ended}, before the build starts on {start}'
        ledger.say(findings.LOGGER_IDLE, message, line.span)
    return tuple(readings)


def _unit(heading: list[str]) -> tuple[Fraction, Fraction] | None:
    """Factor and offset of the unit with which the second heading ends; None where it has none."""
    words = heading[1].replace("°", "deg").split() if len(heading) == 2 else []
    word = words[-1].strip("()[]") if words else ""
    unit = unit_of(word) if word in ("degC", "degF") else None
    return None if unit is None else (unit.factor, unit.offset)


def _reading(cells: list[str], unit: tuple[Fraction, Fraction], mark: str) -> Reading | str:
    """The reading in a row, or what is wrong with it."""
    if len(cells) != 2:
        return f"has {len(cells)} columns, not a time and a temperature"
    told, value = cells
    if _TIME.fullmatch(told) is None:
        zone = re.fullmatch(_TIME.pattern + r"(Z|[+-]\d\d:?\d\d)", told)
        why = (
            "is in a time zone; export it by the shop's own clock"
            if zone
            else "is no time such as 2027-02-01T07:30"
        )
        return f"begins with `{told[:40]}`, which {why}"
    try:
        at = datetime.fromisoformat(told)
    except ValueError:
        return f"begins with `{told}`, which is not in the calendar or on the clock"
    if _NUMBER.fullmatch(value) is None or ("," in value and mark == ","):
        return f"has `{value[:40]}` for a temperature"
    warmth = (Fraction(value.replace(",", ".")) + unit[1]) * unit[0]
    if not COLDEST < warmth < WARMEST:
        return f"has `{value}`, which is no temperature of a shop"
    return Reading(at=at, value=warmth)


def _tell_pauses(ledger: Ledger, line: Statement, name: str, readings: list[Reading]) -> None:
    pauses = list(pauses_of(readings))
    if pauses:
        first, then = pauses[0]
        more = f", and {len(pauses) - 1} times more" if len(pauses) > 1 else ""
        ledger.say(
            findings.LOGGER_PAUSE,
            f'"{name}" has no reading from {first.isoformat(" ", "minutes")} to '
            f"{then.isoformat(' ', 'minutes')}{more}",
            line.span,
        )


def pauses_of(readings: list[Reading] | tuple[Reading, ...]) -> Iterator[tuple[datetime, datetime]]:
    """From when to when nothing was read for so long that nobody knows how warm it was."""
    for one, other in pairwise(readings):
        if (other.at - one.at).total_seconds() > LONGEST:
            yield one.at, other.at
