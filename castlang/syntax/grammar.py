"""The door to lark: one line of text to a tree, or to what was wanted in its place."""

import contextlib
import hashlib
import os
import sys
import tempfile
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from importlib.metadata import version
from pathlib import Path

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput
from lark.lexer import PatternRE, PatternStr, TerminalDef

BLOCKS = (
    "top", "build", "stock", "mix", "mold", "station", "fitting", "piece", "job", "shape", "step", "done",
)  # fmt: skip
"""The blocks of the language: `X_line` in the grammar is what may stand in block X."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """Where a line stopped making sense (column from 1) and which terminals could have stood there."""

    column: int
    wanted: tuple[str, ...]


def grammar_text() -> str:
    """The text of the grammar file."""
    return (resources.files("castlang.grammar") / "castlang.lark").read_text(encoding="utf-8")


def whole_words(terminal: TerminalDef) -> TerminalDef:
    """Give every keyword a word boundary, which a contextual lexer does not: `aftercap` is one word."""
    if isinstance(terminal.pattern, PatternStr) and terminal.pattern.value[0].isalpha():
        terminal.pattern = PatternRE(terminal.pattern.value + r"(?![\w-])")
        terminal.priority = 10
    return terminal


def build_parser(*, strict: bool = False) -> Lark:
    """The parser made from the grammar's text; strict refuses any conflict (needs interegular)."""
    return Lark(
        grammar_text(),
        parser="lalr",
        start=[f"{block}_line" for block in BLOCKS],
        edit_terminals=whole_words,
        maybe_placeholders=False,
        strict=strict,
    )


@lru_cache(maxsize=1)
def parser() -> Lark:
    """The parser; its tables are kept beside the grammar as Python keeps its bytecode, where that can be
    written, since making them takes longer than reading a build."""
    text = grammar_text()
    key = hashlib.sha256(f"{version('lark')} {sys.version_info[:2]} {text}".encode()).hexdigest()[:16]
    place = Path(str(resources.files("castlang.grammar"))) / "__pycache__" / f"castlang.{key}.tables"
    with contextlib.suppress(Exception), place.open("rb") as stored:
        return Lark.load(stored)
    made = build_parser()
    _keep(made, place)
    return made


def _keep(made: Lark, place: Path) -> None:
    """Store the tables whole or not at all; a folder that cannot be written is no trouble."""
    with contextlib.suppress(OSError):
        place.parent.mkdir(exist_ok=True)
        handle, aside = tempfile.mkstemp(dir=place.parent)
        with os.fdopen(handle, "wb") as file:
            made.save(file)
        Path(aside).replace(place)


def read_line(text: str, block: str) -> Tree[Token] | Refusal:
    """Parse one logical line as it may stand in `block`."""
    try:
        tree = parser().parse(text, start=f"{block}_line")
    except UnexpectedInput:
        return _refusal(text, block)
    return tree.children[0]  # type: ignore[return-value]


def _refusal(text: str, block: str) -> Refusal:
    """Read the line again token by token, to learn exactly what could have stood where it broke."""
    reader = parser().parse_interactive(text, start=f"{block}_line")
    end = len(text.rstrip())
    try:
        for _ in reader.iter_parse():
            pass
        column = end + 1
    except UnexpectedInput as error:
        column = getattr(error, "column", end + 1)
        token = getattr(error, "token", None)
        if token is not None and token.type == "$END":
            column = end + 1
    wanted = tuple(sorted(reader.accepts()))
    return Refusal(column=max(1, column), wanted=wanted)


@lru_cache(maxsize=1)
def keywords() -> dict[str, str]:
    """Terminal name to keyword, for every keyword of the language."""
    found = {}
    for terminal in parser().terminals:
        pattern = terminal.pattern.value
        if pattern.endswith(r"(?![\w-])") and pattern[0].isalpha():
            found[terminal.name] = pattern.removesuffix(r"(?![\w-])").replace("\\", "")
    return found


@lru_cache(maxsize=None)
def openers(block: str) -> tuple[str, ...]:
    """The words with which a line of `block` may begin, sorted."""
    reader = parser().parse_interactive("", start=f"{block}_line")
    words = keywords()
    return tuple(sorted(words[name] for name in reader.accepts() if name in words))
