"""Records that cannot all be so: each is told by itself, and the rest of the build is planned anyway."""

import random
from datetime import datetime, timedelta

import pytest

from castlang.pipeline import Compiled, compile_build
from castlang.plan.model import Plan
from castlang.plan.verify import verify
from castlang.problems.as_text import problem_text
from castlang.problems.model import Problem, Severity
from castlang.rules.examples import BASE
from castlang.source.files import Texts

SHOP = BASE[: BASE.index("mold bed")]
TILES = """\
mold bed "Flat mold, face down"
    make      3
    fits      tile
    release   oil on tile.show takes 15 min by 1
temp brace
    work      build takes 1 h by 1
station rack
    have      3
piece tile
    make      3
    shape     slab 400 mm long, 300 mm wide, 40 mm thick
    face      show top
    take      bed
    pour      body full of casting into bed takes 20 min by 1
    cure      24 h to 6 days at 20 degC open
    take      brace takes 5 min by 1
    demold    takes 20 min by 1
    free      brace takes 5 min by 1
    take      rack
    dry       2 days
    free      rack
"""
PAIR = """\
mold bed "Flat mold, face down"
    fits      tile, plate
    release   oil on tile.show takes 15 min by 1
mold tray
    make      2
    fits      other
    release   oil on other.show takes 15 min by 1
""" + "".join(
    f"""\
piece {name}
{more}    shape     slab 400 mm long, 300 mm wide, 40 mm thick
    face      show top
    take      {mold}
    pour      body full of casting into {mold} takes 20 min by 1
    cure      24 h at 20 degC open
    demold    takes 20 min by 1
"""
    for name, mold, more in (
        ("tile", "bed", ""),
        ("plate", "bed", ""),
        ("other", "tray", "    make      2\n"),
    )
)  # fmt: skip
CAST = "done tile.body 2027-03-01 09:00 to 09:20\n"


def compiled(*lines: str, shop: str = SHOP + TILES) -> Compiled:
    return compile_build("a.pour", (shop + "".join(f"{line}\n" for line in lines)).encode(), Texts())


def found(build: Compiled, name: str) -> list[Problem]:
    return [p for p in build.problems if p.finding.name == name]


def told(build: Compiled) -> list[str]:
    """The names of what is wrong, notes left out."""
    return [p.finding.name for p in build.problems if p.finding.severity is not Severity.NOTE]


def plan_of(build: Compiled) -> Plan:
    if build.plan is None:
        raise AssertionError([p.message for p in build.problems])
    assert verify(build.plan) == ()
    return build.plan


def starts(build: Compiled) -> dict[str, str]:
    plan = plan_of(build)
    start = datetime.combine(plan.network.hours.start, datetime.min.time())
    return {p.task: f"{start + timedelta(minutes=p.start):%m-%d %H:%M}" for p in plan.placed}


def test_two_copies_demolded_at_once_with_one_brace_are_told_with_both_lines() -> None:
    build = compiled(
        CAST.rstrip(),
        "done tile.1.demold 2027-03-02 10:00 to 10:20",
        "done tile.2.demold 2027-03-02 10:00 to 10:20",
    )
    [problem] = found(build, "done-at-once")

    assert told(build) == ["done-at-once"]
    assert problem.message == (
        "the records have 2 of brace in use at once from Tue 2027-03-02 10:00 to 10:20, and there is 1: "
        "tile.1.demold (a.pour:79), tile.2.demold (a.pour:80)"
    )
    assert "next: mend the time or the copy" in problem_text(problem, build.texts)
    # the third is not demolded before the brace is off the first one, which nothing says
    assert starts(build)["tile.3.take-brace"] >= starts(build)["tile.1.free-brace"]


def test_what_came_after_another_on_record_freed_its_place_and_that_is_no_clash() -> None:
    build = compiled(
        CAST.rstrip(),
        "done tile.1.demold 2027-03-02 10:00 to 10:20",
        "done tile.2.demold 2027-03-02 11:00 to 11:20",
    )
    [note] = found(build, "taken-as-done")

    assert told(build) == []
    assert "tile.1.free-brace" in note.message
    assert "tile.2.free-brace" not in note.message


def test_a_mold_that_is_cast_into_again_was_emptied_before_and_that_is_noted() -> None:
    build = compiled(CAST.rstrip(), "done plate.body 2027-03-02 10:00 to 10:20", shop=SHOP + PAIR)
    [note] = found(build, "taken-as-done")

    assert told(build) == []
    assert note.message.endswith(": tile.release, tile.demold, plate.release")


