"""The revised lifting equation against the examples of its manual.

T. R. Waters, V. Putz-Anderson, A. Garg: Applications Manual for the Revised NIOSH Lifting Equation, DHHS
(NIOSH) 94-110, 1994, revised 9/2021. The manual multiplies factors rounded to two decimals and says that
small differences are to be expected: the full figures lie within 3 % of the printed ones.
"""

from fractions import Fraction

import pytest

from castlang.takeoff.lifting import Posture, lifting_index, load_constant, recommended_weight
from castlang.takeoff.wording import POUND


def posture(reach, height, travel, **more):
    told = {name: Fraction(value) for name, value in more.items()}
    return Posture(reach=Fraction(reach), height=Fraction(height), travel=Fraction(travel), **told)


def pounds(*sizes, **more):
    return float(recommended_weight(posture(*sizes, **more), "us"))


def test_package_inspection_at_the_origin_of_the_lift():
    # Example 4, p. 46: 51 x 1.0 x .94 x .87 x 1.0 x .88 x .95 = 34.9 lb; with unrounded factors 34.81.
    assert pounds(10, 22, 37, frequency="0.88", coupling="0.95") == pytest.approx(34.81, abs=0.005)
    assert pounds(10, 22, 37, frequency="0.88", coupling="0.95") == pytest.approx(34.9, abs=0.2)


def test_package_inspection_at_the_destination():
    # Example 4: 15.2 lb printed; its H and V (20 in, 59 in) from memory.
    assert pounds(20, 59, 37, frequency="0.88") == pytest.approx(15.2, abs=0.1)


@pytest.mark.parametrize(
    ("height", "coupling", "limit", "index"), [(15, "0.95", 16.3, 2.7), (64, "1.0", 14.5, 3.0)]
)
def test_loading_punch_press_stock(height, coupling, limit, index):
    # Example 1: 44 lb at H 23 in, V 15 in to 64 in, D 49 in, fair coupling; from memory. It prints with a
    # horizontal multiplier of 0.44, which is 0.435 in full.
    at = posture(23, height, 49, coupling=coupling)

    assert float(recommended_weight(at, "us")) == pytest.approx(limit, rel=0.03)
    assert float(lifting_index(Fraction(44), at, "us")) == pytest.approx(index, rel=0.04)


def test_the_best_posture_allows_the_load_constant_of_its_own_set():
    best = {"us": posture(10, 30, 10), "metric": posture(25, 75, 25)}

    assert {units: recommended_weight(at, units) for units, at in best.items()} == {"us": 51, "metric": 23}
    assert load_constant("metric") == 23
    assert load_constant("us") == 51 * POUND


@pytest.mark.parametrize(
    "outside",
    [posture(26, 30, 10), posture(10, 71, 10), posture(10, -1, 10), posture(10, 30, 10, twist=136)],
)
def test_outside_of_what_the_equation_covers_nothing_is_recommended(outside):
    # Manual, sections 1.3.1 to 1.3.4: H over 25 in, V over 70 in, A over 135 degrees give a multiplier of 0.
    assert recommended_weight(outside, "us") == 0
    assert lifting_index(Fraction(10), outside, "us") is None


def test_a_twist_of_90_degrees_takes_29_hundredths_off():
    # Manual, table 4: AM 0.71 at 90 degrees.
    assert pounds(10, 30, 10, twist=90) / 51 == pytest.approx(0.71, abs=0.005)
