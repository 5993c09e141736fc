"""Random amounts, each written twice from one exact value: as a metric shop says it, and as a US shop does.

Both texts of a `Both` mean the same fraction. Most values are whole in US units and finite decimals in
metric ones; where the quotient of two units is no finite decimal (lb/ft3) the fraction itself is written.
"""

from dataclasses import dataclass
from fractions import Fraction

from hypothesis import strategies as st

INCH = Fraction(254, 10)  # mm; NIST Handbook 44, Appendix C, as are the three below
POUND = Fraction(45359237, 10**8)  # kg
GALLON = Fraction(3785411784, 10**9)  # L
FOOT2 = Fraction(9290304, 10**8)  # m2
FOOT3 = Fraction(28316846592, 10**9)  # L


@dataclass(frozen=True, slots=True)
class Both:
    """One exact amount in two ways of writing it."""

    metric: str
    us: str


def number(value: Fraction) -> str:
    """The value exactly: a decimal where it is one, else a fraction, `2-1/3`."""
    digits = next((n for n in range(19) if (value * 10**n).denominator == 1), None)
    if digits is not None:
        whole, rest = divmod(int(value * 10**digits), 10**digits)
        return f"{whole}.{rest:0{digits}d}" if digits else str(whole)
    whole, part = divmod(value, 1)
    return f"{whole}-{part}" if whole else str(part)


def inches(sixteenths: int, style: int) -> str:
    """`3/8"`, `1-1/2 in`, `4'-6 1/2"`, `4 ft 6.5 in`, by style."""
    value = Fraction(sixteenths, 16)
    whole, part = divmod(value, 1)
    mixed = f"{whole} {part}" if whole and part else str(part or whole)
    feet, rest = divmod(value, 12)
    over, bit = divmod(rest, 1)
    small = f"{over} {bit}" if over and bit else str(bit or over)
    return (
        f"{number(value)} in",
        f'{mixed}"',
        f"{mixed} in".replace(" ", "-", 1) if whole and part else f"{mixed} in",
        f"{feet}'-{small}\"" if feet else f'{small}"',
        f"{feet} ft {number(rest)} in" if feet and rest else f"{number(value)} in",
    )[style % 5]


def millimetres(sixteenths: int, style: int) -> str:
    value = Fraction(sixteenths, 16) * INCH
    return (f"{number(value)} mm", f"{number(value / 10)} cm", f"{number(value / 1000)} m")[style % 3]


@st.composite
def lengths(draw: st.DrawFn, least: Fraction | float, most: Fraction | float) -> Both:
    """A length from `least` to `most` inches, in sixteenths."""
    return length(
        draw(st.integers(int(least * 16), max(int(least * 16), int(most * 16)))), draw(st.integers(0, 14))
    )


def length(sixteenths: int, style: int = 0) -> Both:
    return Both(millimetres(sixteenths, style), inches(sixteenths, style))


@st.composite
def masses(draw: st.DrawFn, least: int, most: int) -> Both:
    """A mass from `least` to `most` lb, in ounces."""
    ounces = draw(st.integers(least * 16, most * 16))
    kilos = Fraction(ounces, 16) * POUND
    pounds, rest = divmod(ounces, 16)
    us = (
        f"{pounds} lb {rest} oz"
        if pounds and rest and draw(st.booleans())
        else f"{number(Fraction(ounces, 16))} lb"
    )
    metric = f"{number(kilos)} kg" if draw(st.booleans()) else f"{number(kilos * 1000)} g"
    return Both(metric, us)


@st.composite
def volumes(draw: st.DrawFn, least: int, most: int) -> Both:
    """A volume from `least` to `most` gallons, in quarts, or in cubic feet."""
    quarts = draw(st.integers(least * 4, most * 4))
    litres = Fraction(quarts, 4) * GALLON
    gallons, rest = divmod(quarts, 4)
    us = (
        f"{number(Fraction(quarts, 4))} gal",
        f"{quarts} qt",
        f"{gallons} gal {rest} qt" if gallons and rest else f"{quarts * 32} fl-oz",
        f"{number(Fraction(quarts, 4) * GALLON / FOOT3)} ft3",
    )[draw(st.integers(0, 3))]
    metric = (f"{number(litres)} L", f"{number(litres * 1000)} mL", f"{number(litres / 1000)} m3")
    return Both(metric[draw(st.integers(0, 2))], us)


@st.composite
def areas(draw: st.DrawFn, least: int, most: int) -> Both:
    """An area from `least` to `most` square feet."""
    feet = draw(st.integers(least, most))
    return Both(f"{number(feet * FOOT2)} m2", f"{feet} ft2")


def volume(litres: int) -> Both:
    """A volume told in L."""
    return Both(f"{litres} L", f"{number(litres / GALLON)} gal")


def density(kilos: int) -> Both:
    """A density told in kg/m3."""
    pounds = kilos / POUND * FOOT3 / 1000
    return Both(f"{kilos} kg/m3", f"{number(pounds)} lb/ft3")


def areal(grams: int) -> Both:
    """A mass an area told in g/m2."""
    return Both(f"{grams} g/m2", f"{number(grams * FOOT2 / 1000 / POUND)} lb/ft2")


def film(millilitres: int) -> Both:
    """A volume an area told in mL/m2."""
    return Both(f"{millilitres} mL/m2", f"{number(millilitres * FOOT2 / 1000 / GALLON)} gal/ft2")


def coverage(square_feet: int) -> Both:
    """An area a volume told in ft2/gal."""
    return Both(f"{number(square_feet * FOOT2 / GALLON)} m2/L", f"{square_feet} ft2/gal")


def area_rate(square_feet: int) -> Both:
    """An area an hour told in ft2/h."""
    return Both(f"{number(square_feet * FOOT2)} m2/h", f"{square_feet} ft2/h")


def volume_rate(gallons: int) -> Both:
    """A volume an hour told in gal/h."""
    return Both(f"{number(gallons * GALLON)} L/h", f"{gallons} gal/h")


def speed(feet: int) -> Both:
    """A speed told in ft/min."""
    return Both(f"{number(feet * Fraction(3048, 10000) / 60)} m/s", f"{feet} ft/min")


def pressure(psi: int) -> Both:
    """A pressure told in psi: pounds of force, at 9.80665 m/s2, on a square inch."""
    pascals = psi * POUND * Fraction(980665, 100000) / (INCH / 1000) ** 2
    return Both(f"{number(pascals / 10**6)} MPa", f"{psi} psi")


def temperature(celsius: int) -> Both:
    return Both(f"{celsius} degC", f"{number(Fraction(celsius * 9, 5) + 32)} degF")


@st.composite
def minutes(draw: st.DrawFn, least: int, most: int, step: int = 5) -> str:
    """A time from `least` to `most` minutes."""
    return clock(draw(st.integers(-(-least // step), most // step)) * step, draw(st.booleans()))


def clock(minutes: int, long: bool = True) -> str:
    hours, rest = divmod(minutes, 60)
    if long and hours and rest:
        return f"{hours} h {rest} min"
    return f"{hours} h" if hours and not rest else f"{minutes} min"
