"""The door to lark: one line of text to its parts, or to what was wanted in its place."""

import hashlib
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from io import BytesIO
from typing import Any, cast

from lark import Lark, Token, Tree
from lark import __version__ as lark_version
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
    key = hashlib.sha256(f"{lark_version} {sys.version_info[:2]} {text}".encode()).hexdigest()[:16]
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
        return _part(_shape(_NO_MATTER.sub("0", text), block), text, place)
    except UnexpectedInput:
        return _refusal(text, block)


_NO_MATTER = re.compile(r"(?<![A-Za-zµ%])[0-9]")
"""Digits that say nothing of how a line is built: the grammar tells digits apart in units alone (m2, m3),
where a letter stands in front. A test holds the grammar to this."""

Shape = tuple[str, "tuple[Shape, ...]"] | tuple[str, int, int]
"""How a line is built: the label of a part with what it holds; the kind of a word with its start and end."""


@lru_cache(maxsize=4096)
def _shape(text: str, block: str) -> Shape:
    """How a line is built. Lines that differ in digits alone are parsed once: a build of pieces made alike,
    one number apart, in half the time."""
    return _shape_of(parser().parse(text, start=f"{block}_line").children[0])


def _shape_of(tree: "Tree[Token] | Token") -> Shape:
    if isinstance(tree, Token):
        return tree.type.lower(), tree.start_pos or 0, tree.end_pos or 0
    return str(tree.data), tuple(_shape_of(child) for child in tree.children)


def _part(shape: Shape, text: str, line: Span) -> Part:
    """The part of a line of that shape. Equal words are one string in memory: a build says `mm` often."""
    label, held = cast("tuple[str, tuple[Shape, ...]]", shape)
    children = tuple(
        Word(kind=child[0], text=sys.intern(text[child[1] : child[2]]), line=line, column=child[1] + 1)
        if len(child) == 3
        else _part(child, text, line)
        for child in held
    )
    return Part(label=label, children=children, line=line)


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
