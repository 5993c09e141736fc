"""Cures that are looked after: each visit stands on the sheets and in the calendar when it is due."""

import icalendar
import pytest
from compiled_text import binder, compiled

from castlang.out.calendar_file import ics_of
from castlang.pipeline import Compiled
from castlang.rules.examples import BASE, CAST
from castlang.sheets.from_plan import plan_calendar
from castlang.sheets.model import Binder, Items, Prose

TENDED = BASE + CAST.replace("covered\n", "covered tend 6 h by 1\n")


def day_lines(made: Binder) -> dict[str, tuple[str, ...]]:
    return {
        sheet.code: block.lines
        for sheet in made.sheets
        for block in sheet.blocks
        if isinstance(block, Prose) and block.title == "Look after, by the clock"
    }


def test_the_traveller_tells_each_visit_and_whether_the_shop_is_closed() -> None:
    made = binder(compiled(TENDED))
    lines = [
        line
        for sheet in made.sheets
        if sheet.code.startswith("PIECE")
        for block in sheet.blocks
        if isinstance(block, Items)
        for item in block.items
        if item.wait
        for line in item.lines
    ]
    [told] = [line for line in lines if line.startswith("look after it")]

    # 10:45 to 11:25 in the plan: the pour ends 10:45, its cure of 24 h is told every 6 h
    assert told == ("look after it Mon 1 Mar 16:45, 22:45 (closed), Tue 2 Mar 04:45 (closed)")


def test_each_day_sheet_tells_the_visits_up_to_the_next_opening() -> None:
    lines = day_lines(binder(compiled(TENDED)))

    assert list(lines.values()) == [
        (
            "Mon 1 Mar 16:45: cure of slab.body, by 1",
            "Mon 1 Mar 22:45 (closed): cure of slab.body, by 1",
            "Tue 2 Mar 04:45 (closed): cure of slab.body, by 1",
        ),
    ]


def test_visits_over_a_weekend_stand_on_the_sheet_before_it() -> None:
    text = (
        TENDED.replace("2027-03-01", "2027-03-05")
        .replace("tend 6 h", "tend 24 h")
        .replace("24 h at", "60 h at")
    )
    lines = day_lines(binder(compiled(text)))

    assert [line[:20] for told_then in list(lines.values())[:1] for line in told_then] == [
        "Sat 6 Mar 10:45 (clo", "Sun 7 Mar 10:45 (clo",
    ]  # fmt: skip


def test_a_long_row_of_visits_is_cut_short_on_the_traveller_and_whole_on_the_day_sheets() -> None:
    text = TENDED.replace("24 h at 20", "10 days at 20")
    made = binder(compiled(text))
    lines = [
        line
        for sheet in made.sheets
        for block in sheet.blocks
        if isinstance(block, Items)
        for item in block.items
        for line in item.lines
        if "look after it" in line
    ]
    days = [line for lines in day_lines(made).values() for line in lines]

    assert lines[0].endswith(f"and {len(days) - 12} more, on the day sheets")
    assert len(days) >= 39


def test_the_calendar_has_each_visit_with_an_alarm() -> None:
    build = compiled(TENDED)
    assert build.spec is not None
    assert build.takeoff is not None
    assert build.plan is not None
    assert build.costing is not None
    data = ics_of(plan_calendar(build.spec, build.takeoff, build.plan, build.costing))
    visits = [
        e
        for e in icalendar.Calendar.from_ical(data).walk("VEVENT")
        if str(e["SUMMARY"]).startswith("Look after: ")
    ]

    assert [f"{e['DTSTART'].dt:%a %H:%M}" for e in visits] == ["Mon 16:45", "Mon 22:45", "Tue 04:45"]
    assert all(len(e.walk("VALARM")) == 1 for e in visits)


