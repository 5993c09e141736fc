"""How fast a fresh face dries, against answers in print, and by what the formula must do."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlang.takeoff.evaporation import LIMIT, LIMIT_WITHOUT_BLEED, evaporation_rate

POUNDS = 0.45359237 / 0.3048**2
"""kg/(m2 h) in 1 lb/(ft2 h)."""


def rate(face, air, humidity, speed):
    return float(evaporation_rate(*map(Fraction, (face, air, humidity, speed))))


def test_the_example_of_the_nomograph_comes_to_the_answer_in_print():
    # Concrete-institute Q&A "Estimating evaporation rates to prevent plastic shrinkage cracking", answers
    # 1.15 kg/(m2 h) and 0.24 lb/(ft2 h); inputs 27 degC air, 50 %, 31 degC concrete, 19 km/h of the ACI 305R
    # nomograph, which itself reads 0.25 lb/(ft2 h).
    found = rate(31, 27, "0.5", 19)

    assert found == pytest.approx(1.15, abs=0.005)
    assert found / POUNDS == pytest.approx(0.24, abs=0.005)


def test_exact_conversions_of_the_us_inputs_stay_close():
    # The same example: 87 degF, 80 degF, 12 mph converted exactly give 1.14.
    found = rate(Fraction(87 - 32) * 5 / 9, Fraction(80 - 32) * 5 / 9, "0.5", 12 * Fraction("1.609344"))

    assert found == pytest.approx(1.14, abs=0.005)


def test_the_formula_of_us_units_gives_the_same_within_its_rounding():
    # P. J. Uno, ACI Materials Journal 95-M34, 1998: E = (Tc^2.5 - r Ta^2.5)(1 + 0.4 V) 1e-6, degF, mph.
    us = (87**2.5 - 0.5 * 80**2.5) * (1 + 0.4 * 12) * 1e-6

    assert rate(31, 27, "0.5", 19) / POUNDS == pytest.approx(us, rel=0.04)


def test_another_published_formula_agrees_within_a_tenth():
    # Menzel 1954, W = 0.44 (e0 - r ea)(0.253 + 0.096 V): 0.236 lb/(ft2 h) for the nomograph's example.
    assert rate(31, 27, "0.5", 19) / POUNDS == pytest.approx(0.236, rel=0.1)


def test_the_limits_are_those_in_print():
    # ACI 305R: 0.2 lb/(ft2 h) = 1.0 kg/(m2 h); half of it where nothing bleeds (ACI 305R-91 and 308-92).
    assert float(LIMIT) / POUNDS == pytest.approx(0.2, abs=0.005)
    assert LIMIT_WITHOUT_BLEED * 2 == LIMIT


degrees = st.integers(5, 40)


@given(degrees, degrees, st.integers(0, 99), st.integers(0, 40))
def test_a_warmer_face_drier_air_and_more_wind_never_dry_slower(face, air, humidity, speed):
    here = rate(face, air, Fraction(humidity, 100), speed)

    assert rate(face + 1, air, Fraction(humidity, 100), speed) >= here
    assert rate(face, air, Fraction(humidity + 1, 100), speed) <= here
    assert rate(face, air, Fraction(humidity, 100), speed + 1) >= here


def test_a_face_colder_than_damp_air_loses_nothing():
    assert rate(5, 30, 1, 20) == 0
