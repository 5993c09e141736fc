"""Closed forms against printed examples.

Unless said otherwise: Machinery's Handbook, 31st edition, 2020, pp. 80 and 89 to 93. Where an older text on
mensuration took pi as 3.1416 (off by 2.3e-6) the tolerance is 1e-5.
"""

from collections.abc import Callable
from fractions import Fraction

import pytest

from castlang.spec.model import Piece, Shape
from castlang.takeoff import solids
from castlang.takeoff.geometry import Geometry, geometry_of

F = Fraction

HANDBOOK = "Machinery's Handbook, 31st ed., 2020, pp. 80, 89-93"
MENSURATION = "worked example of an older text on mensuration, pi 3.1416"
NAVY = "NAVEDTRA 14119, fig. 14-37, areas and volumes for calculating weights of castings"

Form = Callable[..., Fraction]

CHECKS: list[tuple[str, Form, tuple[str, ...], str, str, str]] = [
    # item, form, inputs, printed, relative tolerance, source
    ("cone frustum 32, 24, high 20", solids.frustum, ("32", "24", "20"), "12398.8480", "1e-5", MENSURATION),
    ("cone frustum 4, 2, high 9", solids.frustum, ("4", "2", "9"), "65.9736", "1e-5", MENSURATION),
    ("cone frustum 16, 9, high 38", solids.frustum, ("16", "9", "38"), "4785.1804", "1e-5", MENSURATION),
    ("frustum side, ft", solids.frustum_side, ("16/3", "33/4", "21/2"), "224", "2e-4", MENSURATION),
    ("pyramid frustum, ft", solids.pyramid_frustum, ("6", "3/2", "9/2"), "15.75", "1e-6", MENSURATION),
    (
        "pyramid frustum 15 and 10 in square, 18 ft",
        solids.pyramid_frustum,
        ("225/144", "100/144", "18"),
        "19.7916",
        "1e-5",
        MENSURATION,
    ),
    ("cylinder 2.5, 20 in", solids.cylinder, ("5/2", "20"), "98.17", "1e-4", HANDBOOK),
    ("cylinder side 2.5, 20 in", solids.cylinder_side, ("5/2", "20"), "157.08", "1e-5", HANDBOOK),
    ("cylinder shell 36, 4, 28 cm", solids.tube, ("36", "4", "28"), "11259.5", "1e-5", HANDBOOK),
    ("sphere 6.5 cm", solids.sphere, ("13/2",), "143.79", "1e-4", HANDBOOK),
    ("sphere area 6.5 cm", solids.sphere_area, ("13/2",), "132.73", "1e-4", HANDBOOK),
    ("cap of a sphere 8, high 2", solids.cap, ("4", "2"), "41.888", "1e-5", MENSURATION),
    ("cap of a sphere 20, high 9", solids.cap, ("10", "9"), "1781.2872", "1e-5", MENSURATION),
    ("cap radius, 125 over 50 mm", solids.cap_radius, ("125", "50"), "64", "2e-3", HANDBOOK),
    ("cap area of a sphere 25, high 4", solids.cap_area, ("25/2", "4"), "314.16", "1e-5", MENSURATION),
    ("zone 3, 4, high 1.5 in", solids.zone, ("3", "4", "3/2"), "16.493", "1e-4", HANDBOOK),
    ("hollow sphere 4, 2.5 in", solids.hollow_sphere, ("4", "5/2"), "202.63", "1e-4", HANDBOOK),
    ("torus 5, 1.5 in", solids.torus, ("5", "3/2"), "27.76", "1e-4", HANDBOOK),
    ("torus area 5, 1.5 in", solids.torus_area, ("5", "3/2"), "74.022", "1e-5", HANDBOOK),
    ("torus, inner 18, thick 2 in", solids.torus, ("20", "2"), "197.392", "1e-5", MENSURATION),
    ("torus area, inner 16, thick 4", solids.torus_area, ("20", "4"), "789.568", "1e-5", MENSURATION),
    ("fillet 0.7 in", solids.fillet, ("7/10",), "0.105", "2e-3", HANDBOOK),
    ("fillet 3", solids.fillet, ("3",), "1.9314", "2e-5", MENSURATION),
    ("flat ring 10, 3", solids.ring, ("10", "3"), "71.4714", "1e-5", MENSURATION),
    (
        "prismoid 20 x 16 and 12 x 10 ft, 40",
        solids.prismoid,
        ("320", "208", "120", "40"),
        "8480",
        "1e-9",
        NAVY,
    ),
    ("wedge 4, 5, 3, 4.5 in", solids.wedge, ("4", "5", "3", "9/2"), "29.25", "1e-9", HANDBOOK),
]


