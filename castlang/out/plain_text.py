"""Blocks of words, facts and tables as text for a terminal."""

import textwrap
from collections.abc import Iterable

from castlang.out.text_table import cleaned, text_table
from castlang.sheets.model import Caution, Facts, Prose, Table

INDENT = "  "


def text_of(blocks: Iterable[Table | Prose | Caution | Facts], width: int) -> str:
    """The blocks one under another, an empty line between them; at most `width` characters a line where words
    allow it. Nothing in a text can steer the terminal."""
    return "\n".join(_block(block, max(width, 20)) for block in blocks)


def _block(block: Table | Prose | Caution | Facts, width: int) -> str:
    match block:
        case Table():
            return text_table(block, width)
        case Facts():
            return _facts(block, width)
        case Prose():
            return _lines(block.title or "", block.lines, "- " if block.points else "", width)
        case Caution():
            return _lines(f"CAUTION  {block.title}", block.lines, "- ", width)


def _facts(block: Facts, width: int) -> str:
    wide = max((len(label) for label, _ in block.pairs), default=0) + 2
    rows = []
    for label, value in block.pairs:
        rows += _wrapped(cleaned(value), label.ljust(wide), " " * wide, width)
    return "\n".join(rows) + "\n"


def _lines(title: str, lines: Iterable[str], mark: str, width: int) -> str:
    rows = _wrapped(cleaned(title), "", "", width) if title else []
    for line in lines:
        rows += _wrapped(cleaned(line), INDENT + mark, INDENT + " " * len(mark), width)
    return "\n".join(rows) + "\n"


def _wrapped(text: str, first: str, rest: str, width: int) -> list[str]:
    """Words are never broken: a name must stand as it can be typed."""
    return textwrap.wrap(
        text,
        width=width,
        initial_indent=first,
        subsequent_indent=rest,
        break_long_words=False,
        break_on_hyphens=False,
    ) or [first.rstrip()]
