"""A table as text for a terminal: columns in line, cells wrapped to the width."""

import unicodedata
from collections.abc import Sequence

from castlang.sheets.model import Align, Column, Row, Table

BETWEEN = "  "
LEAST = 8  # characters: a column of text is not made narrower than this
WORD = 24  # characters: a longer word is broken where room is short
MARK = "* "  # before a strong row


def text_table(table: Table, width: int) -> str:
    """The table in lines of at most `width` characters, with a line end at its end.

    Columns that are only there to be written in by hand are left out. Where the columns cannot be set side
    by side, each row is set as lines of "title: cell". Nothing in a cell can steer the terminal.
    """
    shown = [index for index, column in enumerate(table.columns) if not column.blank]
    columns = [table.columns[index] for index in shown]
    heads = [_clean(column.title.replace("\n", " ")) for column in columns]
    rows = [[_clean(row.cells[index]) for index in shown] for row in table.rows]
    lines = [*_wrapped(_clean(table.title), max(width, LEAST)), ""] if table.title else []
    mark = any(row.strong for row in table.rows)
    room = width - len(MARK) * mark
    widths = _widths(heads, rows, columns, room)
    if not rows:
        lines += _wrapped(_clean(table.empty), max(width, LEAST))
    elif widths is None:
        lines += _stacked(heads, rows, table.rows, max(width, LEAST))
    else:
        lines += _beside(heads, rows, table.rows, columns, widths, mark=mark)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _widths(
    heads: Sequence[str], rows: Sequence[Sequence[str]], columns: Sequence[Column], room: int
) -> list[int] | None:
    """As wide as the widest cell, then the widest narrowed until all fit; None where they cannot."""
    widths = []
    least = []
    for index, column in enumerate(columns):
        cells = [line for row in rows for line in row[index].split("\n")]
        words = [word for text in [heads[index], *cells] for word in text.split()]
        longest = max((_long(word) for word in words), default=0)
        widths.append(
            max([_long(cell) for cell in cells] + [max(map(_long, heads[index].split()), default=0)])
        )
        narrow = max(LEAST, min(longest, WORD))
        least.append(widths[-1] if column.align is Align.RIGHT else min(widths[-1], narrow))
    over = sum(widths) + len(BETWEEN) * (len(widths) - 1) - room
    while over > 0:
        index = max(range(len(widths)), key=lambda i: (widths[i] - least[i], -i), default=0)
        if not widths or widths[index] == least[index]:
            return None
        widths[index] -= 1
        over -= 1
    return widths


def _beside(
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    models: Sequence[Row],
    columns: Sequence[Column],
    widths: Sequence[int],
    *,
    mark: bool,
) -> list[str]:
    lines = _set(heads, columns, widths, " " * len(MARK) * mark, low=True)
    lines.append(" " * len(MARK) * mark + BETWEEN.join("-" * wide for wide in widths))
    for row, model in zip(rows, models, strict=True):
        lead = MARK if model.strong else " " * len(MARK)
        lines += _set(row, columns, widths, lead if mark else "")
    return lines


def _set(
    cells: Sequence[str], columns: Sequence[Column], widths: Sequence[int], lead: str, *, low: bool = False
) -> list[str]:
    """One row as lines; the lead stands before its first. low: short cells stand on the last line."""
    blocks = [_wrapped(cell, wide) for cell, wide in zip(cells, widths, strict=True)]
    high = max((len(block) for block in blocks), default=1)
    blocks = [
        [""] * (high - len(block)) + block if low else block + [""] * (high - len(block)) for block in blocks
    ]
    lines = []
    for number in range(high):
        parts = [
            _padded(block[number], wide, column.align)
            for block, wide, column in zip(blocks, widths, columns, strict=True)
        ]
        lines.append((lead if number == 0 else " " * len(lead)) + BETWEEN.join(parts))
    return lines


def _stacked(
    heads: Sequence[str], rows: Sequence[Sequence[str]], models: Sequence[Row], width: int
) -> list[str]:
    lines: list[str] = []
    for row, model in zip(rows, models, strict=True):
        lines += [""] * bool(lines)
        for number, (head, cell) in enumerate(zip(heads, row, strict=True)):
            lead = MARK if model.strong and number == 0 else ""
            lines += _wrapped(f"{lead}{head}: {cell}", width)
    return lines


def _padded(text: str, wide: int, align: Align) -> str:
    space = " " * (wide - _long(text))
    return space + text if align is Align.RIGHT else text + space


def _wrapped(text: str, wide: int) -> list[str]:
    """Lines of at most `wide` columns; a longer word is broken."""
    lines: list[str] = []
    for paragraph in text.split("\n"):
        line = ""
        for word in paragraph.split(" "):
            joined = f"{line} {word}" if line else word
            if _long(joined) <= wide:
                line = joined
                continue
            if line:
                lines.append(line)
            while _long(word) > wide:
                end = _fitting(word, wide)
                lines.append(word[:end])
                word = word[end:]
            line = word
        lines.append(line)
    return lines


def _fitting(word: str, wide: int) -> int:
    used = 0
    for count, character in enumerate(word):
        used += _long(character)
        if used > wide:
            return max(1, count)
    return len(word)


def _long(text: str) -> int:
    """How many columns of the terminal a text takes."""
    if text.isascii():
        return len(text)
    return sum(
        0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text
    )


def _clean(text: str) -> str:
    """Line ends as "\\n", other white space as a space, what would steer the terminal as "?"."""
    lines = (
        "".join(
            " " if c.isspace() else "?" if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co") else c
            for c in line
        )
        for line in text.splitlines()
    )
    return "\n".join(lines)
