"""Weights, lifts, crates and indications of whole builds, worked by hand beside them.

The slab of the examples: 600 x 400 x 40 mm less a slot of 200 x 40 x 15 mm is 9.48 L. Its mix, told at 2100
kg/m3, makes 19.908 kg of it.
"""

from fractions import Fraction

import pytest

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE, CAST
from castlang.source.files import Texts
from castlang.takeoff.statics import GRAVITY

SHOP = BASE.replace(
    'mix casting "Table casting"\n', 'mix casting "Table casting"\n    density   2100 kg/m3\n'
)
SLAB = Fraction("19.908")
CRATE = """\
fitting crate "Crate"
    buy       1
    weight    11 kg
    carries   60 kg
station van
    holds     650 kg
"""
PACK = """\
job ship
    place     pack of slab on crate takes 20 min by 2
    move      load-up of crate using van takes 30 min by 2
"""


def taken(more, shop=SHOP):
    made = compile_build("trial.pour", (shop + CAST + more).encode(), Texts())
    assert made.takeoff is not None, made.problems
    return made.takeoff


def problems(more, shop=SHOP):
    made = compile_build("trial.pour", (shop + CAST + more).encode(), Texts())
    return [(p.finding.name, p.message) for p in made.problems]


def lift(takeoff, step):
    return next(lift for lift in takeoff.lifts if lift.step == step)


def test_a_piece_comes_out_of_its_mold_as_heavy_as_it_was_cast():
    found = taken("")

    assert found.pieces["slab"].wet == SLAB
    assert lift(found, "slab.demold").each == SLAB / 2


def test_a_dried_piece_is_lighter_by_the_water_that_its_cement_does_not_bind():
    # 100 cement, 180 sand, 36 water: of the 36, 20 are bound and 3.16 stay in pores, for each 316.
    found = taken("").pieces["slab"]

    assert found.dry == SLAB
    assert found.dried == SLAB * (1 - (36 - 20 - Fraction("3.16")) / 316)


def test_a_crate_is_moved_with_what_was_placed_on_it():
    found = taken(CRATE + PACK)

    assert lift(found, "ship.load-up").mass == SLAB + 11
    assert [(s.mass, s.number, s.station, s.holds) for s in found.shipments] == [(SLAB + 11, 1, "van", 650)]


def test_what_is_placed_on_a_crate_later_is_not_moved_with_it():
    before = PACK.splitlines(keepends=True)
    found = taken(CRATE + "".join((before[0], before[2], before[1])))

    assert lift(found, "ship.load-up").mass == 11


def test_the_crate_bears_what_stands_on_it():
    assert [(b.mass, b.carries) for b in taken(CRATE + PACK).bearings] == [(SLAB, 60)]


def test_a_van_that_holds_less_than_what_is_moved_is_told():
    small = CRATE.replace("650 kg", "25 kg")

    assert problems(small + PACK) == [
        ("station-overloaded", "ship.load-up puts 30.91 kg on van, which holds 25 kg")
    ]


def test_a_lift_on_a_hoist_asks_nothing_of_people():
    hoist = "station gantry\n    lifts 500 kg\n"
    air = "    air       20 degC\n"
    heavy = SHOP.replace(air, f"{air}    lift-limit 9 kg\n")

    assert problems("", heavy) == [
        ("lift-over-limit", "slab.demold lifts 19.91 kg by 2, 9.954 kg a person, more than 9 kg")
    ]
    by_hook = (heavy + CAST).replace("demold    takes", "demold    using gantry takes") + hoist
    made = compile_build("trial.pour", by_hook.encode(), Texts())

    assert made.problems == ()
    assert lift(made.takeoff, "slab.demold").hoist == "gantry"


def test_a_hoist_that_bears_less_than_the_piece_is_told():
    hoist = "station gantry\n    lifts 15 kg\n"
    text = (SHOP + CAST).replace("demold    takes", "demold    using gantry takes") + hoist
    made = compile_build("trial.pour", text.encode(), Texts())

    assert [p.message for p in made.problems] == ["slab.demold hangs 19.91 kg on gantry, which lifts 15 kg"]


def test_an_american_shop_is_told_in_pounds_with_the_pounds_of_the_equation():
    us = SHOP.replace("    air       20 degC\n", "    air       68 degF\n    print     us\n")
    heavy = us.replace("2100 kg/m3", "2600 kg/m3") + CAST.replace("40 mm thick", "80 mm thick").replace(
        "by 2\n", "by 1\n"
    )
    made = compile_build("trial.pour", heavy.encode(), Texts())

    assert [p.message for p in made.problems if p.finding.name == "heavy-lift"] == [
        "slab.demold lifts 109.4 lb by 1, 109.4 lb a person, more than 51 lb"
    ]


def test_the_foot_of_the_mold_bears_the_head_of_the_mix():
    (head,) = taken("").heads

    assert (head.step, head.depth) == ("slab.body", Fraction(4, 100))
    assert head.pressure == 2100 * GRAVITY * Fraction(4, 100)


def test_a_thin_slab_bends_under_its_own_weight_and_a_thick_one_is_not_told():
    (bending,) = taken("").bendings
    thick = CAST.replace("40 mm thick", "80 mm thick")
    made = compile_build("trial.pour", (SHOP + thick).encode(), Texts())

    assert (bending.span, bending.thick) == (Fraction(6, 10), Fraction(4, 100))
    assert bending.stress == Fraction(3, 4) * 2100 * GRAVITY * bending.span**2 / bending.thick
    assert made.takeoff.bendings == ()


