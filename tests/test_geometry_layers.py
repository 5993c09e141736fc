"""Layers grow inward from the mold, and count their corners once."""

import pytest
from bodies import F, geometry, less, mm, near, shape
from hypothesis import given, settings
from hypothesis import strategies as st

from castlang.spec.model import Leg, Shape
from castlang.takeoff.grid import PI, root

SOLIDS: list[tuple[str, dict[str, float | str]]] = [
    ("slab", {"long": 1200, "wide": 400, "thick": 50}),
    ("panel", {"long": 1000, "high": 500, "thick": 30}),
    ("tray", {"long": 1000, "wide": 600, "high": 300, "thick": 50}),
    ("tray", {"long": 1000, "wide": 600, "high": 300, "wall": 50, "deep": 220}),
    ("channel", {"long": 1000, "wide": 300, "high": 200, "thick": 30}),
    ("angle", {"long": 1000, "leg": 300, "rise": 200, "thick": 30}),
    ("ramp", {"long": 400, "wide": 200, "rise": 300, "thick": 50}),
    ("ramp", {"long": 400, "wide": 200, "rise": 300}),
    ("disc", {"dia": 400, "thick": 60}),
    ("frustum", {"top_dia": 360, "foot_dia": 300, "high": 440}),
    ("tube", {"dia": 400, "high": 500, "thick": 30}),
    ("tube", {"dia": 400, "high": 500, "wall": 30, "deep": 460}),
    ("dome", {"dia": 400, "high": 150}),
    ("dome", {"dia": 400, "high": 150, "thick": 20}),
    ("bowl", {"dia": 400, "high": 150, "thick": 20}),
    ("bowl", {"dia": 400, "high": 150, "thick": 20, "foot_dia": 150}),
]


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


def test_layers_round_a_run_leave_the_wall_between_them() -> None:
    legs = (Leg(long=F("2.4"), turn=F(90)), Leg(long=F("1.5")))
    made = geometry(Shape(kind="run", sizes=mm(high=1000, thick=100), legs=legs))
    t = F("0.02")

    laid = made.laid(dict.fromkeys(made.primitives("all"), t))

    plan = (F("3.9") * F("0.08") - F("0.08") ** 2) - (F("3.9") * t - t * t) - 2 * t * F("0.06")
    assert made.volume - laid == plan * F("0.96")


def test_a_layer_on_a_slope_is_measured_square_to_it() -> None:
    """A cone of 45 degrees: 10 mm square to the side is 10 mm times the root of two across."""
    made = geometry(shape("frustum", top_dia=400, foot_dia=200, high=100))
    across = 2 * root(F(2)) / 100

    left = made.volume - made.laid({"side": F("0.01")})

    top, foot = F("0.4") - across, F("0.2") - across
    assert near(left, PI * F("0.1") / 12 * (top * top + top * foot + foot * foot))
