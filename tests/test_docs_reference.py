"""The reference is whole: every word of the language, unit, default, hazard and column stands in it."""

import argparse
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from castlang.cli.arguments import parser
from castlang.out.csv_files import csv_files
from castlang.pipeline import compile_build
from castlang.sheets.cautions import HAZARDS
from castlang.sheets.from_plan import binder_of
from castlang.source.files import Texts
from castlang.spec.defaults import DEFAULTS
from castlang.spec.kinds import KINDS
from castlang.spec.records import WHAT
from castlang.spec.units import COUNTED, REFUSED, SPELLED, plain_units
from castlang.syntax.grammar import BLOCKS, keywords, openers

ROOT = Path(__file__).parent.parent
DOCS = ROOT / "docs"
LANGUAGE = (DOCS / "reference" / "language.md").read_text(encoding="utf-8")
COMMANDS = (DOCS / "reference" / "commands.md").read_text(encoding="utf-8")

SECTIONS = {
    "top": "At the left edge", "build": "build and shop", "mold": "mold and temp", "shape": "shape run",
    "step": "What a step may say",
}  # fmt: skip
"""Blocks of the grammar, and the section of the reference that tells them; the others have their own name."""

WORK = ("Steps", "Waits and order")
"""The sections that tell the lines of work, which several blocks take."""

ELSEWHERE = frozenset({"size", "step"})
"""Words that the grammar's tokens bring and nobody writes as keywords of their own."""


def section(title: str) -> str:
    """The text under a heading of the second rank, up to the next."""
    found = re.search(rf"^## {re.escape(title)}\n(.*?)(?=^## |\Z)", LANGUAGE, re.MULTILINE | re.DOTALL)
    if found is None:
        raise AssertionError(f"language.md has no section `{title}`")
    return found.group(1)


def examples(text: str) -> str:
    return "".join(re.findall(r"^```castlang.*?\n(.*?)^```$", text, re.MULTILINE | re.DOTALL))


def quoted(text: str) -> str:
    """Everything between backticks, headings and tables included, outside of examples."""
    prose = re.sub(r"^```.*?^```$", "", text, flags=re.MULTILINE | re.DOTALL)
    return "\n".join(re.findall(r"`([^`]+)`", prose))


def has_word(word: str, text: str) -> bool:
    return re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", text) is not None


def lines_of() -> Iterator[tuple[str, str]]:
    """Each word that begins a line in each block."""
    work = set(openers("job"))
    for block in BLOCKS:
        for word in openers(block):
            if block in ("piece", "mold", "job") and word in work and word != "note":
                continue
            if block == "done" and word in openers("step") and word != "note":
                continue
            yield SECTIONS.get(block, block), word
    for word in sorted(work - {"note"}):
        yield WORK[1] if word in ("wait", "within", "cure", "dry", "after") else WORK[0], word


@pytest.mark.parametrize(("title", "word"), sorted(set(lines_of())))
def test_every_line_of_the_language_is_told_and_shown(title: str, word: str) -> None:
    text = section(title)

    assert has_word(word, quoted(text)), f"`{word}` is not told in the section {title} of language.md"
    assert has_word(word, examples(text)), f"`{word}` is not shown in the section {title} of language.md"


def test_every_word_of_the_grammar_stands_in_the_reference() -> None:
    text = quoted(LANGUAGE) + examples(LANGUAGE)
    missing = [w for w in sorted(set(keywords().values()) - ELSEWHERE) if not has_word(w, text)]

    assert missing == [], "words of grammar/castlang.lark that language.md does not tell"


def test_every_unit_and_every_refused_word_stands_in_the_reference() -> None:
    told = quoted(section("Numbers and units")).split()
    words = (*plain_units(), *COUNTED, *SPELLED, *REFUSED)
    missing = [w for w in words if w not in told and w.isalnum()]

    assert missing == [], "words of castlang/spec/units.py that language.md does not tell"


