"""The plan as a calendar: read back by the library, held against the plan and the form of RFC 5545."""

import re
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import icalendar
import pytest
from compiled_text import compiled
from hypothesis import example, given
from hypothesis import strategies as st

from castlang.cli.main import main
from castlang.out.calendar_file import ics_of
from castlang.pipeline import Compiled
from castlang.plan.model import Plan
from castlang.sheets.basis import basis_of
from castlang.sheets.calendar import Calendar, Event, revision_number
from castlang.sheets.from_plan import plan_calendar
from castlang.sheets.waits import closings

CASES = Path(__file__).parent / "cases"
PANEL = (CASES / "good" / "panel.pour").read_text(encoding="utf-8")
BENCH = (CASES / "good" / "bench.pour").read_text(encoding="utf-8")


def written(build: Compiled, revision: str | None = None) -> bytes:
    if build.spec is None or build.takeoff is None or build.plan is None or build.costing is None:
        raise AssertionError([p.message for p in build.problems])
    return ics_of(plan_calendar(build.spec, build.takeoff, build.plan, build.costing, revision=revision))


def events(data: bytes) -> dict[str, Any]:
    return {str(e["UID"]): e for e in icalendar.Calendar.from_ical(data).walk("VEVENT")}


def at(plan: Plan, minute: int) -> datetime:
    return datetime.combine(plan.network.hours.start, datetime.min.time()) + timedelta(minutes=minute)


@pytest.fixture(scope="module")
def panel() -> Compiled:
    return compiled(PANEL)


def test_every_spell_of_work_stands_in_it_at_its_time_and_no_other_work(panel: Compiled) -> None:
    assert panel.plan is not None
    attended = {t.name for t in panel.plan.network.tasks if t.crew}
    expected = sorted(
        (at(panel.plan, a), at(panel.plan, b))
        for p in panel.plan.placed
        if p.task in attended
        for a, b in p.spells
    )
    found = sorted((e["DTSTART"].dt, e["DTEND"].dt) for e in events(written(panel)).values() if "DTEND" in e)

    assert expected
    assert expected == found


def test_each_window_stands_in_it_when_the_sheets_say_that_it_closes_and_rings_before(
    panel: Compiled,
) -> None:
    assert panel.spec is not None
    assert panel.takeoff is not None
    assert panel.plan is not None
    assert panel.costing is not None
    basis = basis_of(panel.spec, panel.takeoff, panel.plan, panel.costing, (), "metric")
    expected = {
        f"{panel.spec.build.name}/{task.name}/{closing.point}-by@castlang": at(panel.plan, closing.minute)
        for task in basis.run
        if task.crew
        for closing in closings(basis, task)
    }
    found = {u: e["DTSTART"].dt for u, e in events(written(panel)).items() if "-by@" in u}
    rings = [a["TRIGGER"].dt for e in events(written(panel)).values() for a in e.walk("VALARM")]

    assert expected
    assert expected == found
    assert rings == [timedelta(minutes=-15)] * len(expected)


def test_what_arrives_is_a_whole_day() -> None:
    text = re.sub(r"(?m)^(stock cement .*)$", r"\1\n    lead 3 days", BENCH, count=1)
    build = compiled(text)
    assert build.spec is not None
    found = [e for u, e in events(written(build)).items() if "/cement.arrives" in u]

    assert [e["DTSTART"].dt for e in found] == [build.spec.build.start + timedelta(days=3)]
    assert type(found[0]["DTSTART"].dt) is date
    assert str(found[0]["SUMMARY"]).endswith(" arrives")


def test_times_have_no_zone_and_the_stamp_is_no_clock(panel: Compiled) -> None:
    # RFC 5545, 3.3.5 form 1: local time, no zone; 3.8.7.2: a stamp is in UTC.
    assert panel.spec is not None
    text = written(panel).decode()
    start = panel.spec.build.start.strftime("%Y%m%d")

    assert set(re.findall(r"DTSTAMP:(\S+)", text)) == {f"{start}T000000Z"}
    assert re.findall(r"DTSTART:(\S+)", text)
    assert all(re.fullmatch(r"\d{8}T\d{6}", t) for t in re.findall(r"DT(?:START|END):(\S+)", text))
    assert "TZID" not in text


