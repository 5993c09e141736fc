"""Facts of a build in shop words, for a line that tells what they were and what they are."""

from collections.abc import Callable
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from fractions import Fraction
from hashlib import blake2b
from typing import Any

from castlang.sheets import amounts, times
from castlang.sheets.basis import copies_text
from castlang.sheets.instructions import people, shape_text
from castlang.sheets.order_list import package_text
from castlang.spec.model import (
    Away,
    Climate,
    Copies,
    Days,
    Dose,
    DoseKind,
    Exchange,
    FaceRef,
    Gang,
    Kit,
    Leg,
    Mesh,
    Pack,
    Package,
    Panel,
    Part,
    Reading,
    Shape,
    Shift,
    Step,
    StepRef,
    ThingRef,
    Water,
    Window,
)
from castlang.spec.quantity import Dimension, Money, Quantity

Show = Callable[[Any, str], str]
"""(value, units) to words; the value is never None."""

NOT_TOLD = "not told"
DAY_WORDS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def told_pair(show: Show, old: Any, new: Any, units: str) -> tuple[str | None, str | None]:
    """Both values in words; where rounding makes them alike, with their exact values behind."""
    before = None if old is None else show(old, units)
    after = None if new is None else show(new, units)
    if before == after and old != new:
        return f"{before} ({exactly(old)})", f"{after} ({exactly(new)})"
    return before, after


def exactly(value: Any) -> str:
    """The value without any rounding: as written where that is known, else in SI."""
    match value:
        case Quantity():
            return value.written or exactly(value.si)
        case Fraction():
            decimals = next((d for d in range(16) if (value * 10**d).denominator == 1), None)
            return str(value) if decimals is None else amounts.fixed(value, decimals)
        case Mesh():
            return f"{len(value.data)} bytes, {blake2b(value.data, digest_size=4).hexdigest()}"
        case tuple():
            return ", ".join(exactly(part) for part in value)
        case _ if is_dataclass(value):
            parts = (getattr(value, f.name) for f in fields(value) if f.compare)
            return ", ".join(exactly(part) for part in parts if part is not None)
        case _:
            return str(value)


# ---------------------------------------------------------------- plain values


def text(value: Any, units: str) -> str:
    """A name, a number without unit, or a text."""
    return str(value)


def quoted(value: str, units: str) -> str:
    return f'"{value}"'


def yes(value: bool, units: str) -> str:
    return "yes" if value else "no"


def names(value: tuple[Any, ...], units: str) -> str:
    return ", ".join(str(name) for name in value) or "none"


def texts(value: tuple[str, ...], units: str) -> str:
    return "; ".join(f'"{line}"' for line in value) or "none"


def share(value: Fraction, units: str) -> str:
    return amounts.share(value)


def money(value: Money, units: str) -> str:
    return amounts.money(value)


def hourly(value: Money, units: str) -> str:
    return f"{amounts.money(value)}/h"


def on_day(value: date, units: str) -> str:
    return times.full_day(value)


def at_time(value: datetime, units: str) -> str:
    return times.point(value, units)


def seconds(value: Fraction, units: str) -> str:
    return times.seconds(value)


def days_long(value: Fraction, units: str) -> str:
    """A span of calendar days."""
    return times.span(round(value / 60)) if value else "0 days"


def count(value: Fraction | int, units: str) -> str:
    return amounts.brief(value, 3)


def window(value: Window, units: str) -> str:
    if not value.least and value.longest is None:
        return "0 min"
    return times.window(value)


def gang(value: tuple[Gang, ...], units: str) -> str:
    return people(value).removeprefix("by ") or "nobody"


# ---------------------------------------------------------------- the build


def shift(value: Shift, units: str) -> str:
    first, last = DAY_WORDS[value.first], DAY_WORDS[value.last]
    spells = ", ".join(
        f"{times.clock(a.hour * 60 + a.minute, units)} to {_closing(b.hour * 60 + b.minute, units)}"
        for a, b in value.spells
    )
    return f"{first} {spells}" if first == last else f"{first} to {last} {spells}"


