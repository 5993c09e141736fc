"""Amounts in words, for messages: four figures, in the units that the build prints, "metric" or "us".

Factors are exact: NIST Handbook 44, Appendix C.
"""

from decimal import Decimal, localcontext
from fractions import Fraction

METRIC = "metric"
US = "us"

INCH = Fraction("0.0254")  # m
FOOT = 12 * INCH
GALLON = 231 * INCH**3  # US, m3
POUND = Fraction("0.45359237")  # kg
ICE_POINT = Fraction("273.15")  # K

PLAIN = 12  # a figure with more digits than this is a slip, and is said with its power of ten


def figure(value: Fraction) -> str:
    """`value` with about four significant figures and no trailing zeros: 2.125, 0.3, 12403."""
    with localcontext() as context:
        context.prec = 2 * PLAIN
        decimal = Decimal(value.numerator) / Decimal(value.denominator)
        if decimal.adjusted() > PLAIN or (value and decimal.adjusted() < -PLAIN):
            return f"{decimal:.3e}"
        text = f"{decimal:.{max(0, 3 - decimal.adjusted())}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def mass(kilograms: Fraction, units: str) -> str:
    if units == US:
        pounds = kilograms / POUND
        return f"{figure(pounds)} lb" if abs(pounds) >= 1 else f"{figure(pounds * 16)} oz"
    return f"{figure(kilograms)} kg" if abs(kilograms) >= 1 else f"{figure(kilograms * 1000)} g"


def volume(cubic_metres: Fraction, units: str) -> str:
    if units == US:
        gallons = cubic_metres / GALLON
        return f"{figure(gallons)} gal" if abs(gallons) >= 1 else f"{figure(gallons * 128)} fl-oz"
    return f"{figure(cubic_metres * 1000)} L"


def length(metres: Fraction, units: str) -> str:
    return f"{figure(metres / INCH)} in" if units == US else f"{figure(metres * 1000)} mm"


def area(square_metres: Fraction, units: str) -> str:
    return f"{figure(square_metres / FOOT**2)} ft2" if units == US else f"{figure(square_metres)} m2"


def density(value: Fraction, units: str) -> str:
    """kg/m3 in."""
    return f"{figure(value / POUND * FOOT**3)} lb/ft3" if units == US else f"{figure(value)} kg/m3"


def coverage(value: Fraction, units: str) -> str:
    """m2/m3 in."""
    return f"{figure(value / FOOT**2 * GALLON)} ft2/gal" if units == US else f"{figure(value / 1000)} m2/L"


def temperature(kelvin: Fraction, units: str) -> str:
    celsius = kelvin - ICE_POINT
    return f"{figure(celsius * 9 / 5 + 32)} degF" if units == US else f"{figure(celsius)} degC"


def speed(value: Fraction, units: str) -> str:
    """m/s in."""
    return f"{figure(value / FOOT * 60)} ft/min" if units == US else f"{figure(value)} m/s"


def evaporation(rate: Fraction, units: str) -> str:
    """kg/(m2 h) in; two decimals, as far as the formula goes."""
    value = rate / POUND * FOOT**2 if units == US else rate
    unit = "lb/(ft2 h)" if units == US else "kg/(m2 h)"
    return f"{float(round(value, 2)):.2f} {unit}"


def temperature_step(kelvin: Fraction, units: str) -> str:
    """A difference of two temperatures."""
    return f"{figure(kelvin * 9 / 5)} degF" if units == US else f"{figure(kelvin)} K"


def minutes(seconds: Fraction) -> str:
    return f"{figure(seconds / 60)} min"


def percent(share: Fraction) -> str:
    return f"{figure(share * 100)} %"
