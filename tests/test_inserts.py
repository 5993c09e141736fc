"""What is built in weighs where it is: in every lift, load and shipment from that step on, worked by hand.

The slab of the examples weighs 19.908 kg: see test_loads.
"""

from fractions import Fraction

import pytest

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE, CAST
from castlang.sheets.from_plan import binder_of
from castlang.sheets.instructions import act
from castlang.sheets.model import Facts, Table
from castlang.source.files import Texts
from castlang.spec.model import Step
from castlang.trace.figures import figure_of, ground_of

SHOP = BASE.replace(
    'mix casting "Table casting"\n', 'mix casting "Table casting"\n    density   2100 kg/m3\n'
)
SLAB = Fraction("19.908")
THINGS = """\
fitting lamp
    weight    7 kg
fitting frame
    weight    30 kg
    carries   {carries} kg
fitting foot
    buy       4
    weight    1 kg
fitting crate
    weight    11 kg
station gantry
    lifts     {lifts} kg
"""
JOB = """\
job ship
    place     on-it of slab on frame takes 20 min by 2
    insert    light 1 of lamp on slab.top takes 10 min by 1
    place     pack of frame on crate using gantry takes 20 min by 2
    move      drive of crate takes 30 min by 2
"""


def built(job, shop=SHOP, cast=CAST, lifts=500, carries=500):
    text = shop + cast + THINGS.format(lifts=lifts, carries=carries) + job
    return compile_build("trial.pour", text.encode(), Texts())


def taken(job, **more):
    made = built(job, **more)
    assert made.takeoff is not None, made.problems
    return made.takeoff


def masses(takeoff):
    return {lift.step: lift.mass for lift in takeoff.lifts}


def test_what_a_job_builds_into_a_piece_is_lifted_and_moved_with_it_from_that_step_on():
    found = taken(JOB)

    assert masses(found) == {
        "slab.demold": SLAB,
        "ship.on-it": SLAB,
        "ship.light": 7,
        "ship.pack": 30 + SLAB + 7,
        "ship.drive": 11 + 30 + SLAB + 7,
    }
    assert [s.mass for s in found.shipments] == [11 + 30 + SLAB + 7]
    assert [(b.fitting, b.mass) for b in found.bearings] == [
        ("frame", SLAB + 7),
        ("crate", 30 + SLAB + 7),
    ]


def test_a_hoist_and_a_frame_bear_what_a_job_builds_in():
    found = [p.message for p in built(JOB, lifts=50, carries=25).problems]

    assert "ship.pack hangs 56.91 kg on gantry, which lifts 50 kg" in found
    assert "26.91 kg comes to lie on frame with ship.on-it, which carries 25 kg in all" in found


def test_what_is_built_into_a_piece_before_its_demold_comes_out_with_it():
    early = (
        "job early\n    after     slab.body\n    insert    light 1 of lamp on slab.top takes 10 min by 1\n"
    )
    cast = CAST.replace("    demold", "    after     early\n    demold")

    assert masses(taken(early, cast=cast))["slab.demold"] == SLAB + 7


def test_what_is_built_into_a_frame_goes_with_the_frame():
    job = "job ship\n    insert    feet 4 of foot on frame takes 10 min by 1\n"
    job += "    move      drive of frame takes 30 min by 2\n"
    found = taken(job)

    assert masses(found)["ship.drive"] == 34
    assert [(b.step, b.mass) for b in found.bearings] == [("ship.feet", 4)]


def test_what_no_line_puts_later_counts():
    jobs = "job feet\n    insert    fix 4 of foot on frame takes 10 min by 1\n"
    jobs += "job ship\n    move      drive of frame takes 30 min by 2\n"
    late = jobs.replace("job feet\n", "job feet\n    after     ship\n")

    assert masses(taken(jobs))["ship.drive"] == 34
    assert masses(taken(late))["ship.drive"] == 30


def test_one_line_for_each_copy_builds_in_one_of_each():
    cast = CAST.replace("piece slab\n", "piece slab\n    make      2\n", 1)
    each = JOB.replace("on slab.top takes 10 min by 1", "on slab.top each slab takes 10 min by 1")

    assert masses(taken(each, cast=cast))["ship.pack"] == 30 + 2 * (SLAB + 7)


def test_what_does_not_come_out_even_counts_in_each_copy_and_is_told():
    cast = CAST.replace("piece slab\n", "piece slab\n    make      2\n", 1)
    job = "job ship\n    insert    light 1 of lamp on slab.top takes 10 min by 1\n"
    job += "    move      drive of slab takes 30 min by 2\n"
    found = taken(job, cast=cast)

    assert masses(found)["ship.drive"] == SLAB + 7
    assert "1 of lamp in 2 of slab: each counts as the one that has most" in [
        a.says for a in found.assumptions
    ]


def test_what_stands_on_a_fitting_that_is_built_in_goes_along():
    job = "job ship\n    insert    bracket 1 of frame on slab.top takes 10 min by 1\n"
    job += "    place     lamp-on of lamp on frame takes 10 min by 1\n"
    job += "    place     pack of slab on crate takes 30 min by 2\n"

    assert masses(taken(job))["ship.pack"] == SLAB + 30 + 7


def test_a_piece_that_builds_a_fitting_into_another_adds_to_the_other():
    cast = CAST + "    insert    light 1 of lamp on {} takes 10 min by 1\n"
    tile = (
        "piece tile\n    shape slab 300 mm long, 300 mm wide, 40 mm thick\n    take bed\n"
        "    pour body full of casting into bed using mixer takes 10 min by 1\n"
        "    cure 24 h at 20 degC covered\n    demold takes 10 min by 1\n"
    )
    shop = SHOP.replace("fits      slab", "fits      slab, tile")
    own = taken(tile, cast=cast.format("top"), shop=shop).pieces
    other = taken(tile, cast=cast.format("tile.top"), shop=shop).pieces

    assert (own["slab"].dry, own["tile"].dry) == (SLAB + 7, Fraction("7.56"))
    assert (other["slab"].dry, other["tile"].dry) == (SLAB, Fraction("7.56"))


