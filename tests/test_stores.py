"""What a build takes from its stores: which of them it uses, and tap water told once."""

from dataclasses import replace

import pytest
from told import BENCH, changed

from castlang.pipeline import Compiled, compile_build
from castlang.source.files import Texts
from castlang.spec.quantity import Dimension

UNUSED = """
stock gravel
    density   2650 kg/m3
    sold      tote of 1000 kg
fitting hook
    price     3 EUR
    lead      4 days
mix spare
    binder    cement 100 parts
    sand      gravel 100 parts
    water     0.4 of binder total
    works     40 min at 20 degC
"""
TAP = """
stock water "Tap water"
    density   998 kg/m3
"""
THINNED = changed("    release   oil on", "    release   thin on").replace(
    "mix casting\n",
    "mix thin\n    acts release\n    measure volume\n    part oil 1 parts\n    part water 4 parts\n"
    "    covers 18 m2/L\nmix casting\n",
)


def made(text: str) -> Compiled:
    build = compile_build("bench.pour", text.encode(), Texts())
    assert build.costing is not None, build.problems
    return build


def stores(build: Compiled) -> list[str]:
    return [a.says for a in build.assumptions if a.subject == "stores"]


def test_only_the_stores_that_the_build_uses_are_assumed_about() -> None:
    assert stores(made(BENCH + UNUSED)) == stores(made(BENCH))
    assert stores(made(BENCH)) == [
        "none on hand of oil, plasticizer, sand, sealer",
        "at hand on the day of order: cement, oil, plasticizer, sealer",
        "ordered on the first day of the build: sand",
    ]


@pytest.mark.parametrize(
    "line",
    [
        "    board     gravel\n    lasts     20",
        "    panel     side 1 m x 1 m of gravel\n    lasts     20",
    ],
)
def test_the_boards_and_panels_of_a_mold_are_used(line: str) -> None:
    sheet = UNUSED.replace("tote of 1000 kg", "sheet of 2 m x 3 m")
    text = BENCH.replace("    lasts     20", line) + sheet

    assert "gravel" in stores(made(text))[0]


def test_a_fitting_that_a_step_handles_or_waits_for_is_used() -> None:
    for line in ("    after     hook", "    work      fix of hook takes 10 min by 1"):
        text = changed("    after     seat.seal", f"    after     seat.seal\n{line}") + UNUSED

        assert stores(made(text))[-1] == "ordered on the first day of the build: sand, hook"


def test_tap_water_that_is_weighed_and_measured_is_one_line_of_the_bill() -> None:
    build = made(THINNED + TAP)
    assert build.takeoff is not None
    lines = [line for line in build.takeoff.bill if line.stock == "water"]
    parts = {step: gross for line in lines for step, gross in line.of}

    # 4 parts of 5, two seats, 10 % of waste, 998 kg/m3
    film = build.takeoff.steps["seat", "release"].volume
    assert film is not None
    assert [line.dimension for line in lines] == [Dimension.MASS]
    assert parts["seat.release"] == film * 2 * 4 / 5 * 11 / 10 * 998
    assert lines[0].gross == sum(parts.values())


def test_a_problem_that_no_line_brings_about_stands_at_the_build() -> None:
    build = compile_build("bench.pour", changed("2027-03-26", "2027-03-02").encode(), Texts())

    assert [(p.finding.name, p.span.line) for p in build.problems] == [("due-missed", 2)]
    assert all(replace(p.span, end=0) != p.span for p in build.problems)
