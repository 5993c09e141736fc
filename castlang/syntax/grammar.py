"""The door to lark: one line of text to its parts, or to what was wanted in its place."""

import hashlib
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from importlib.metadata import version
from io import BytesIO
from typing import Any, cast

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput
from lark.lexer import PatternRE, PatternStr, TerminalDef

from castlang.source.kept import kept
from castlang.source.model import Span
from castlang.syntax.model import Part, Word

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
    """The parser; its tables are kept in the cache folder, since making them takes longer than reading a
    build."""
    text = grammar_text()
    key = hashlib.sha256(f"{version('lark')} {sys.version_info[:2]} {text}".encode()).hexdigest()[:16]
    name = f"grammar.{key}.tables"
    return kept(name, _tables, lambda data: Lark.load(BytesIO(data)))


def _tables() -> bytes:
    """The tables of a new parser."""
    stored = BytesIO()
    build_parser().save(stored)
    return stored.getvalue()


def read_line(text: str, block: str, place: Span) -> Part | Refusal:
    """Read one logical line as it may stand in `block`; `place` is the whole line's."""
    try:
        return _part(_tree(text, block), place)
    except UnexpectedInput:
        return _refusal(text, block)


@lru_cache(maxsize=1024)
def _tree(text: str, block: str) -> Tree[Token]:
    """The tree of a line. Pieces that are made alike say many lines to the letter again."""
    return cast(Tree[Token], parser().parse(text, start=f"{block}_line").children[0])


def _part(tree: Tree[Token], line: Span) -> Part:
    children = [
        Word(kind=child.type.lower(), text=child.value, line=line, column=child.column or 1)
        if isinstance(child, Token)
        else _part(child, line)
        for child in tree.children
    ]
    return Part(label=str(tree.data), children=tuple(children), line=line)


def tokens_of(text: str, block: str) -> Iterator[tuple[str, int, int]]:
    """Terminal, start and end (from 0) of each token of a line that can be read in `block`; no comment."""
    for token in _reader(text, block).iter_parse():
        yield token.type, token.start_pos, token.end_pos


def _reader(text: str, block: str) -> Any:
    return parser().parse_interactive(text, start=f"{block}_line")


def _refusal(text: str, block: str) -> Refusal:
    """Read the line again token by token, to learn exactly what could have stood where it broke."""
    reader = _reader(text, block)
    column = 1
    try:
        for token in reader.iter_parse():
            column = token.end_column
    except UnexpectedInput as error:
        column = error.column
    return Refusal(column=column, wanted=tuple(sorted(reader.accepts())))


@lru_cache(maxsize=1)
def keywords() -> dict[str, str]:
    """Terminal name to keyword, for every keyword of the language."""
    found = {}
    for terminal in parser().terminals:
        pattern = terminal.pattern.value
        if pattern.endswith(r"(?![\w-])") and pattern[0].isalpha():
            found[terminal.name] = pattern.removesuffix(r"(?![\w-])").replace("\\", "")
    return found


@cache
def openers(block: str) -> tuple[str, ...]:
    """The words with which a line of `block` may begin, sorted."""
    words = keywords()
    return tuple(sorted(words[name] for name in _reader("", block).accepts() if name in words))
