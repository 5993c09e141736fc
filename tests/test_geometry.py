"""The take-off's geometry: each shape by its closed form, layers on corners, cut-outs, lips, meshes."""

import builtins
from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import combinations, product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from castlang.problems.model import Outcome
from castlang.spec.kinds import KINDS, face_names, faces_of, missing_sizes, plain_words
from castlang.spec.model import FaceRef, Leg, Lip, Mesh, Part, Piece, Shape, Step, StepKind
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff.boxes import Box, difference_volume, union_volume
from castlang.takeoff.geometry import Geometry, geometry_of
from castlang.takeoff.grid import PI, root
from castlang.takeoff.prisms import polygon_area, shrunk
from castlang.takeoff.shape_findings import FINDINGS
from castlang.takeoff.solids import prismoid

F = Fraction
HAIR = F(1, 10**9)


def mm(**sizes: float | str) -> dict[str, Fraction]:
    """Sizes in mm, `top_dia` for top-dia."""
    return {word.replace("_", "-"): F(size) / 1000 for word, size in sizes.items()}


def shape(kind: str, **sizes: float | str) -> Shape:
    return Shape(kind=kind, sizes=mm(**sizes))


def less(name: str, kind: str, on: str | None = None, *placed: tuple[int, str], **sizes: float | str) -> Part:
    where = tuple((F(distance, 1000), edge) for distance, edge in placed)
    return Part(name=name, plus=False, shape=shape(kind, **sizes), on=on, placed=where)


def plus(name: str, kind: str, on: str | None = None, **sizes: float | str) -> Part:
    return Part(name=name, plus=True, shape=shape(kind, **sizes), on=on)


def layer(name: str, thick: str, *faces: str) -> Step:
    return Step(
        kind=StepKind.LAYER,
        owner="piece",
        name=name,
        amount=Quantity(si=F(thick) / 1000, dimension=Dimension.LENGTH),
        on=tuple(FaceRef(piece="piece", face=face) for face in faces),
    )


def outcome(body: Shape, *parts: Part, **more: Any) -> Outcome[Geometry]:
    return geometry_of(Piece(name="piece", shape=body, parts=parts, **more))


def geometry(body: Shape, *parts: Part, **more: Any) -> Geometry:
    made = outcome(body, *parts, **more)
    assert made.value is not None, [problem.message for problem in made.problems]
    return made.value


def found(body: Shape, *parts: Part, **more: Any) -> list[str]:
    return [problem.finding.name for problem in outcome(body, *parts, **more).problems]


def near(one: Fraction, other: Fraction, within: Fraction = HAIR) -> bool:
    return abs(one - other) <= within * max(abs(other), F(1, 10**3))


# ---------------------------------------------------------------- shapes by their closed forms

PLAIN: list[tuple[str, dict[str, float | str], str, dict[str, str]]] = [
    # kind, sizes mm, volume m3, areas m2; rectilinear ones are exact, by hand
    (
        "slab",
        {"long": 1200, "wide": 400, "thick": 50},
        "0.024",
        {"top": "0.48", "front": "0.06", "ends": "0.04", "sides": "0.16", "all": "1.12"},
    ),
    ("box", {"long": 500, "wide": 400, "high": 300}, "0.06", {"left": "0.12", "all": "0.94"}),
    (
        "panel",
        {"long": 1000, "high": 500, "thick": 30},
        "0.015",
        {"front": "0.5", "back": "0.5", "top": "0.03", "ends": "0.03", "all": "1.09"},
    ),
    (
        "tray",
        {"long": 1000, "wide": 600, "high": 300, "thick": 50},
        "0.06750",
        {
            "outside": "0.96",
            "foot": "0.6",
            "floor": "0.45",
            "walls": "0.7",
            "rim": "0.15",
            "inside": "1.15",
            "all": "2.86",
        },
    ),
    (
        "tray",
        {"long": 1000, "wide": 600, "high": 300, "wall": 50, "deep": 220},
        "0.081",
        {"walls": "0.616", "floor": "0.45"},
    ),
    (
        "channel",
        {"long": 1000, "wide": 300, "high": 200, "thick": 30},
        "0.0192",
        {"rim": "0.06", "walls": "0.34", "floor": "0.24", "ends": "0.0384", "outside": "0.4"},
    ),
    (
        "angle",
        {"long": 1000, "leg": 300, "rise": 200, "thick": 30},
        "0.0141",
        {"top": "0.3", "front": "0.2", "inside": "0.44", "back": "0.03", "foot": "0.03", "ends": "0.0282"},
    ),
    (
        "ramp",
        {"long": 400, "wide": 200, "rise": 300, "thick": 50},
        "0.016",
        {"top": "0.1", "foot": "0.08", "left": "0.01", "right": "0.07", "front": "0.08"},
    ),
    ("ramp", {"long": 400, "wide": 200, "rise": 300}, "0.012", {"top": "0.1", "all": "0.36"}),
]