@pytest.mark.parametrize(("weight", "listed"), [("3 kg", True), ("2.9 kg", False)])
def test_building_in_by_hand_is_a_lift_from_three_kilograms_on(weight, listed):
    # ISO 11228-1:2003, clause 1: manual lifting of objects of 3 kg or more
    made = built(JOB.replace("of lamp", "of spot") + f"fitting spot\n    weight {weight}\n")

    assert ("ship.light" in masses(made.takeoff)) == listed


def test_a_heavy_insert_by_one_person_is_told():
    heavy = built(JOB.replace("of lamp", "of safe") + "fitting safe\n    weight 140 kg\n")

    assert "ship.light lifts 140 kg by 1, 140 kg a person, more than 23 kg" in [
        p.message for p in heavy.problems
    ]


def test_the_weight_of_what_tells_none_is_listed():
    found = taken(JOB.replace("of lamp", "of spot") + "fitting spot\n    price 3 EUR\n")

    assert [a.says for a in found.assumptions if a.subject == "fitting spot"] == [
        "no weight counted where it is lifted or carried"
    ]


@pytest.mark.parametrize(
    ("line", "name", "message"),
    [
        (
            "insert light 1 of lamp takes 10 min by 1",
            "not-said",
            "the step `light` does not say what it is built into, so that its weight counts there",
        ),
        (
            "insert light 1 of lamp on frame, crate takes 10 min by 1",
            "out-of-place",
            "a fitting is built into one thing: write a line for each",
        ),
        (
            "insert light 1 of lamp on slab.top, frame takes 10 min by 1",
            "out-of-place",
            "a fitting is built into one thing: write a line for each",
        ),
        (
            "insert light 1 of lamp on fram takes 10 min by 1",
            "unknown-name",
            "there is no piece called `fram`",
        ),
    ],
)
def test_a_job_says_what_it_builds_into(line, name, message):
    found = built(f"job ship\n    {line}\n").problems

    assert [(p.finding.name, p.message) for p in found] == [(name, message)]


def test_a_face_that_bears_the_name_of_a_fitting_is_the_face_in_its_own_piece():
    cast = CAST.replace("    face      show", "    face      frame top\n    face      show")
    found = taken("", cast=cast + "    insert    light 1 of lamp on frame takes 10 min by 1\n")

    assert found.pieces["slab"].dry == SLAB + 7


def test_the_trace_of_a_lift_names_what_was_built_in():
    made = built(JOB)
    ground = ground_of(made.spec, made.takeoff, made.plan, made.costing, made.texts)
    figure = figure_of(ground, "lift.ship.pack.mass")

    assert [(i.symbol, i.figure.name, i.figure.number) for i in figure.inputs] == [
        ("m", "weight of frame", 30),
        ("i", "weight of ship.light", 7),
        ("p", "what stands on frame", SLAB),
    ]
    assert figure_of(ground, "lift.ship.pack").says == "on gantry: nobody carries"


# ---------------------------------------------------------------- what the sheets say


def facts(made):
    binder = binder_of(made.spec, made.takeoff, made.plan, made.costing, made.problems)
    cover = next(sheet for sheet in binder.sheets if sheet.code == "COVER")
    found = next(block for block in cover.blocks if isinstance(block, Facts))
    lifts = next(
        block
        for sheet in binder.sheets
        if sheet.code == "WEIGHTS"
        for block in sheet.blocks
        if isinstance(block, Table) and block.key == "lifts"
    )
    return dict(found.pairs), {row.cells[0]: row.cells[2:] for row in lifts.rows}


def test_what_hangs_on_a_station_asks_nothing_of_people_on_any_sheet():
    cover, lifts = facts(built(JOB))

    assert lifts["ship.pack"] == ("56.9 kg", "2", "", "", "on gantry")
    assert lifts["ship.drive"] == (
        "67.9 kg",
        "2",
        "34 kg",
        "23 kg, reference",
        "over by 11 kg: hoist or more people",
    )
    assert cover["heaviest lift"] == "34 kg a person, ship.drive"


def test_the_cover_tells_the_heaviest_lift_by_hand():
    by_crane = JOB.replace("of crate takes", "of crate using gantry takes")

    assert facts(built(by_crane))[0]["heaviest lift"] == "9.95 kg a person, slab.demold"


def test_a_build_that_lifts_nothing_by_hand_says_so_on_the_cover():
    cast = CAST.replace("demold    takes", "demold    using gantry takes")

    assert facts(built("", cast=cast))[0]["heaviest lift"] == "none by hand"


def test_the_traveller_says_what_a_fitting_is_built_into():
    made = built("job ship\n    insert    feet 4 of foot on frame takes 10 min by 1\n")
    step = next(item for item in made.spec.jobs["ship"].sequence if isinstance(item, Step))

    assert act(made.spec, step, "", "metric") == "4 pieces of foot on frame"


def test_what_is_built_into_a_fitting_waits_for_the_fitting():
    late = "fitting rail\n    lead      10 days\n"
    made = built(late + "job ship\n    insert    feet 4 of foot on rail takes 10 min by 1\n")

    assert ("rail.arrives", "ship.feet") in {(gap.before, gap.after) for gap in made.plan.network.gaps}
