"""What was done moves the plan: done steps stand where they were, the rest is planned behind them."""

import re
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from compiled_text import compiled
from hypothesis import given, settings
from hypothesis import strategies as st

from castlang.pipeline import Compiled
from castlang.plan.model import Plan
from castlang.plan.verify import verify
from castlang.problems.model import Problem
from castlang.rules.examples import BASE, CAST
from castlang.sheets.from_plan import binder_of
from castlang.sheets.model import Item, Items, Table

CASES = Path(__file__).parent / "cases"
BENCH = (CASES / "good" / "bench.pour").read_text(encoding="utf-8")
SLAB = BASE + CAST + "    dry 2 days\n    pass hone grit 100, 200 wet on show takes 30 min by 1\n"
SHELL = (
    BASE
    + """\
piece slab
    shape     corner-wall 900 mm long, 600 mm wide, 500 mm high
    face      show front, side
    take      bed
    layer     skin 3 mm of face on show sprayed takes 20 min by 2
    wait      20 min to 60 min
    layer     back 8 mm of backer on show laid takes 20 min by 2
    cure      24 h to 3 days at 20 degC covered
    demold    takes 20 min by 2
"""
)


def found(build: Compiled, name: str) -> list[Problem]:
    return [p for p in build.problems if p.finding.name == name]


def times(plan: Plan) -> dict[str, tuple[str, str]]:
    start = datetime.combine(plan.network.hours.start, datetime.min.time())
    return {
        p.task: tuple(f"{start + timedelta(minutes=m):%m-%d %H:%M}" for m in (p.start, p.end))  # type: ignore[misc]
        for p in plan.placed
    }


def plan_of(build: Compiled) -> Plan:
    if build.plan is None:
        raise AssertionError([p.message for p in build.problems])
    return build.plan


def test_a_done_step_stands_at_its_told_times_and_what_waits_for_it_counts_from_there() -> None:
    plan = plan_of(compiled(SLAB + "done slab.body 2027-03-01 11:00 to 11:40\n"))

    assert times(plan)["slab.body"] == ("03-01 11:00", "03-01 11:40")
    assert times(plan)["slab.body.uncover"][0] == "03-02 11:40"
    assert verify(plan) == ()


def test_a_step_done_out_of_hours_and_by_more_people_than_there_are_is_no_conflict() -> None:
    build = compiled(SLAB + "done slab.body 2027-03-06 19:00 to 22:10 by 5\n")
    [late] = found(build, "window-passed")

    assert times(plan_of(build))["slab.body"] == ("03-06 19:00", "03-06 22:10")
    assert late.message.startswith("the start of slab.body.cover was due by Sat 2027-03-06 23:10")
    assert late.message.endswith("the shop is not open for it before Mon 2027-03-08 08:00")


def test_nothing_is_planned_before_the_end_of_the_last_record_and_that_is_listed() -> None:
    text = SLAB + "job sweep\n    work floor takes 20 min by 1\ndone slab.body 2027-03-03 09:00 to 09:40\n"
    build = compiled(text)

    assert times(plan_of(build))["sweep.floor"] == ("03-03 09:40", "03-03 10:00")
    assert [a.says for a in build.assumptions if a.subject == "what is done"] == [
        "nothing is planned before Wed 2027-03-03 09:40, when the last step told done ended"
    ]


def test_what_must_have_come_before_is_taken_as_done_and_told() -> None:
    [note] = found(compiled(SLAB + "done slab.body 2027-03-01 11:00 to 11:40\n"), "taken-as-done")
    plan = plan_of(compiled(SLAB + "done slab.body 2027-03-01 11:00 to 11:40\n"))

    assert note.message == "taken as done, as a step after it is told done: bed.build-up, slab.release"
    assert times(plan)["slab.release"] == ("03-01 10:45", "03-01 11:00")


def test_what_is_taken_as_done_is_told_at_the_record_that_says_so() -> None:
    text = SLAB + "job sweep\n    work floor takes 20 min by 1\ndone sweep.floor 2027-03-01 08:00 to 08:20\n"
    [note] = found(compiled(text + "done slab.body 2027-03-01 11:00 to 11:40\n"), "taken-as-done")

    assert note.span.line == text.count("\n") + 1


def test_one_record_of_two_grits_is_shared_out_among_them_and_a_part_has_its_own() -> None:
    whole = plan_of(compiled(SLAB + "done slab.hone 2027-03-05 09:00 to 11:00\n"))
    part = plan_of(compiled(SLAB + "done slab.hone.grit-100 2027-03-05 09:00 to 09:50\n"))

    assert times(whole)["slab.hone.grit-100"] == ("03-05 09:00", "03-05 10:00")
    assert times(whole)["slab.hone.grit-200"] == ("03-05 10:00", "03-05 11:00")
    assert times(part)["slab.hone.grit-200"] == ("03-05 09:50", "03-05 10:20")