@pytest.mark.parametrize(("kind", "sizes", "volume", "areas"), PLAIN)
def test_a_shape_of_flat_faces_has_the_volume_and_areas_worked_by_hand(
    kind: str, sizes: dict[str, float | str], volume: str, areas: dict[str, str]
) -> None:
    made = geometry(shape(kind, **sizes))

    assert made.volume == F(volume)
    assert {face: made.area(face) for face in areas} == {face: F(area) for face, area in areas.items()}


TURNED: list[tuple[str, dict[str, float | str], list[tuple[float, float]]]] = [
    # kind, sizes mm, the closed section (radius, height) of the same body
    ("disc", {"dia": 400, "thick": 60}, [(0, 0), (200, 0), (200, 60), (0, 60)]),
    (
        "frustum",
        {"top_dia": 360, "foot_dia": 300, "high": 440},
        [(0, 0), (150, 0), (180, 440), (0, 440)],
    ),
    (
        "tube",
        {"dia": 400, "high": 500, "thick": 30},
        [(170, 0), (200, 0), (200, 500), (170, 500), (170, 0)],
    ),
    (
        "tube",
        {"dia": 400, "high": 500, "wall": 30, "deep": 460},
        [(0, 0), (200, 0), (200, 500), (170, 500), (170, 40), (0, 40)],
    ),
]


def _arc(
    radius: float, middle: float, low: float, high: float, steps: int = 400
) -> list[tuple[float, float]]:
    heights = [low + (high - low) * i / steps for i in range(steps + 1)]
    return [(max(0.0, radius**2 - (z - middle) ** 2) ** 0.5, z) for z in heights]


# a dome of 400 by 150 mm and the bowl of the same sphere: radius (200^2 + 150^2) / 300 = 208.33 mm
_R = (200**2 + 150**2) / 300
TURNED += [
    ("dome", {"dia": 400, "high": 150}, [(0, 0), *_arc(_R, 150 - _R, 0, 150)]),
    (
        "dome",
        {"dia": 400, "high": 150, "thick": 20},
        [*_arc(_R, 150 - _R, 0, 150), *reversed(_arc(_R - 20, 150 - _R, 0, 130)), (200, 0)],
    ),
    (
        "bowl",
        {"dia": 400, "high": 150, "thick": 20},
        [*_arc(_R, _R, 0, 150), *reversed(_arc(_R - 20, _R, 20, 150))],
    ),
]
_M = ((400**2 - 150**2) / 4 + 150**2) / 300
_B = (_M**2 + 75**2) ** 0.5
TURNED.append(
    (
        "bowl",
        {"dia": 400, "high": 150, "thick": 20, "foot_dia": 150},
        [(0, 0), *_arc(_B, _M, 0, 150), *reversed(_arc(_B - 20, _M, 20, 150)), (0, 20)],
    )
)


@pytest.mark.parametrize(("kind", "sizes", "section"), TURNED)
def test_a_turned_shape_agrees_with_a_fine_mesh_of_the_same_section(
    kind: str, sizes: dict[str, float | str], section: list[tuple[float, float]]
) -> None:
    trimesh = pytest.importorskip("trimesh")
    mesh = trimesh.creation.revolve(section, sections=720)

    made = geometry(shape(kind, **sizes))

    assert float(made.volume) * 1e9 == pytest.approx(abs(mesh.volume), rel=5e-4)
    assert float(made.area("all")) * 1e6 == pytest.approx(mesh.area, rel=5e-4)


def test_a_frustum_is_the_same_upside_down() -> None:
    one = geometry(shape("frustum", top_dia=360, foot_dia=300, high=440))
    other = geometry(shape("frustum", top_dia=300, foot_dia=360, high=440))

    assert one.volume == other.volume
    assert one.area("side") == other.area("side")


def test_a_frustum_agrees_with_the_prismoid_rule() -> None:
    ends = [PI / 4 * F(dia, 1000) ** 2 for dia in (360, 330, 300)]

    made = geometry(shape("frustum", top_dia=360, foot_dia=300, high=440))

    assert near(made.volume, prismoid(ends[0], ends[1], ends[2], F("0.44")))


@pytest.mark.parametrize(("dia", "high"), [(400, 150), (400, 200), (123, 7)])
def test_a_dome_agrees_with_the_prismoid_rule(dia: int, high: int) -> None:
    """The section of a ball is of degree two in the height, so that the rule is exact."""
    radius = (F(dia) ** 2 / 4 + F(high) ** 2) / (2 * high)
    sections = [PI * (radius**2 - (z - (high - radius)) ** 2) for z in (F(0), F(high, 2), F(high))]

    made = geometry(shape("dome", dia=dia, high=high))

    assert near(made.volume * 10**9, prismoid(sections[0], sections[1], sections[2], F(high)), F(1, 10**6))


