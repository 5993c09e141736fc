"""What a move takes away, counted once."""

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE
from castlang.source.files import Texts

PIECE = """\
piece slab
    shape     slab 1000 mm long, 500 mm wide, 40 mm thick
    face      show top
    take      bed
    pour      body full of casting into bed using mixer takes 20 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
fitting pallet "Pallet"
    weight    20 kg
"""
JOB = """\
job ship
    place     on-it of slab on pallet takes 10 min by 2
    move      drive of {things} takes 1 h by 2
"""


def moved(things):
    text = BASE + PIECE + JOB.format(things=things)
    takeoff = compile_build("build.pour", text.encode(), Texts()).takeoff
    (shipment,) = takeoff.shipments
    return shipment.mass, takeoff.pieces["slab"].dry


def test_what_stands_on_a_thing_goes_along_with_it():
    mass, slab = moved("pallet")

    assert mass == slab + 20


def test_what_stands_on_a_thing_and_is_named_beside_it_counts_once():
    mass, slab = moved("pallet, slab")

    assert mass == slab + 20
