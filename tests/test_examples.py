"""The example builds compile clean and end by their due date; each broken build gives the findings that stand
beside its lines: `#! finding-name` at the end of a line, or on a line of its own above it."""

import math
import re
from contextlib import chdir
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from castlang.pipeline import Compiled, compile_build
from castlang.plan.model import Plan
from castlang.plan.told.chain import SHUT
from castlang.plan.verify import verify
from castlang.problems.as_text import problem_text, tally
from castlang.problems.model import Severity
from castlang.sheets.basis import basis_of
from castlang.sheets.cover import assumptions
from castlang.source.files import Disk
from castlang.spec.model import Spec
from castlang.takeoff.model import Takeoff

EXAMPLES = Path(__file__).parents[1] / "examples"
BUILDS = ("desk", "fountain", "stair", "stools")
BROKEN = tuple(sorted(path.name for path in (EXAMPLES / "broken").glob("*.pour")))
INCH = 0.0254

each_build = pytest.mark.parametrize("build", BUILDS)


def compiled(path: Path) -> Compiled:
    """The build as `castlang check` reads it from its own folder."""
    with chdir(path.parent):
        return compile_build(path.name, path.read_bytes(), Disk(main=Path(path.name)))


@cache
def example(build: str) -> tuple[Compiled, Spec, Takeoff, Plan]:
    found = compiled(EXAMPLES / build / f"{build}.pour")
    if found.spec is None or found.takeoff is None or found.plan is None:
        raise AssertionError([f"{p.span.line}: {p.message}" for p in found.problems])
    return found, found.spec, found.takeoff, found.plan


def batch_mass(takeoff: Takeoff, owner: str, step: str) -> float:
    """kg of the first batch of a step."""
    return float(takeoff.steps[owner, step].parts[0].batches[0].mass)


# ---------------------------------------------------------------- the builds


@each_build
def test_an_example_has_no_error_and_no_warning(build: str) -> None:
    found = example(build)[0]

    assert [p.message for p in found.problems if p.finding.severity is not Severity.NOTE] == []


@each_build
def test_the_cover_lists_as_much_as_check_says_is_assumed(build: str) -> None:
    found, spec, takeoff, plan = example(build)
    if found.costing is None:
        raise AssertionError("not costed")
    cover = assumptions(basis_of(spec, takeoff, plan, found.costing, (), "metric"))

    assert sorted(map(str, found.assumptions)) == sorted(map(str, cover))


@each_build
def test_the_plan_of_an_example_keeps_everything(build: str) -> None:
    assert verify(example(build)[3]) == ()


@each_build
def test_an_example_ends_by_its_due_date(build: str) -> None:
    _, spec, _, plan = example(build)
    due = spec.build.due or date.min
    ends = datetime.combine(plan.network.hours.start, time()) + timedelta(minutes=plan.finish)

    assert ends.date() <= due


@each_build
def test_every_material_of_an_example_has_a_density_or_a_weight_and_a_hazard(build: str) -> None:
    """Sheet goods go by area, and water hurts nobody."""
    spec = example(build)[1]
    wanting = [
        stock.name
        for stock in spec.stocks.values()
        if (
            stock.density is None
            and stock.areal is None
            and (stock.package is None or not stock.package.sheet)
        )
        or (not stock.hazards and stock.name != "water")
    ]

    assert wanting == []


@each_build
def test_what_an_example_buys_has_a_price(build: str) -> None:
    costing = example(build)[0].costing

    assert costing is not None
    assert set(costing.unpriced) <= {"water"}


@pytest.mark.parametrize(("build", "step"), [("stools", "stool.{}.body"), ("stair", "tread.{}.nose")])
def test_copies_that_share_a_mold_are_cast_by_number(build: str, step: str) -> None:
    """The stair's turning tread waits for its fourth tread, and that one is the fourth all the same."""
    start = {placed.task: placed.start for placed in example(build)[3].placed}
    cast = [start[step.format(number)] for number in range(1, 5)]

    assert cast == sorted(cast)