def _closing(minute: int, units: str) -> str:
    """An end at midnight is the end of the day."""
    return times.clock(minute or times.DAY, units)


def days(value: Days, units: str) -> str:
    spell: str = times.full_day(value.first)
    if value.last != value.first:
        spell = f"{spell} to {times.full_day(value.last)}"
    return f'{spell} "{value.text}"' if value.text else spell


def away(value: Away, units: str) -> str:
    role = f" {value.role}" if value.role else ""
    return f"{value.count}{role} on {days(value.days, units)}"


def temperature_on(value: Climate, units: str) -> str:
    return _on_days(amounts.temperature(value.value, units), value, units)


def humidity_on(value: Climate, units: str) -> str:
    return _on_days(amounts.share(value.value), value, units)


def _on_days(told: str, value: Climate, units: str) -> str:
    return told if value.days is None else f"{told} on {days(value.days, units)}"


def exchange(value: Exchange, units: str) -> str:
    when = f" on {times.full_day(value.on)}" if value.on is not None else ""
    return f"1 {value.sold} = {exactly(value.rate)} {value.bought}{when}"


def readings(value: tuple[Reading, ...], units: str) -> str:
    """How many there are, and from when to when."""
    if not value:
        return "no readings"
    first, last = (times.point(value[end].at, units) for end in (0, -1))
    return f"{len(value)} readings, {first} to {last}"


# ---------------------------------------------------------------- stores


def package(value: Package, units: str) -> str:
    return package_text(value, units)


def pack(value: Pack, units: str) -> str:
    return f"{package_text(value.package, units)} at {amounts.money(value.price)}"


def kit(value: Kit, units: str) -> str:
    return f"{amounts.amount(value.amount, units)} of it in one {value.name}"


def dose(value: Dose, units: str) -> str:
    """`100 parts`, `0.8 % of binder`, `12 kg`, `what fills the rest`."""
    match value.kind:
        case DoseKind.PARTS:
            return f"{amounts.brief(value.value, 4)} parts"
        case DoseKind.MASS:
            return amounts.mass(value.value, units)
        case DoseKind.VOLUME:
            return amounts.volume(value.value, units)
        case DoseKind.FILL:
            return "what fills the rest"
        case _:
            return f"{amounts.share(value.value)} of {value.of or 'the mix'}"


def water(value: Water, units: str) -> str:
    stock = f" of {value.stock}" if value.stock else ""
    return f"{dose(value.dose, units)} {'total' if value.total else 'added'}{stock}"


def ages(value: tuple[str, Fraction | None], units: str) -> str:
    kind, constant = value
    return kind if constant is None else f"{kind} {exactly(constant)}"


def strengths(value: tuple[tuple[Fraction, Fraction, Fraction], ...], units: str) -> str:
    told = (
        f"{amounts.pressure(stress, units)} after {times.seconds(age)} at {amounts.temperature(warm, units)}"
        for stress, age, warm in value
    )
    return ", ".join(told) or "none"


def thick(value: tuple[Fraction, Fraction | None], units: str) -> str:
    least, greatest = value
    if greatest is None:
        return amounts.length(least, units)
    return f"{amounts.length(least, units)} to {amounts.length(greatest, units)}"


def scale(value: tuple[Fraction, Fraction, Fraction], units: str) -> str:
    least, greatest, step = (amounts.mass(part, units) for part in value)
    return f"{least} to {greatest} step {step}"


# ---------------------------------------------------------------- bodies


def leg(value: Leg, units: str) -> str:
    turn = f", turn {amounts.brief(value.turn, 2)} deg" if value.turn is not None else ""
    return f"leg {amounts.length(value.long, units)}{turn}"


def shape(value: Shape, units: str) -> str:
    return shape_text(value, units)


def mesh(value: Mesh, units: str) -> str:
    return f'mesh "{value.file}", 1 unit = {exactly(value.unit * 1000)} mm'


