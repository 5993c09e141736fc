"""Fresh faces in dry, warm or moving air: what is found, and what the sheets say of it."""

import pytest

from castlang.pipeline import Compiled, compile_build
from castlang.rules.examples import BASE, CAST, SHELL
from castlang.sheets.from_plan import binder_of
from castlang.sheets.model import Caution, Items
from castlang.source.files import Texts

WINDY = """\
shop
    humidity  35 %
    draft     4 m/s
measured warmth of casting 29 degC "summer trial"
"""
LAYERS = """\
    layer     skin 3 mm of face on show sprayed takes 20 min by 2
    wait      20 min to 60 min
    layer     back 8 mm of backer on show laid takes 30 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
"""


def compiled(text: str, base: str = BASE) -> Compiled:
    return compile_build("trial.pour", (base + text).encode(), Texts())


def found(build: Compiled) -> list[str]:
    return [p.message for p in build.problems if p.finding.name == "fresh-face-dries"]


def test_the_message_tells_both_figures_and_the_air() -> None:
    # 5 ((29 + 18)^2.5 - 0.35 (20 + 18)^2.5) (14.4 + 4) 1e-6 = 1.107; water 0.36 of binder hardly bleeds: 0.5
    expected = (
        "the fresh face of slab.body loses 1.11 kg/(m2 h): it is at 29 degC, the air at 20 degC and 35 %, "
        "moving at 4 m/s; the limit is 0.50 kg/(m2 h), as the mix hardly bleeds"
    )

    assert [expected] == found(compiled(WINDY + CAST))


def test_a_mix_that_bleeds_has_twice_the_limit() -> None:
    wet = BASE.replace("0.36 of binder", "0.50 of binder")
    mild = WINDY.replace("4 m/s", "3 m/s")  # 0.89 kg/(m2 h)

    assert len(found(compiled(mild + CAST))) == 1
    assert found(compiled(mild + CAST, wet)) == []
    assert found(compiled(WINDY + CAST, wet))[0].endswith("the limit is 1.00 kg/(m2 h)")


@pytest.mark.parametrize(
    ("line", "limit"),
    [
        ("", "1.00"),
        ("    fiber     chop    1 % of mix\n", "0.50"),
        ("    liquid    milk    8 % of binder\n", "0.50"),
        ("    liquid    milk    0.8 % of binder\n", "1.00"),
    ],
)
def test_fiber_and_polymer_hold_the_water_of_a_mix(line: str, limit: str) -> None:
    milk = "stock milk\n    density 1050 kg/m3\n    solids 47 %\n"
    wet = "    water     0.50 of binder total\n    works     45 min at 20 degC\n"
    base = BASE.replace(wet.replace("0.50", "0.36"), line + wet)
    gale = WINDY.replace("4 m/s", "5 m/s")
    assert base != BASE

    assert found(compiled(gale + milk + CAST, base))[0].split("the limit is ")[1][:4] == limit


def test_layers_of_one_piece_are_told_once_and_waived_by_the_piece() -> None:
    hot = "shop\n    humidity 30 %\n    draft 3 m/s\n"
    base = BASE.replace("air       20 degC", "air       32 degC")
    text = hot + SHELL + LAYERS

    assert len(found(compiled(text, base))) == 1
    assert "(and 1 more on slab)" in found(compiled(text, base))[0]
    assert found(compiled(text + 'waive fresh-face-dries on slab "fog line on"\n', base)) == []


def test_the_worst_days_of_the_build_count_and_days_outside_it_do_not() -> None:
    dated = "    air       20 degC\n    air       35 degC on {}\n    humidity  20 %\n    draft     2 m/s\n"
    within = BASE.replace("    air       20 degC\n", dated.format("2027-03-04"))
    before = BASE.replace("    air       20 degC\n", dated.format("2027-02-04"))

    assert len(found(compiled(CAST, within))) == 1
    assert found(compiled(CAST, before)) == []


def test_a_cold_day_is_the_worst_for_a_face_whose_warmth_is_measured() -> None:
    cold = BASE.replace("air       20 degC\n", "air       20 degC\n    air       5 degC on 2027-03-03\n")
    text = WINDY.replace("4 m/s", "3 m/s") + CAST

    assert "the air at 5 degC" in found(compiled(text, cold))[0]


def test_where_nothing_was_measured_the_face_is_as_warm_as_the_air_and_that_is_listed() -> None:
    build = compiled(CAST)

    assert [a.says for a in build.assumptions if a.subject == "fresh faces"] == [
        "as warm as the air, when it is asked how fast they dry out: casting"
    ]


@pytest.mark.parametrize("kind", ["BATCH", "PIECE", "DAY"])
def test_the_crew_is_warned_where_the_face_is_made(kind: str) -> None:
    build = compiled(WINDY + 'waive fresh-face-dries on slab "fog line on"\n' + CAST)
    assert build.spec is not None
    assert build.takeoff is not None
    assert build.plan is not None
    assert build.costing is not None
    binder = binder_of(build.spec, build.takeoff, build.plan, build.costing)
    texts = [
        text
        for sheet in binder.sheets
        if sheet.code.startswith(kind)
        for block in sheet.blocks
        for text in (
            [block.title]
            if isinstance(block, Caution)
            else [line for item in block.items for line in item.lines]
            if isinstance(block, Items)
            else []
        )
    ]

    assert any(text.startswith("Fresh face dries too fast") for text in texts)


def test_a_us_build_is_told_in_its_own_units() -> None:
    base = BASE.replace("    crew      2\n", "    crew      2\n    print     us\n")

    assert "1.11 kg" not in found(compiled(WINDY + CAST, base))[0]
    assert "lb/(ft2 h)" in found(compiled(WINDY + CAST, base))[0]
    assert "moving at 787.4 ft/min" in found(compiled(WINDY + CAST, base))[0]
