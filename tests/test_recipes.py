"""Recipes from every way that a dose can be told."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlang.spec.model import Dose, DoseKind, Ingredient, Mix, Role, Stock, Water
from castlang.takeoff.recipes import recipe_of

STOCKS = {
    stock.name: stock
    for stock in (
        Stock(name="cement", density=Fraction(3150)),
        Stock(name="pozzolan", density=Fraction(2500)),
        Stock(name="sand", density=Fraction(2650)),
        Stock(name="polymer", density=Fraction(1050), solids=Fraction(1, 2)),
        Stock(name="fibre", density=Fraction(2680)),
        Stock(name="ochre", density=Fraction(4100)),
        Stock(name="dry-cement"),
    )
}


def parts(number):
    return Dose(kind=DoseKind.PARTS, value=Fraction(number))


def kilograms(number):
    return Dose(kind=DoseKind.MASS, value=Fraction(number))


def share(percent, of):
    return Dose(kind=DoseKind.SHARE, value=Fraction(percent) / 100, of=of)


FILL = Dose(kind=DoseKind.FILL)
CEMENT = Ingredient(role=Role.BINDER, stock="cement", dose=parts(100))
SAND = Ingredient(role=Role.SAND, stock="sand", dose=parts(100), damp=Fraction(0))
POLYMER = Ingredient(role=Role.LIQUID, stock="polymer", dose=share(6, "binder"), as_solids=True)
FIBRE = Ingredient(role=Role.FIBER, stock="fibre", dose=share(3, "mix"))
BACKER = Mix(
    name="backer",
    ingredients=(CEMENT, SAND, POLYMER, FIBRE),
    water=Water(dose=share(32, "binder"), total=True),
    air=Fraction(5, 100),
)


def made(mix, stocks=STOCKS, measured=None):
    outcome = recipe_of(mix, stocks, measured)
    assert outcome.problems == ()
    return outcome.value


def of_100_binder(recipe):
    return {line.stock: line.mass * 100 / recipe.binder for line in recipe.lines}


def findings(mix, stocks=STOCKS):
    outcome = recipe_of(mix, stocks)
    return [p.finding.name for p in outcome.problems]


# ------------------------------------------------------------------ what doses mean


def test_a_dispersion_dosed_as_solids_brings_its_water():
    # Own arithmetic: 6 kg of solids at 50 % are 12 kg, 6 of them water; 32 - 6 leaves 26 to add.
    found = of_100_binder(made(BACKER))

    assert (found["polymer"], found["water"]) == (12, 26)


def test_fibre_as_a_share_of_the_mix_counts_itself_and_the_water():
    recipe = made(BACKER)
    fibre = next(line.mass for line in recipe.lines if line.stock == "fibre")

    assert fibre == recipe.density * Fraction(3, 100)


def test_the_volumes_of_the_lines_and_the_air_fill_a_cubic_metre():
    recipe = made(BACKER)

    assert sum(line.volume for line in recipe.lines) + recipe.air == 1


def test_the_masses_of_the_lines_are_the_density():
    recipe = made(BACKER)

    assert sum(line.mass for line in recipe.lines) == recipe.density
    assert float(recipe.density) == pytest.approx(2125, abs=5)  # own arithmetic


def test_total_water_counts_what_liquids_bring():
    recipe = made(BACKER)

    assert recipe.water_total / recipe.binder == Fraction(32, 100)
    assert recipe.solids / recipe.binder == Fraction(6, 100)


def test_water_told_as_added_is_what_goes_into_the_bucket():
    mix = replace(BACKER, water=Water(dose=share(32, "binder"), total=False))
    recipe = made(mix)

    assert of_100_binder(recipe)["water"] == 32
    assert recipe.water_total / recipe.binder == Fraction(38, 100)


@pytest.mark.parametrize(("damp", "water"), [(3, 23), (0, 26), (-2, 28)])
def test_damp_sand_brings_water_and_dry_sand_drinks_it(damp, water):
    sand = replace(SAND, damp=Fraction(damp, 100))
    found = of_100_binder(made(replace(BACKER, ingredients=(CEMENT, sand, POLYMER))))

    assert (found["sand"], found["water"]) == (100 + damp, water)


@given(damp=st.fractions(min_value=Fraction(-5, 100), max_value=Fraction(15, 100)))
def test_moisture_moves_water_between_bucket_and_sand_and_changes_nothing_else(damp):
    dry = made(BACKER)
    wet = made(replace(BACKER, ingredients=(CEMENT, replace(SAND, damp=damp), POLYMER, FIBRE)))

    assert (wet.density, wet.water_total, wet.binder) == (dry.density, dry.water_total, dry.binder)


def test_a_share_of_a_named_stock_counts_that_stock_alone():
    pozzolan = Ingredient(role=Role.BINDER, stock="pozzolan", dose=share(25, "cement"))
    ochre = Ingredient(role=Role.PIGMENT, stock="ochre", dose=share(2, "binder"))
    recipe = made(replace(BACKER, ingredients=(CEMENT, pozzolan, SAND, ochre)))
    masses = {line.stock: line.mass for line in recipe.lines}

    assert masses["pozzolan"] / masses["cement"] == Fraction(1, 4)
    assert masses["ochre"] / masses["cement"] == Fraction(1, 40)


def test_a_binder_may_be_a_share_of_the_binder():
    pozzolan = Ingredient(role=Role.BINDER, stock="pozzolan", dose=share(20, "binder"))
    recipe = made(replace(BACKER, ingredients=(CEMENT, pozzolan, SAND)))
    masses = {line.stock: line.mass for line in recipe.lines}

    assert masses["pozzolan"] / masses["cement"] == Fraction(1, 4)


def test_a_told_density_stands_before_the_computed_one():
    recipe = made(replace(BACKER, density=Fraction(2000)))

    assert (recipe.density, recipe.density_from) == (2000, "told")
    assert sum(line.volume for line in recipe.lines) + recipe.air == 1


def test_a_measured_density_stands_before_a_told_one():
    recipe = made(replace(BACKER, density=Fraction(2000)), measured=Fraction(2100))

    assert (recipe.density, recipe.density_from) == (2100, "measured")


def test_a_told_density_needs_no_densities_of_the_stocks():
    cement = replace(CEMENT, stock="dry-cement")
    recipe = made(replace(BACKER, ingredients=(cement, SAND), density=Fraction(2200)))

    assert recipe.density == 2200


def test_masses_for_a_yield_are_masses_for_that_volume():
    cement, sand = replace(CEMENT, dose=kilograms(6)), replace(SAND, dose=kilograms(12))
    mix = replace(
        BACKER,
        ingredients=(cement, sand),
        water=Water(dose=kilograms(3), total=True),
        yields=Fraction(1, 100),
    )
    recipe = made(mix)

    assert (recipe.binder, recipe.density) == (600, 2100)


def test_lines_come_in_the_order_of_addition():
    recipe = made(replace(BACKER, order=("water", "polymer", "cement", "sand", "fibre")))

    assert [line.stock for line in recipe.lines] == ["water", "polymer", "cement", "sand", "fibre"]


# ------------------------------------------------------------------ what is assumed


def test_air_and_the_density_of_tap_water_are_listed_when_they_are_assumed():
    outcome = recipe_of(replace(BACKER, air=None), STOCKS)

    assert outcome.value.air == Fraction(3, 100)
    assert [(a.subject, a.says) for a in outcome.assumptions] == [
        ("mix backer", "air 3 %"),
        ("stock water", "density 998 kg/m3"),
    ]


def test_a_volume_told_needs_no_air():
    outcome = recipe_of(replace(BACKER, air=None, density=Fraction(2100)), STOCKS)

    assert outcome.assumptions == ()


# ------------------------------------------------------------------ what cannot be


@pytest.mark.parametrize(
    ("change", "finding"),
    [
        ({"ingredients": (replace(CEMENT, stock="dry-cement"), SAND)}, "missing-density"),
        ({"ingredients": (CEMENT, SAND, replace(POLYMER, stock="sand"))}, "missing-solids"),
        ({"ingredients": (CEMENT, replace(SAND, dose=kilograms(3)))}, "parts-and-masses"),
        ({"yields": Fraction(1)}, "parts-and-masses"),
        (
            {"ingredients": (replace(CEMENT, dose=kilograms(9)), replace(SAND, dose=FILL))},
            "fill-without-yield",
        ),
        ({"ingredients": (CEMENT, replace(FIBRE, dose=share(100, "mix")))}, "shares-too-great"),
        ({"ingredients": (replace(CEMENT, dose=share(100, "binder")), SAND)}, "shares-too-great"),
        (
            {
                "ingredients": (
                    replace(CEMENT, dose=share(50, "sand")),
                    replace(SAND, dose=share(9, "cement")),
                )
            },
            "no-amounts",
        ),
        ({"ingredients": (CEMENT, replace(SAND, damp=Fraction(40, 100)))}, "water-below-zero"),
        ({"ingredients": (replace(CEMENT, role=Role.PART), SAND)}, "measure-unsaid"),
        ({"density": Fraction(2900)}, "more-than-full"),
        (
            {
                "ingredients": (
                    CEMENT,
                    SAND,
                    Ingredient(role=Role.PIGMENT, stock="ochre", dose=share(11, "binder")),
                )
            },
            "pigment-over-limit",
        ),
    ],
)
def test_a_recipe_that_cannot_be_is_told(change, finding):
    found = findings(replace(BACKER, **change))

    assert found == [finding]


def test_ten_percent_of_pigment_is_allowed():
    # ASTM C979: at most 10 % of the cement.
    ochre = Ingredient(role=Role.PIGMENT, stock="ochre", dose=share(10, "binder"))

    assert findings(replace(BACKER, ingredients=(CEMENT, SAND, ochre))) == []


def test_the_others_may_leave_no_room_to_fill():
    mix = replace(
        BACKER,
        ingredients=(replace(CEMENT, dose=kilograms(3100)), replace(SAND, dose=FILL)),
        water=None,
        yields=Fraction(1),
    )

    assert findings(mix) == ["no-room-to-fill"]


def test_two_lines_cannot_fill_one_mix():
    second = replace(SAND, stock="pozzolan", dose=FILL)
    mix = replace(
        BACKER,
        ingredients=(replace(CEMENT, dose=kilograms(400)), replace(SAND, dose=FILL), second),
        water=None,
        yields=Fraction(1),
    )

    assert findings(mix) == ["second-fill"]


WATER_MESSAGE = (
    "for 100 kg of binder in mix backer the liquids and damp sand bring 40 kg of water, "
    "and it may have 32 kg in all"
)


def test_water_below_zero_says_both_figures():
    wet = replace(BACKER, ingredients=(CEMENT, replace(SAND, damp=Fraction(40, 100))))
    outcome = recipe_of(wet, STOCKS)

    assert [p.message for p in outcome.problems] == [WATER_MESSAGE]