def test_a_corner_wall_and_a_run_of_two_legs_are_the_same_wall() -> None:
    run = Shape(
        kind="run",
        sizes=mm(high=1080, thick=60),
        legs=(Leg(long=F("2.4"), turn=F(90)), Leg(long=F("1.5"))),
    )
    corner = geometry(shape("corner-wall", long=2400, wide=1500, high=1080))

    solid = geometry(run)

    assert solid.volume == corner.laid({"front": F("0.06"), "side": F("0.06")})
    assert solid.area("front") == corner.area("outside")


def test_a_run_that_turns_away_is_longer_behind_than_in_front() -> None:
    legs = (Leg(long=F("2.4"), turn=F(-90)), Leg(long=F("1.5")))

    made = geometry(Shape(kind="run", sizes=mm(high=1000, thick=100), legs=legs))

    assert made.area("front") == F("3.9")
    assert made.area("back") == F("4.1")
    assert made.volume == F("0.40")


def test_the_mean_of_front_and_back_times_the_thickness_is_the_volume_of_any_run() -> None:
    turns = (Leg(long=F(2), turn=F(30)), Leg(long=F(1), turn=F(-45)), Leg(long=F(3)))

    made = geometry(Shape(kind="run", sizes=mm(high=1000, thick=80), legs=turns))

    assert near(made.volume, (made.area("front") + made.area("back")) / 2 * F("0.08"))


# ---------------------------------------------------------------- layers


SOLIDS = [(kind, sizes) for kind, sizes, *_ in PLAIN] + [(kind, sizes) for kind, sizes, _ in TURNED]


@pytest.mark.parametrize(("kind", "sizes"), SOLIDS)
def test_a_thin_layer_is_area_times_thickness(kind: str, sizes: dict[str, float | str]) -> None:
    made = geometry(shape(kind, **sizes))
    thin = F(1, 10**5)

    for face in made.primitives("all"):
        laid = made.laid({face: thin})

        assert float(laid) == pytest.approx(float(made.area(face) * thin), rel=1e-2), face


@pytest.mark.parametrize(("kind", "sizes"), SOLIDS)
def test_layers_never_fill_more_than_the_body(kind: str, sizes: dict[str, float | str]) -> None:
    made = geometry(shape(kind, **sizes))
    everywhere = dict.fromkeys(made.primitives("all"), F(1))

    assert made.laid(everywhere) == made.volume
    assert made.laid({}) == 0


@pytest.mark.parametrize(
    ("kind", "sizes", "face", "thick"),
    [
        ("slab", {"long": 1200, "wide": 400, "thick": 50}, "top", 50),
        ("tray", {"long": 1000, "wide": 600, "high": 300, "thick": 50}, "inside", 50),
        ("tube", {"dia": 400, "high": 500, "thick": 30}, "side", 30),
        ("tube", {"dia": 400, "high": 500, "thick": 30}, "walls", 30),
        ("dome", {"dia": 400, "high": 150, "thick": 20}, "outside", 20),
        ("bowl", {"dia": 400, "high": 150, "thick": 20}, "inside", 20),
        ("angle", {"long": 1000, "leg": 300, "rise": 200, "thick": 30}, "outside", 30),
        ("channel", {"long": 1000, "wide": 300, "high": 200, "thick": 30}, "inside", 30),
    ],
)
def test_a_layer_as_thick_as_the_body_is_the_body(
    kind: str, sizes: dict[str, float | str], face: str, thick: int
) -> None:
    made = geometry(shape(kind, **sizes))

    laid = made.laid(dict.fromkeys(made.primitives(face), F(thick, 1000)))

    assert laid == made.volume


def test_a_layer_on_two_walls_counts_their_corner_once() -> None:
    """((a + b) t - t^2) h"""
    made = geometry(shape("corner-wall", long=2400, wide=1500, high=1080))

    laid = made.laid(dict.fromkeys(made.primitives("all"), F("0.017")))

    assert laid == (F("3.9") * F("0.017") - F("0.017") ** 2) * F("1.08")


def test_a_layer_on_two_faces_of_a_block_counts_their_corner_once() -> None:
    made = geometry(shape("box", long=500, wide=400, high=300))
    a, b, t, h = F("0.5"), F("0.4"), F("0.025"), F("0.3")

    assert made.laid({"front": t, "left": t}) == ((a + b) * t - t * t) * h


def test_a_layer_inside_a_tray_is_mitred_into_the_wall() -> None:
    """The room grows by t all round and down: (l + 2t)(w + 2t)(d + t) - l w d."""
    made = geometry(shape("tray", long=1000, wide=600, high=300, thick=50))
    t = F("0.01")

    assert made.laid({"walls": t, "floor": t}) == (
        F("0.92") * F("0.52") * F("0.26") - F("0.9") * F("0.5") * F("0.25")
    )