@pytest.mark.parametrize("line", ["done slab.body 2027-03-01 10:15 to 10:45\n", ""])
def test_visits_before_the_last_record_are_past(line: str) -> None:
    sweep = "job sweep\n    work floor takes 5 min by 1\n"
    late = "done slab.body.cover 2027-03-01 10:45 to 10:55\ndone sweep.floor 2027-03-01 17:00 to 17:05\n"
    told = [
        text for lines in day_lines(binder(compiled(TENDED + sweep + (line and line + late)))).values()
        for text in lines
    ]  # fmt: skip

    assert ("Mon 1 Mar 16:" in "".join(told)) == (not line)


def test_a_cure_that_nobody_tends_has_no_visits() -> None:
    assert day_lines(binder(compiled(BASE + CAST))) == {}


# ---------------------------------------------------------------- who is there


def told(build: Compiled, name: str) -> list[str]:
    return [p.message for p in build.problems if p.finding.name == name]


def test_visits_that_fall_where_the_shop_is_closed_are_a_warning_until_somebody_is_named() -> None:
    build = compiled(TENDED)
    named = compiled(TENDED + 'waive tend-closed on slab.body "the neighbour looks in"\n')

    [problem] = told(build, "tend-closed")

    assert problem == (
        "cure of slab.body is to be looked after every 6 h by 1; 2 of 3 visits fall where nobody is free, "
        "the first on Mon 2027-03-01 22:45: the shop is closed then"
    )
    assert named.clean


def test_visits_in_open_hours_are_no_warning() -> None:
    build = compiled(TENDED.replace("tend 6 h", "tend 1 h").replace("24 h at", "4 h at"))

    assert told(build, "tend-closed") == []
    assert told(build, "tend-busy") == []


@pytest.mark.parametrize("off", ["closed    2027-03-02", "away      2 on 2027-03-02"])
def test_a_visit_on_a_day_with_nobody_there_is_told_on_paper_too(off: str) -> None:
    text = TENDED.replace("    crew", f"    {off}\n    crew").replace("tend 6 h", "tend 24 h")
    build = compiled(text.replace("24 h at", "26 h at"))
    [problem] = told(build, "tend-closed")
    [[line], *_] = [lines for lines in day_lines(binder(build)).values() if lines]

    assert "its one visit falls where nobody is free, the first on Tue 2027-03-02 10:45" in problem
    assert line.startswith(f"Tue 2 Mar 10:45 ({off.split()[0]}): cure of slab.body")


def test_a_visit_when_all_are_at_work_is_noted_with_their_work() -> None:
    sweep = "job sweep\n    after slab.body.end\n    work floor takes 6 h by 2\n"
    build = compiled(TENDED.replace("tend 6 h", "tend 5 h") + sweep)
    [problem] = told(build, "tend-busy")
    lines = [line for lines in day_lines(binder(build)).values() for line in lines]

    assert problem.endswith("the first on Mon 2027-03-01 15:45: all are at work then, at sweep.floor")
    assert lines[0] == "Mon 1 Mar 15:45 (all at work): cure of slab.body, by 1"


def test_a_cure_behind_a_wait_is_tended_from_its_own_beginning_and_no_longer_than_itself() -> None:
    text = (BASE + CAST).replace(
        "    cure      24 h at 20 degC covered\n",
        "    wait 1 h\n    cure 4 h at 20 degC open tend 90 min by 1\n    wait 2 days\n",
    )
    lines = [line for lines in day_lines(binder(compiled(text))).values() for line in lines]

    # the pour ends 10:45; the cure runs from 11:45 to 15:45
    assert [line[:15] for line in lines] == ["Mon 1 Mar 13:15", "Mon 1 Mar 14:45"]


def test_a_cure_that_another_step_waits_for_as_well_is_tended_once() -> None:
    other = "job look\n    after slab.body\n    work over takes 10 min by 1\n"

    assert day_lines(binder(compiled(TENDED + other))) == day_lines(binder(compiled(TENDED)))
