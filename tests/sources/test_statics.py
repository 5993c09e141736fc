"""Water on a wall, and a strip under its own weight, against figures in print."""

from fractions import Fraction

import pytest

from castlang.takeoff.statics import GRAVITY, head_pressure, own_weight, strip_stress

LB = Fraction(45359237, 10**8)
FOOT = Fraction(3048, 10**4)


def force(density, wide, high):
    """N on an upright wall: the pressure at half its depth, on all of it."""
    return float(head_pressure(Fraction(density), Fraction(high) / 2) * Fraction(wide) * Fraction(high))


def test_the_dam_of_1500_by_95_metres_holds_66_giganewtons():
    # R. Wolfson, Essential University Physics, 4th ed., ch. 15: 66.4 GN with g 9.81 m/s2.
    found = force(1000, 1500, 95) / float(GRAVITY) * 9.81

    assert found / 1e9 == pytest.approx(66.4, abs=0.05)


def test_the_gate_of_80_by_20_feet_holds_500_tons():
    # Calculus exercise (mathhelpforum.com, thread 19655): 62.5 lb/ft3, tons of 2000 lb.
    newton = force(Fraction("62.5") * LB / FOOT**3, 80 * FOOT, 20 * FOOT)

    assert newton / float(2000 * LB * GRAVITY) == pytest.approx(500, abs=1e-9)


def test_the_dam_of_500_by_80_metres_bears_392_kilopascals_on_the_mean():
    # OpenStax, College Physics, example 11.3: 1.57e10 N, 3.92e5 Pa, with g 9.80 m/s2; from memory.
    mean = float(head_pressure(Fraction(1000), Fraction(40))) / float(GRAVITY) * 9.80

    assert mean == pytest.approx(3.92e5, rel=1e-3)
    assert force(1000, 500, 80) / float(GRAVITY) * 9.80 == pytest.approx(1.57e10, rel=2e-3)


def test_a_long_plate_bends_like_a_strip():
    # Roark's Formulas for Stress and Strain, table 11.4, case 1a, a/b without end: beta 0.7500.
    load, short, thick = Fraction(1000), Fraction(1, 2), Fraction(1, 50)

    assert strip_stress(load, short, thick) / (load * short**2 / thick**2) == Fraction(3, 4)


@pytest.mark.parametrize(
    ("ratio", "beta"), [("1.0", "0.2874"), ("1.4", "0.4530"), ("2.0", "0.6102"), ("3.0", "0.7134")]
)
def test_a_strip_is_the_safe_side_for_a_plate_held_on_four_edges(ratio, beta):
    # Roark, table 11.4, case 1a: beta of plates a / b = ratio, under the same load.
    strip = strip_stress(Fraction(1), Fraction(1), Fraction(1))

    assert Fraction(beta) < strip


def test_a_top_of_19_mm_over_1200_mm_bends_by_1_17_megapascals():
    # Arithmetic: 2100 kg/m3, 3/4 q L2 / t2 with q = rho g t.
    load = own_weight(Fraction(2100), Fraction(19, 1000))

    assert float(strip_stress(load, Fraction(12, 10), Fraction(19, 1000))) / 1e6 == pytest.approx(
        1.17, abs=0.005
    )


def test_half_an_inch_at_120_pounds_a_cubic_foot_weighs_five_pounds_a_square_foot():
    # US Unified Facilities Guide Specification 02870, glass-fiber reinforced concrete units: 120 lb/ft3.
    load = own_weight(120 * LB / FOOT**3, FOOT / 24)

    assert load == 5 * LB * GRAVITY / FOOT**2


def test_13_mm_at_2000_kg_m3_weighs_255_newtons_a_square_metre():
    # Arithmetic.
    assert float(own_weight(Fraction(2000), Fraction(13, 1000))) == pytest.approx(255, abs=0.1)
