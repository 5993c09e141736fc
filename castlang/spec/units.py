"""The door to pint: what a unit word means. Each word is looked up once; numbers never pass through here."""

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from functools import cache, lru_cache
from importlib import resources
from typing import Any

from castlang.source.kept import kept
from castlang.spec.quantity import Dimension

US_UNITS = frozenset({"in", "ft", "yd", "mil", "fl-oz", "qt", "gal", "oz", "lb", "psi", "degF", "ft2", "ft3"})

COUNTED = {
    "part": "parts", "parts": "parts", "coat": "coats", "coats": "coats", "layer": "layers",
    "layers": "layers", "piece": "pieces", "pieces": "pieces", "casting": "castings", "castings": "castings",
}  # fmt: skip
"""Counted words, singular and plural, and the word that stands for both."""

SPELLED = {
    "hrs": "h", "hr": "h", "hour": "h", "hours": "h", "mins": "min", "minute": "min", "minutes": "min",
    "sec": "s", "secs": "s", "day": "days", "week": "weeks", "lbs": "lb", "kgs": "kg", "°C": "degC",
    "°F": "degF", "m²": "m2", "m³": "m3", "ft²": "ft2", "ft³": "ft3", "mm²": "mm2", "cm²": "cm2", "µm": "um",
    "l": "L", "ml": "mL", "feet": "ft", "foot": "ft", "inch": "in", "inches": "in", "gallon": "gal",
    "gallons": "gal", "quart": "qt", "quarts": "qt", "grams": "g", "litre": "L", "litres": "L",
    "liter": "L", "liters": "L",
}  # fmt: skip
"""Common spellings that can mean one thing only, and the unit that they mean."""

REFUSED = {
    "C": "a temperature is told in degC or degF",
    "F": "a temperature is told in degC or degF",
    "oz.": "ounces of mass are oz, of volume fl-oz",
    "floz": "ounces of volume are fl-oz",
    "pcs": "say pieces, or leave the word out where only a count makes sense",
    "cc": "say mL",
    "M": "a metre is m, a million Pascal MPa",
    "#": "pounds are lb",
    "sf": "square feet are ft2",
    "sqft": "square feet are ft2",
    "cf": "cubic feet are ft3",
    "psf": "say lb/ft2",
    "pcf": "say lb/ft3",
    "pint": "say how many fl-oz: a US pint is 16, an imperial pint 20",
    "pt": "say how many fl-oz: a US pint is 16, an imperial pint 20",
    "cup": "say how many mL or fl-oz",
    "ton": "a ton is 2000 lb, 2240 lb or 1000 kg: say it in lb or kg",
    "tons": "a ton is 2000 lb, 2240 lb or 1000 kg: say it in lb or kg",
}
"""Words that could mean two things, and what to write."""

Powers = tuple[int, int, int]
"""Exponents of length, mass, time."""

_DIMENSIONS: Mapping[Powers, Dimension] = {
    (1, 0, 0): Dimension.LENGTH,
    (2, 0, 0): Dimension.AREA,
    (3, 0, 0): Dimension.VOLUME,
    (0, 1, 0): Dimension.MASS,
    (0, 0, 1): Dimension.TIME,
    (-3, 1, 0): Dimension.DENSITY,
    (-2, 1, 0): Dimension.AREAL_MASS,
    (-1, 0, 0): Dimension.COVERAGE,
    (2, 0, -1): Dimension.AREA_RATE,
    (3, 0, -1): Dimension.VOLUME_RATE,
    (1, 0, -1): Dimension.SPEED,
    (-1, 1, -2): Dimension.PRESSURE,
}
"""Area per volume is the reciprocal of a length."""


_NOT_PLAIN = ("%", "degC", "degF", "K", "deg")


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """value in SI = (number + offset) * factor. `word` is the counted word or currency; us: customary."""

    name: str
    factor: Fraction
    dimension: Dimension
    offset: Fraction = Fraction(0)
    word: str | None = None
    us: bool | None = None

    def si(self, number: Fraction) -> Fraction:
        """So many of this unit, in SI."""
        return (number + self.offset if self.offset else number) * self.factor


@lru_cache(maxsize=1)
def _plain_table() -> Mapping[str, tuple[Fraction, Powers]]:
    """Factor to SI and exponents of every plain unit word. Pint is asked once for an installation: the table
    is kept in the cache folder, since loading pint takes longer than reading a build. It is kept by what was
    asked: the factors follow from our definitions, exactly, whichever pint works them out."""
    text = (resources.files("castlang.spec") / "units.txt").read_text(encoding="utf-8")
    key = hashlib.sha256(f"{plain_units()} {text}".encode()).hexdigest()[:16]
    name = f"units.{key}.json"
    return kept(name, lambda: _asked_of_pint(text), _table_read)


def _asked_of_pint(definitions: str) -> bytes:
    """Every plain unit word as {word: [factor, length, mass, time]}, in JSON."""
    import pint

    registry: Any = pint.UnitRegistry(None, non_int_type=Fraction)
    registry.load_definitions(definitions.splitlines())
    table = {}
    for word in plain_units():
        if word in _NOT_PLAIN or re.search(r"\d$", word):
            continue
        asked = {"days": "d", "weeks": "week"}.get(word, word.replace("-", "_"))
        amount = registry.Quantity(Fraction(1), asked).to_root_units()
        dims = dict(amount.dimensionality)
        powers = [int(dims.get(f"[{d}]", 0)) for d in ("length", "mass", "time")]
        table[word] = [str(Fraction(amount.magnitude)), *powers]
    return json.dumps(table, sort_keys=True).encode("utf-8")


