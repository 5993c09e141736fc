"""Amounts, dates and times as they are written, to exact values."""

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from functools import lru_cache

from castlang.problems.wording import either
from castlang.spec import findings
from castlang.spec.ledger import Ledger
from castlang.spec.model import Window
from castlang.spec.quantity import Dimension, Money, Quantity
from castlang.spec.units import Unit, near_unit, unit_of
from castlang.syntax.findings import NO_UNIT
from castlang.syntax.grammar import keywords
from castlang.syntax.model import Part, Word
from castlang.syntax.wanted import shortened

PAIRS = {("ft", "in"), ("lb", "oz"), ("gal", "qt"), ("days", "h"), ("h", "min")}
"""The amounts that are said side by side, the larger unit first."""

_WANTED = {
    Dimension.LENGTH: "a length, as in 15 mm or 3/8 in",
    Dimension.AREA: "an area, as in 2 m2 or 20 ft2",
    Dimension.VOLUME: "a volume, as in 30 L or 8 gal",
    Dimension.MASS: "a mass, as in 25 kg or 94 lb",
    Dimension.TIME: "a time, as in 40 min, 2 h or 3 days",
    Dimension.TEMPERATURE: "a temperature, as in 20 degC or 68 degF",
    Dimension.TEMPERATURE_STEP: "a difference of temperature, as in 10 K",
    Dimension.SHARE: "a share, as in 8 %",
    Dimension.DENSITY: "a mass per volume, as in 2280 kg/m3 or 142 lb/ft3",
    Dimension.AREAL_MASS: "a mass per area, as in 125 g/m2",
    Dimension.FILM: "a volume per area, as in 0.1 L/m2",
    Dimension.COVERAGE: "an area per volume, as in 10 m2/L or 400 ft2/gal",
    Dimension.AREA_RATE: "an area per time, as in 5 m2/h",
    Dimension.VOLUME_RATE: "a volume per time, as in 60 L/h",
    Dimension.SPEED: "a length per time, as in 0.8 m/s or 150 ft/min",
    Dimension.PRESSURE: "a pressure, as in 15 MPa or 2200 psi",
    Dimension.ANGLE: "an angle, as in 90 deg",
    Dimension.MONEY: "money, as in 21.50 EUR",
    Dimension.MONEY_RATE: "money per time, as in 44 EUR/h",
    Dimension.COUNT: "a count, as in 2 coats or 6 pieces",
}


MOST: Mapping[Dimension, tuple[int, str]] = {
    Dimension.LENGTH: (1000, "1000 m"),
    Dimension.AREA: (10**6, "1000000 m2"),
    Dimension.VOLUME: (10**5, "100000 m3"),
    Dimension.MASS: (10**7, "10000 t"),
    Dimension.TIME: (20 * 366 * 86400, "20 years"),
    Dimension.TEMPERATURE: (10**4, "10000 degC"),
    Dimension.DENSITY: (25_000, "25000 kg/m3"),
    Dimension.AREAL_MASS: (10**4, "10000 kg/m2"),
    Dimension.COUNT: (10**6, "1000000"),
}
"""Limits in SI that no build of a casting shop comes near, and how they are said. Common practice, no source,
but for the density: no material is denser than osmium, 22 590 kg/m3 (from memory)."""

FINEST = 10**12
"""Less than one part in so many of the SI unit is no amount that anybody can measure out."""

YEARS = range(2000, 2200)
"""The years in which a build can be."""


@lru_cache(maxsize=4096)
def number_of(text: str) -> Fraction:
    """`1-1/2`, `1 1/2`, `3/8`, `15.5`, `-3` exactly; a zero below a stroke raises ZeroDivisionError."""
    sign, text = (-1, text[1:]) if text.startswith("-") else (1, text)
    whole, *part = re.split(r"[ -]", text)
    return sign * (Fraction(whole) + (Fraction(part[0]) if part else 0))


def _feet_inches(text: str) -> Fraction:
    """`4'-6 1/2"`, `12'`, `1-1/2"` to m."""
    feet, _, inches = text.rpartition("'") if "'" in text else ("", "", text)
    inches = inches.lstrip(" -").rstrip('"')
    value = 12 * Fraction(feet) if feet else Fraction(0)
    return (value + (number_of(inches) if inches else 0)) * Fraction(254, 10000)