def test_a_second_layer_is_the_difference_of_two_offsets() -> None:
    made = geometry(shape("box", long=500, wide=400, high=300))
    first = dict.fromkeys(made.primitives("all"), F("0.01"))
    both = dict.fromkeys(made.primitives("all"), F("0.03"))

    second = made.laid(both) - made.laid(first)

    assert second == F("0.48") * F("0.38") * F("0.28") - F("0.44") * F("0.34") * F("0.24")


def test_the_tread_of_a_stair_is_pressed_round_its_nose() -> None:
    notch = less("notch", "box", "back", long=90, wide=40, deep=60)
    made = geometry(
        shape("slab", long=1050, wide=310, thick=60), notch, faces={"show": ("top", "front", "ends")}
    )

    laid = made.laid(dict.fromkeys(made.primitives("show"), F("0.025")))

    assert made.primitives("show") == ("top", "front", "left", "right")
    assert made.volume == F("1.05") * F("0.31") * F("0.06") - F("0.09") * F("0.04") * F("0.06")
    # 1000 x 285 x 35 is left; the notch keeps 25 mm of its 40 mm under the layer
    assert made.volume - laid == F("1.000") * F("0.285") * F("0.035") - F("0.09") * F("0.025") * F("0.06")


# ---------------------------------------------------------------- shells and lips


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


# ---------------------------------------------------------------- cut-outs and added bodies


def test_a_hole_without_a_depth_goes_through_and_opens_both_faces() -> None:
    made = geometry(shape("slab", long=1200, wide=400, thick=50), less("jet", "disc", dia=100))
    hole = PI / 4 / 100

    assert near(made.volume, F("0.024") - hole * F("0.05"))
    assert near(made.area("top"), F("0.48") - hole)
    assert near(made.area("foot"), F("0.48") - hole)
    assert near(made.area("jet"), PI / 10 * F("0.05"))


def test_where_a_part_sits_is_listed_as_assumed() -> None:
    made = outcome(shape("slab", long=1200, wide=400, thick=50), less("jet", "disc", dia=100))

    assert [(told.subject, told.says, told.line) for told in made.assumptions] == [
        ("jet of piece", "on the top", "on top"),
        ("jet of piece", "in the middle of the top", "placed 600 mm from left, 200 mm from front"),
    ]


def test_a_part_that_says_where_it_sits_assumes_nothing() -> None:
    jet = less("jet", "disc", "top", (100, "left"), (200, "front"), dia=100)

    assert outcome(shape("slab", long=1200, wide=400, thick=50), jet).assumptions == ()


def test_a_blind_pocket_has_walls_and_a_floor() -> None:
    made = geometry(
        shape("slab", long=1200, wide=400, thick=50), less("dish", "box", "top", long=300, wide=200, deep=20)
    )

    assert made.area("dish") == 2 * F("0.5") * F("0.02") + F("0.06")
    assert made.area("top") == F("0.42")
    assert made.area("foot") == F("0.48")
    assert made.cavity("dish", None).walls == F("0.02")
    assert made.inside_volume("dish", F("0.005")) == F("0.0003")
    assert made.inside_volume("dish", None) == F("0.0012")
    assert made.thinnest() == F("0.03")


def test_a_groove_from_end_to_end_has_two_walls_and_opens_both_ends() -> None:
    made = geometry(
        shape("slab", long=1000, wide=400, thick=50), less("drip", "box", "foot", long=1000, wide=10, deep=5)
    )

    assert made.area("drip") == F("0.020")
    assert made.area("left") == F("0.02") - F("0.00005")
    assert made.area("foot") == F("0.39")


def test_two_cuts_from_two_faces_that_meet_are_taken_out_once() -> None:
    made = geometry(
        shape("box", long=300, wide=300, high=300),
        less("down", "box", "top", long=100, wide=100),
        less("across", "box", "front", long=100, wide=100),
    )

    assert made.volume == F("0.027") - 2 * F("0.003") + F("0.001")


def test_a_drain_sits_on_the_floor_of_a_recess() -> None:
    made = geometry(
        shape("slab", long=1200, wide=400, thick=50),
        less("recess", "disc", "top", dia=200, deep=20),
        less("drain", "disc", "recess", dia=40),
    )
    wide, small = PI / 4 * F("0.04"), PI / 4 * F("0.0016")

    assert near(made.volume, F("0.024") - wide * F("0.02") - small * F("0.03"))
    assert near(made.area("recess"), PI * F("0.2") * F("0.02") + wide - small)
    assert near(made.area("foot"), F("0.48") - small)


