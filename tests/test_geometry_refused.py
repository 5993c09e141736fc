"""What cannot be cast is told, and what to do about it."""

import pytest
from bodies import F, found, geometry, layer, less, mm, outcome, plus, shape

from castlang.spec.model import Leg, Lip, Part, Piece, Shape
from castlang.takeoff.geometry import geometry_of
from castlang.takeoff.shape_findings import FINDINGS

SHORT_LEG = Shape(
    kind="run", sizes=mm(high=500, thick=60), legs=(Leg(long=F(1), turn=F(90)), Leg(long=F("0.05")))
)
CORNERED = less("a", "box", "top", (100, "left"), (100, "front"), long=100, wide=100, deep=10)
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
    ("no-body", SHORT_LEG, ()),
    ("part-seat", SLAB, (less("jet", "disc", "rim", dia=20),)),
    ("part-seat", SLAB, (less("jet", "disc", "sides", dia=20),)),
    ("part-off-face", SLAB, (less("jet", "disc", "top", dia=401),)),
    ("part-off-face", SLAB, (less("jet", "disc", "front", dia=51),)),
    ("part-off-face", SLAB, (less("jet", "disc", "top", (10, "left"), dia=40),)),
    ("part-off-face", SLAB, (plus("curb", "box", "top", long=500, wide=401, high=10),)),
    ("part-off-face", shape("disc", dia=100, thick=20), (less("sq", "box", "top", long=80, wide=80),)),
    ("part-overlap", SLAB, (less("a", "disc", "top", dia=20), less("b", "disc", "top", dia=20))),
    ("part-overlap", SLAB, (CORNERED, less("b", "disc", "top", (170, "left"), (170, "front"), dia=80))),
    ("part-overlap", SLAB, (less("a", "disc", dia=20), plus("b", "box", "top", long=50, wide=50, high=9))),
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


def test_a_hole_in_a_lip_is_refused_in_those_words() -> None:
    panel = shape("panel", long=1000, high=500)
    (problem,) = outcome(
        panel,
        less("slot", "box", "drip", long=50, wide=20),
        lips=(Lip(name="drip", deep=F("0.05"), on="foot"),),
    ).problems

    assert problem.message == "slot of piece sits on drip, which is a lip, and lips take no parts"
    assert (
        problem.remedy
        == "write `on front`; a hole in a return is drawn as one in a run or a panel of its own"
    )


def test_a_part_on_a_face_that_takes_none_is_told_the_faces_that_do() -> None:
    (problem,) = outcome(SLAB, less("jet", "disc", "rim", dia=20)).problems

    assert problem.remedy == (
        "behind `on` stands one of the faces that do: left, right, front, back, foot, top"
    )
