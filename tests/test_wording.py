"""Amounts in messages: in the units that the build prints."""

from fractions import Fraction

import pytest

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE, CAST
from castlang.source.files import Texts
from castlang.takeoff import wording

INCH = Fraction("0.0254")
POUND = Fraction("0.45359237")
GALLON = 231 * INCH**3


@pytest.mark.parametrize(
    ("say", "value", "metric", "us"),
    [
        (wording.mass, 12 * POUND, "5.443 kg", "12 lb"),
        (wording.mass, POUND / 32, "14.17 g", "0.5 oz"),
        (wording.volume, 3 * GALLON, "11.36 L", "3 gal"),
        (wording.volume, GALLON / 64, "0.05915 L", "2 fl-oz"),
        (wording.length, 5 * INCH / 8, "15.88 mm", "0.625 in"),
        (wording.area, 144 * INCH**2, "0.0929 m2", "1 ft2"),
        (wording.density, 120 * POUND / (12 * INCH) ** 3, "1922 kg/m3", "120 lb/ft3"),
        (wording.coverage, 400 * (12 * INCH) ** 2 / GALLON, "9.817 m2/L", "400 ft2/gal"),
        (wording.temperature, Fraction("293.15"), "20 degC", "68 degF"),
        (wording.temperature_step, Fraction(10), "10 K", "18 degF"),
    ],
)
def test_an_amount_is_told_in_the_units_of_the_build(say, value, metric, us):
    # NIST Handbook 44, Appendix C: 1 lb = 0.45359237 kg, 1 gal = 231 in3, 1 in = 25.4 mm.
    assert (say(value, "metric"), say(value, "us")) == (metric, us)


def messages(units, changed, into):
    text = BASE.replace("    crew      2\n", f"    crew      2\n    print     {units}\n")
    made = compile_build("trial.pour", (text + CAST.replace(changed, into)).encode(), Texts())
    return [p.message for p in made.problems]


@pytest.mark.parametrize(
    ("changed", "into", "metric", "us"),
    [
        (
            "body full of",
            "body 4 in of",
            "slab.body pours 24.08 L, 101.6 mm deep, into a place of 9.48 L, 40 mm deep",
            "slab.body pours 6.361 gal, 4 in deep, into a place of 2.504 gal, 1.575 in deep",
        ),
        (
            "15 mm deep on top",
            "45 mm deep on top",
            "slot of slab is 45 mm deep, behind top are 40 mm",
            "slot of slab is 1.772 in deep, behind top are 1.575 in",
        ),
    ],
)
def test_what_the_take_off_finds_is_told_in_the_units_of_the_build(changed, into, metric, us):
    assert messages("metric", changed, into) == [metric]
    assert messages("us", changed, into) == [us]
