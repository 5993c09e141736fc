"""SI amounts as a shop reads them, in "metric" or "us".

All rounding for display stands in this file: exact, half to even, so that every machine prints the same.
Factors are exact: NIST Handbook 44, Appendix C; NIST SP 811, Appendix B.
"""

from collections.abc import Sequence
from fractions import Fraction

from castlang.spec.minor_units import paid, places_of, places_told
from castlang.spec.quantity import Dimension, Money, Quantity

METRIC = "metric"
US = "us"

INCH = Fraction("0.0254")  # m
FOOT = 12 * INCH
GALLON = 231 * INCH**3  # US, m3
FLUID_OUNCE = GALLON / 128  # US, m3
POUND = Fraction("0.45359237")  # kg, avoirdupois
OUNCE = POUND / 16
LITRE = Fraction(1, 1000)  # m3
POUND_FORCE_PER_SQUARE_INCH = POUND * Fraction("9.80665") / INCH**2  # Pa
ICE_POINT = Fraction("273.15")  # K
HOUR = 3600  # s


def fixed(value: Fraction | int, places: int) -> str:
    """`value` with exactly `places` decimals, half to even."""
    scaled = round(Fraction(value) * 10**places)
    sign = "-" if scaled < 0 else ""
    digits = str(abs(scaled)).rjust(places + 1, "0")
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else f"{sign}{digits}"


