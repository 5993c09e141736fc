"""Shells are made by their layers: lips, holes, edges, corners."""

from typing import Any

from bodies import F, geometry, layer, less, mm, near, shape

from castlang.spec.model import Leg, Lip, Shape
from castlang.takeoff.geometry import Geometry
from castlang.takeoff.grid import PI


def desk(**more: Any) -> Geometry:
    return geometry(
        shape("corner-wall", long=2400, wide=1500, high=1080),
        less("slot", "box", "front", long=1044, wide=45),
        lips=(
            Lip(name="counter-lip", deep=F("0.09"), on="top"),
            Lip(name="toe-lip", deep=F("0.06"), on="foot"),
        ),
        faces={"show": ("front", "side", "counter-lip")},
        **more,
    )


def test_a_shell_has_no_volume_before_its_layers() -> None:
    made = desk()

    assert made.shell
    assert made.volume == 0
    assert made.thinnest() is None


def test_the_faces_of_a_desk_with_lips_and_a_slot() -> None:
    made = desk()

    assert made.primitives("all") == ("front", "side", "counter-lip", "toe-lip")
    assert made.primitives("show") == ("front", "side", "counter-lip")
    assert made.primitives("top") == ("counter-lip",)
    assert made.area("front") == F("2.4") * F("1.08") - F("1.044") * F("0.045")
    assert made.area("side") == F("1.5") * F("1.08")
    assert made.area("counter-lip") == F("3.9") * F("0.09") - F("0.09") ** 2


def test_lips_and_walls_share_their_corners_once() -> None:
    made = desk()
    t = F("0.014")

    laid = made.laid(dict.fromkeys(made.primitives("all"), t))

    walls = F("3.9") * t - t * t
    counter = F("3.9") * F("0.09") - F("0.09") ** 2
    toe = F("3.9") * F("0.06") - F("0.06") ** 2
    slot = F("1.044") * F("0.045") * t
    assert laid == walls * (F("1.08") - 2 * t) + (counter + toe) * t - slot


def test_a_folded_shell_with_the_same_lips_fills_the_same_volume() -> None:
    legs = (Leg(long=F("2.4"), turn=F(90)), Leg(long=F("1.5")))
    lips = (Lip(name="a", deep=F("0.09"), on="top"), Lip(name="b", deep=F("0.06"), on="foot"))
    run = geometry(Shape(kind="run", sizes=mm(high=1080), legs=legs), lips=lips)
    corner = geometry(shape("corner-wall", long=2400, wide=1500, high=1080), lips=lips)
    ends = (*lips, Lip(name="c", deep=F("0.05"), on="ends"))
    run_ends = geometry(Shape(kind="run", sizes=mm(high=1080), legs=legs), lips=ends)
    corner_ends = geometry(shape("corner-wall", long=2400, wide=1500, high=1080), lips=ends)

    for one, other in ((run, corner), (run_ends, corner_ends)):
        laid = one.laid(dict.fromkeys(one.primitives("all"), F("0.017")))

        assert laid == other.laid(dict.fromkeys(other.primitives("all"), F("0.017")))
        assert one.area("all") == other.area("all")


def test_a_panel_with_lips_all_round_is_an_open_box_of_layers() -> None:
    edges = ("top", "foot", "left", "right")
    lips = tuple(Lip(name=f"{edge}-lip", deep=F("0.05"), on=edge) for edge in edges)
    made = geometry(shape("panel", long=1000, high=500), lips=lips)
    t = F("0.012")

    laid = made.laid(dict.fromkeys(made.primitives("all"), t))

    hollow = (1 - 2 * t) * (F("0.5") - 2 * t) * (F("0.05") - t)
    assert laid == F("0.5") * F("0.05") - hollow


def test_a_hole_through_a_shell_is_as_deep_as_the_layers() -> None:
    made = desk(sequence=(layer("skin", "3", "show"), layer("back", "14", "all")))

    cavity = made.cavity("slot")

    assert cavity.depth == F("0.017")
    assert cavity.section == F("1.044") * F("0.045")
    assert cavity.volume == cavity.section * F("0.017")
    assert cavity.walls == 2 * (F("1.044") + F("0.045")) * F("0.017") == made.area("slot")
    assert made.cavity("slot", F("0.02")).volume == cavity.section * F("0.02")


def test_the_edge_of_a_shell_is_as_wide_as_its_own_layers() -> None:
    made = geometry(
        shape("panel", long=1000, high=500), sequence=(layer("a", "3", "front"), layer("b", "10", "all"))
    )

    assert made.area("top") == F("0.013")
    assert made.area("ends") == F("0.013")
    assert made.area("back") == F("0.5")


def test_a_round_hole_in_a_shell_leaves_the_layers() -> None:
    made = geometry(shape("panel", long=1000, high=500), less("tap", "disc", dia=100))
    hole = PI / 4 / 100

    assert near(made.area("front"), F("0.5") - hole)
    assert near(made.laid({"front": F("0.01")}), (F("0.5") - hole) / 100, F(1, 10**6))


def test_the_inner_side_of_a_corner_is_shorter_by_both_thicknesses() -> None:
    made = geometry(
        shape("corner-wall", long=2400, wide=1500, high=1000),
        sequence=(layer("a", "20", "front"), layer("b", "30", "side")),
    )

    assert made.area("back") == F("2.37") + F("1.48")
    assert made.area("top") == F("2.4") * F("0.02") + F("1.5") * F("0.03") - F("0.02") * F("0.03")


def test_what_is_laid_on_the_inner_side_of_a_shell_thickens_it() -> None:
    made = geometry(shape("panel", long=1000, high=500))

    assert made.laid({"front": F("0.01"), "back": F("0.02")}) == F("0.015")
