"""What one more person, station or mold saves."""

from castlang.pipeline import compile_build
from castlang.plan.told.one_more import gains_of
from castlang.source.files import Texts

SLABS = """build slabs "Slabs from one mold"
    start     2027-01-04
    hours     mon to fri 07:00 to 12:00, 12:30 to 16:30
    air       20 degC
    crew      2
stock cement
    density   3150 kg/m3
    sold      bag of 25 kg
stock sand
    density   2650 kg/m3
    sold      bag of 25 kg
mix casting
    binder    cement 100 parts
    sand      sand 180 parts damp 0 %
    water     0.36 of binder total
    works     45 min at 20 degC
    thick     20 mm to 150 mm
station mixer
    holds     50 L
stock oil
    density   900 kg/m3
    covers    20 m2/L
    sold      jug of 5 L
mold tray
    fits      slab
    release   oil on slab.all takes 15 min by 1
piece slab "Slab"
    make      4
    shape     slab 600 mm long, 400 mm wide, 60 mm thick
    take      tray
    pour      body full of casting into tray using mixer takes 30 min by 2
    cure      20 h at 20 degC open
    demold    takes 30 min by 2
"""


def test_one_more_mold_saves_two_of_four_nights_and_a_mixer_nothing() -> None:
    """Own arithmetic, no outside source: with one mold a slab is poured each day from Monday, and the last
    is demolded on Friday; with two, two a day, and the last two on Wednesday, one after the other, since both
    people are wanted for each: 30 min later in the day than the one of Friday."""
    built = compile_build("slabs.pour", SLABS.encode(), Texts())
    gains = {gain.what: gain for gain in gains_of(built.spec, built.plan)}

    assert gains["tray"].saved == 2 * 1440 - 30
    assert gains["mixer"].saved == 0
    assert gains["tray"].finish == built.plan.finish - gains["tray"].saved


def test_the_greatest_saving_stands_first() -> None:
    built = compile_build("slabs.pour", SLABS.encode(), Texts())
    saved = [gain.saved for gain in gains_of(built.spec, built.plan)]

    assert saved == sorted(saved, reverse=True)
    assert saved[0] > 0