def test_two_records_of_one_step_are_one_span() -> None:
    text = SLAB + "done slab.body 2027-03-01 11:00 to 11:20\ndone slab.body 2027-03-01 11:30 to 11:45\n"

    assert times(plan_of(compiled(text)))["slab.body"] == ("03-01 11:00", "03-01 11:45")


def test_a_record_of_one_copy_moves_that_copy_alone() -> None:
    two = SLAB.replace("piece slab\n", "piece slab\n    make      2\n")
    plan = plan_of(compiled(two + "done slab.1.body 2027-03-01 11:00 to 11:40\n"))

    assert times(plan)["slab.1.body"] == ("03-01 11:00", "03-01 11:40")
    assert times(plan)["slab.2.body"][0] > "03-02"
    assert verify(plan) == ()


# ---------------------------------------------------------------- windows that were not kept


def test_a_window_that_was_missed_is_told_with_both_figures_and_the_plan_goes_on() -> None:
    text = SHELL + "done slab.skin 2027-03-01 11:00 to 11:20\ndone slab.back 2027-03-01 12:30 to 13:30\n"
    build = compiled(text)
    messages = [p.message for p in found(build, "window-not-kept")]

    assert [re.sub(r" \(.*\)", "", m) for m in messages] == [
        "the end of slab.back was 2 h 10 min after the end of slab.skin; wanted was at most 60 min",
        "the start of slab.back was 90 min after the start of slab.skin; wanted was at most 60 min",
    ]
    assert times(plan_of(build))["slab.demold"][0] == "03-02 13:40"


def test_what_came_too_soon_is_told() -> None:
    text = SHELL + "done slab.skin 2027-03-01 11:00 to 11:20\ndone slab.back 2027-03-01 11:10 to 11:35\n"
    messages = [re.sub(r" \(.*\)", "", p.message) for p in found(compiled(text), "window-not-kept")]

    assert messages == [
        "the end of slab.back was 15 min after the end of slab.skin; wanted was at least 20 min",
        "the start of slab.back was 10 min after the start of slab.skin; wanted was at least 20 min",
        "the start of slab.back was 10 min before the end of slab.skin; wanted was after it",
    ]


def test_waits_over_steps_that_are_not_told_are_counted_too() -> None:
    text = SLAB + (
        "done slab.body 2027-03-01 11:00 to 11:40\ndone slab.hone.grit-100 2027-03-03 09:00 to 09:40\n"
    )
    [problem] = found(compiled(text), "window-not-kept")

    assert problem.message == (
        "the start of slab.hone.grit-100 was 45 h 20 min after the end of slab.body; "
        "the waits between them come to at least 3 days"
    )


def test_a_window_that_closed_with_nothing_told_is_a_warning_not_an_impossible_plan() -> None:
    text = (
        SHELL
        + "job sweep\n    work floor takes 20 min by 1\n"
        + ("done slab.skin 2027-03-01 11:00 to 11:20\ndone sweep.floor 2027-03-02 08:00 to 08:20\n")
    )
    build = compiled(text)
    messages = [p.message for p in found(build, "window-passed")]

    assert any("start of slab.back was due by Mon 2027-03-01 12:00" in m for m in messages)
    assert all("not told done, and work is told up to Tue 2027-03-02 08:20" in m for m in messages)
    assert times(plan_of(build))["slab.back"][0] == "03-02 08:20"


def test_both_are_waived_with_a_reason() -> None:
    text = SHELL + "done slab.skin 2027-03-01 11:00 to 11:20\ndone slab.back 2027-03-01 12:30 to 13:30\n"
    build = compiled(text + 'waive window-not-kept on slab.back "scratched and bonded, looks sound"\n')

    assert found(build, "window-not-kept") == []
    assert len(build.waived) == 2


# ---------------------------------------------------------------- records that cannot be


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("done slab.body 2027-02-26 11:00 to 11:40", "done-before-start"),
        ("done slab 2027-03-01 11:00 to 11:40", "done-no-step"),
        ("done slab.body.lift-4 2027-03-01 11:00 to 11:40", "done-no-step"),
    ],
)
def test_a_record_that_cannot_be_laid_over_the_plan_is_refused(line: str, name: str) -> None:
    build = compiled(SLAB + line + "\n")

    assert [p.finding.name for p in build.problems if p.finding.severity == "error"] == [name]
    assert build.plan is None


# ---------------------------------------------------------------- on paper


@pytest.fixture(scope="module")
def binder() -> dict[str, list[Item | str]]:
    build = compiled(SLAB + 'done slab.body 2027-03-01 11:00 to 11:40 by 2 "Edge a little dry"\n')
    if build.spec is None or build.takeoff is None or build.plan is None or build.costing is None:
        raise AssertionError(build.problems)
    made = binder_of(build.spec, build.takeoff, build.plan, build.costing)
    found: dict[str, list[Item | str]] = {}
    for sheet in made.sheets:
        for block in sheet.blocks:
            if isinstance(block, Items):
                found.setdefault(sheet.code.split(" ")[0], []).extend(block.items)
            if isinstance(block, Table) and block.key == "plan":
                found["slack"] = [row.cells[6] for row in block.rows]
                found["work"] = [row.cells[3] for row in block.rows if row.cells[2] == "slab.body"]
    return found