def test_a_mold_that_was_emptied_too_soon_for_its_cure_is_a_wait_that_was_not_kept() -> None:
    build = compiled(CAST.rstrip(), "done plate.body 2027-03-01 15:00 to 15:20", shop=SHOP + PAIR)
    [problem] = found(build, "window-not-kept")

    assert problem.message == (
        "the start of plate.body was 5 h 40 min after the end of tile.body; "
        "the waits between them come to at least 24 h"
    )
    assert plan_of(build)


def test_two_pieces_in_one_mold_are_told_and_both_are_demolded_by_the_plan() -> None:
    build = compiled(CAST.rstrip(), "done plate.body 2027-03-01 09:00 to 09:20", shop=SHOP + PAIR)
    [problem] = found(build, "done-at-once")

    assert problem.message == (
        "the records have 2 of bed in use at once from Mon 2027-03-01 09:00 to 09:20, and there is 1: "
        "plate.body (a.pour:87), tile.body (a.pour:86)"
    )
    assert [starts(build)[f"{piece}.demold"] for piece in ("plate", "tile")] == ["03-02 09:20"] * 2


@pytest.mark.parametrize(
    ("lines", "people"),
    [
        (("other.1.body 2027-03-01 09:10 to 09:20", "other.2.body 2027-03-01 09:10 to 09:30"), 3),
        (("other.1.body 2027-03-01 09:10 to 09:20 by 2",), 3),
        (("other.1.body 2027-03-01 09:20 to 09:30 by 2",), None),
        (("other.body 2027-03-01 09:10 to 09:30",), None),  # one gang, one copy after the other
        (("other.1.body 2027-03-01 09:20 to 09:40 by 5",), None),  # it says itself that more people came
        (("tile.body 2027-03-01 09:10 to 09:30 by 2",), None),  # the same work once more
    ],
)
def test_more_people_at_work_at_once_than_there_are_is_told(
    lines: tuple[str, ...], people: int | None
) -> None:
    build = compiled(CAST.rstrip(), *(f"done {line}" for line in lines), shop=SHOP + PAIR)
    problems = found(build, "done-at-once")

    assert [p.message[:36] for p in problems] == (
        [] if people is None else [f"the records have {people} people at work at"]
    )
    assert plan_of(build)


def test_one_person_of_a_role_at_two_steps_at_once_is_told_once() -> None:
    shop = (SHOP + PAIR).replace("crew      2", "crew      1 caster, 2 helper")
    shop = shop.replace("casting into tray takes 20 min by 1", "casting into tray takes 20 min by 1 caster")
    build = compiled(
        "done other.1.body 2027-03-01 09:10 to 09:20",
        "done other.2.body 2027-03-01 09:10 to 09:30",
        shop=shop,
    )
    [problem] = found(build, "done-at-once")

    assert problem.message.startswith(
        "the records have 2 caster at work at once from Mon 2027-03-01 09:10 to 09:20, and 1 is there: "
    )


def test_a_clash_is_waived_with_what_really_happened() -> None:
    build = compiled(
        CAST.rstrip(),
        "done plate.body 2027-03-01 09:00 to 09:20",
        'waive done-at-once on plate.body "a second bed was borrowed"',
        shop=SHOP + PAIR,
    )

    assert told(build) == []
    assert [waiver.reason for waiver, _ in build.waived] == ["a second bed was borrowed"]


def test_a_copy_cast_out_of_turn_leaves_the_first_one_to_be_cast() -> None:
    one = (SHOP + TILES).replace("    make      3\n    fits", "    fits")
    build = compiled("done tile.2.body 2027-03-01 09:00 to 09:20", shop=one)

    assert told(build) == []
    assert starts(build)["tile.1.body"] > starts(build)["tile.2.demold"]
    assert starts(build)["tile.3.body"] > starts(build)["tile.1.demold"]


@pytest.mark.parametrize(
    ("dates", "message"),
    [
        (
            "latest 2027-03-01 09:10",
            "tile.body ended on Mon 2027-03-01 09:20; it was to end by Mon 2027-03-01 09:10",
        ),
        (
            "earliest 2027-03-01 10:00",
            "tile.body began on Mon 2027-03-01 09:00; it was to begin no sooner than Mon 2027-03-01 10:00",
        ),
    ],
)  # fmt: skip
def test_work_outside_its_dates_is_told(dates: str, message: str) -> None:
    shop = (SHOP + PAIR).replace("into bed takes 20 min by 1\n", f"into bed takes 20 min by 1 {dates}\n", 1)
    [problem] = found(compiled(CAST.rstrip(), shop=shop), "window-not-kept")

    assert problem.message == message


