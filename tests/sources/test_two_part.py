"""Mixes in parts A and B. No published example was at hand: these are arithmetic identities, worked by hand.

parts B by volume for 100 A = 100 (m_B / rho_B) / (m_A / rho_A)
rho = (m_A + m_B) / (m_A / rho_A + m_B / rho_B)        no change of volume
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlang.source.model import Span
from castlang.spec.model import Dose, DoseKind, Ingredient, Mix, Role, Stock
from castlang.takeoff.batches import batches_of
from castlang.takeoff.divisions import Fill
from castlang.takeoff.recipes import recipe_of
from castlang.takeoff.scales import SHOP_STEPS, Scales
from castlang.takeoff.vessels import Vessel

SPAN = Span(file="", line=0, column=0, end=0)
STOCKS = {
    "resin": Stock(name="resin", density=Fraction(1100)),
    "hardener": Stock(name="hardener", density=Fraction(970)),
}


def two_parts(measure, a, b):
    return Mix(
        name="clear",
        measure=measure,
        ingredients=(
            Ingredient(role=Role.PART, stock="resin", dose=Dose(kind=DoseKind.PARTS, value=Fraction(a))),
            Ingredient(role=Role.PART, stock="hardener", dose=Dose(kind=DoseKind.PARTS, value=Fraction(b))),
        ),
    )


def recipe(mix):
    outcome = recipe_of(mix, STOCKS)
    assert outcome.problems == ()
    return outcome.value


def test_100_to_30_by_mass_is_100_to_34_by_volume():
    a, b = recipe(two_parts("mass", 100, 30)).lines

    assert float(100 * b.volume / a.volume) == pytest.approx(34.02, abs=0.005)


def test_the_mixed_density_is_the_masses_over_the_volumes():
    found = recipe(two_parts("mass", 100, 30)).density

    assert found == Fraction(130) / (Fraction(100, 1100) + Fraction(30, 970))
    assert float(found) == pytest.approx(1067, abs=0.5)


def test_parts_by_volume_are_kept_by_volume():
    a, b = recipe(two_parts("volume", 4, 1)).lines

    assert (a.volume, b.volume) == (Fraction(4, 5), Fraction(1, 5))
    assert (a.mass, b.mass) == (880, 194)


def test_parts_by_mass_and_back_through_the_densities_are_the_same_mix():
    by_mass = recipe(two_parts("mass", 100, 30))
    a, b = by_mass.lines
    by_volume = recipe(two_parts("volume", a.volume, b.volume))

    assert by_volume.lines == by_mass.lines


@given(
    volume=st.fractions(min_value=Fraction(1, 10000), max_value=Fraction(1, 20)),
    holds=st.fractions(min_value=Fraction(1, 2000), max_value=Fraction(1, 100)),
)
def test_the_ratio_holds_on_every_split_batch_to_the_step_of_the_scale(volume, holds):
    mix = two_parts("mass", 100, 30)
    fill = Fill(name="strip.glow", volume=volume, minutes=0, span=SPAN)
    batches = batches_of(mix, recipe(mix), fill, Vessel(volume=holds), Scales()).value
    step = max(step for _, step in SHOP_STEPS)

    for batch in batches:
        a, b = batch.lines
        assert b.exact / a.exact == Fraction(30, 100)
        assert abs(b.shown - a.shown * Fraction(30, 100)) <= step * Fraction(130, 200)