def test_lines_end_and_fold_as_the_form_wants(panel: Compiled) -> None:
    # RFC 5545, 3.1: CRLF, no more than 75 octets without it; 3.6: VERSION and PRODID.
    data = written(panel)
    rows = data.split(b"\r\n")

    assert rows[0] == b"BEGIN:VCALENDAR"
    assert rows[-2:] == [b"END:VCALENDAR", b""]
    assert all(len(row) <= 75 and b"\n" not in row and b"\r" not in row for row in rows)
    assert b"VERSION:2.0" in rows


def test_the_same_build_is_the_same_bytes(panel: Compiled) -> None:
    assert written(panel) == written(compiled(PANEL))


def test_a_moved_step_keeps_its_name_in_the_calendar_and_a_new_revision_wins() -> None:
    moved = re.sub(r"start( +)\d{4}-\d\d-\d\d", r"start\g<1>2027-09-06", PANEL, count=1)
    old, new = events(written(compiled(PANEL), "A")), events(written(compiled(moved), "B"))

    assert {u for u in old if "/2@" not in u} == {u for u in new if "/2@" not in u}
    assert {e["SEQUENCE"] for e in old.values()} == {1}
    assert {e["SEQUENCE"] for e in new.values()} == {2}
    assert len(old) == len(re.findall("UID:", written(compiled(PANEL)).decode()))


def test_work_over_night_is_an_entry_for_each_day() -> None:
    text = re.sub(r"(pass +hone .*?) by 1", r"\1 by 1 may-pause", BENCH, count=1)
    text = re.sub(r"takes \d+ min( by 1 may-pause)", r"takes 15 h\1", text, count=1)
    assert text != BENCH
    build = compiled(text)
    assert build.plan is not None
    long = next(p for p in build.plan.placed if len(p.spells) > 2)
    found = {u: e for u, e in events(written(build)).items() if f"/{long.task}" in u and "-by" not in u}

    assert len(found) == len(long.spells)
    assert sum(str(e["SUMMARY"]).endswith(", goes on") for e in found.values()) == len(long.spells) - 1


@pytest.mark.parametrize(
    ("revision", "number"), [("", 0), ("A", 1), ("c", 3), ("AA", 27), ("12", 12), ("draft", 0), ("2b", 0)]
)
def test_a_revision_counts_up(revision: str, number: int) -> None:
    assert revision_number(revision) == number


@given(title=st.text(), name=st.text())
@example(title="\\N \\n", name="")
def test_any_text_comes_back_as_it_was_but_for_what_the_form_forbids(title: str, name: str) -> None:
    moment = datetime(2027, 3, 1, 8)
    made = Calendar(
        name=name,
        stamp=moment,
        revision=0,
        events=(Event(uid="a/b", begin=moment, end=moment, title=title, lines=(title, name)),),
    )
    data = ics_of(made)
    [event] = icalendar.Calendar.from_ical(data).walk("VEVENT")
    plain = "".join(c if c >= " " and c != "\x7f" else " " for c in title)
    plain = plain.encode("utf-8", "replace").decode().replace("\\N", "\\n")

    assert str(event["SUMMARY"]) == plain
    assert all(len(row) <= 75 for row in data.split(b"\r\n"))
    assert data == ics_of(made)


def test_the_command_prints_it_and_the_binder_holds_it(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    spec = tmp_path / "panel.pour"
    spec.write_text(PANEL, encoding="utf-8")
    main(["plan", str(spec), "--calendar"])
    printed = capfdbinary.readouterr().out
    main(["binder", str(spec), "--out", str(tmp_path / "out")])

    assert printed == (tmp_path / "out" / "plan.ics").read_bytes()
    assert printed == written(compiled(PANEL))


def test_several_builds_make_one_calendar_with_the_same_names(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    specs = []
    for name in ("one", "two"):
        spec = tmp_path / f"{name}.pour"
        spec.write_text(re.sub(r"(?m)^build +[\w-]+", f"build {name}", PANEL, count=1), encoding="utf-8")
        specs.append(str(spec))
    main(["plan", *specs, "--calendar"])
    joint = events(capfdbinary.readouterr().out)
    main(["plan", specs[0], "--calendar"])
    alone = events(capfdbinary.readouterr().out)

    assert {u for u in alone if "/2@" not in u} <= set(joint)
    assert any(u.startswith("two/") for u in joint)