def _table_read(data: bytes) -> Mapping[str, tuple[Fraction, Powers]]:
    return {
        word: (Fraction(factor), (length, mass, time))
        for word, (factor, length, mass, time) in json.loads(data).items()
    }


@lru_cache(maxsize=1)
def currencies() -> frozenset[str]:
    """The codes of ISO 4217."""
    text = (resources.files("castlang.spec") / "currencies.txt").read_text(encoding="utf-8")
    return frozenset(w for line in text.splitlines() if not line.startswith("#") for w in line.split())


@lru_cache(maxsize=1)
def plain_units() -> tuple[str, ...]:
    """Every plain unit word, for suggestions and for the rule that no unit may be a name."""
    lengths = ("um", "mm", "cm", "m", "in", "ft", "yd", "mil")
    return (
        *lengths, "m2", "mm2", "cm2", "ft2", "m3", "ft3", "mL", "L", "fl-oz", "qt", "gal", "imp-gal",
        "mg", "g", "kg", "t", "oz", "lb", "s", "min", "h", "days", "weeks", "degC", "degF", "K", "%",
        "MPa", "psi", "deg",
    )  # fmt: skip


@cache
def unit_of(text: str) -> Unit | None:
    """The unit that a word means, or None. `text` is as written: `kg/m3`, `fl-oz`, `degF`, `EUR/h`."""
    text = "/".join(SPELLED.get(word, word) for word in text.split("/"))
    special = _special(text)
    if special is not None:
        return special
    head, *below = text.split("/")
    if head in currencies():
        return _priced(text, head, below)
    top = _plain(head)
    if top is None:
        return None
    factor, powers = top
    for word in below:
        under = _plain(word)
        if under is None:
            return None
        factor /= under[0]
        length, mass, time = (a - b for a, b in zip(powers, under[1], strict=True))
        powers = (length, mass, time)
    dimension = _dimension(text, powers)
    if dimension is None:
        return None
    us = any(part.rstrip("23") in US_UNITS for part in text.split("/"))
    timeless = dimension is Dimension.TIME
    return Unit(name=text, factor=factor, dimension=dimension, us=None if timeless else us)


def _special(text: str) -> Unit | None:
    if text == "%":
        return Unit(name="%", factor=Fraction(1, 100), dimension=Dimension.SHARE)
    if text == "degC":
        return Unit(
            name=text,
            factor=Fraction(1),
            offset=Fraction(27315, 100),
            dimension=Dimension.TEMPERATURE,
            us=False,
        )
    if text == "degF":
        return Unit(
            name=text,
            factor=Fraction(5, 9),
            offset=Fraction(45967, 100),
            dimension=Dimension.TEMPERATURE,
            us=True,
        )
    if text == "K":
        return Unit(name=text, factor=Fraction(1), dimension=Dimension.TEMPERATURE_STEP)
    if text == "deg":
        return Unit(name=text, factor=Fraction(1), dimension=Dimension.ANGLE)
    if text in COUNTED:
        return Unit(name=text, factor=Fraction(1), dimension=Dimension.COUNT, word=COUNTED[text])
    return None


def _priced(text: str, code: str, below: list[str]) -> Unit | None:
    if not below:
        return Unit(name=text, factor=Fraction(1), dimension=Dimension.MONEY, word=code)
    under = _plain(below[0]) if len(below) == 1 else None
    if under is None or under[1] != (0, 0, 1):
        return None
    return Unit(name=text, factor=1 / under[0], dimension=Dimension.MONEY_RATE, word=code)


def _plain(word: str) -> tuple[Fraction, Powers] | None:
    """Factor to SI and exponents of length, mass, time for `m2`, `fl-oz`, `days`."""
    base, power = word, 1
    if re.fullmatch(r"(um|mm|cm|m|in|ft|yd)[23]", word):
        base, power = word[:-1], int(word[-1])
    found = _plain_table().get(base)
    if found is None:
        return None
    factor, (length, mass, time) = found
    return factor**power, (length * power, mass * power, time * power)


def _dimension(text: str, powers: Powers) -> Dimension | None:
    """Volume per area and area per volume are told from a length by how they are written."""
    found = _DIMENSIONS.get(powers)
    if found is Dimension.LENGTH and "/" in text:
        return Dimension.FILM
    return found


def near_unit(text: str) -> str | None:
    """What to write in place of a word that is no unit."""
    if text in REFUSED:
        return REFUSED[text]
    if text.lower() in SPELLED:
        return f"did you mean `{SPELLED[text.lower()]}`?"
    folded = text.lower()
    for cutoff in (1.0, 0.6):
        for words in ((*plain_units(), *COUNTED), sorted(currencies())):
            known = {word.lower(): word for word in words}
            near = get_close_matches(folded, known, n=1, cutoff=cutoff)
            if near:
                return f"did you mean `{known[near[0]]}`?"
    return None
