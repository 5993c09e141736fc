"""Blocks of words, facts and tables as Markdown, for a review or a merge request."""

import re
from collections.abc import Iterable

from castlang.sheets.model import Align, Caution, Facts, Prose, Table

_SPECIAL = re.compile(r"([\\`*_\[\]<>|~#&])")


def markdown_of(title: str, blocks: Iterable[Table | Prose | Caution | Facts]) -> str:
    """A heading and the blocks under it: CommonMark, with tables as GitHub Flavored Markdown has them. What
    a builder typed is never markup."""
    return "\n".join([f"# {escaped(title)}\n", *(_block(block) for block in blocks)])


def escaped(text: str) -> str:
    """A text on one line whose signs stand for themselves."""
    line = " ".join(text.split())
    return re.sub(r"^([-+]|\d+[.)])(?=\s)", r"\\\1", _SPECIAL.sub(r"\\\1", line))


def _block(block: Table | Prose | Caution | Facts) -> str:
    match block:
        case Table():
            return _table(block)
        case Facts():
            return "".join(f"- {escaped(label)}: {escaped(value)}\n" for label, value in block.pairs)
        case Prose():
            return _titled(block.title, block.lines, points=block.points)
        case Caution():
            return _titled(f"Caution: {block.title}", block.lines, points=True)


def _titled(title: str | None, lines: Iterable[str], *, points: bool) -> str:
    head = f"## {escaped(title)}\n\n" if title else ""
    if points:
        return head + "".join(f"- {escaped(line)}\n" for line in lines)
    return head + "\n".join(f"{escaped(line)}\n" for line in lines)


def _table(table: Table) -> str:
    shown = [index for index, column in enumerate(table.columns) if not column.blank]
    head = f"## {escaped(table.title)}\n\n" if table.title else ""
    if not table.rows:
        return f"{head}{escaped(table.empty)}\n"
    marks = ["---:" if table.columns[index].align is Align.RIGHT else "---" for index in shown]
    rows = [
        [escaped(table.columns[index].title) for index in shown],
        marks,
        *([_cell(row.cells[index], strong=row.strong) for index in shown] for row in table.rows),
    ]
    return head + "".join(f"| {' | '.join(cells)} |\n" for cells in rows)


def _cell(text: str, *, strong: bool) -> str:
    told = escaped(text)
    return f"**{told}**" if strong and told else told