@pytest.mark.parametrize(("item", "form", "inputs", "printed", "tolerance", "source"), CHECKS)
def test_a_closed_form_gives_the_printed_figure(
    item: str, form: Form, inputs: tuple[str, ...], printed: str, tolerance: str, source: str
) -> None:
    found = form(*(F(value) for value in inputs))

    off = abs(found / F(printed) - 1)
    assert off <= F(tolerance), f"{item}: {float(found)} for {printed}, {source}"


def test_the_side_of_a_frustum_told_by_its_depth_has_1611_square_feet() -> None:
    """15 ft 4 in and 26 ft 8 in across, 23 ft 9 in deep."""
    top, foot, deep = F(80, 3), F(46, 3), F(95, 4)

    found = solids.frustum_side(top, foot, solids.frustum_slant(top, foot, deep))

    assert abs(found / 1611 - 1) < F(2, 10**4)  # worked example of an older text on mensuration


def test_the_cap_of_50_over_a_chord_of_125_mm_holds_372247_mm3() -> None:
    found = solids.cap(solids.cap_radius(F(125), F(50)), F(50))

    assert abs(found / 372247 - 1) < F(1, 10**5)  # Machinery's Handbook, 31st ed., p. 92


def test_the_prismoid_rule_gives_the_frustum_of_a_pyramid() -> None:
    middle = F(3, 2) * F(9, 4)  # the mid sides of 2 x 3 and 1 x 1.5 ft

    found = solids.prismoid(F(6), middle, F(3, 2), F(9, 2))

    assert found == F("15.75")  # ft3, printed for the same body by the rule for a pyramid frustum


def _body(kind: str, **sizes: str) -> Geometry:
    """A piece with sizes in mm."""
    told = {word.replace("_", "-"): F(size) / 1000 for word, size in sizes.items()}
    made = geometry_of(Piece(name="piece", shape=Shape(kind=kind, sizes=told)))
    assert made.value is not None, made.problems
    return made.value


BODIES: list[tuple[str, dict[str, str], str, str, str]] = [
    # kind, sizes mm, printed volume in mm3, relative tolerance, source
    ("frustum", {"top_dia": "32", "foot_dia": "24", "high": "20"}, "12398.8480", "1e-5", MENSURATION),
    ("disc", {"dia": "2.5", "thick": "20"}, "98.17", "1e-4", HANDBOOK),
    ("tube", {"dia": "36", "thick": "4", "high": "28"}, "11259.5", "1e-5", HANDBOOK),
    ("dome", {"dia": "125", "high": "50"}, "372247", "1e-5", HANDBOOK),
    ("dome", {"dia": "6500", "high": "3250"}, "71895000000", "1e-4", HANDBOOK),  # half of 143.79
    ("dome", {"dia": "8000", "high": "4000", "thick": "1500"}, "101315000000", "1e-4", HANDBOOK),
    ("ramp", {"long": "4", "wide": "3", "rise": "4.5"}, "27", "1e-9", "the wedge rule with c = a"),
]


@pytest.mark.parametrize(("kind", "sizes", "printed", "tolerance", "source"), BODIES)
def test_the_body_that_the_compiler_makes_has_the_printed_volume(
    kind: str, sizes: dict[str, str], printed: str, tolerance: str, source: str
) -> None:
    found = _body(kind, **sizes).volume * 10**9

    # the grid of 1e-12 m3 is 1e-3 mm3
    assert abs(found - F(printed)) <= F(printed) * F(tolerance) + F(1, 1000), source


def test_the_fountain_tray_holds_its_bore_by_the_plain_product() -> None:
    """Identity: long x wide x deep of the inside, in exact fractions of an inch."""
    inch = F(254, 10)
    tray = _body(
        "tray",
        long=str(F("54.5") * inch),
        wide=str(16 * inch),
        high=str(12 * inch),
        thick=str(F("1.5") * inch),
    )

    assert tray.inside_volume("inside", None) == F("51.5") * 13 * F("10.5") * (inch / 1000) ** 3
    assert tray.inside_volume("inside", 9 * inch / 1000) == F("51.5") * 13 * 9 * (inch / 1000) ** 3
