"""Builds planned together: what follows from dates is judged by the joint plan, each in its own words."""

from pathlib import Path

import icalendar
import pytest
from compiled_text import compiled

from castlang.cli.main import main
from castlang.pipeline import judged_by
from castlang.plan.from_network import plan_of
from castlang.plan.network.several import joined, part_of
from castlang.plan.verify import verify
from castlang.rules.examples import BASE, CAST

AIR = "    air       20 degC\n"
COLD = BASE.replace(AIR, f"{AIR}    night     4 degC on 2027-03-03 to 2027-03-04\n")


def build(name: str, more: str = "", shop: str = BASE, cast: str = CAST) -> str:
    return shop.replace("build trial", f"build {name}").replace("    crew", f"{more}    crew") + cast


def planned(tmp_path: Path, *texts: str, words: tuple[str, ...] = ()) -> int:
    names = []
    for number, text in enumerate(texts):
        path = tmp_path / f"{'abc'[number]}.pour"
        path.write_text(text, encoding="utf-8")
        names.append(str(path))
    return main(["plan", *names, *words])


def test_a_cure_that_the_joint_plan_moves_into_the_cold_is_told_and_alone_it_is_not(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first, second = build("first", shop=COLD), build("second", shop=COLD)
    status = planned(tmp_path, first, second)
    told = capsys.readouterr().err

    # alone each is cast on Monday; with one bed the second waits for the Tuesday, and its night is cold
    assert compiled(second).clean
    assert status == 1
    assert told.count("[cure-cold]") == 1
    assert "b.pour:69:5: warning: cure of slab.body runs below 10 degC for" in told


def test_a_cure_that_the_joint_plan_moves_out_of_the_cold_is_not_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cold = BASE.replace(AIR, f"{AIR}    night     4 degC on 2027-03-01\n")
    second = build("second", shop=cold)
    status = planned(tmp_path, build("first"), second)

    assert [p.finding.name for p in compiled(second).problems] == ["cure-cold"]
    assert (status, capsys.readouterr().err) == (0, "")


def test_each_build_tells_its_findings_in_its_own_units_and_in_those_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    night = "    night     4 degC\n"
    texts = build("first", night), build("second", night + "    print     us\n")
    planned(tmp_path, *texts)
    own = capsys.readouterr()
    planned(tmp_path, *texts, words=("--units", "us"))
    asked = capsys.readouterr()

    assert own.err.count("down to 4 degC") == own.err.count("down to 39.2 degF") == 1
    assert asked.err.count("down to 39.2 degF") == 2
    assert "08:00" in own.out
    assert "8:00 am" in asked.out


def test_a_waiver_of_a_build_holds_for_what_the_joint_plan_brings(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    waived = build("second", shop=COLD) + 'waive cure-cold on slab.body "a heated blanket lies on it"\n'
    planned(tmp_path, build("first", shop=COLD), waived)

    assert capsys.readouterr().err == ""


def test_a_due_date_that_only_the_joint_plan_misses_is_told_at_its_own_build(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first, second = (build(name, "    due       2027-03-02\n") for name in ("first", "second"))
    planned(tmp_path, first, second)
    told = [line for line in capsys.readouterr().err.splitlines() if "due-missed" in line]

    assert compiled(second).clean
    assert [line.removeprefix(f"{tmp_path}/")[:38] for line in told] == [
        "b.pour:1:1: warning: second ends on We"
    ]


def test_a_stock_that_the_joint_plan_wants_too_late_to_keep_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = "    density   3150 kg/m3\n"
    shop, cast = BASE.replace(told, f"{told}    keeps     1 days\n"), CAST.replace("24 h at", "48 h at")
    second = build("second", shop=shop, cast=cast)
    planned(tmp_path, build("first", shop=shop, cast=cast), second)

    assert compiled(second).clean
    assert capsys.readouterr().err.count("[kept-too-long]") == 1


def test_no_build_is_planned_before_the_last_record_of_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cured = build("first", cast=CAST.replace("24 h at", "24 h to 30 h at"))
    done = "done slab.body 2027-03-01 09:00 to 09:30\n"
    other = build("second").replace("mold bed", "mold form").replace("into bed", "into form")
    other = other.replace("take      bed", "take      form")
    later = "done slab.demold 2027-03-05 09:00 to 09:30\n"
    status = planned(tmp_path, cured + done, other + later)
    printed, told = capsys.readouterr()

    assert status == 1
    assert "the start of slab.demold was due by Tue 2027-03-02 15:30 (cure of slab.body" in told
    assert "it is not told done, and work is told up to Fri 2027-03-05 09:30" in told
    assert "Fri 5 Mar 09:30  09:40  first   slab.body.cover" in printed


def test_the_part_of_a_build_keeps_all_that_its_own_network_asks() -> None:
    early, late = compiled(build("early")), compiled(build("late").replace("2027-03-01", "2027-03-03"))
    assert early.network is not None
    assert late.network is not None
    plan = plan_of(joined([("early", early.network), ("late", late.network)]).value).value
    assert plan is not None
    parts = [part_of(plan, "early", early.network), part_of(plan, "late", late.network)]

    assert [verify(part) for part in parts] == [(), ()]
    assert [part.placed[0].start for part in parts] == [480, 480]
    assert judged_by(late, parts[1]).plan == parts[1]


def test_a_visit_when_all_are_at_work_in_another_build_is_noted() -> None:
    tended = compiled(build("one", cast=CAST.replace("covered\n", "covered tend 5 h by 1\n")))
    job = "job sweep\n    work floor takes 5 h by 2 earliest 2027-03-01 12:00\n"
    other = compiled(build("other", cast=CAST.replace("bed", "tray")).replace("mold bed", "mold tray") + job)
    assert tended.network is not None
    assert other.network is not None
    plan = plan_of(joined([("one", tended.network), ("other", other.network)]).value).value
    assert plan is not None
    judged = judged_by(tended, part_of(plan, "one", tended.network))
    busy = [p.message for p in judged.problems if p.finding.name == "tend-busy"]

    assert [p.finding.name for p in tended.problems if p.finding.name == "tend-busy"] == []
    assert [text.partition(": ")[2] for text in busy] == ["all are at work then, at other/sweep.floor"]


def test_the_calendar_of_all_builds_says_what_is_done_and_looked_after_in_each(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    tended = build("first", cast=CAST.replace("covered\n", "covered tend 6 h by 1\n"))
    planned(
        tmp_path, tended, build("second").replace('"A trial slab"', '"Another slab"'), words=("--calendar",)
    )
    entries = icalendar.Calendar.from_ical(capfdbinary.readouterr().out).walk("VEVENT")
    titles = [str(entry["SUMMARY"]) for entry in entries]

    assert len({str(entry["UID"]) for entry in entries}) == len(entries)
    assert any(title.startswith("Another slab: slab.body: ") for title in titles)
    assert [title for title in titles if "Look after" in title] == [
        "A trial slab: Look after: cure of slab.body, by 1",
        *["A trial slab: Look after: cure of slab.body, by 1 (closed)"] * 2,
    ]
