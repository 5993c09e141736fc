"""Coats by the spreading rate, against figures in print."""

from fractions import Fraction

import pytest

from castlang.spec.model import NOWHERE, Step, StepKind, Stock
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff.coats import coats_of
from castlang.takeoff.uses import use_of

FT2 = Fraction(9290304, 10**8)
GALLON = Fraction(3785411784, 10**12)
MIL = Fraction(254, 10**7)
INCH = 1000 * MIL
LITRE = Fraction(1, 1000)
MICROMETRE = Fraction(1, 10**6)
PAINT = Stock(name="paint")


def coat(amount, dimension, area, stock=PAINT):
    step = Step(
        kind=StepKind.PASS,
        owner="panel",
        name="seal",
        material=stock.name,
        amount=Quantity(si=Fraction(amount), dimension=dimension),
    )
    return coats_of(step, stock, area).value


def test_one_gallon_is_one_mil_on_1604_square_feet():
    # Spreading-rate identity, 231 in3 / 0.144 in3: 1604 ft2 mil/gal.
    volume = coat(MIL, Dimension.FILM, 1604 * FT2).volume

    assert float(volume / GALLON) == pytest.approx(1, rel=0.0002)


def test_one_litre_is_one_micrometre_on_a_thousand_square_metres():
    # Unit identity.
    volume = coat(MICROMETRE, Dimension.FILM, Fraction(1000)).volume

    assert volume == LITRE


def test_400_square_feet_a_gallon_is_a_wet_film_of_four_thousandths_of_an_inch():
    # W. J. Knight, forum note on wet film: 400 ft2/gal, 0.004 in.
    stock = Stock(name="paint", covers=400 * FT2 / GALLON)
    volume = coat(1, Dimension.COUNT, 400 * FT2, stock).volume

    assert volume == GALLON
    assert float(volume / (400 * FT2) / INCH) == pytest.approx(0.004, abs=0.0001)


def test_solids_and_dry_film_give_the_printed_spreading_rates():
    # "Spreading rate" sheet (scribd document 343849341): 65 %, 5 mil: 208.52 ft2/gal; 65 %, 125 um: 5.2 m2/L.
    us = coat(5 * MIL / Fraction(65, 100), Dimension.FILM, Fraction("208.52") * FT2).volume
    si = coat(125 * MICROMETRE / Fraction(65, 100), Dimension.FILM, Fraction("5.2")).volume

    assert float(us / GALLON) == pytest.approx(1, rel=0.0002)  # the sheet works with 1604
    assert si == LITRE


def test_loss_in_spraying_is_waste_added_once():
    # R. Joseph, "Calculating paint coverage", paintcenter.org, Oct 2003: 52 % solids, 30 % transfer, 1.5 mil:
    # 167 ft2 from a gallon.
    film = Fraction("1.5") * MIL / Fraction(52, 100)
    net = coat(film, Dimension.FILM, 167 * FT2).volume
    waste = 1 / Fraction(30, 100) - 1
    use = use_of(PAINT, Dimension.VOLUME, net, waste, NOWHERE).value

    assert float(use.gross / GALLON) == pytest.approx(1, abs=0.002)
