"""Each plain shape by its closed form, or against a fine mesh of the same body."""

from fractions import Fraction
from pathlib import Path

import pytest
from bodies import F, geometry, mm, near, shape

from castlang.spec.kinds import KINDS, face_names, faces_of, missing_sizes, plain_words, size_words
from castlang.spec.model import Leg, Shape
from castlang.takeoff.grid import PI
from castlang.takeoff.solids import prismoid

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
    radius: float, middle: float, low: float, high: float, steps: int = 120
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


@pytest.mark.parametrize("kind", KINDS)
def test_the_page_of_shapes_names_every_size_and_face_of_a_kind(kind: str) -> None:
    page = (Path(__file__).parent.parent / "docs" / "reference" / "shapes.md").read_text(encoding="utf-8")
    row = next(line for line in page.splitlines() if line.startswith(f"| `{kind}`"))
    section = page.split(f"## {kind}\n")[1].split("\n## ")[0]

    words = set(row.replace(",", " ").replace("|", " ").split())
    assert [word for word in size_words(kind) if word not in words] == []
    assert [face for face in face_names(kind) if face != "all" and f"`{face}`" not in section] == []
