"""The command line: words in, exit status out."""

import io
import json
import os
import pty
import re
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion
from told import BENCH, PANEL

import castlang.cli.commands
from castlang.cli.main import main
from castlang.cli.starter import STARTER
from castlang.cli.terminal import Progress, bold, width
from castlang.pipeline import PlanNotKept

HEAVY = ("lark", "pint", "networkx", "reportlab", "trimesh", "numpy")


@pytest.fixture(autouse=True)
def _in_an_empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("NO_COLOR", raising=False)
    Path("bench.pour").write_text(BENCH, encoding="utf-8")
    Path("panel.pour").write_text(PANEL, encoding="utf-8")


def ran(words: Sequence[str], capsys: pytest.CaptureFixture[str]) -> tuple[int, str, str]:
    """Status, standard output and standard error of one command."""
    capsys.readouterr()
    status = main(words)
    told = capsys.readouterr()
    return status, told.out, told.err


def outside(words: Sequence[str], **more: str) -> "subprocess.CompletedProcess[bytes]":
    """The same as a program of its own."""
    code = f"from castlang.cli.main import main; raise SystemExit(main({list(words)!r}))"
    return subprocess.run(
        [sys.executable, "-c", code], capture_output=True, check=False, env={**os.environ, **more}
    )


# ------------------------------------------------------------------ status


def test_a_clean_build_ends_with_0_and_says_what_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = ran(["check", "bench.pour"], capsys)

    assert status == 0
    assert out.startswith("Bench seat: 2 pieces, ")
    assert err == ""


def test_findings_end_with_1_and_stand_on_standard_error(capsys: pytest.CaptureFixture[str]) -> None:
    Path("bad.pour").write_text(BENCH.replace("pour      body", "por       body"), encoding="utf-8")
    status, out, err = ran(["check", "bad.pour"], capsys)

    assert (status, out) == (1, "")
    assert err == (
        "bad.pour:62:5: error: `por` is not a word that a line in a piece block begins with [unknown-word]\n"
        "    |     por       body full of casting into seat-mold using mixer takes 40 min by 2\n"
        "    |     ^^^\n"
        "    next: did you mean `pour`?\n"
        "1 error\n"
    )