def part(value: Part, units: str) -> str:
    """`box notch 90 mm long ... on back`."""
    where = f" on {value.on}" if value.on else ""
    at = ", ".join(f"{amounts.length(far, units)} from {edge}" for far, edge in value.placed)
    body = shape_text(value.shape, units).removeprefix(value.shape.kind).strip()
    return f"{value.shape.kind} {body}{where}{f' placed {at}' if at else ''}"


def placed(value: tuple[tuple[Fraction, str], ...], units: str) -> str:
    return ", ".join(f"{amounts.length(far, units)} from {edge}" for far, edge in value) or "centered"


def panel(value: Panel, units: str) -> str:
    sides = f"{amounts.length(value.long, units)} x {amounts.length(value.wide, units)}"
    return f"{sides} make {value.count}{f' of {value.stock}' if value.stock else ''}"


# ---------------------------------------------------------------- steps


def faces(value: tuple[FaceRef, ...], units: str) -> str:
    return ", ".join(f"{ref.piece}.{ref.face}" for ref in value) or "none"


def cavity(value: tuple[str, str | None], units: str) -> str:
    piece, hole = value
    return f"{piece}.{hole}" if hole else f"the body of {piece}"


def copies(value: Copies, units: str) -> str:
    if value.each:
        return "each"
    if value.first is None:
        return "all"
    mark = "m" if value.mirrored else ""
    numbers = range(value.first, (value.last or value.first) + 1)
    return copies_text(tuple(f"{mark}{number}" for number in numbers))


def thing(value: ThingRef, units: str) -> str:
    told = copies(value.copies, units)
    return value.name if told == "all" else f"{value.name} {told}"


def things(value: tuple[ThingRef, ...], units: str) -> str:
    return ", ".join(thing(ref, units) for ref in value) or "none"


def step_ref(value: StepRef, units: str) -> str:
    """`tread.1 to tread.4`, `shell.cure`, with every word that tells the point meant."""
    told = copies(value.copies, units)
    number = "" if told in ("all", "each") or " " in told else f".{told}"
    rest = ".".join(word for word in (value.step, value.part, value.gap, value.point) if word)
    plain = ".".join(word for word in (f"{value.owner}{number}", rest) if word)
    return plain if number or told == "all" else f"{plain} ({told})"


def tend(value: tuple[Fraction, tuple[Gang, ...]], units: str) -> str:
    every, by = value
    return f"every {times.seconds(every)} by {gang(by, units)}"


def pair(value: tuple[str, str], units: str) -> str:
    """A step by its block and its name."""
    return ".".join(value)


def covered(value: bool, units: str) -> str:
    return "covered" if value else "open"


def wet(value: bool, units: str) -> str:
    return "wet" if value else "dry"


def lots(value: tuple[tuple[str, str], ...], units: str) -> str:
    return ", ".join(f'{stock} "{lot}"' for stock, lot in value) or "none"


def amount(value: Quantity, units: str) -> str:
    """Thin films in their own unit; all else as the sheets tell it."""
    return amounts.amount(value, units)


def in_unit(dimension: Dimension) -> Show:
    """How an amount of that dimension is shown that is kept without it."""
    return lambda value, units: amounts.amount(Quantity(si=value, dimension=dimension), units)


def work(step: Step, units: str) -> str:
    """What a whole line of work is, in short: for one that is new or gone."""
    words = [
        "full" if step.full else amounts.amount(step.amount, units) if step.amount is not None else "",
        f"grit {', '.join(str(grit) for grit in step.grits)}" if step.grits else "",
        f"of {step.material}" if step.material else "",
        f"on {', '.join(ref.face for ref in step.on)}" if step.on else "",
        f"takes {times.seconds(step.takes)}" if step.takes is not None else "",
        f"rate {amounts.amount(step.rate, units)}" if step.rate is not None else "",
        people(step.gang),
    ]
    return " ".join(word for word in words if word)
