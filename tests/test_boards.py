"""Panels worked out for a mold: the board's thickness at every corner."""

from fractions import Fraction

import pytest

from castlang.spec.model import Build, FaceRef, Lip, Mold, Package, Piece, Shape, Spec, Step, StepKind, Stock
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff.boards import boards_of
from castlang.takeoff.bodies import body_of
from castlang.takeoff.panels import nests_of, panels_of

MM = Fraction(1, 1000)
T = 18 * MM


def body(kind, *, sizes, lips=(), sequence=(), parts=()):
    piece = Piece(
        name="seat",
        shape=Shape(kind=kind, sizes={word: size * MM for word, size in sizes.items()}),
        lips=lips,
        sequence=sequence,
        parts=parts,
    )
    return body_of(piece, spec(piece), ()).value


def spec(piece, stock=None, mold=None):
    ply = stock or Stock(name="ply", package=Package(word="sheet", sheet=(2440 * MM, 1220 * MM)))
    return Spec(
        build=Build(name="bench"),
        stocks={"ply": ply},
        mixes={},
        molds={"form": mold or Mold(name="form", board="ply", fits=("seat",))},
        stations={},
        fittings={},
        pieces={"seat": piece},
        jobs={},
    )


def sizes_of(boards):
    """Of each board in mm, with how many."""
    return {b.name: (b.long / MM, b.wide / MM, b.count) for b in boards}


SLAB = body("slab", sizes={"long": 1200, "wide": 400, "thick": 60})


def test_the_sides_of_an_open_box_stand_on_its_base_and_run_past_its_ends():
    found = sizes_of(boards_of(SLAB, T))

    assert found == {"base": (1236, 436, 1), "side": (1236, 60, 2), "end": (400, 60, 2)}


@pytest.mark.parametrize("thick", [12, 18, 21])
def test_what_the_boards_enclose_is_the_piece_whatever_their_thickness(thick):
    t = thick * MM
    boards = {b.name: b for b in boards_of(SLAB, t)}

    assert (boards["side"].long - 2 * t, boards["end"].long) == (1200 * MM, 400 * MM)
    assert (boards["base"].long, boards["base"].wide) == (boards["side"].long, boards["end"].long + 2 * t)


def test_a_tray_has_a_core_whose_outside_is_its_inside():
    tray = body("tray", sizes={"long": 1000, "wide": 500, "high": 300, "thick": 40})
    found = sizes_of(boards_of(tray, T))

    assert found["core-top"] == (920, 420, 1)
    assert found["core-side"] == (920, 260 - 18, 2)
    assert found["core-end"] == (420 - 36, 260 - 18, 2)


def test_a_channel_has_a_core_that_its_own_ends_close():
    channel = body("channel", sizes={"long": 1000, "wide": 300, "high": 200, "thick": 30})
    found = sizes_of(boards_of(channel, T))

    assert found["core-top"] == (1000, 240, 1)
    assert "core-end" not in found


def test_the_edges_of_a_shell_are_as_deep_as_its_layers_or_its_lip():
    layer = Step(
        kind=StepKind.LAYER,
        owner="seat",
        name="skin",
        amount=Quantity(si=15 * MM, dimension=Dimension.LENGTH),
        on=(FaceRef(piece="seat", face="all"),),
    )
    lip = Lip(name="drip", deep=60 * MM, on="foot")
    panel = body("panel", sizes={"long": 1000, "high": 500}, lips=(lip,), sequence=(layer,))
    found = sizes_of(boards_of(panel, T))

    assert (found["foot-side"], found["top-side"]) == ((1036, 60, 1), (1036, 15, 1))
    assert found["left-end"] == (500, 15, 1)


def test_the_leaves_of_a_corner_are_one_board_longer_where_they_meet():
    wall = body("corner-wall", sizes={"long": 2000, "wide": 1000, "high": 900})
    found = sizes_of(boards_of(wall, T))

    assert (found["front-leaf"], found["side-leaf"]) == ((2036, 936, 1), (1018, 936, 1))


def test_a_ramp_is_cut_from_boards_as_high_as_its_high_end():
    ramp = body("ramp", sizes={"long": 400, "wide": 200, "rise": 300, "thick": 50})
    found = sizes_of(boards_of(ramp, T))

    assert (found["side"], found["low-end"], found["high-end"]) == (
        (436, 350, 2),
        (200, 50, 1),
        (200, 350, 1),
    )


@pytest.mark.parametrize("kind", ["disc", "dome", "bowl"])
def test_what_is_round_has_no_boards(kind):
    sizes = {"dia": 400, "thick": 60} if kind == "disc" else {"dia": 400, "high": 150}
    round_one = body(kind, sizes=sizes | ({"thick": 20} if kind == "bowl" else {}))

    assert boards_of(round_one, T) == ()


def told(stock=None, mold=None):
    whole = spec(SLAB.piece, stock, mold)
    panels = panels_of(whole, {"seat": SLAB})
    return panels, nests_of(whole, panels.value)


def test_a_board_of_no_told_thickness_is_taken_and_listed():
    panels, _ = told()

    assert [a.line for a in panels.assumptions] == ["thick 18 mm", "panel NAME L x L"]
    assert panels.value[0].long == 1236 * MM


def test_a_told_thickness_is_used():
    ply = Stock(
        name="ply", package=Package(word="sheet", sheet=(2440 * MM, 1220 * MM)), thick=21 * MM, kerf=3 * MM
    )
    panels, nests = told(ply)

    assert [a.line for a in panels.assumptions] == ["panel NAME L x L"]
    assert panels.value[0].long == 1242 * MM
    assert [a.line for a in nests.assumptions] == ["grain none"]


def test_every_copy_of_a_mold_is_cut():
    panels, nests = told(mold=Mold(name="form", board="ply", fits=("seat",), count=2))

    assert {panel.molds for panel in panels.value} == {2}
    assert sum(len(cuts) for cuts in nests.value[0].sheets) == 10