def test_every_default_and_everything_measured_stands_in_the_reference() -> None:
    told = quoted(LANGUAGE).split()
    missing = [w for w in (*DEFAULTS, *WHAT, *KINDS) if w not in told]

    assert missing == []


def test_every_command_and_every_option_is_told() -> None:
    found = [a for a in parser()._actions if isinstance(a, argparse._SubParsersAction)]
    commands = {name: made for action in found for name, made in action.choices.items()}
    heads = re.findall(r"^## (.*)$", COMMANDS, re.MULTILINE)
    options = {
        word for made in commands.values() for action in made._actions for word in action.option_strings
    }

    assert [name for name in commands if not any(has_word(name, head) for head in heads)] == []
    assert [o for o in sorted(options - {"-h"}) if not re.search(rf"{o}\b", quoted(COMMANDS))] == []


def test_every_hazard_word_is_told() -> None:
    told = quoted(COMMANDS).split()

    assert [h.word for h in HAZARDS if h.word not in told] == []


def test_every_csv_file_and_its_columns_are_told() -> None:
    table = dict(re.findall(r"^\| `([\w-]+\.csv)` \| (.*) \|$", COMMANDS, re.MULTILINE))
    base = re.search(r"^```castlang base\n(.*?)^```$", LANGUAGE, re.MULTILINE | re.DOTALL)
    more = """
measured density of casting 2240 kg/m3 "Litre cup"
done shell.skin 2027-03-01 11:30 to 12:05
"""
    text = (base.group(1) if base else "") + more
    text = re.sub(r"(?m)^(build .*)$", r"\1\n    margin 20 %", text, count=1)
    text = re.sub(r"(?m)^(station .*)$", r"\1\n    price 12 EUR/h", text, count=1)
    text = text.replace("    board     ply-18\n", "    board     ply-18\n    panel     side 1 m x 0.1 m\n")
    text = text.replace('piece seat "Bench seat"\n', 'piece seat "Bench seat"\n    make 2\n')
    text = re.sub(r"(?m)^(    pour      body full .*)$", r"\1 batch-with seat.body", text, count=1)
    build = compile_build("build.pour", text.encode(), Texts())
    if build.spec is None or build.takeoff is None or build.plan is None or build.costing is None:
        raise AssertionError([problem.message for problem in build.problems])
    made = binder_of(build.spec, build.takeoff, build.plan, build.costing, build.problems)
    columns = {name: text.split("\r\n", 1)[0].split(",") for name, text in csv_files(made).items()}
    wrong = {
        name: found
        for name, found in columns.items()
        if [c for c in found if c != "sheet"] != [c for c in table.get(name, "").split(", ") if c in found]
    }

    assert wrong == {}, "columns that the table in commands.md does not tell"
    assert sorted(set(table) - set(columns)) == [], "files that commands.md tells and nothing makes"


@pytest.mark.parametrize("page", sorted(DOCS.rglob("*.md")), ids=lambda page: page.name)
def test_every_link_and_every_file_named_leads_somewhere(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    plain = re.sub(r"^```.*?^```$", "", text, flags=re.MULTILINE | re.DOTALL)
    lost = []
    for link in re.findall(r"\]\(([^)\s]+)\)", plain):
        path, _, anchor = link.partition("#")
        target = (page.parent / path).resolve() if path else page
        if link.startswith(("http:", "https:")):
            continue
        there = target.exists() or target.name in ("README.md", "DEVELOPERS.md")
        if not there or (anchor and anchor not in anchors(target)):
            lost.append(link)
    lost += [f for f in re.findall(r"`(castlang/[\w/]+\.\w+)`", plain) if not (ROOT / f).is_file()]

    assert lost == [], f"{page.relative_to(ROOT)} names what is not there"


def anchors(page: Path) -> set[str]:
    """The anchors of a page's headings, as they are made of their words."""
    heads = re.findall(r"^#+ (.*)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}
