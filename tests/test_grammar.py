"""The grammar: free of conflicts, without a reserved word, and shipped with the package."""

import random
import re
import tomllib
from importlib import resources
from pathlib import Path

import pytest
from lark.exceptions import UnexpectedInput

from castlang.source.model import Span
from castlang.syntax.grammar import (
    BLOCKS,
    Refusal,
    build_parser,
    grammar_text,
    keywords,
    openers,
    parser,
    read_line,
    tokens_of,
)
from castlang.syntax.model import Part

HERE = Path(__file__).parent.parent
LINE = Span(file="a.pour", line=1, column=1, end=2)
NAMES = {"NAME", "THING", "MATERIAL", "WORD", "BASE", "DAY", "ROLE"}


def read(text: str, block: str) -> Part | Refusal:
    return read_line(text, block, LINE)


def test_the_table_is_built_without_a_conflict_or_a_collision_of_terminals() -> None:
    made = build_parser(strict=True)

    assert len(made.terminals) > len(keywords())


def test_no_state_takes_both_a_name_and_a_keyword_but_for_the_roles_of_people() -> None:
    table = parser().parser.parser._parse_table
    beside_keywords = {
        name
        for actions in table.states.values()
        if set(actions) & set(keywords())
        for name in set(actions) & NAMES
    }

    assert beside_keywords == {"ROLE"}


@pytest.mark.parametrize("word", sorted(keywords().values()))
def test_a_keyword_with_a_letter_more_is_another_word(word: str) -> None:
    longer = f"{word}x" if f"{word}x" not in keywords().values() else f"{word}q"
    for block in BLOCKS:
        found = read(f"{longer} 2 h", block)

        assert isinstance(found, Refusal)
        assert found.column == 1


@pytest.mark.parametrize("word", sorted(set(keywords().values()) - {"of"}))
def test_a_keyword_may_be_the_name_of_a_thing(word: str) -> None:
    lines = (
        (f"stock {word}", "top"),
        (f"mix {word} from {word}", "top"),
        (f"after {word}, {word}.{word}.end", "job"),
        (f"layer {word} 5 mm of {word} on {word} sprayed takes 5 min by 1", "piece"),
        (f"liquid {word} 6 % of {word} as solids", "mix"),
    )
    refused = [text for text, block in lines if not isinstance(read(text, block), Part)]

    assert refused == []


def test_every_block_has_lines() -> None:
    empty = [block for block in BLOCKS if not openers(block)]

    assert empty == []


def test_the_grammar_is_found_as_a_resource_of_the_package() -> None:
    packed = (resources.files("castlang.grammar") / "castlang.lark").read_text(encoding="utf-8")

    assert packed == grammar_text() == (HERE / "grammar" / "castlang.lark").read_text(encoding="utf-8")


def test_every_folder_of_code_and_every_file_that_is_read_is_shipped() -> None:
    tool = tomllib.loads((HERE / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]
    folders = sorted(
        ".".join(path.parent.relative_to(HERE).parts) for path in (HERE / "castlang").rglob("__init__.py")
    )
    data = {
        path.suffix
        for path in (HERE / "castlang").rglob("*.*")
        if path.is_file() and path.suffix not in (".py", ".pyc") and "__pycache__" not in path.parts
    }
    shipped = {Path(pattern).suffix for patterns in tool["package-data"].values() for pattern in patterns}

    assert sorted({*folders, "castlang.grammar"}) == sorted(tool["packages"])
    assert tool["package-dir"] == {"castlang.grammar": "grammar"}
    assert tool["package-data"]["castlang.grammar"] == ["*.lark", "*.json", "*.vim"]
    assert data <= shipped | {".typed"}
    assert (HERE / "castlang" / "py.typed").is_file()


def test_no_terminal_tells_digits_apart_but_those_of_units() -> None:
    """What lets a line be read by the shape of another that differs from it in digits alone."""
    classes = re.compile(r"\\d|\[23²³\]|\{\d+\}|\?\\u[0-9a-f]+")
    telling = {
        t.name: t.pattern.value
        for t in parser().terminals
        if re.search(r"\d", classes.sub("", t.pattern.value))
    }

    assert telling == {}


@pytest.mark.parametrize("path", sorted((HERE / "examples").rglob("*.pour")), ids=lambda p: p.name)
def test_a_line_is_built_alike_whatever_its_digits_but_behind_a_letter(path: Path) -> None:
    chance = random.Random(3)
    different = []
    for line in path.read_text(encoding="utf-8").splitlines():
        other = re.sub(r"(?<![A-Za-zµ%])[0-9]", lambda _: chance.choice("0123456789"), line)
        for block in BLOCKS:
            if built(line, block) != built(other, block):
                different.append((line, other, block))

    assert different == []


def built(text: str, block: str) -> list[tuple[str, int, int]] | None:
    """Kind and place of each token of a line, parsed on its own; None where it cannot be read."""
    try:
        return list(tokens_of(text, block))
    except UnexpectedInput:
        return None
