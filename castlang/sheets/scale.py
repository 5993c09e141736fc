"""Weigh-outs as the scale or the jug shows them."""

from fractions import Fraction

from castlang.sheets.amounts import FLUID_OUNCE, LITRE, OUNCE, POUND, US, brief, fixed


def scale_unit(greatest: Fraction, by_volume: bool, units: str) -> str:
    """The unit of a whole weigh-out whose greatest reading is `greatest` kg (or m3 when `by_volume`)."""
    if by_volume:
        if units == US:
            return "fl-oz" if greatest < FLUID_OUNCE * 32 else "qt fl-oz"
        return "mL" if greatest < 2 * LITRE else "L"
    if units == US:
        return "oz" if greatest < POUND else "lb oz"
    return "g" if greatest < 2 else "kg"


def scale_reading(si: Fraction, unit: str) -> str:
    """What the scale or the jug shows, as given: no digit of a metric scale is dropped down to 0.1 mg.

    US readings are told to a hundredth of an ounce.
    """
    match unit:
        case "kg":
            return _exact(si, 3)
        case "g":
            return _exact(si * 1000, 0)
        case "L":
            return _exact(si / LITRE, 3)
        case "mL":
            return _exact(si / LITRE * 1000, 0)
        case "oz":
            return brief(si / OUNCE, 2)
        case "fl-oz":
            return brief(si / FLUID_OUNCE, 2)
        case "lb oz":
            return _compound(si / OUNCE, 16, "lb", "oz")
        case _:
            return _compound(si / FLUID_OUNCE, 32, "qt", "fl-oz")


def _exact(value: Fraction, least_places: int) -> str:
    for places in range(least_places, least_places + 4):
        if value * 10**places == round(value * 10**places):
            return fixed(value, places)
    return fixed(value, least_places + 1)


def _compound(small: Fraction, size: int, great: str, little: str) -> str:
    hundredths = round(small * 100)
    whole, rest = divmod(hundredths, size * 100)
    if not whole:
        return f"{brief(Fraction(rest, 100), 2)} {little}"
    return f"{whole} {great} {brief(Fraction(rest, 100), 2)} {little}" if rest else f"{whole} {great}"