def test_a_done_step_is_ticked_on_its_traveller_with_nothing_to_fill_in(
    binder: dict[str, list[Item | str]],
) -> None:
    [body] = [i for i in binder["PIECE"] if isinstance(i, Item) and i.what.startswith("body:")]

    assert body.done
    assert body.write == ()
    assert any("Edge a little dry" in line for line in body.lines)
    assert any(isinstance(i, Item) and not i.done and i.write for i in binder["PIECE"])


def test_told_times_give_the_told_length_and_not_the_planned_one(binder: dict[str, list[Item | str]]) -> None:
    [body] = [i for i in binder["PIECE"] if isinstance(i, Item) and i.what.startswith("body:")]

    assert any("40 min, to 11:40" in line for line in body.lines)  # planned were 30 min
    assert binder["work"] == ["30 min, took 40 min"]


def test_a_step_that_is_only_taken_as_done_has_no_time_and_room_for_one(
    binder: dict[str, list[Item | str]],
) -> None:
    [release] = [i for i in binder["PIECE"] if isinstance(i, Item) and i.what.startswith("release")]

    assert release.when == "not told"
    assert release.write == ("began", "ended", "by")
    assert not release.done


def test_day_sheets_leave_out_what_is_done(binder: dict[str, list[Item | str]]) -> None:
    told = [i.what for i in binder["DAY"] if isinstance(i, Item)]

    assert any(text.startswith("slab.demold") for text in told)
    assert not any(text.startswith(("slab.body:", "slab.release", "bed.build-up")) for text in told)


def test_the_schedule_says_what_is_done(binder: dict[str, list[Item | str]]) -> None:
    assert binder["slack"].count("done") == 1
    assert binder["slack"].count("as done") == 3


# ---------------------------------------------------------------- any records


def recorded(plan: Plan, upto: int, late: int) -> str:
    """Records of all attended work that ends by a minute of a plan, each so many minutes late."""
    start = datetime.combine(plan.network.hours.start, datetime.min.time())
    attended = {task.name for task in plan.network.tasks if task.crew}
    lines = []
    for p in plan.placed:
        if p.end <= upto and p.task in attended:
            a, b = (start + timedelta(minutes=m + late) for m in (p.start, p.end))
            lines.append(f"done {p.task} {a:%Y-%m-%d %H:%M} to {b:%Y-%m-%d %H:%M}\n")
    return "".join(lines)


@settings(max_examples=12, deadline=None)
@given(upto=st.integers(0, 12 * 1440), late=st.integers(0, 90))
def test_any_part_of_a_plan_on_record_leaves_a_plan_for_the_rest(upto: int, late: int) -> None:
    first = plan_of(compiled(BENCH))
    text = re.sub(r"(?m)^( +due +).*$", "", BENCH) + recorded(first, upto, late)
    build = compiled(text)
    plan = plan_of(build)
    done = {task.name: task.done for task in plan.network.tasks if task.done is not None}
    told = set(re.findall(r"(?m)^done (\S+)", recorded(first, upto, late)))

    assert verify(plan) == ()
    assert told <= set(done)
    assert all((p.start, p.end) == done[p.task] for p in plan.placed if p.task in done)
    if not late:
        assert found(build, "window-not-kept") == []
        assert plan.finish <= max(first.finish, plan.finish)


def test_a_plan_kept_to_the_minute_stays_the_plan() -> None:
    first = plan_of(compiled(BENCH))
    half = sorted(p.end for p in first.placed)[len(first.placed) // 2]
    again = plan_of(compiled(BENCH + recorded(first, half, 0)))

    assert again.finish == first.finish


# ---------------------------------------------------------------- the independent check


@pytest.mark.parametrize("task", ["slab.body", "slab.demold"])
def test_the_independent_check_refuses_a_done_step_elsewhere_and_work_in_the_past(task: str) -> None:
    plan = plan_of(compiled(SLAB + "done slab.body 2027-03-01 11:00 to 11:40\n"))
    early = 60
    placed = [
        replace(
            p,
            start=p.start - early if p.task == "slab.body" else 600,
            end=p.end - early if p.task == "slab.body" else 620,
            latest=p.start - early if p.task == "slab.body" else 600,
            slack=0,
            spells=tuple((a - early, b - early) for a, b in p.spells)
            if p.task == "slab.body"
            else ((600, 620),),
        )
        if p.task == task
        else p
        for p in plan.placed
    ]
    wrong = verify(replace(plan, placed=tuple(sorted(placed, key=lambda p: p.start))))
    wanted = "was done from 660 to 700, but stands elsewhere" if task == "slab.body" else "before 700"

    assert any(task in text and wanted in text for text in wrong)
