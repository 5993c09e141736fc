"""Weigh-outs as the scale or the jug shows them."""

from collections.abc import Sequence
from fractions import Fraction

from castlang.sheets.amounts import FLUID_OUNCE, LITRE, OUNCE, POUND, US, fixed

GRAM = Fraction(1, 1000)
FINE_UP_TO = 20  # kg: up to here a scale that shows less than a gram shows grams


def scale_unit(greatest: Fraction, by_volume: bool, units: str, told: Sequence[Fraction] = ()) -> str:
    """The unit of a whole weigh-out whose greatest reading is `greatest` kg (or m3 when `by_volume`); grams
    too where a reading `told` has less than a gram in it: nobody weighs 0.00956 kg."""
    if by_volume:
        if units == US:
            return "fl-oz" if greatest < FLUID_OUNCE * 32 else "qt fl-oz"
        return "mL" if greatest < 2 * LITRE else "L"
    if units == US:
        return "oz" if greatest < POUND else "lb oz"
    fine = greatest < FINE_UP_TO and any(reading % GRAM for reading in told)
    return "g" if greatest < 2 or fine else "kg"


def scale_readings(values: Sequence[Fraction], unit: str) -> tuple[str, ...]:
    """What the scale or the jug shows, all with the same decimals: as many as the finest reading needs.

    No digit of a metric scale is dropped down to 0.1 mg. US readings are told to a hundredth of an ounce, to
    a thousandth where one is below an ounce.
    """
    small, least, most = _SCALES[unit]
    told = [value / small for value in values]
    if unit in _US_SCALES and any(0 < value < 1 for value in told):
        most += 1
    places = max((_places(value, least, most) for value in told), default=least)
    return tuple(_reading(value, unit, places) for value in told)


# The smallest unit of a reading in SI, and the least and most decimals that it is told with.
_SCALES = {
    "kg": (Fraction(1), 3, 6),
    "g": (Fraction(1, 1000), 0, 3),
    "L": (LITRE, 3, 6),
    "mL": (LITRE / 1000, 0, 3),
    "oz": (OUNCE, 0, 2),
    "lb oz": (OUNCE, 0, 2),
    "fl-oz": (FLUID_OUNCE, 0, 2),
    "qt fl-oz": (FLUID_OUNCE, 0, 2),
}
_US_SCALES = frozenset({"oz", "lb oz", "fl-oz", "qt fl-oz"})
_SMALL_IN_GREAT = {"lb oz": 16, "qt fl-oz": 32}


def _places(value: Fraction, least: int, most: int) -> int:
    """The fewest decimals that tell the same as `most`."""
    told = Fraction(round(value * 10**most), 10**most)
    return next((n for n in range(least, most) if told * 10**n == round(told * 10**n)), most)


def _reading(small: Fraction, unit: str, places: int) -> str:
    if unit not in _SMALL_IN_GREAT:
        return fixed(small, places)
    great, little = unit.split(" ")
    whole, rest = divmod(round(small * 10**places), _SMALL_IN_GREAT[unit] * 10**places)
    told = f"{fixed(Fraction(rest, 10**places), places)} {little}"
    return f"{whole} {great} {told}" if whole else told
