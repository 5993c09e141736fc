"""The highlighting files say the grammar's words, all of them and no others, and colour what they should."""

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from castlang.cli.starter import STARTER
from castlang.spec.units import COUNTED, SPELLED, plain_units
from castlang.syntax.grammar import BLOCKS, openers

ROOT = Path(__file__).parents[1]
LARK = (ROOT / "grammar" / "castlang.lark").read_text(encoding="utf-8")
VIM = (ROOT / "grammar" / "castlang.vim").read_text(encoding="utf-8")
TEXTMATE = json.loads((ROOT / "grammar" / "castlang.tmLanguage.json").read_text(encoding="utf-8"))
EXAMPLES = sorted((ROOT / "examples").rglob("*.pour"))

NAMED_AT_ONCE = {
    "build",
    "size",
    "shop",
    "stock",
    "mix",
    "mold",
    "temp",
    "station",
    "fitting",
    "piece",
    "job",
}
"""Words at the left edge behind which the name of a thing stands."""


def rules() -> dict[str, str]:
    """Name and body of each rule of the grammar."""
    found = re.findall(r"^[!?]?(_?[a-z]\w*):((?:[^\n]*)(?:\n +\|[^\n]*)*)", LARK, re.MULTILINE)
    return dict(found)


def words(body: str) -> list[str]:
    return re.findall(r'"([a-z][\w-]*)"', body)


def first_words() -> dict[str, set[str]]:
    """The words with which a line begins: at the left edge, and in blocks."""
    inner = {word for block in BLOCKS if block != "top" for word in openers(block)}
    top = set(openers("top"))
    return {"heading": NAMED_AT_ONCE, "top": top - NAMED_AT_ONCE, "line": inner}


def later_words() -> dict[str, set[str]]:
    """The words that stand further on in a line: of sizes, and all others."""
    bodies = rules()
    lines = {
        label
        for name, body in bodies.items()
        if name.endswith("_line") or name in ("_ingredient", "_step")
        for label in re.findall(r"\w+", body)
    }
    found = {w for name, body in bodies.items() for w in words(body)[name in lines :]}
    sizes = set(words(bodies["dim_word"]))
    return {"size": sizes, "clause": found - sizes}


WANTED = {**first_words(), **later_words()}


def alternatives(pattern: str) -> set[str]:
    """The words of the one list of words in a pattern."""
    lists = re.findall(r"\(?[?%:]*\(?:?((?:[\w-]+\|)+[\w-]+)\)", pattern)
    return {word for words in lists for word in words.split("|")}


def test_the_words_of_the_grammar_are_found_by_reading_it() -> None:
    everything = {word for body in rules().values() for word in words(body)}

    assert set().union(*WANTED.values()) == everything
    assert {"of", "takes", "covered", "may-pause"} <= WANTED["clause"]
    assert {"lift-limit", "demold", "between"} <= WANTED["line"]


@pytest.mark.parametrize("kind", WANTED)
def test_the_textmate_file_has_each_word_of_the_grammar(kind: str) -> None:
    assert alternatives(TEXTMATE["repository"][kind]["match"]) == WANTED[kind]


GROUPS = {"heading": "Block", "top": "Top", "line": "Line", "clause": "Clause", "size": "Size"}


@pytest.mark.parametrize("kind", WANTED)
def test_the_vim_file_has_each_word_of_the_grammar(kind: str) -> None:
    line = re.search(rf"^syntax match castlang{GROUPS[kind]} (.*)$", VIM, re.MULTILINE)
    assert line is not None

    assert alternatives(line.group(1)) == WANTED[kind]


@pytest.mark.parametrize("unit", [*plain_units(), *COUNTED, *SPELLED, "kg/m3", "EUR", "USD/h", "m²/h"])
def test_every_unit_behind_a_number_is_one(unit: str) -> None:
    assert list(coloured(f"    takes     2 {unit} by 1"))[1:3] == [("number", "2"), ("unit", unit)]


def test_the_vim_file_has_each_unit() -> None:
    line = re.search(r"^syntax match castlangUnit (.*)$", VIM, re.MULTILINE)
    assert line is not None
    units = {*plain_units(), *COUNTED, *SPELLED} - {"%"}

    assert units <= set(re.split(r"[|()]", line.group(1)))