def test_a_body_that_stands_on_a_face_covers_it() -> None:
    made = geometry(
        shape("slab", long=1000, wide=400, thick=50), plus("curb", "box", "top", long=200, wide=100, high=80)
    )

    assert made.volume == F("0.02") + F("0.0016")
    assert made.area("top") == F("0.38")
    assert made.area("curb") == F("0.02") + 2 * F("0.3") * F("0.08")
    assert made.depth() == F("0.13")


def test_a_layer_runs_up_a_body_that_stands_on_the_face() -> None:
    made = geometry(
        shape("slab", long=1000, wide=400, thick=50), plus("curb", "box", "top", long=200, wide=100, high=80)
    )
    t = F("0.01")

    laid = made.laid({"top": t, "curb": t})

    left = F("0.4") * F("0.04") + F("0.18") * F("0.08") * F("0.08")
    assert made.volume - laid == left


def test_a_round_body_that_stands_on_a_face_grows_the_same_way() -> None:
    made = geometry(
        shape("slab", long=1000, wide=400, thick=50), plus("post", "disc", "top", dia=100, high=80)
    )
    t = F("0.01")

    laid = made.laid({"top": t, "post": t})

    left = F("0.4") * F("0.04") + PI / 4 * F("0.08") ** 2 * F("0.08")
    assert near(made.volume - laid, left)


def test_a_lined_hole_is_mitred_like_a_lined_tray() -> None:
    """A layer on a round pocket grows outward and down: the pocket with a radius and a depth greater by t."""
    made = geometry(
        shape("slab", long=1000, wide=400, thick=50), less("pot", "disc", "top", dia=100, deep=20)
    )

    laid = made.laid({"pot": F("0.01")})

    grown = PI / 4 * F("0.12") ** 2 * F("0.03") - PI / 4 * F("0.1") ** 2 * F("0.02")
    assert near(laid, grown, F(1, 10**6))


def test_the_stool_keeps_its_walls() -> None:
    hollow = less("hollow", "frustum", "foot", top_dia=280, foot_dia=220, high=380)
    made = geometry(shape("frustum", top_dia=360, foot_dia=300, high=440), hollow)

    thinnest = made.thinnest()

    # beside the top of the hollow: (300 + 60 x 380/440 - 280) / 2 mm
    assert thinnest == (F(300) + F(60 * 380, 440) - 280) / 2 / 1000
    assert near(made.cavity("hollow", None).section, PI / 4 * F("0.22") ** 2)


def test_a_tray_holds_water_to_a_depth_and_no_further_than_its_rim() -> None:
    made = geometry(shape("tray", long=1000, wide=600, high=300, thick=50))

    assert made.inside_volume("inside", F("0.1")) == F("0.045")
    assert made.inside_volume("inside", None) == made.inside_volume("floor", F(2)) == F("0.1125")
    assert made.holds("inside")
    assert not made.holds("outside")


def test_a_bowl_filled_to_its_rim_is_the_ball_that_is_missing() -> None:
    thin = geometry(shape("bowl", dia=400, high=150, thick=20))
    solid = geometry(shape("dome", dia=400, high=150))

    assert near(thin.inside_volume("inside", None) + thin.volume, solid.volume, F(1, 10**6))
    assert thin.inside_volume("inside", F("0.05")) < thin.inside_volume("inside", None)


# ---------------------------------------------------------------- what is refused

SLAB = shape("slab", long=1000, wide=400, thick=50)

REFUSED: list[tuple[str, Shape, tuple[Part, ...]]] = [
    ("no-body", shape("tray", long=1000, wide=90, high=300, thick=45), ()),
    ("no-body", shape("tube", dia=100, high=300, thick=50), ()),
    ("no-body", shape("dome", dia=100, high=51), ()),
    ("no-body", shape("bowl", dia=100, high=60, thick=5), ()),
    ("no-body", shape("bowl", dia=100, high=40, thick=45), ()),
    ("no-body", shape("angle", long=100, leg=20, rise=40, thick=20), ()),
    ("no-body", shape("channel", long=100, wide=60, high=40, thick=30), ()),
    ("no-body", shape("slab", long=100, wide=0, thick=30), ()),
    ("no-body", shape("slab", long=-100, wide=10, thick=30), ()),
    ("no-body", Shape(kind="run", sizes=mm(high=500, thick=60), legs=(Leg(long=F(1), turn=F(90)), Leg(long=F("0.05")))), ()),
    ("part-seat", SLAB, (less("jet", "disc", "rim", dia=20),)),
    ("part-seat", SLAB, (less("jet", "disc", "sides", dia=20),)),
    ("part-off-face", SLAB, (less("jet", "disc", "top", dia=401),)),
    ("part-off-face", SLAB, (less("jet", "disc", "front", dia=51),)),
    ("part-off-face", SLAB, (less("jet", "disc", "top", (10, "left"), dia=40),)),
    ("part-off-face", SLAB, (plus("curb", "box", "top", long=500, wide=401, high=10),)),
    ("part-off-face", shape("disc", dia=100, thick=20), (less("sq", "box", "top", long=80, wide=80),)),
    ("part-overlap", SLAB, (less("a", "disc", "top", dia=20), less("b", "disc", "top", dia=20))),
    ("part-overlap", SLAB, (less("a", "disc", "top", dia=20), plus("b", "box", "top", long=50, wide=50, high=9))),
    ("cut-depth", SLAB, (less("dish", "box", "top", long=50, wide=50, deep=51),)),
    ("cut-depth", SLAB, (less("dish", "dome", "top", dia=200, high=50),)),
    ("cut-depth", shape("disc", dia=100, thick=50), (less("hole", "disc", "side", dia=10),)),
    (
        "cut-through-wall",
        shape("frustum", top_dia=360, foot_dia=300, high=440),
        (less("hollow", "frustum", "foot", top_dia=370, foot_dia=220, high=380),),
    ),
    ("placed-edge", SLAB, (less("jet", "disc", "top", (100, "foot"), dia=40),)),
    ("placed-edge", SLAB, (less("jet", "disc", "top", (100, "left"), (200, "right"), dia=40),)),
    ("cut-in-shell", shape("panel", long=1000, high=500), (less("dish", "box", long=50, wide=50, deep=5),)),
    ("plus-on-shell", shape("panel", long=1000, high=500), (plus("boss", "box", long=50, wide=50, high=5),)),
]  # fmt: skip