def test_a_warning_ends_with_1_and_still_makes_the_plan(capsys: pytest.CaptureFixture[str]) -> None:
    Path("warned.pour").write_text(re.sub(r"(?m)^waive.*\n", "", BENCH), encoding="utf-8")
    status, out, err = ran(["check", "warned.pour"], capsys)

    assert status == 1
    assert out.startswith("Bench seat: ")
    assert "[grit-step]" in err
    assert err.endswith("\n1 warning\n")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["check", "nowhere.pour"], "castlang: nowhere.pour cannot be found\n"),
        (["check", "."], "castlang: . is a folder, not a file\n"),
        (["check", "x" * 300], f"castlang: {'x' * 300} cannot be read (File name too long)\n"),
        (["check", "bench.pour/a"], "castlang: bench.pour/a cannot be read (Not a directory)\n"),
        (["plan", "nowhere.pour"], "castlang: nowhere.pour cannot be found\n"),
        (["why", "x"], "castlang: there is no finding called x\n"),
        (["why", "not-siad"], "castlang: there is no finding called not-siad; did you mean not-said?\n"),
        (["begin", "bench.pour"], "castlang: bench.pour is there already, and is left as it is\n"),
        (["chek", "a"], "castlang: there is no command `chek`; did you mean `castlang check`?\n"),
        (["begin", "no/a.pour"], "castlang: no/a.pour cannot be written (No such file or directory)\n"),
    ],
)  # fmt: skip
def test_trouble_ends_with_2_and_one_line(
    words: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ran(words, capsys) == (2, "", told)


@pytest.mark.parametrize("words", [["check"], ["check", "a", "b"], ["order", "a", "--unit", "us"]])
def test_words_that_are_no_command_end_with_2(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(words)

    assert end.value.code == 2
    assert "usage: castlang" in capsys.readouterr().err


def test_what_to_do_about_a_late_plan_is_told_with_the_page_that_shows_it(
    capsys: pytest.CaptureFixture[str],
) -> None:
    for name, page in castlang.cli.commands.PAGES.items():
        assert ran(["why", name], capsys)[1].splitlines()[5] == f"  read    docs/how-to/{page}"
        assert (Path(__file__).parents[1] / "docs" / "how-to" / page).is_file()


def test_a_word_like_no_command_lists_them_all(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = ran(["zzz"], capsys)

    assert (status, out) == (2, "")
    assert err.startswith("castlang: there is no command `zzz`; there are check, binder, order,")


def test_our_own_mistake_ends_with_2_and_no_traceback(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise PlanNotKept("two pieces in one mold")

    monkeypatch.setattr(castlang.cli.commands, "compiled", broken)
    status, out, err = ran(["check", "bench.pour"], capsys)

    assert (status, out) == (2, "")
    assert re.match(r"castlang: PlanNotKept: two pieces in one mold \(test_cli\.py:\d+\)\n", err)
    assert "please report it" in err
    assert "Traceback" not in err


def test_a_stop_from_the_keyboard_ends_with_2_and_one_line(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(castlang.cli.commands, "compiled", stopped)

    assert ran(["check", "bench.pour"], capsys) == (2, "", "castlang: stopped\n")


# ------------------------------------------------------------------ in and out


def test_a_dash_reads_standard_input(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    bad = BENCH.replace("crew      2", "crew      two").encode()
    for data, status in ((BENCH.encode(), 0), (bad, 1)):
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))

        assert ran(["check", "-"], capsys)[0] == status
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(bad)))

    assert ran(["check", "-"], capsys)[2].startswith("<stdin>:10:15: error: ")


def test_standard_input_may_use_files_of_the_folder(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    Path("stores.pour").write_text("stock grit\n    density 5\n", encoding="utf-8")
    data = f'use "stores.pour"\n{BENCH}'.encode()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))

    assert ran(["check", "-"], capsys)[2].startswith("stores.pour:2:13: error: `5` has no unit")


def test_findings_are_printed_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    Path("bad.pour").write_text(BENCH.replace("crew      2", "crew      two"), encoding="utf-8")
    status, out, err = ran(["check", "--json", "bad.pour"], capsys)
    told = json.loads(out)

    assert (status, err) == (1, "")
    assert told["problems"] == [
        {
            "name": "no-number",
            "severity": "error",
            "message": "a number is wanted behind `crew`, not `two`",
            "remedy": "write `2`",
            "about": [],
            "related": [],
            "file": "bad.pour",
            "line": 10,
            "column": 15,
            "end": 18,
        }
    ]


def test_assumptions_are_printed_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = ran(["check", "--json", "bench.pour"], capsys)
    told = json.loads(out)["assumptions"]

    assert status == 0
    assert told
    assert all(set(a) == {"subject", "says", "source", "line"} for a in told)


def test_a_name_that_would_steer_the_terminal_is_not_sent_to_it(capsys: pytest.CaptureFixture[str]) -> None:
    Path("bad.pour").write_text("piece \x1b[31mred\x07\n", encoding="utf-8")

    assert "\x1b" not in ran(["check", "bad.pour"], capsys)[2]


@pytest.mark.parametrize("command", ["order", "batches", "plan", "weights"])
@pytest.mark.parametrize("case", ["bench-metric", "bench-us", "panel-us"])
def test_the_tables_read_as_they_should(
    command: str, case: str, capsys: pytest.CaptureFixture[str], snapshot: SnapshotAssertion
) -> None:
    name, units = case.split("-")
    status, out, err = ran([command, f"{name}.pour", "--units", units], capsys)

    assert (status, err) == (0, "")
    assert out == snapshot


@pytest.mark.parametrize("command", ["order", "batches", "plan", "weights"])
def test_the_tables_are_also_csv_and_json(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    _, text, _ = ran([command, "bench.pour", "--csv"], capsys)
    _, data, _ = ran([command, "bench.pour", "--json"], capsys)

    assert len(text.splitlines()) > 1
    assert json.loads(data)


def test_a_table_of_a_build_that_cannot_be_built_ends_with_1(capsys: pytest.CaptureFixture[str]) -> None:
    Path("bad.pour").write_text(BENCH.replace("crew      2", "crew      two"), encoding="utf-8")
    status, out, err = ran(["plan", "bad.pour"], capsys)

    assert (status, out) == (1, "")
    assert "[no-number]" in err


def test_begin_writes_a_clean_build_and_never_over_a_file(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = ran(["begin", "new.pour"], capsys)

    assert status == 0
    assert out == "new.pour: a small build to start from; next: castlang check new.pour\n"
    assert Path("new.pour").read_text(encoding="utf-8") == STARTER
    assert ran(["check", "new.pour"], capsys)[::2] == (0, "")
    Path("new.pour").write_text("mine")

    assert ran(["begin", "new.pour"], capsys)[0] == 2
    assert Path("new.pour").read_text() == "mine"


def test_begin_with_a_dash_prints(capsys: pytest.CaptureFixture[str]) -> None:
    assert ran(["begin", "-"], capsys) == (0, STARTER, "")


def test_why_explains_a_finding_and_a_rule(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = ran(["why", "[no-unit]"], capsys)
    rule = ran(["why", "grit-step"], capsys)[1]

    assert status == 0
    assert out == (
        "no-unit (error)\n"
        "  what    a number stands without its unit\n"
        "  why     15 could be minutes, millimetres or bags; a wrong guess scraps a piece\n"
        "  remedy  write the unit behind the number, as in 15 min or 3/8 in\n"
        "  source  the language's rules\n"
    )
    assert 'waive   waive grit-step on STEP "reason"' in rule
    assert "breaks it:" in rule
    assert "keeps it:" in rule


def test_why_without_a_name_lists_every_finding(capsys: pytest.CaptureFixture[str]) -> None:
    out = ran(["why"], capsys)[1]

    assert len(out.splitlines()) > 50
    assert out.splitlines() == sorted(out.splitlines())


# ------------------------------------------------------------------ the binder


def test_a_binder_is_written_beside_the_build_and_over_an_older_one(
    capsys: pytest.CaptureFixture[str],
) -> None:
    for _ in range(2):
        status, out, err = ran(["binder", "bench.pour"], capsys)

        assert (status, err) == (0, "")
        assert re.fullmatch(r"bench-binder: \d+ sheets\n", out)
    assert Path("bench-binder/binder.pdf").read_bytes().startswith(b"%PDF")
    assert json.loads(Path("bench-binder/binder.json").read_text(encoding="utf-8"))
    assert list(Path("bench-binder/csv").glob("*.csv"))


def test_a_folder_with_other_files_is_left_as_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    Path("mine").mkdir()
    Path("mine/letter.txt").write_text("keep me")
    status, out, err = ran(["binder", "bench.pour", "--out", "mine"], capsys)

    assert (status, out) == (2, "")
    assert err.startswith("castlang: mine: ")
    assert "letter.txt" in err
    assert [p.name for p in Path("mine").iterdir()] == ["letter.txt"]


def test_no_binder_is_written_of_a_build_with_an_error(capsys: pytest.CaptureFixture[str]) -> None:
    Path("bad.pour").write_text(BENCH.replace("crew      2", "crew      two"), encoding="utf-8")
    status, _, err = ran(["binder", "bad.pour"], capsys)

    assert status == 1
    assert err.endswith("no binder was written: the build cannot be built as it stands\n")
    assert not Path("bad-binder").exists()


# ------------------------------------------------------------------ terminals and pipes


@pytest.mark.parametrize("words", [["--help"], ["check", "--help"], ["binder", "--help"], ["--version"], []])
def test_help_is_quick_and_loads_nothing_heavy(words: list[str]) -> None:
    code = (
        "import sys\nfrom castlang.cli.main import main\n"
        f"try:\n    main({words!r})\nexcept SystemExit:\n    pass\n"
        f"print([m for m in {HEAVY!r} if m in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)

    assert done.stderr == "[]\n"
    assert done.stdout


def test_help_tells_the_exit_status(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["check", "--help"])

    assert "exit status: 0 clean, 1 findings, 2 trouble" in capsys.readouterr().out


def test_a_reader_that_goes_away_makes_no_noise() -> None:
    code = "from castlang.cli.main import main; raise SystemExit(main(['why']))"
    with subprocess.Popen(
        [sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.close()
        err = running.stderr.read()

    assert err == b""


@pytest.mark.parametrize(("told", "wide"), [("64", 64), ("", 100), ("0", 100), ("wide", 100), ("-5", 100)])
def test_a_width_that_is_asked_for_holds_in_a_pipe_too(
    told: str, wide: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", told)

    assert width(io.StringIO()) == wide


def test_bold_is_for_terminals_that_want_it(monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setenv("TERM", "xterm")
    plain = bold(io.StringIO()), bold(Terminal())
    monkeypatch.setenv("NO_COLOR", "1")
    refused = bold(Terminal())

    assert (*plain, refused) == (False, True, False)


@pytest.mark.parametrize(
    ("more", "wanted"), [({}, True), ({"NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)]
)
def test_a_terminal_sees_bold_unless_it_asks_not_to(more: dict[str, str], wanted: bool) -> None:
    Path("bad.pour").write_text("piece\n", encoding="utf-8")
    ours, theirs = pty.openpty()
    code = "from castlang.cli.main import main; raise SystemExit(main(['check', 'bad.pour']))"
    subprocess.run(
        [sys.executable, "-c", code], stderr=theirs, check=False, env={**os.environ, "TERM": "xterm", **more}
    )
    shown = os.read(ours, 10_000)
    os.close(ours)
    os.close(theirs)

    assert (b"\x1b[1m" in shown) is wanted


def test_progress_is_shown_on_a_terminal_when_the_work_takes_long(monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setattr("castlang.cli.terminal.AFTER", 0.0)
    seen, quiet = Terminal(), io.StringIO()
    for stream in (seen, quiet):
        with Progress(stream) as progress:
            progress("planning")
            if progress._timer is not None:
                progress._timer.join()

    assert "planning ..." in seen.getvalue()
    assert seen.getvalue().endswith("\r" + " " * 40 + "\r")
    assert quiet.getvalue() == ""


def test_the_output_is_the_same_in_every_locale_and_under_every_hash_seed() -> None:
    seen = {
        outside(["plan", "bench.pour"], LC_ALL=locale, PYTHONHASHSEED=seed, TZ=zone).stdout
        for locale, seed, zone in (("C", "1", "UTC"), ("de_DE.UTF-8", "2", "Asia/Tokyo"))
    }

    assert len(seen) == 1