def quantity_of(
    ledger: Ledger, part: Part, *dimensions: Dimension, word: str | None = None
) -> Quantity | None:
    """The exact amount of an `amount` part, when it measures one of `dimensions`; else None, told.

    word: a counted word that is allowed beside the language's own (a package's).
    """
    written = _written(part)
    try:
        found = _value(ledger, part, written, word)
    except ZeroDivisionError:
        ledger.say(findings.BAD_VALUE, f"`{written}` has a zero below the stroke", part.span)
        return None
    if found is None or not _within_reason(ledger, found, part):
        return None
    if dimensions and found.dimension not in dimensions:
        ledger.say(
            findings.WRONG_UNIT,
            f"`{written}` is {_a(found.dimension)}, not {either(_a(d) for d in dimensions)}",
            part.span,
            f"write {either(_WANTED[d] for d in dimensions)}",
        )
        return None
    return found


def _within_reason(ledger: Ledger, found: Quantity, part: Part) -> bool:
    """Whether the amount is one that a shop can have; a slip such as a key held down is told."""
    most, says = MOST.get(found.dimension, (10**12, ""))
    # Whole numbers are compared, since each comparison of fractions takes as long as ten of them.
    size, below = abs(found.si.numerator), found.si.denominator
    if size > most * below:
        limit = f", at most {says}" if says else ""
        ledger.say(findings.BAD_VALUE, f"`{shortened(found.written)}` is too much{limit}", part.span)
        return False
    if 0 < size * FINEST < below:
        ledger.say(findings.BAD_VALUE, f"`{shortened(found.written)}` is next to nothing", part.span)
        return False
    return True


def _a(dimension: Dimension) -> str:
    if dimension in (Dimension.MONEY, Dimension.MONEY_RATE):
        return str(dimension)
    return f"{'an' if dimension[0] in 'aeiou' else 'a'} {dimension}"


def _written(part: Part) -> str:
    return " ".join(w.text for w in part.children if isinstance(w, Word))


def _value(ledger: Ledger, part: Part, written: str, word: str | None) -> Quantity | None:
    primes = part.word("feet_inches")
    if primes is not None:
        ledger.us += 1
        return Quantity(si=_feet_inches(primes.text), dimension=Dimension.LENGTH, written=written)
    numbers = [w for w in part.children if isinstance(w, Word) and w.kind in ("number", "negative")]
    units = part.words("unit")
    values: list[tuple[Fraction, Unit]] = []
    for number, unit in zip(numbers, units, strict=True):
        meant = _unit(ledger, unit, word)
        if meant is None:
            return None
        values.append((number_of(number.text), meant))
    if len(values) == 2 and (values[0][1].name, values[1][1].name) not in PAIRS:
        ledger.say(findings.TWO_AMOUNTS, f"`{written}` does not add up to one amount", part.span)
        return None
    value, first = values[0]
    si = first.si(value)
    for further, its_unit in values[1:]:
        si += its_unit.si(further)
    return Quantity(si=si, dimension=first.dimension, word=first.word, written=written)


def _unit(ledger: Ledger, unit: Word, word: str | None) -> Unit | None:
    if word is not None and unit.text in (word, f"{word}s", f"{word}es"):
        return Unit(name=word, factor=Fraction(1), dimension=Dimension.COUNT, word=word)
    meant = unit_of(unit.text)
    if meant is None and unit.text in keywords().values():
        ledger.say(NO_UNIT, f"a unit is missing in front of `{unit.text}`", unit.span)
        return None
    if meant is None:
        remedy = f"packages are counted in {word}s here" if word is not None else near_unit(unit.text)
        ledger.say(findings.UNKNOWN_UNIT, f"`{unit.text}` is not a unit", unit.span, remedy)
        return None
    if meant.us is not None:
        ledger.us += meant.us
        ledger.metric += not meant.us
    return meant


def positive(ledger: Ledger, amount: Quantity | None, part: Part, *, zero: bool = False) -> Fraction | None:
    """The SI value when it is above zero (or zero, where that makes sense); else None, told."""
    if amount is None:
        return None
    if amount.si < 0 or (amount.si == 0 and not zero):
        ledger.say(findings.BAD_VALUE, f"`{amount.written}` must be more than nothing", part.span)
        return None
    return amount.si


