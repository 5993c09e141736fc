"""Waits stretched by temperature, against published examples and published functions."""

import math
from fractions import Fraction

import pytest

from castlang.takeoff.maturity import CEMENT, MILLION, arrhenius, doubling, nurse_saul

ICE = Fraction("273.15")


def kelvin(celsius):
    return ICE + celsius


# ASTM C1074, Eq. 1, M = sum (T - T0) dt. A rate is a maturity over that of an hour as told: told at 1 K above
# the datum, each hour counts its whole maturity in degC h.


def test_maturity_of_28_days_at_18_degc_is_the_published_one():
    # civilmint.com, maturity of concrete, after M. S. Shetty: datum -11 degC, 19488 degC h
    rate = nurse_saul(kelvin(18), kelvin(-10), kelvin(-11))

    assert 28 * 24 * rate / MILLION == 19488


def test_maturity_of_28_days_at_15_degc_is_the_published_one():
    # civinnovate.com, maturity of concrete: datum -11 degC, 728 degC d
    rate = nurse_saul(kelvin(15), kelvin(-10), kelvin(-11))

    assert 28 * rate / MILLION == 728


def test_maturity_of_a_week_half_at_20_and_half_at_10_degc_is_the_published_one():
    # M. S. Shetty, "Concrete Technology", maturity (from memory): datum -11 degC, 4368 degC h
    warm, cold = (nurse_saul(kelvin(t), kelvin(-10), kelvin(-11)) for t in (20, 10))

    assert 84 * (warm + cold) / MILLION == 4368


@pytest.mark.parametrize("at", [0, 5, 10, 15, 20, 25, 30, 35, 60, 80])
def test_cement_ages_by_the_function_of_the_european_standard(at):
    # EN 1992-1-1, Annex B, (B.10), 0 to 80 degC. Its printed constants make 0.998 at 20 degC; its absolute
    # zero is -273 degC, which makes up to 0.3 % of difference.
    def standard(celsius):
        return math.exp(-(4000 / (273 + celsius) - 13.65))

    ours = arrhenius(kelvin(at), kelvin(20), CEMENT) / MILLION

    assert abs(ours * standard(20) / standard(at) - 1) < 0.003


def test_the_function_of_the_european_standard_is_1_at_20_degc():
    # EN 1992-1-1, Annex B, (B.10)
    assert arrhenius(kelvin(20), kelvin(20), CEMENT) == MILLION


# Hours that equal 24 h at 20 degC, recomputed: EN 1992-1-1, Annex B, (B.10), and ASTM C1074, Eq. 1 and 2.
EQUAL = (
    # degC, EN (B.10), Q = 5000 K, datum -10 degC, datum 0 degC
    (5, 50.1, 60.2, 48.0, 96.0),
    (10, 38.9, 43.8, 36.0, 48.0),
    (15, 30.4, 32.3, 28.8, 32.0),
    (20, 24.0, 24.0, 24.0, 24.0),
    (25, 19.1, 18.0, 20.6, 19.2),
    (30, 15.3, 13.7, 18.0, 16.0),
    (35, 12.3, 10.5, 16.0, 13.7),
)


@pytest.mark.parametrize(("at", "standard", "warmer", "low", "high"), EQUAL)
def test_hours_that_equal_a_day_at_20_degc(at, standard, warmer, low, high):
    rates = (
        arrhenius(kelvin(at), kelvin(20), CEMENT),
        arrhenius(kelvin(at), kelvin(20), Fraction(5000)),
        nurse_saul(kelvin(at), kelvin(20), kelvin(-10)),
        nurse_saul(kelvin(at), kelvin(20), kelvin(0)),
    )

    for hours, rate in zip((standard, warmer, low, high), rates, strict=True):
        assert abs(24 * MILLION / rate - hours) < 0.06


def test_a_day_at_23_degc_takes_52_hours_at_10_degc():
    # ASTM C1074, Eq. 2, with Q = 5000 K and Ts = 23 degC (recomputed)
    assert round(24 * MILLION / arrhenius(kelvin(10), kelvin(23), Fraction(5000)), 1) == 52.1


def test_hours_at_the_datum_and_below_count_nothing():
    # ASTM C1074, Eq. 1
    assert [nurse_saul(kelvin(at), kelvin(20), kelvin(-11)) for at in (-30, -12, -11)] == [0, 0, 0]


@pytest.mark.parametrize(("step", "times"), [(10, 2), (20, 4), (-10, Fraction(1, 2))])
def test_a_resin_sets_twice_as_fast_for_each_10_k(step, times):
    # I. A. Leenson, "Old Rule of Thumb and the Arrhenius Equation", Journal of Chemical Education
    assert doubling(kelvin(20 + step), kelvin(20), Fraction(10)) == times * MILLION


def test_the_rule_of_thumb_is_an_activation_energy_of_53_kj():
    # socratic.org: a rate that doubles from 298.15 to 308.15 K has 52.95 kJ/mol, with R = 8.314 J/(mol K)
    constant = Fraction(52950) / Fraction("8.314")

    assert abs(arrhenius(kelvin(35), kelvin(25), constant) - 2 * MILLION) < 200