@pytest.mark.parametrize(("depth", "litres"), [("15 mm", "0.12"), ("10 mm", "0.08")])
def test_water_in_a_cut_out_weighs_by_its_own_inside(depth, litres):
    tank = 'stock tap "Tap water"\n    density 1000 kg/m3\n'
    job = f"job fill\n    load water {depth} of tap on slab.slot takes 10 min by 1\n"

    assert taken(tank + job).steps["fill", "water"].mass == Fraction(litres)


# ---------------------------------------------------------------- hoists, and what travels together

TRIP = """\
job ship
    place     pack of slab on crate takes 20 min by 2
    move      load-up of {things} using van takes 30 min by 2
"""


@pytest.mark.parametrize("things", ["crate", "slab", "slab, crate"])
def test_a_crate_and_its_piece_travel_together_whichever_of_them_the_line_names(things):
    (shipment,) = taken(CRATE + TRIP.format(things=things)).shipments

    assert shipment.mass == SLAB + 11


def test_a_piece_that_was_packed_is_lifted_in_its_crate():
    found = taken(CRATE + TRIP.format(things="slab"))

    assert lift(found, "ship.load-up").mass == SLAB + 11
    assert "crate goes along with slab, which was placed on it" in [a.says for a in found.assumptions]


def test_of_several_crates_as_many_travel_as_the_pieces_moved_need():
    four = SHOP + CAST.replace("piece slab\n", "piece slab\n    make      4\n", 1)
    crates = CRATE.replace("buy       1", "buy       2")
    made = compile_build("trial.pour", (four + crates + TRIP.format(things="slab.1")).encode(), Texts())
    (shipment,) = made.takeoff.shipments

    assert (shipment.number, shipment.mass) == (1, 2 * SLAB + 11)


def test_a_forklift_lifts_what_is_moved():
    fork = "station fork\n    lifts 900 kg\n"
    heavy = SHOP.replace("    air       20 degC\n", "    air       20 degC\n    lift-limit 9 kg\n")
    move = "job ship\n    move load-up of slab using {} takes 10 min by 1\n"

    by_fork = [p for p in problems(fork + move.format("fork"), heavy) if "load-up" in p[1]]
    by_hand = [p for p in problems(CRATE + move.format("van"), heavy) if "load-up" in p[1]]

    assert by_fork == []
    assert by_hand == [
        ("lift-over-limit", "ship.load-up lifts 19.91 kg by 1, 19.91 kg a person, more than 9 kg")
    ]


ON_TRUCK = """\
job ship
    move      load-up of slab using van takes 30 min by 2
    move      drive of {things} using {station} takes 1 h by 1
"""


@pytest.mark.parametrize(
    ("things", "station", "hoist", "each"),
    [("slab", "van", "van", 0), ("slab", "cart", None, SLAB), ("crate", "van", None, 11)],
)
def test_what_a_move_set_on_a_station_that_holds_it_stands_there_and_is_not_lifted_again(
    things, station, hoist, each
):
    found = taken(CRATE + "station cart\n    holds 90 kg\n" + ON_TRUCK.format(things=things, station=station))
    up, drive = lift(found, "ship.load-up"), lift(found, "ship.drive")

    assert (up.hoist, up.each) == (None, SLAB / 2)
    assert (drive.hoist, drive.each) == (hoist, each)


def test_a_piece_on_a_crate_that_stands_on_the_van_is_driven_by_nobody():
    job = (
        PACK.replace("of crate using", "of slab using") + "    move drive of crate using van takes 1 h by 1\n"
    )

    assert lift(taken(CRATE + job), "ship.drive").hoist == "van"


def test_of_two_copies_the_one_that_was_never_loaded_is_lifted():
    two = SHOP + CAST.replace("piece slab\n", "piece slab\n    make      2\n", 1)
    trip = ON_TRUCK.format(things="slab", station="van").replace("load-up of slab", "load-up of slab.1")
    made = compile_build("trial.pour", (two + CRATE + trip).encode(), Texts())

    assert lift(made.takeoff, "ship.drive").hoist is None


def test_a_piece_on_its_frame_in_its_crate_is_moved_with_both_whichever_the_line_names():
    frame = "fitting frame\n    weight    5 kg\n"
    job = (
        "job ship\n"
        "    place     fix of slab on frame takes 20 min by 2\n"
        "    place     pack of frame on crate takes 20 min by 2\n"
        "    move      load-up of slab using van takes 30 min by 2\n"
    )
    (shipment,) = taken(CRATE + frame + job).shipments

    assert (shipment.things, shipment.mass) == ("crate", SLAB + 5 + 11)


def test_what_one_step_of_another_job_placed_is_moved_when_a_line_waits_for_that_step():
    jobs = (
        "job pack\n    place     in-it of slab on crate takes 20 min by 2\n"
        "    work      tidy takes 10 min by 1\n"
        "job ship\n    after     pack.in-it\n    move      load-up of crate using van takes 30 min by 2\n"
    )

    assert lift(taken(CRATE + jobs), "ship.load-up").mass == SLAB + 11


def test_what_only_holds_a_mass_is_no_hoist():
    table = "station table\n    holds 500 kg\n"
    text = (SHOP + CAST).replace("demold    takes", "demold    using table takes") + table
    made = compile_build("trial.pour", text.encode(), Texts())

    assert lift(made.takeoff, "slab.demold").hoist is None