@pytest.mark.parametrize(("name", "body", "parts"), REFUSED)
def test_what_cannot_be_cast_is_told(name: str, body: Shape, parts: tuple[Part, ...]) -> None:
    made = outcome(body, *parts)

    assert made.value is None
    assert [problem.finding.name for problem in made.problems] == [name]
    assert all(problem.message.startswith(("piece", *(p.name for p in parts))) for problem in made.problems)


def test_a_message_says_what_was_found_and_what_was_wanted() -> None:
    made = outcome(SLAB, less("dish", "box", "top", long=50, wide=50, deep=51))

    assert made.problems[0].message == "dish of piece is 51 mm deep, behind top are 50 mm"
    assert made.problems[0].about == ("piece", "piece.dish")


def test_two_holes_side_by_side_are_no_overlap() -> None:
    taps = [less(f"tap-{x}", "disc", "top", (x, "left"), dia=40) for x in (100, 140)]

    assert found(SLAB, *taps) == []


def test_a_slot_too_long_to_lie_along_a_face_stands_up() -> None:
    tall = less("slot", "box", "front", (100, "left"), long=1000, wide=40)

    assert found(shape("corner-wall", long=400, wide=400, high=1080), tall) == []


def test_lips_are_refused_where_there_is_no_free_edge() -> None:
    lip = Lip(name="lip", deep=F("0.05"), on="top")
    deep = Lip(name="lip", deep=F("1.6"), on="top")
    corner = shape("corner-wall", long=2400, wide=1500, high=1080)

    assert found(SLAB, lips=(lip,)) == ["lip-place"]
    assert found(corner, lips=(deep,)) == ["lip-place"]
    assert found(corner, lips=(lip, Lip(name="again", deep=F("0.05"), on="top"))) == ["lip-place"]


def test_a_layer_on_the_edge_of_a_shell_is_refused() -> None:
    panel = shape("panel", long=1000, high=500)

    assert found(panel, sequence=(layer("a", "3", "top"),)) == ["layer-on-edge"]
    assert found(panel, sequence=(layer("a", "3", "front"),)) == []


def test_a_piece_without_a_shape_is_told() -> None:
    made = geometry_of(Piece(name="piece"))

    assert [problem.finding.name for problem in made.problems] == ["no-shape"]


def test_an_unknown_face_or_cut_out_is_a_key_error() -> None:
    made = geometry(SLAB)

    for ask in (made.primitives, made.area, lambda face: made.cavity(face, None)):
        with pytest.raises(KeyError):
            ask("lid")


def test_each_finding_says_what_why_and_what_to_do() -> None:
    names = [finding.name for finding in FINDINGS]

    assert len(names) == len(set(names))
    assert all(finding.says and finding.why and finding.remedy and finding.source for finding in FINDINGS)


# ---------------------------------------------------------------- the table of kinds


def _sample(kind: str) -> Shape:
    sizes: dict[str, Fraction] = {}
    usual = {"thick": 20, "high": 150, "deep": 100, "foot-dia": 100, "rise": 150}
    for word in KINDS[kind].sizes:
        sizes[word] = F(usual.get(word, 400), 1000)
    legs = (Leg(long=F(1), turn=F(90)), Leg(long=F(1))) if kind == "run" else ()
    return Shape(kind=kind, sizes=sizes, legs=legs)


