"""What a crew reads of the weights, the depths and the people of the day, beside the work itself."""

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE, CAST
from castlang.sheets.day_sheets import MostAtOnce, at_once_text
from castlang.sheets.from_plan import binder_of
from castlang.sheets.model import Binder, Item, Items
from castlang.source.files import Texts

GANTRY = 'station gantry "Gantry"\n    lifts     500 kg\n'
LIFTS = CAST + "    dry 2 days\n    pour      glow full of clear into slot takes 20 min by 1\n"


def bound(cast: str = CAST, base: str = BASE) -> Binder:
    build = compile_build("a.pour", (base + cast).encode(), Texts())
    if build.spec is None or build.takeoff is None or build.plan is None or build.costing is None:
        raise AssertionError([p.message for p in build.problems])
    return binder_of(build.spec, build.takeoff, build.plan, build.costing)


def found(made: Binder, sheet: str, word: str) -> Item:
    return next(
        item
        for one in made.sheets
        if one.code.startswith(sheet)
        for block in one.blocks
        if isinstance(block, Items)
        for item in block.items
        if word in item.what and not item.wait
    )


def lifting(made: Binder, word: str) -> list[str]:
    """What the traveller says of a weight; the day sheet says it too."""
    lines = [found(made, sheet, word).lines for sheet in ("PIECE", "DAY")]
    told = [[line for line in of if line.startswith(("lifts ", "weighs "))] for of in lines]

    assert told[0] == told[1]
    return told[0]


def test_what_is_lifted_is_told_by_its_weight_and_a_person() -> None:
    # two batches of 10.703 kg went into it
    [line] = lifting(bound(), "demold")

    assert line == "lifts 21.4 kg, 10.7 kg a person"


def test_one_person_carries_it_all() -> None:
    [line] = lifting(
        bound(CAST.replace("demold    takes 20 min by 2", "demold    takes 20 min by 1")), "demold"
    )

    assert line == "lifts 21.4 kg"


def test_a_weight_over_the_limit_told_says_so_where_the_hands_are() -> None:
    light = BASE.replace("    crew      2\n", "    crew      2\n    lift-limit 10 kg\n")
    [line] = lifting(bound(base=light), "demold")

    assert line == "lifts 21.4 kg, 10.7 kg a person, over the limit of 10 kg a person"


def test_what_hangs_on_a_hoist_asks_nothing_of_people() -> None:
    [line] = lifting(
        bound(GANTRY + CAST.replace("demold    takes", "demold    using gantry takes")), "demold"
    )

    assert line == "lifts 21.4 kg, by Gantry"


def test_how_deep_a_lift_is_stands_on_the_day_sheet_too() -> None:
    made = bound(LIFTS)
    lines = [found(made, sheet, "glow.lift-2").lines for sheet in ("PIECE", "DAY")]

    assert all("this lift 7.5 mm deep" in of for of in lines)


def test_every_step_has_a_sentence_in_shop_words() -> None:
    made = bound(LIFTS)

    assert found(made, "PIECE", "body: ").what == "body: fill the body with Table casting"
    assert found(made, "PIECE", "glow.lift-1").what == "glow.lift-1: lift 1: Clear resin into slot"
    assert found(made, "PIECE", "body.cover").what == "body.cover: cover slab and keep it covered"
    assert found(made, "PIECE", "body.uncover").what == "body.uncover: uncover slab"
    assert found(made, "PIECE", "release").what == "release: Release oil on the mold, behind show"


def test_people_at_once_are_told_so_that_they_can_be_understood() -> None:
    def told(people: int, *roles: tuple[str, int]) -> str:
        return at_once_text(MostAtOnce(people=people, roles=roles))

    assert told(0) == "nobody"
    assert told(2) == "2"
    assert told(1, ("caster", 1)) == "1 caster"
    assert told(1, ("caster", 1), ("finisher", 1)) == "1 at a time: caster or finisher"
    assert told(3, ("caster", 2), ("finisher", 2)) == "3 at a time, in turn up to 2 caster, 2 finisher"
    assert told(3, ("caster", 2), ("finisher", 1)) == "3: 2 caster, 1 finisher"
    assert told(3, ("caster", 1)) == "3, of them at most 1 caster"