def share_of(ledger: Ledger, part: Part, *, least: int = 0, most: int = 100) -> Fraction | None:
    """A share from percent, within limits told in percent."""
    found = quantity_of(ledger, part, Dimension.SHARE)
    if found is None:
        return None
    if not Fraction(least, 100) <= found.si <= Fraction(most, 100):
        ledger.say(findings.BAD_VALUE, f"`{found.written}` lies outside {least} to {most} %", part.span)
        return None
    return found.si


def money_of(ledger: Ledger, part: Part) -> Money | None:
    """An amount of money, not below zero."""
    found = quantity_of(ledger, part, Dimension.MONEY)
    if found is None or positive(ledger, found, part, zero=True) is None:
        return None
    return Money(amount=found.si, currency=found.word or "")


def money_an_hour(ledger: Ledger, part: Part) -> Money | None:
    """A wage or a station's price, as money an hour."""
    found = quantity_of(ledger, part, Dimension.MONEY_RATE)
    if found is None or positive(ledger, found, part, zero=True) is None:
        return None
    return Money(amount=found.si * 3600, currency=found.word or "")


def range_of(
    ledger: Ledger, line: Part, dimension: Dimension, *, zero: bool = False
) -> tuple[Fraction, Fraction | None] | None:
    """Least and longest from the amounts directly in `line` ("X to Y")."""
    values: list[Fraction] = []
    for part in line.parts("amount")[:2]:
        value = positive(ledger, quantity_of(ledger, part, dimension), part, zero=zero)
        if value is None:
            return None
        values.append(value)
    if not values:
        return None
    if len(values) == 2 and values[1] < values[0]:
        least, most = line.parts("amount")[:2]
        message = f"the range runs down, from `{_written(least)}` to `{_written(most)}`"
        ledger.say(findings.BAD_RANGE, message, replace(least.span, end=most.span.end))
        return None
    return values[0], (values[1] if len(values) == 2 else None)


def window_of(ledger: Ledger, line: Part) -> Window | None:
    """A least and a longest time."""
    found = range_of(ledger, line, Dimension.TIME, zero=True)
    return None if found is None else Window(least=found[0], longest=found[1])


def count_of(ledger: Ledger, part: Part, *, least: int = 1, most: int = 10_000) -> int | None:
    """A whole number; else None, told."""
    word = part.word("number")
    if word is None:
        return None
    try:
        value = number_of(word.text)
    except ZeroDivisionError:
        value = Fraction(-1)
    if value.denominator != 1 or not least <= value <= most:
        wanted = f"a whole number from {least} to {most}"
        ledger.say(findings.BAD_VALUE, f"`{word.text}` must be {wanted}", word.span)
        return None
    return int(value)


def date_of(ledger: Ledger, part: Part) -> date | None:
    """A day of the calendar; else None, told."""
    word = part.word("date")
    if word is None:
        return None
    try:
        found = date.fromisoformat(word.text)
        if found.year in YEARS:
            return found
        message = f"`{word.text}` lies outside the years {YEARS[0]} to {YEARS[-1]}"
        ledger.say(findings.NO_SUCH_DAY, message, word.span)
        return None
    except ValueError:
        ledger.say(findings.NO_SUCH_DAY, f"`{word.text}` is not a day of the calendar", word.span)
        return None


def minutes_of(ledger: Ledger, part: Part) -> int | None:
    """A time of day in minutes from midnight, 0 to 1440; else None, told."""
    word = part.word("time")
    if word is None:
        return None
    hours, minutes = (int(x) for x in word.text.split(":"))
    if minutes > 59 or hours * 60 + minutes > 1440:
        ledger.say(findings.NO_SUCH_DAY, f"`{word.text}` is not a time of the clock", word.span)
        return None
    return hours * 60 + minutes


def clock_of(ledger: Ledger, part: Part) -> time | None:
    """A time of day; 24:00 is midnight at the end of the day and told as 23:59 is not: it is time.max."""
    minutes = minutes_of(ledger, part)
    if minutes is None:
        return None
    return time.max if minutes == 1440 else time(minutes // 60, minutes % 60)


def moment_of(
    ledger: Ledger, day: date | None, part: Part | None, *, end_of_day: bool = False
) -> datetime | None:
    """A day and a time of it; without a time the day's first or last minute."""
    if day is None:
        return None
    minutes: int | None = 1440 if end_of_day else 0
    if part is not None:
        minutes = minutes_of(ledger, part)
    if minutes is None:
        return None
    return datetime(day.year, day.month, day.day) + timedelta(minutes=minutes)