@each_build
def test_no_board_is_cut_before_it_can_have_arrived(build: str) -> None:
    """Ordered on the first day; what is on hand need not arrive."""
    costing = example(build)[0].costing

    assert costing is not None
    late = [
        o.name for o in costing.orders if o.buy and o.order_by and o.order_by < example(build)[1].build.start
    ]
    assert late == []


# ---------------------------------------------------------------- figures worked out by hand, no source


def density(parts: dict[str, float]) -> float:
    """kg/m3 of a mix from its weigh-out, with 3 % of air."""
    kept = {
        "cement": 3150, "clay": 2500, "sand": 2650, "polymer": 1050, "plasticizer": 1080, "ochre": 4100,
        "water": 998,
    }  # fmt: skip
    return sum(parts.values()) / (sum(mass / kept[name] for name, mass in parts.items()) / 0.97)


# The sand and gravel dry, and all water but what is in the plasticizer's own parts.
TABLE_MIX = {"cement": 100, "sand": 230, "plasticizer": 1, "water": 38 - 0.65}


def test_the_desk_s_first_coat_is_its_faces_times_its_thickness_less_the_corners() -> None:
    """Front, side and both lips less the slot; each of the corners takes its square once."""
    takeoff = example("desk")[2]
    slot = 0.045 * (1.080 - 2 * 0.018)
    lips = (0.090 + 0.060) * 3.9 - 0.090**2 - 0.060**2
    area = 2.4 * 1.08 + 1.5 * 1.08 - slot + lips
    corners = (1.08 + 2 * 3.9) * 0.0015**2
    face = {
        "cement": 85, "clay": 15, "sand": 100, "polymer": 6 / 0.47, "plasticizer": 0.8, "ochre": 0.6,
        "water": 33 - 6 / 0.47 * 0.53 - 0.8 * 0.65,
    }  # fmt: skip
    mass = (area * 0.0015 - corners) * 1.08 * density(face)

    assert float(takeoff.steps["shell", "mist"].area or 0) == pytest.approx(area, abs=1e-6)
    assert 2 * batch_mass(takeoff, "shell", "mist") == pytest.approx(mass, rel=1e-3)


def test_the_desk_s_strip_is_poured_in_two_lifts_of_half_the_slot() -> None:
    """The slot is as deep as the layers, 17 mm; a lift is 10 mm at most."""
    takeoff = example("desk")[2]
    volume = 0.045 * 1.044 * 0.017 * 1.08
    resin = 130 / (100 / 1100 + 30 / 980)

    assert len(takeoff.steps["strip", "glow"].parts) == 2
    assert batch_mass(takeoff, "strip", "glow") == pytest.approx(volume / 2 * resin, rel=1e-3)


def test_a_stool_is_a_frustum_less_a_frustum_at_the_measured_density() -> None:
    _, _, takeoff, _ = example("stools")

    def frustum(top: float, foot: float, high: float) -> float:
        return math.pi * high / 12 * (top**2 + top * foot + foot**2)

    volume = frustum(0.300, 0.360, 0.440) - frustum(0.220, 0.280, 0.380)

    assert float(takeoff.pieces["stool"].wet) == pytest.approx(volume * 2240, rel=1e-4)
    assert batch_mass(takeoff, "stool", "body") == pytest.approx(volume * 1.06 * 2240, rel=1e-4)


def test_the_stools_cement_is_bought_in_whole_bags_after_what_is_on_hand() -> None:
    """Twelve bodies and twelve thin fills; two bags of 94 lb are on hand."""
    costing = example("stools")[0].costing

    assert costing is not None
    assert {o.name: o.buy for o in costing.orders}["grey-cement"] == math.ceil(147.6 / (94 * 0.45359237) - 2)


