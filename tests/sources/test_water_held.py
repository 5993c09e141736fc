"""How much lighter a casting dries, against the worked example of the Concrete Society.

"Water held in concrete" (concrete.org.uk, fingertip page 909): a wall of 45 x 18 x 1.1 m at 2400 kg/m3 with
360 kg/m3 of cement and w/c 0.50; 20 % of the cement is bound (A. M. Neville, Properties of Concrete: 18 to
23 %), 1 % of the whole stays in its capillaries, 74,844 L are left to dry out.
"""

from fractions import Fraction

import pytest

from castlang.spec.model import NOWHERE, FaceRef, Step, StepKind
from castlang.takeoff.model import Recipe
from castlang.takeoff.pieces import dries_by

WALL = Fraction(45) * 18 * Fraction("1.1")


def recipe(water, binder=360, density=2400):
    return Recipe(
        mix="wall",
        density=Fraction(density),
        density_from="told",
        lines=(),
        air=Fraction(0),
        binder=Fraction(binder),
        water_total=Fraction(water),
        solids=Fraction(0),
    )


def lost(mass, water):
    step = Step(
        kind=StepKind.LAYER,
        owner="wall",
        name="body",
        material="wall",
        on=(FaceRef(piece="wall", face="all"),),
        span=NOWHERE,
    )
    return dries_by(step, mass, {"wall": recipe(water)})


def test_the_wall_has_75_tonnes_of_water_to_lose():
    assert float(lost(WALL * 2400, 180)) == pytest.approx(74_844, abs=1)


def test_a_mix_that_binds_all_its_water_loses_none():
    assert lost(Fraction(2400), 90) == 0
