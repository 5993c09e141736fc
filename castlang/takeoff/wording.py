"""Amounts in words, for messages: four figures, in the units a metric shop says."""

from decimal import Decimal, localcontext
from fractions import Fraction

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


def kilograms(mass: Fraction) -> str:
    return f"{figure(mass)} kg" if abs(mass) >= 1 else f"{figure(mass * 1000)} g"


def litres(volume: Fraction) -> str:
    return f"{figure(volume * 1000)} L"


def minutes(time: Fraction) -> str:
    return f"{figure(time / 60)} min"


def millimetres(length: Fraction) -> str:
    return f"{figure(length * 1000)} mm"


def square_metres(area: Fraction) -> str:
    return f"{figure(area)} m2"


def percent(share: Fraction) -> str:
    return f"{figure(share * 100)} %"


def density(value: Fraction) -> str:
    return f"{figure(value)} kg/m3"


def celsius(kelvin: Fraction) -> str:
    return f"{figure(kelvin - Fraction(27315, 100))} degC"