@pytest.mark.parametrize("kind", KINDS)
def test_every_face_word_of_a_kind_can_be_asked_for(kind: str) -> None:
    body = _sample(kind)
    made = geometry(body)

    for face in faces_of(kind, body.sizes):
        assert made.area(face) >= 0, face


@pytest.mark.parametrize("kind", KINDS)
def test_the_words_of_a_kind_hang_together(kind: str) -> None:
    told = KINDS[kind]

    assert told.name == kind
    assert {face for faces in told.groups.values() for face in faces} <= set(told.faces)
    assert set(told.only_with) <= set(told.faces)
    assert set(told.alternatives) <= {*told.sizes, *told.optional}
    assert told.seat in face_names(kind)
    assert missing_sizes(kind, told.sizes) == ()
    assert not missing_sizes(kind, [w for w in told.sizes if w != told.depth], cut=True)
    assert plain_words(kind, told.sizes) == {word: word for word in told.sizes}


def test_a_tray_may_call_its_thickness_wall() -> None:
    assert plain_words("tray", ["wall", "long"]) == {"wall": "thick", "long": "long"}


# ---------------------------------------------------------------- boxes

Corners = tuple[tuple[int, int, int], tuple[int, int, int]]


def _boxes(corners: Sequence[Corners]) -> list[Box]:
    def point(at: tuple[int, int, int]) -> tuple[Fraction, Fraction, Fraction]:
        return (F(at[0], 3), F(at[1], 3), F(at[2], 3))

    return [Box(low=point(low), high=point(high)) for low, high in corners]


def _corners() -> st.SearchStrategy[list[Corners]]:
    number = st.integers(min_value=0, max_value=6)
    point = st.tuples(number, number, number)
    return st.lists(st.tuples(point, point), max_size=5)


def _cells(corners: Sequence[Corners]) -> set[tuple[int, ...]]:
    return {
        cell
        for low, high in corners
        for cell in product(*(range(a, b) for a, b in zip(low, high, strict=True)))
    }


@given(_corners(), _corners())
@settings(deadline=None, max_examples=60)
def test_boxes_fill_the_cells_that_any_of_them_fills(solids: list[Corners], voids: list[Corners]) -> None:
    cell = F(1, 27)

    assert union_volume(_boxes(solids)) == len(_cells(solids)) * cell
    left = difference_volume(_boxes(solids), _boxes(voids))
    assert left == len(_cells(solids) - _cells(voids)) * cell


@given(_corners())
@settings(deadline=None, max_examples=40)
def test_boxes_agree_with_inclusion_and_exclusion(corners: list[Corners]) -> None:
    def common(chosen: Sequence[Corners]) -> Fraction:
        sides = [
            max(0, min(high[a] for _, high in chosen) - max(low[a] for low, _ in chosen)) for a in range(3)
        ]
        return F(sides[0] * sides[1] * sides[2], 27)

    expected = sum(
        ((-1) ** (size + 1) * common(chosen) for size in range(1, len(corners) + 1) for chosen in combinations(corners, size)),
        F(0),
    )  # fmt: skip

    assert union_volume(_boxes(corners)) == expected


@given(
    st.tuples(*(st.integers(min_value=2, max_value=2000) for _ in range(3))),
    st.lists(st.integers(min_value=0, max_value=900), min_size=6, max_size=6),
)
@settings(deadline=None, max_examples=60)
def test_what_is_left_of_a_block_under_layers_is_the_block_between_them(
    sides: tuple[int, int, int], layers: list[int]
) -> None:
    made = geometry(shape("box", long=sides[0], wide=sides[1], high=sides[2]))
    names = ("left", "right", "front", "back", "foot", "top")

    laid = made.laid({face: F(t, 1000) for face, t in zip(names, layers, strict=True)})

    left = [max(0, sides[a] - layers[2 * a] - layers[2 * a + 1]) for a in range(3)]
    assert made.volume - laid == F(left[0] * left[1] * left[2], 10**9)


@given(st.integers(min_value=1, max_value=400), st.integers(min_value=0, max_value=60))
@settings(deadline=None, max_examples=40)
def test_more_layers_never_fill_less(thick: int, more: int) -> None:
    made = geometry(shape("frustum", top_dia=360, foot_dia=300, high=440))
    first = dict.fromkeys(made.primitives("all"), F(thick, 1000))
    second = dict.fromkeys(made.primitives("all"), F(thick + more, 1000))

    assert made.laid(first) <= made.laid(second) <= made.volume


def test_a_square_shrinks_by_its_offsets_and_grows_back() -> None:
    square = [(F(0), F(0)), (F(4), F(0)), (F(4), F(3)), (F(0), F(3))]

    assert polygon_area(shrunk(square, [F(1), F(0), F(0), F(1)])) == 6
    assert polygon_area(shrunk(square, [F(-1)] * 4)) == 30
    assert shrunk(square, [F(2)] * 4) == ()