def brief(value: Fraction | int, places: int) -> str:
    """`value` with at most `places` decimals, half to even, without zeros at the end."""
    text = fixed(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _graded(value: Fraction, *steps: tuple[int, int]) -> str:
    """Fewer decimals for greater values: `steps` are (below, places); whole above them all."""
    for below, places in steps:
        if abs(value) < below:
            return brief(value, places)
    return brief(value, 0)


def rounded_to_sum(parts: Sequence[Fraction], places: int) -> tuple[Fraction, ...]:
    """Each part rounded to `places` decimals so that the parts add up to their rounded sum.

    Largest remainder first; equal remainders by order. No part moves by a whole last digit.
    """
    scale = 10**places
    floors = [(part * scale).__floor__() for part in parts]
    missing = round(sum(parts, Fraction(0)) * scale) - sum(floors)
    remainders = sorted(range(len(parts)), key=lambda i: (floors[i] - parts[i] * scale, i))
    up = frozenset(remainders[:missing])
    return tuple(Fraction(floor + (i in up), scale) for i, floor in enumerate(floors))


# ---------------------------------------------------------------- one amount


def length(metres: Fraction, units: str) -> str:
    """mm to a tenth; or inches to 1/16 with feet from 3 ft up, thin films in thousandths of an inch."""
    if units != US:
        return f"{brief(metres * 1000, 1)} mm"
    inches = metres / INCH
    sixteenths = round(inches * 16)
    if 0 < inches < Fraction(1, 4) and abs(Fraction(sixteenths, 16) - inches) > inches / 50:
        return f"{fixed(inches, 3)} in"
    whole, rest = divmod(sixteenths, 16)
    part = str(Fraction(rest, 16)) if rest else ""
    if whole >= 36:
        feet, over = divmod(whole, 12)
        return f"{feet}'-{over}{' ' if part else ''}{part}\""
    joined = "-".join(text for text in (str(whole) if whole or not part else "", part) if text)
    return f'{joined}"'


def film_thickness(metres: Fraction, units: str) -> str:
    """um below a tenth of a millimetre, then mm; thousandths of an inch."""
    if units == US:
        return f"{brief(metres / INCH * 1000, 1)} mil"
    if metres < Fraction(1, 10_000):
        return f"{brief(metres * 1_000_000, 0)} um"
    return f"{brief(metres * 1000, 2)} mm"


def area(square_metres: Fraction, units: str) -> str:
    if units == US:
        return f"{_graded(square_metres / FOOT**2, (10, 2), (1000, 1))} ft2"
    return f"{_graded(square_metres, (1, 3), (100, 2), (1000, 1))} m2"


def volume(cubic_metres: Fraction, units: str) -> str:
    """mL, L, m3; or fl-oz below a quart, quarts below a gallon, gallons."""
    if units == US:
        ounces = cubic_metres / FLUID_OUNCE
        if round(ounces * 10) < 320:
            return f"{brief(ounces, 1)} fl-oz"
        if round(ounces / 32 * 100) < 400:
            return f"{brief(ounces / 32, 2)} qt"
        return f"{_graded(ounces / 128, (100, 2), (1000, 1))} gal"
    litres = cubic_metres / LITRE
    if round(litres * 1000) < 1000:
        return f"{_graded(litres * 1000, (10, 2), (100, 1))} mL"
    if litres < 1000:
        return f"{_graded(litres, (100, 2), (1000, 1))} L"
    return f"{brief(cubic_metres, 3)} m3"


def cast_volume(cubic_metres: Fraction, units: str) -> str:
    """mL, L, m3; or cubic feet as concrete is told, and less than a tenth of one as a liquid."""
    if units == US and round(cubic_metres / FOOT**3 * 1000) >= 100:
        return f"{_graded(cubic_metres / FOOT**3, (1, 3), (100, 2), (1000, 1))} ft3"
    return volume(cubic_metres, units)


def mass(kilograms: Fraction, units: str) -> str:
    """g, kg; or oz, lb with oz below 20 lb, lb."""
    if units == US:
        ounces = kilograms / OUNCE
        if round(ounces * 10) < 160:
            return f"{brief(ounces, 1)} oz"
        if round(ounces) < 320:
            pounds, over = divmod(round(ounces), 16)
            return f"{pounds} lb {over} oz" if over else f"{pounds} lb"
        return f"{_graded(kilograms / POUND, (100, 1))} lb"
    grams = kilograms * 1000
    if round(grams) < 1000:
        return f"{_graded(grams, (10, 2), (100, 1))} g"
    return f"{_graded(kilograms, (10, 2), (100, 1))} kg"


def temperature(kelvin: Fraction, units: str) -> str:
    celsius = kelvin - ICE_POINT
    if units == US:
        return f"{brief(celsius * Fraction(9, 5) + 32, 0)} degF"
    return f"{brief(celsius, 1)} degC"


def share(part: Fraction) -> str:
    return f"{brief(part * 100, 2)} %"


def density(value: Fraction, units: str) -> str:
    if units == US:
        return f"{brief(value * FOOT**3 / POUND, 1)} lb/ft3"
    return f"{brief(value, 0)} kg/m3"


def areal_mass(value: Fraction, units: str) -> str:
    if units == US:
        return f"{brief(value * FOOT**2 / OUNCE, 2)} oz/ft2"
    if value < 1:
        return f"{brief(value * 1000, 1)} g/m2"
    return f"{brief(value, 2)} kg/m2"


def film(value: Fraction, units: str) -> str:
    """Volume per area."""
    if units == US:
        return f"{brief(value * FOOT**2 / FLUID_OUNCE, 2)} fl-oz/ft2"
    return f"{brief(value / LITRE * 1000, 1)} mL/m2"


def coverage(value: Fraction, units: str) -> str:
    """Area per volume."""
    if units == US:
        return f"{brief(value * GALLON / FOOT**2, 0)} ft2/gal"
    return f"{brief(value * LITRE, 2)} m2/L"


def pressure(pascals: Fraction, units: str) -> str:
    if units == US:
        return f"{brief(pascals / POUND_FORCE_PER_SQUARE_INCH, 0)} psi"
    return f"{brief(pascals / 1_000_000, 2)} MPa"


def head(pascals: Fraction, units: str) -> str:
    """What a liquid presses on a wall: kPa, or pounds on a square foot."""
    if units == US:
        return f"{brief(pascals / POUND_FORCE_PER_SQUARE_INCH * 144, 0)} lb/ft2"
    return f"{brief(pascals / 1000, 1)} kPa"


def speed(value: Fraction, units: str) -> str:
    if units == US:
        return f"{brief(value / FOOT * 60, 0)} ft/min"
    return f"{brief(value, 2)} m/s"


def evaporation(value: Fraction, units: str) -> str:
    """kg/(m2 h), or lb/(ft2 h); two decimals."""
    if units == US:
        return f"{fixed(value / POUND * FOOT**2, 2)} lb/(ft2 h)"
    return f"{fixed(value, 2)} kg/(m2 h)"


def area_rate(value: Fraction, units: str) -> str:
    return f"{area(value * HOUR, units)}/h"


def volume_rate(value: Fraction, units: str) -> str:
    return f"{volume(value * HOUR, units)}/h"


def money(value: Money) -> str:
    """The decimals of its currency, more where a price is told so, no thousands mark; then the code."""
    return f"{fixed(value.amount, places_told(value.amount, value.currency))} {value.currency}"


def paid_figure(amount: Fraction, currency: str) -> str:
    """An amount to the smallest coin, without its currency's code."""
    return fixed(paid(amount, currency), places_of(currency))


_SHOWN = {
    Dimension.LENGTH: length,
    Dimension.AREA: area,
    Dimension.VOLUME: volume,
    Dimension.MASS: mass,
    Dimension.TEMPERATURE: temperature,
    Dimension.DENSITY: density,
    Dimension.AREAL_MASS: areal_mass,
    Dimension.FILM: film,
    Dimension.COVERAGE: coverage,
    Dimension.AREA_RATE: area_rate,
    Dimension.VOLUME_RATE: volume_rate,
    Dimension.SPEED: speed,
    Dimension.PRESSURE: pressure,
}


def amount(quantity: Quantity, units: str) -> str:
    """Any amount with its unit. Times and money an hour are shown by the hour."""
    show = _SHOWN.get(quantity.dimension)
    if show is not None:
        return show(quantity.si, units)
    word = quantity.word or ""
    match quantity.dimension:
        case Dimension.SHARE:
            return share(quantity.si)
        case Dimension.TIME:
            return f"{brief(quantity.si / 60, 1)} min"
        case Dimension.TEMPERATURE_STEP:
            step = quantity.si * Fraction(9, 5) if units == US else quantity.si
            return f"{brief(step, 1)} {'degF' if units == US else 'degC'}"
        case Dimension.ANGLE:
            return f"{brief(quantity.si, 2)} deg"
        case Dimension.MONEY:
            return f"{fixed(quantity.si, 2)} {word}".strip()
        case Dimension.MONEY_RATE:
            return f"{fixed(quantity.si * HOUR, 2)} {word}/h".replace(" /h", "/h")
        case _:
            one = word.removesuffix("s") if quantity.si == 1 else word
            return f"{brief(quantity.si, 3)} {one}".strip()


# ---------------------------------------------------------------- columns of figures

# Per dimension: (word of the unit, its size in SI, decimals), metric and US.
_COLUMN = {
    Dimension.LENGTH: (("m", Fraction(1), 3), ("ft", FOOT, 2)),
    Dimension.AREA: (("m2", Fraction(1), 3), ("ft2", FOOT**2, 2)),
    Dimension.VOLUME: (("L", LITRE, 3), ("gal", GALLON, 4)),
    Dimension.MASS: (("kg", Fraction(1), 3), ("lb", POUND, 3)),
}


def column_unit(dimension: Dimension, units: str) -> tuple[str, Fraction, int]:
    """The one unit that a column of such amounts is told in: its word, its size in SI, its decimals."""
    pair = _COLUMN.get(dimension)
    if pair is None:
        return ("pieces", Fraction(1), 0) if dimension is Dimension.COUNT else ("", Fraction(1), 3)
    return pair[units == US]


def figure(si: Fraction, dimension: Dimension, units: str) -> str:
    """The number alone, in the unit of `column_unit`. A part of a piece keeps its decimals."""
    _, size, places = column_unit(dimension, units)
    if dimension is Dimension.COUNT:
        return brief(si, 3)
    return fixed(si / size, places)


def figures_to_sum(parts: Sequence[Fraction], dimension: Dimension, units: str) -> tuple[str, ...]:
    """The numbers of the parts, rounded so that they add up to the figure of their sum."""
    _, size, places = column_unit(dimension, units)
    places = 3 if dimension is Dimension.COUNT else places
    rounded = rounded_to_sum([part / size for part in parts], places)
    show = brief if dimension is Dimension.COUNT else fixed
    return tuple(show(part, places) for part in rounded)


def total(si: Fraction, dimension: Dimension, units: str) -> str:
    """A figure of `figure` with its unit."""
    return f"{figure(si, dimension, units)} {column_unit(dimension, units)[0]}".strip()
