"""What a builder is told about mistakes: all of them in one run, each once, in words."""

import re
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion
from told import BENCH, CASES, changed, lines, names

from castlang.pipeline import compile_build
from castlang.problems.as_text import problem_text
from castlang.problems.model import Severity
from castlang.source.files import Disk

TWENTY = sorted((CASES / "bad").glob("twenty-*.pour"))


@pytest.mark.parametrize("name", ["bench", "panel"])
def test_the_builds_that_the_mistakes_are_put_into_are_clean(name: str) -> None:
    path = CASES / "good" / f"{name}.pour"
    compiled = compile_build(path.name, path.read_bytes(), Disk(main=path))

    assert [p.message for p in compiled.problems if p.finding.severity is not Severity.NOTE] == []
    assert compiled.plan is not None


# ------------------------------------------------------------------ twenty at once


def expected(text: str) -> list[tuple[int, int, str]]:
    """Line, column and name from the `#! COLUMN NAME` comments above the lines."""
    told = []
    for number, row in enumerate(text.split("\n"), 1):
        match = re.match(r" *#! (\d+) (\S+)$", row)
        if match:
            told.append((number + 1, int(match[1]), match[2]))
    return told


@pytest.mark.parametrize("path", TWENTY, ids=lambda p: p.stem)
def test_twenty_mistakes_get_twenty_messages_in_one_run_and_no_false_one(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    compiled = compile_build(path.name, path.read_bytes(), Disk(main=path))
    told = [(p.span.line, p.span.column, p.finding.name) for p in compiled.problems]

    assert told == expected(text)
    assert len(told) == 20


@pytest.mark.parametrize("path", TWENTY, ids=lambda p: p.stem)
def test_every_message_names_its_place_its_finding_and_one_next_step(path: Path) -> None:
    compiled = compile_build(path.name, path.read_bytes(), Disk(main=path))
    for problem in compiled.problems:
        first, *rest = problem_text(problem, compiled.texts).split("\n")

        assert re.fullmatch(rf"{path.name}:\d+:\d+: error: .+ \[[a-z-]+\]", first)
        assert not problem.message.endswith(".")
        assert problem.message[0].islower() or not problem.message[0].isalpha()
        assert rest[0].startswith("    | ")
        assert re.fullmatch(r"    \| +\^+", rest[1])
        assert rest[-1].startswith("    next: ")


def test_the_messages_read_as_they_should(snapshot: SnapshotAssertion) -> None:
    told = []
    for path in TWENTY:
        compiled = compile_build(path.name, path.read_bytes(), Disk(main=path))
        told += [problem_text(p, compiled.texts) for p in compiled.problems]

    assert "\n".join(told) == snapshot


# ------------------------------------------------------------------ one slip at a time


def slips() -> list[tuple[str, str, str]]:
    """The blocks of `slips.txt`: `-` what stood there, `+` what stands there now, `=` what is told."""
    blocks = (CASES / "bad" / "slips.txt").read_text(encoding="utf-8").split("\n\n")
    found = []
    for rows in (block.strip("\n").split("\n") for block in blocks):
        parts = {sign: "\n".join(r[2:] for r in rows if r[:1] == sign) for sign in "-+="}
        if parts["="]:
            found.append((parts["-"], parts["+"], parts["="]))
    return found


@pytest.mark.parametrize(("old", "new", "message"), slips(), ids=[message for *_, message in slips()])
def test_one_slip_gets_one_message_with_what_was_found_and_the_mending(
    old: str, new: str, message: str
) -> None:
    assert lines(changed(old, new)) == [message]


# ------------------------------------------------------------------ indentation


def test_an_indented_first_line_is_told() -> None:
    told = lines(f"  size a 5 mm\n{BENCH}")

    assert told == [
        "3 bad-indent: the line is indented, and stands under nothing; indent it like its neighbours"
    ]


# ------------------------------------------------------------------ no followers


@pytest.mark.parametrize(
    ("old", "new", "name"),
    [
        ('piece seat "Seat"', 'peice seat "Seat"', "unknown-word"),
        ('piece seat "Seat"', 'piece seat 12 "Seat"', "not-understood"),
        ('piece seat "Seat"', 'piece "Seat"', "not-understood"),
        ("stock oil\n", "stok oil\n", "unknown-word"),
        ("stock oil\n", "stock\n", "line-too-short"),
        ("station mixer\n", "station\n", "line-too-short"),
        ("mix casting\n", "mixx casting\n", "unknown-word"),
        ("mix casting\n", "mix\n", "line-too-short"),
        ("mold seat-mold\n", "mould seat-mold\n", "unknown-word"),
        ('build bench "Bench seat"', 'bulid bench "Bench seat"', "unknown-word"),
        ('build bench "Bench seat"', 'build bench "Bench seat', "open-text"),
        ("size end 400 mm", "size end 400", "no-unit"),
        ("size end 400 mm", "size 400 mm", "not-understood"),
        ("    shape     slab", "    shpae     slab", "unknown-word"),
        ("    shape     slab", "    shape     slbb", "unknown-shape"),
        ("40 mm thick", "40 thick", "no-unit"),
        ("    face      show top", "    face      show, top", "not-understood"),
        ("    pass      seal 2 coats", "    pass      seal coats 2", "unknown-word"),
        ("    pass      seal 2 coats", "    pass      2 coats", "not-understood"),
        ("    cure      24 h to", "    cure      24 to", "no-unit"),
        ("    demold    takes", "    demold    taeks", "unknown-word"),
        ("    density   3150 kg/m3", "    density   3150", "no-unit"),
        ("    density   3150 kg/m3", "    densiti   3150 kg/m3", "unknown-word"),
        ("    sold      bag of 25 kg\n    price", "    sold      bag 25 kg\n    price", "not-understood"),
        ("    sold      bag of 25 kg\n    price", "    sold      bag of 25 min\n    price", "wrong-unit"),
        ("    binder    cement 100 parts", "    binder    cement 100", "no-unit"),
        ("    binder    cement 100 parts", "    binder    cemnet 100 parts", "unknown-name"),
        ("    works     45 min at", "    works     45 at", "no-unit"),
        ("    make      2\n", "    make      tow\n", "no-number"),
        ("    fits      seat\n", "    fits      saet\n", "unknown-name"),
        ("    release   oil on seat.all", "    release   oil seat.all", "unknown-word"),
        ("    hours     mon to fri", "    hours     mon-fri", "no-such-day"),
        ("        between   1 h to 4 h\n", "        between   1 to 4 h\n", "no-unit"),
        ("        between   1 h to 4 h\n", "        betwen    1 h to 4 h\n", "unknown-word"),
    ],
)  # fmt: skip
def test_what_follows_from_a_broken_line_is_not_told_as_well(old: str, new: str, name: str) -> None:
    assert names(changed(old, new)) == [name]


def test_mistakes_inside_a_block_are_told_though_its_heading_is_broken() -> None:
    text = BENCH.replace("piece seat", "peice seat").replace("grit 60, 200", "grit 60 200")
    assert names(text) == ["unknown-word", "not-understood"]


def test_mistakes_of_meaning_are_told_beside_a_broken_line_of_the_same_block() -> None:
    text = BENCH.replace("grit 60, 200", "grit 60 200").replace("on show rolled", "on shwo rolled")
    assert names(text) == ["not-understood", "unknown-face"]