def test_a_latest_date_that_passed_with_nothing_told_is_a_warning_and_the_plan_goes_on() -> None:
    shop = (SHOP + PAIR).replace(
        "into tray takes 20 min by 1\n", "into tray takes 20 min by 1 latest 2027-03-01 12:00\n", 1
    )
    build = compiled("done tile.body 2027-03-01 15:00 to 15:20", shop=shop)
    [first, _] = found(build, "window-passed")

    assert first.message == (
        "the end of other.1.body was due by Mon 2027-03-01 12:00 (told in the build); it is not told done, "
        "and work is told up to Mon 2027-03-01 15:20"
    )
    assert plan_of(build)


CHAIN = """\
mold bed
    fits      tile
    release   oil on tile.show takes 15 min by 1
piece tile
    shape     slab 400 mm long, 300 mm wide, 40 mm thick
    face      show top
    take      bed
    pour      body full of casting into bed takes 20 min by 1
    cure      24 h at 20 degC open
    demold    takes 20 min by 1
    work      wash takes 20 min by 1
    work      line takes 40 min by 2
    work      seal takes 20 min by 1
"""
WASHED = "done tile.wash 2027-03-02 10:00 to 10:20"


def test_a_window_that_the_work_before_it_outlasts_is_told_and_the_plan_goes_on() -> None:
    shop = (SHOP + CHAIN).replace("    work      seal", "    within    45 min after wash\n    work      seal")
    shop = shop.replace("line takes 40 min by 2", "line takes 40 min by 2 earliest 2027-03-02 10:30")
    build = compiled(WASHED, shop=shop)
    [problem] = found(build, "window-passed")

    assert problem.message == (
        "the start of tile.seal was due by Tue 2027-03-02 11:05 (within after tile.wash, a.pour:69); "
        "what comes before it is not over, or the shop not open for it, before Tue 2027-03-02 11:10"
    )
    assert starts(build)["tile.seal"] == "03-02 11:10"


def test_a_window_for_which_people_are_missing_is_told_and_the_plan_goes_on() -> None:
    shop = (SHOP + CHAIN).replace("    work      line takes 40 min by 2\n", "    within    5 min\n")
    shop += "job haste\n    within 5 min after tile.wash\n    work load takes 1 h by 2\n"
    build = compiled(WASHED, shop=shop)
    [problem] = found(build, "window-passed")

    assert told(build) == ["window-passed"]
    assert "people and places are not free for it before" in problem.message
    assert plan_of(build)


def test_a_rack_that_done_work_has_left_is_still_paid_for() -> None:
    shop = (SHOP + TILES).replace("station rack\n", "station rack\n    price     2 EUR/h\n")
    told = "done tile.body 2027-03-01 09:00 to 09:20", "done tile.demold 2027-03-02 10:00 to 10:20 by 1"
    racked = [f"done tile.{n}.free-brace 2027-03-02 {9 + n}:30 to {9 + n}:35" for n in (1, 2, 3)]
    later = "job look\n    after tile\n    work over takes 1 h by 1\ndone look.over 2027-03-08 09:00 to 10:00"
    alone, all_done = compiled(shop=shop), compiled(*told, *racked, later, shop=shop)
    assert alone.costing is not None
    assert all_done.costing is not None
    assert all_done.plan is not None

    assert all_done.plan.network.holds == ()
    assert [hours.minutes for hours in alone.costing.stations] == [3 * 2 * 1440]
    assert [hours.minutes for hours in all_done.costing.stations] == [3 * 2 * 1440]


@pytest.mark.parametrize("seed", range(12))
def test_no_records_whatever_make_the_rest_impossible(seed: int) -> None:
    chance = random.Random(seed)
    shop = SHOP + (TILES if seed % 2 else PAIR)
    plan = plan_of(compiled(shop=shop))
    worked = [task.name for task in plan.network.tasks if task.crew]
    lines = []
    for name in chance.sample(worked, chance.randint(1, len(worked))):
        begin = datetime(2027, 3, 1, 8) + timedelta(minutes=10 * chance.randrange(600))
        end = begin + timedelta(minutes=5 * chance.randrange(1, 20))
        lines.append(f"done {name} {begin:%Y-%m-%d %H:%M} to {end:%Y-%m-%d %H:%M} by {chance.randint(1, 3)}")
    build = compiled(*lines, shop=shop)

    assert set(told(build)) <= {"done-at-once", "window-not-kept", "window-passed"}
    assert plan_of(build)
