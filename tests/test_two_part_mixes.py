"""Mixes in parts with something beside them by share: thinner, accelerator, pigment paste."""

from fractions import Fraction

import pytest

from castlang.spec.model import Dose, DoseKind, Ingredient, Mix, Role, Stock
from castlang.takeoff.recipes import recipe_of

STOCKS = {
    "base": Stock(name="base", density=Fraction(1100)),
    "hardener": Stock(name="hardener", density=Fraction(1000)),
    "third": Stock(name="third", density=Fraction(1200)),
    "thinner": Stock(name="thinner", density=Fraction(800)),
    "tint": Stock(name="tint", density=Fraction(1500)),
}


def part(stock, number):
    return Ingredient(role=Role.PART, stock=stock, dose=Dose(kind=DoseKind.PARTS, value=Fraction(number)))


def beside(stock, percent, of, role=Role.LIQUID):
    dose = Dose(kind=DoseKind.SHARE, value=Fraction(percent) / 100, of=of)
    return Ingredient(role=role, stock=stock, dose=dose)


def amounts(measure, *ingredients, of=100):
    """What each comes to beside `of` of the first, in the measure of the mix."""
    outcome = recipe_of(Mix(name="resin", measure=measure, ingredients=ingredients), STOCKS)
    assert outcome.problems == ()
    lines = {line.stock: line.mass if measure == "mass" else line.volume for line in outcome.value.lines}
    return {name: amount * of / lines["base"] for name, amount in lines.items()}


def findings(*ingredients, measure="mass"):
    outcome = recipe_of(Mix(name="resin", measure=measure, ingredients=ingredients), STOCKS)
    return [(p.finding.name, p.message) for p in outcome.problems]


AB = (part("base", 100), part("hardener", 30))


def test_a_share_of_the_parts_counts_the_parts_alone():
    # 5 % of 130.
    assert amounts("mass", *AB, beside("thinner", 5, "parts"))["thinner"] == Fraction("6.5")


def test_a_share_of_the_mix_counts_itself():
    # x = 0.05 (130 + x)
    assert amounts("mass", *AB, beside("thinner", 5, "mix"))["thinner"] == Fraction(130) * 5 / 95


def test_a_share_of_one_part_counts_that_part():
    assert amounts("mass", *AB, beside("thinner", 2, "hardener"))["thinner"] == Fraction("0.6")


def test_shares_beside_one_another_are_solved_together():
    found = amounts("mass", *AB, beside("thinner", 10, "parts"), beside("tint", 1, "mix"))

    assert found["thinner"] == 13
    assert found["tint"] == (130 + 13) / Fraction(99)


def test_in_a_mix_by_volume_a_share_is_one_of_volume():
    found = amounts("volume", part("base", 4), part("hardener", 1), beside("thinner", 10, "parts"), of=4)

    assert found == {"base": 4, "hardener": 1, "thinner": Fraction(1, 2)}


def test_the_density_is_the_masses_over_the_volumes_of_all():
    mix = Mix(name="resin", measure="mass", ingredients=(*AB, beside("thinner", 10, "parts")))
    volume = Fraction(100, 1100) + Fraction(30, 1000) + Fraction(13, 800)

    assert recipe_of(mix, STOCKS).value.density == Fraction(143) / volume


def test_three_parts_keep_their_ratio():
    found = amounts("mass", part("base", 100), part("hardener", 40), part("third", 5))

    assert found == {"base": 100, "hardener": 40, "third": 5}


def test_shares_that_come_to_the_whole_are_a_finding():
    assert findings(*AB, beside("thinner", 60, "mix"), beside("tint", 40, "mix")) == [
        ("shares-too-great", "shares of mix resin come to 100 % of the whole")
    ]


def test_an_amount_beside_parts_is_a_finding():
    kilograms = Ingredient(
        role=Role.LIQUID, stock="thinner", dose=Dose(kind=DoseKind.MASS, value=Fraction(1))
    )

    assert findings(*AB, kilograms) == [
        ("no-amounts", "mix resin is measured by mass, so each part needs a number of parts")
    ]


@pytest.mark.parametrize("measure", [None, "weight"])
def test_parts_measured_by_neither_mass_nor_volume_are_a_finding(measure):
    assert findings(*AB, measure=measure) == [
        ("measure-unsaid", "mix resin has parts and does not say whether by mass or by volume")
    ]