def test_a_root_is_exact_where_it_can_be() -> None:
    assert root(F(9, 16)) == F(3, 4)
    assert abs(root(F(2)) ** 2 - 2) < F(1, 10**17)


# ---------------------------------------------------------------- meshes


def _export(kind: str) -> bytes:
    """A block of 100 x 60 x 40 units, standing on its foot."""
    trimesh = pytest.importorskip("trimesh")
    mesh = trimesh.creation.box(extents=(100, 60, 40))
    data = mesh.export(file_type=kind)
    return data if isinstance(data, bytes) else data.encode()


def _mesh(
    data: bytes, file: str = "block.stl", unit: Fraction = F(1, 1000), **more: Any
) -> Outcome[Geometry]:
    return geometry_of(Piece(name="piece", mesh=Mesh(file=file, unit=unit, data=data), **more))


@pytest.mark.parametrize("kind", ["stl", "obj", "3mf"])
def test_a_mesh_file_has_its_volume_and_its_faces_by_direction(kind: str) -> None:
    made = _mesh(_export(kind), f"block.{kind}").value

    assert made is not None
    assert made.volume == F("0.00024")
    assert {face: made.area(face) for face in ("up", "down", "sides", "all")} == {
        "up": F("0.006"),
        "down": F("0.006"),
        "sides": F("0.0128"),
        "all": F("0.0248"),
    }
    assert made.depth() == F("0.04")


def test_the_unit_of_a_mesh_is_the_one_that_is_told() -> None:
    made = _mesh(_export("stl"), unit=F(254, 10000)).value

    assert made is not None
    assert made.volume == F(240000) * F(254, 10000) ** 3


def test_a_mesh_of_a_frustum_agrees_with_the_shape() -> None:
    trimesh = pytest.importorskip("trimesh")
    surface = trimesh.creation.revolve([(0, 0), (150, 0), (180, 440), (0, 440)], sections=720)
    made = _mesh(surface.export(file_type="stl")).value
    plain = geometry(shape("frustum", top_dia=360, foot_dia=300, high=440))

    assert made is not None
    assert near(made.volume, plain.volume, F(1, 10**4))
    assert near(made.area("sides"), plain.area("side"), F(1, 10**4))
    assert near(made.area("up"), plain.area("top"), F(1, 10**4))


def test_a_mesh_with_a_hole_in_it_is_refused() -> None:
    trimesh = pytest.importorskip("trimesh")
    surface = trimesh.creation.box(extents=(100, 60, 40))
    surface.update_faces([True] * 11 + [False])

    made = _mesh(surface.export(file_type="stl"))

    assert made.value is None
    assert [problem.finding.name for problem in made.problems] == ["mesh-open"]


@pytest.mark.parametrize("kind", ["stl", "obj", "3mf"])
@pytest.mark.parametrize(
    "data", [b"", b"solid", b"\x00" * 84, b"PK\x03\x04", b"v 1 2\nf 1 2 9\n", bytes(range(256)) * 4]
)
def test_a_broken_mesh_file_is_told_and_never_a_traceback(kind: str, data: bytes) -> None:
    made = _mesh(data, f"broken.{kind}")

    assert made.value is None
    assert [problem.finding.name for problem in made.problems] == ["mesh-file"]


@given(st.binary(max_size=400))
@settings(deadline=None, max_examples=40)
def test_no_bytes_at_all_break_the_mesh_reader(data: bytes) -> None:
    for kind in ("stl", "obj", "3mf"):
        assert _mesh(data, f"noise.{kind}").value is None


def test_a_mesh_of_another_kind_of_file_is_refused() -> None:
    made = _mesh(b"", "block.step")

    assert [problem.finding.name for problem in made.problems] == ["mesh-file"]


def test_without_the_extra_the_command_that_installs_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    plain: Callable[..., Any] = builtins.__import__

    def without(name: str, *rest: Any) -> Any:
        if name == "trimesh":
            raise ImportError(name)
        return plain(name, *rest)

    monkeypatch.setattr(builtins, "__import__", without)

    made = _mesh(b"")

    assert [(p.finding.name, p.finding.remedy) for p in made.problems] == [
        ("mesh-extra", 'pip install "castlang[mesh]"')
    ]


def test_a_part_on_a_mesh_is_refused() -> None:
    made = _mesh(_export("stl"), parts=(less("jet", "disc", "up", dia=20),))

    assert [problem.finding.name for problem in made.problems] == ["part-on-mesh"]


def test_a_layer_on_a_mesh_is_area_times_thickness_and_says_so() -> None:
    made = _mesh(_export("stl"), sequence=(layer("face", "2", "up"),))

    assert made.value is not None
    assert made.value.laid({"up": F("0.002")}) == F("0.000012")
    assert [told.says for told in made.assumptions] == ["area times thickness, corners not taken off"]