def test_the_fountain_s_trough_is_the_box_outside_less_the_box_inside() -> None:
    takeoff = example("fountain")[2]
    box = 54.5 * 16 * 12 - 51.5 * 13 * 10.5 - math.pi / 4 * 1.25**2 * 1.5

    assert float(takeoff.pieces["trough"].wet) == pytest.approx(box * INCH**3 * density(TABLE_MIX), rel=1e-3)


def test_the_brackets_carry_the_trough_and_nine_inches_of_water() -> None:
    """Water at 998 kg/m3."""
    takeoff = example("fountain")[2]
    borne = next(b for b in takeoff.bearings if b.fitting == "bracket")
    water = 51.5 * 13 * 9 * INCH**3 * 998

    assert float(borne.mass) == pytest.approx(float(takeoff.pieces["trough"].dry) + water, rel=1e-4)


def test_a_tread_is_filled_up_behind_its_pressed_face() -> None:
    """The face takes 25 mm from the top, the front and both ends; the pocket is left out."""
    takeoff = example("stair")[2]
    left = (1.050 - 2 * 0.025) * (0.310 - 0.025) * (0.060 - 0.025) - 0.090 * 0.020 * 0.060

    assert batch_mass(takeoff, "tread", "body") == pytest.approx(left * 1.07 * density(TABLE_MIX), rel=1e-3)


def test_the_turning_tread_is_mixed_by_its_measured_volume() -> None:
    """The mesh holds 21.5 L; 21.6 L were measured."""
    takeoff = example("stair")[2]

    assert batch_mass(takeoff, "turning", "body") == pytest.approx(
        0.0216 * 1.07 * density(TABLE_MIX), rel=1e-3
    )


def test_the_truck_takes_each_shipment() -> None:
    """Four treads, then four and the turning one."""
    takeoff = example("stair")[2]
    treads = 4 * takeoff.pieces["tread"].dry

    assert treads + takeoff.pieces["turning"].dry < Fraction(650)


# ---------------------------------------------------------------- the broken ones


def expected(text: str) -> list[tuple[int, str]]:
    """(line, finding) that the comments tell."""
    found: list[tuple[int, str]] = []
    above: list[str] = []
    for number, line in enumerate(text.splitlines(), start=1):
        told = re.search(r"#! ([a-z, -]+?) *$", line)
        names = told.group(1).split(", ") if told else []
        if told and line.lstrip().startswith("#!"):
            above += names
            continue
        found += [(number, name) for name in (*above, *names)]
        above = []
    return sorted(found)


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_build_gives_what_stands_beside_its_lines_and_nothing_else(name: str) -> None:
    path = EXAMPLES / "broken" / name
    found = sorted((p.span.line, p.finding.name) for p in compiled(path).problems)

    assert expected(path.read_text(encoding="utf-8")) == found


@pytest.mark.parametrize("name", BROKEN)
def test_the_messages_beside_a_broken_build_are_those_that_it_gets(name: str) -> None:
    """In examples/broken, `castlang check NAME.pour 2> NAME.txt` writes them anew."""
    path = EXAMPLES / "broken" / name
    build = compiled(path)
    told = [*(problem_text(problem, build.texts) for problem in build.problems), tally(build.problems), ""]

    assert path.with_suffix(".txt").read_text(encoding="utf-8") == "\n".join(told)


def test_there_are_broken_builds_of_each_family() -> None:
    assert BROKEN == (
        "names.pour",
        "slips.pour",
        "staff.pour",
        "units.pour",
        "unpourable.pour",
        "window.pour",
    )


def test_the_chain_of_the_desk_begins_with_the_delivery_that_its_first_coat_waits_for() -> None:
    plan = example("desk")[-1]
    links = {link.task: (link.before, link.says) for link in plan.critical}

    assert links["shell.release"] == (
        "white-cement.arrives",
        f"so that shell.mist keeps its window: white-cement arrives{SHUT}",
    )
