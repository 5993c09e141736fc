"""Working time and temperature, against what is in print on the rule of thumb."""

from fractions import Fraction
from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlang.takeoff.working_times import stretched

ICE = Fraction("273.15")


def minutes(told, told_at, at, doubles=10):
    return float(stretched(Fraction(told * 60), ICE + told_at, ICE + at, Fraction(doubles))) / 60


def test_ten_degrees_warmer_halve_the_time_and_ten_cooler_double_it():
    # I. A. Leenson, "Old Rule of Thumb and the Arrhenius Equation", Journal of Chemical Education.
    assert [minutes(40, 20, at) for at in (10, 20, 30, 40)] == [80, 40, 20, 10]


@pytest.mark.parametrize(("percent", "in_ten"), [(5, 1.63), (10, 2.6)])
def test_five_to_ten_percent_a_degree_are_1_63_to_2_6_in_ten(percent, in_ten):
    # Leenson, the same: 5 to 10 % a degree are 1.63 and 2.6 times in 10 degrees.
    doubles = Fraction(log(2) / log(1 + percent / 100))

    assert minutes(1000, 20, 10, doubles) / 1000 == pytest.approx(in_ten, abs=0.01)


def test_the_rule_is_an_activation_energy_of_53_kilojoules_at_room_temperature():
    # Chemistry question and answer (socratic.org): doubling from 298.15 to 308.15 K needs 52.95 kJ/mol.
    arrhenius = exp(52_950 / 8.314 * (1 / 298.15 - 1 / 308.15))

    assert minutes(1000, 35, 25) / 1000 == pytest.approx(arrhenius, rel=1e-3)


@given(
    told=st.integers(60, 100_000),
    at=st.integers(-20, 60),
    doubles=st.fractions(min_value=5, max_value=17, max_denominator=4),
)
def test_warmer_is_never_longer(told, at, doubles):
    here = stretched(Fraction(told), ICE + 20, ICE + at, doubles)
    warmer = stretched(Fraction(told), ICE + 20, ICE + at + 1, doubles)

    assert warmer <= here
