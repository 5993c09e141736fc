"""What a load fills: whether it fits, whether it stays, and what it weighs."""

import pytest

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE
from castlang.source.files import Texts

BOX = """\
stock tap "Tap water"
    density   998 kg/m3
    sold      can of 5 L
    price     1 EUR
stock sand-bag
    density   1600 kg/m3
fitting plug
    weight    0.1 kg
piece basin
    shape     {shape}
    less      disc duct 25 mm dia on {face}
    take      bed
    pour      body full of casting into bed using mixer takes 15 min by 1
    cure      24 h at 20 degC covered
    demold    takes 15 min by 2
{line}
    load      fill {amount} of {stock} on basin.{into} takes 5 min by 1
"""
TRAY = "tray 200 mm long, 200 mm wide, 140 mm high, 20 mm thick"  # inside 160 x 160 x 120 mm: 3.072 L
BACK = "back placed 100 mm from left, 100 mm from foot"


def built(amount, *, shape=TRAY, face=BACK, line="", stock="tap", into="inside"):
    shop = BASE.replace("fits      slab", "fits      basin").replace("on slab.show", "on basin.all")
    text = shop + BOX.format(amount=amount, shape=shape, face=face, line=line, stock=stock, into=into)
    return compile_build("trial.pour", text.encode(), Texts())


def found(amount, **more):
    names = ("load-too-deep", "hole-below-level", "holds-nothing", "missing-density")
    return [(p.finding.name, p.message) for p in built(amount, **more).problems if p.finding.name in names]


@pytest.mark.parametrize(
    ("amount", "message"),
    [
        ("121 mm", "basin.fill fills basin.inside 121 mm deep, and it is 120 mm deep to the rim"),
        ("3.1 L", "basin.fill fills 3.1 L into basin.inside, which takes 3.072 L"),
        ("3.1 kg", "basin.fill fills 3.106 L into basin.inside, which takes 3.072 L"),
    ],
)
def test_a_load_that_does_not_fit_is_refused(amount, message):
    assert found(amount) == [("load-too-deep", message)]


@pytest.mark.parametrize(
    ("shape", "into", "room"),
    [
        ("tube 200 mm dia, 140 mm high, 20 mm thick, 120 mm deep", "inside", 120),
        ("bowl 400 mm dia, 150 mm high, 20 mm thick, 150 mm foot-dia", "inside", 130),
        ("channel 600 mm long, 200 mm wide, 140 mm high, 20 mm thick", "inside", 120),
    ],
)
def test_every_vessel_is_as_deep_as_its_inside(shape, into, room):
    far = "side placed 15 mm from top" if "tube" in shape else "outside placed 15 mm from top"
    face = "back placed 15 mm from top" if "channel" in shape else far

    assert "load-too-deep" not in dict(found(f"{room} mm", shape=shape, face=face, into=into))
    assert [name for name, _ in found(f"{room + 1} mm", shape=shape, face=face, into=into)] == [
        "load-too-deep"
    ]


def test_a_cut_out_is_as_deep_as_it_is_cut():
    slab = "slab 400 mm long, 400 mm wide, 60 mm thick\n"
    dish = slab + "    less      box dish 200 mm long, 200 mm wide, 30 mm deep"
    hole = "dish placed 20 mm from left, 20 mm from front"

    assert found("30 mm", shape=dish, face=hole, into="dish") == [
        ("hole-below-level", "basin.fill fills basin.dish higher than duct, which opens in its floor")
    ]
    assert found("31 mm", shape=dish, face=hole, into="dish") == [
        ("load-too-deep", "basin.fill fills basin.dish 31 mm deep, and it is 30 mm deep to the rim")
    ]


# The duct, 25 mm wide, has its middle 100 mm over the foot: 87.5 mm, less a floor of 20 mm, is 67.5 mm.


@pytest.mark.parametrize(
    ("amount", "runs_out"), [("67 mm", False), ("68 mm", True), ("full", True), ("2 L", True)]
)
def test_what_stands_higher_than_a_hole_runs_out(amount, runs_out):
    told = [
        (
            "hole-below-level",
            "basin.fill fills basin.inside higher than duct, which opens 67.5 mm above its floor",
        )
    ]

    assert found(amount) == (told if runs_out else [])


def test_a_hole_in_the_floor_runs_out_and_one_below_the_floor_does_not():
    raised = TRAY + ", 60 mm deep"  # a floor of 80 mm

    assert found("10 mm", face="floor") == [
        ("hole-below-level", "basin.fill fills basin.inside higher than duct, which opens in its floor")
    ]
    assert found("20 mm", shape=raised, face="back placed 100 mm from left, 60 mm from foot") == []


@pytest.mark.parametrize(
    "line",
    [
        "    insert    stop 1 of plug on duct takes 5 min by 1",
        "    work      stop on duct takes 5 min by 1",
        "    pour      stop full of clear into duct takes 5 min by 1",
    ],
)
def test_a_hole_that_something_closes_holds(line):
    assert found("100 mm", line=line) == []


def test_what_heaps_is_loaded_on_the_rim_by_its_mass():
    assert found("40 kg", stock="sand-bag", into="rim") == []


def test_a_load_stands_on_no_bill_and_takes_nothing_from_the_stores():
    made = built("60 mm")

    assert made.takeoff.steps["basin", "fill"].mass == 998 * made.takeoff.steps["basin", "fill"].volume
    assert made.takeoff.steps["basin", "fill"].uses == ()
    assert "tap" not in {line.stock for line in made.takeoff.bill}


def test_a_load_of_which_nobody_knows_the_weight_is_refused():
    text = BASE.replace("fits      slab", "fits      basin").replace("on slab.show", "on basin.all")
    text += "stock oil-2\n    price 1 EUR\n    sold can of 1 L\n" + BOX.format(
        amount="60 mm", shape=TRAY, face=BACK, line="", stock="oil-2", into="inside"
    )
    made = compile_build("trial.pour", text.encode(), Texts())

    assert [(p.finding.name, p.message) for p in made.problems if p.finding.name == "missing-density"] == [
        (
            "missing-density",
            "basin.fill loads oil-2, and nobody can say what that weighs: its density is not told",
        )
    ]