def test_every_group_of_the_vim_file_has_a_colour() -> None:
    groups = set(re.findall(r"^syntax match (\w+)", VIM, re.MULTILINE))
    linked = set(re.findall(r"^highlight default link (\w+)", VIM, re.MULTILINE))

    assert groups == linked


# ---------------------------------------------------------------- the TextMate file at work


def coloured(line: str) -> Iterator[tuple[str, str]]:
    """(last word of the scope's front, text) of what a TextMate editor colours in a line.

    The rule of the format: at each place the pattern that matches soonest wins, of two the first in the list
    (TextMate manual, "Language grammars").
    """
    patterns = [TEXTMATE["repository"][p["include"][1:]] for p in TEXTMATE["patterns"]]
    at = 0
    while at <= len(line):
        found = [
            (m.start(), n, m)
            for n, p in enumerate(patterns)
            if (m := re.compile(p["match"]).search(line, at))
        ]
        if not found:
            return
        _, number, match = min(found, key=lambda one: one[:2])
        pattern = patterns[number]
        if "captures" in pattern:
            for group, capture in pattern["captures"].items():
                if match.group(int(group)):
                    yield short(capture["name"]), match.group(int(group))
        else:
            yield short(pattern["name"]), match.group()
        at = max(match.end(), at + 1)


def short(scope: str) -> str:
    kinds = {
        "keyword.control.block": "block", "keyword.control.line": "top", "keyword.other.line": "line",
        "keyword.operator.word": "clause", "keyword.other.unit": "unit", "constant.numeric": "number",
        "constant.numeric.length": "number", "constant.other.date": "date", "constant.other.time": "time",
        "string.quoted.double": "text", "comment.line.number-sign": "comment", "support.type.size": "size",
        "entity.name.section": "name", "invalid.illegal.conflict": "conflict",
    }  # fmt: skip
    return kinds[scope.removesuffix(".castlang")]


@pytest.mark.parametrize(
    ("line", "parts"),
    [
        ('build bench-2 "Oak # ash"', [("block", "build"), ("name", "bench-2"), ("text", '"Oak # ash"')]),
        ("mix of-two from base", [("block", "mix"), ("name", "of-two"), ("clause", "from")]),
        ('shop "All of it"', [("block", "shop"), ("text", '"All of it"')]),
        ('size wall 1-1/2"', [("block", "size"), ("name", "wall"), ("number", '1-1/2"')]),
        ("    less      disc at-wall 4'-6 1/2\" dia on top",
         [("line", "less"), ("number", "4'-6 1/2\""), ("size", "dia"), ("clause", "on")]),
        ("    hours     mon to fri 8:00 to 12:00  # short, 2 h",
         [("line", "hours"), ("clause", "to"), ("time", "8:00"), ("clause", "to"), ("time", "12:00"),
          ("comment", "# short, 2 h")]),
        ("    start     2027-03-01", [("line", "start"), ("date", "2027-03-01")]),
        ("    make      2 mirrored", [("line", "make"), ("number", "2"), ("clause", "mirrored")]),
        ("    wait      15mins to 1 1/2 h after seat.4.of",
         [("line", "wait"), ("number", "15"), ("unit", "mins"), ("clause", "to"), ("number", "1 1/2"),
          ("unit", "h"), ("clause", "after")]),
        ('        write     "6" long, an "edge""', [("line", "write"), ("text", '"6" long, an "edge""')]),
        ("<<<<<<< HEAD", [("conflict", "<<<<<<< HEAD")]),
        ("=======", [("conflict", "=======")]),
    ],
)  # fmt: skip
def test_a_line_is_coloured(line: str, parts: list[tuple[str, str]]) -> None:
    assert list(coloured(line)) == parts


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_every_line_of_the_examples_begins_with_a_coloured_word(path: Path) -> None:
    if path.parent.name == "broken":
        return
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.strip():
            kind, text = next(coloured(line))
            first = (
                "comment"
                if line.lstrip().startswith("#")
                else "line"
                if line.startswith(" ")
                else "block top"
            )

            assert (kind in first, line.lstrip().startswith(text)) == (True, True), line


def test_the_build_to_start_from_is_coloured_to_its_last_word() -> None:
    plain = set()
    for line in STARTER.splitlines():
        for _, text in coloured(line):
            line = line.replace(text, " ", 1)
        plain.update(re.findall(r"\S+", line.replace(",", " ")))

    assert not {word for word in plain if word[0].isdigit() or '"' in word or "#" in word}
