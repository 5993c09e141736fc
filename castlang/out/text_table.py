"""A table as text for a terminal: columns in line, cells wrapped to the width."""

import unicodedata
from collections.abc import Sequence
from functools import lru_cache

from castlang.out.trace_column import with_traces
from castlang.sheets.model import Align, Column, Row, Table

BETWEEN = "  "
LEAST = 8  # characters: a column of text is not made narrower than this
WORD = 24  # characters: a longer word is broken where room is short
WORDY = 28  # characters: a spare column is left out before one of words gets narrower
JOINTS = "-./_"  # a long name is broken behind one of these
MARK = "* "  # before a strong row


def text_table(table: Table, width: int) -> str:
    """The table in lines of at most `width` characters, with a line end at its end.

    Columns that are only there to be written in by hand are left out; where there is little room, spare ones
    too, and a last line names them. Where the columns cannot be set side by side, each row is set as lines of
    "title: cell". Nothing in a cell can steer the terminal.
    """
    table = with_traces(table)
    mark = any(row.strong for row in table.rows)
    room = width - len(MARK) * mark
    columns, left_out = _chosen(table, room)
    heads = [_head(column) for column in columns]
    rows = _texts(table, columns)
    lines = [*_wrapped(cleaned(table.title), max(width, LEAST)), ""] if table.title else []
    widths = _widths(heads, rows, columns, room)
    if not rows:
        lines += _wrapped(cleaned(table.empty), max(width, LEAST))
    elif widths is None:
        # A list has room for all columns.
        columns, left_out = [column for column in table.columns if not column.blank], []
        heads, rows = [_head(column) for column in columns], _texts(table, columns)
        lines += _stacked(heads, rows, table.rows, max(width, LEAST))
    else:
        lines += _beside(heads, rows, table.rows, columns, widths, mark=mark)
    if rows and left_out:
        named = ", ".join(_head(column) for column in left_out)
        lines += ["", *_wrapped(f"left out for want of width: {named}", max(width, LEAST))]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _chosen(table: Table, room: int) -> tuple[list[Column], list[Column]]:
    """The columns to show and those left out: the most spare go until the others can stand on one line."""
    shown = [column for column in table.columns if not column.blank]
    left_out: list[Column] = []
    while any(column.spare for column in shown) and _wanted(table, shown) > room:
        most = max(column.spare for column in shown)
        left_out += [column for column in shown if column.spare == most]
        shown = [column for column in shown if column.spare != most]
    return shown, [column for column in table.columns if column in left_out]


def _wanted(table: Table, columns: Sequence[Column]) -> int:
    """How wide the columns are when figures stand whole and words are wrapped only beyond `WORDY`."""
    heads = [_head(column) for column in columns]
    rows = _texts(table, columns)
    wide = 0
    for index, column in enumerate(columns):
        natural = _natural(heads[index], [row[index] for row in rows])
        wide += natural if column.align is Align.RIGHT else min(natural, WORDY)
    return wide + len(BETWEEN) * (len(columns) - 1)


def _texts(table: Table, columns: Sequence[Column]) -> list[list[str]]:
    shown = [index for index, column in enumerate(table.columns) if column in columns]
    return [[cleaned(row.cells[index]) for index in shown] for row in table.rows]


def _head(column: Column) -> str:
    return cleaned(column.title.replace("\n", " "))


def _natural(head: str, cells: Sequence[str]) -> int:
    """The width at which no cell is wrapped, and no word of the head is broken."""
    lines = [line for cell in cells for line in cell.split("\n")]
    return max((_long(text) for text in (*lines, *head.split())), default=0)


def _widths(
    heads: Sequence[str], rows: Sequence[Sequence[str]], columns: Sequence[Column], room: int
) -> list[int] | None:
    """As wide as the widest cell, then narrowed where that costs the fewest lines; None where they cannot."""
    cells = [[row[index] for row in rows] for index in range(len(columns))]
    widths = [_natural(head, column) for head, column in zip(heads, cells, strict=True)]
    least = [
        wide if column.align is Align.RIGHT else min(wide, _narrowest(head, own))
        for wide, column, head, own in zip(widths, columns, heads, cells, strict=True)
    ]
    over = sum(widths) + len(BETWEEN) * (len(widths) - 1) - room
    if over > sum(widths) - sum(least):
        return None
    heights = [[_height(cell, wide) for cell in own] for own, wide in zip(cells, widths, strict=True)]
    for _ in range(over):
        tallest = [max(row) for row in zip(*heights, strict=True)]
        index = min(
            (i for i in range(len(widths)) if widths[i] > least[i]),
            key=lambda i: (_lines_more(tallest, cells[i], widths[i] - 1), -widths[i], i),
        )
        widths[index] -= 1
        heights[index] = [_height(cell, widths[index]) for cell in cells[index]]
    return widths


def _narrowest(head: str, cells: Sequence[str]) -> int:
    words = [word for text in (head, *cells) for word in text.split()]
    return max(LEAST, min(max((_long(word) for word in words), default=0), WORD))


def _lines_more(tallest: Sequence[int], cells: Sequence[str], wide: int) -> int:
    """How many lines the table gets when one column is made `wide`; tallest: of each row as it is."""
    return sum(max(high, _height(cell, wide)) - high for high, cell in zip(tallest, cells, strict=True))


@lru_cache(maxsize=1 << 14)
def _height(cell: str, wide: int) -> int:
    return len(_wrapped(cell, wide))


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
                end = _break(word, wide)
                lines.append(word[:end])
                word = word[end:]
            line = word
        lines.append(line)
    return lines


def _break(word: str, wide: int) -> int:
    """Where a too long word ends on this line: behind its last joint, if that is not too early."""
    end = _fitting(word, wide)
    joint = max(word.rfind(mark, 0, end) for mark in JOINTS) + 1
    return joint if joint > end // 3 else end


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


def cleaned(text: str) -> str:
    """Line ends as "\\n", other white space as a space, what would steer the terminal as "?"."""
    lines = (
        "".join(
            " " if c.isspace() else "?" if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co") else c
            for c in line
        )
        for line in text.splitlines()
    )
    return "\n".join(lines)
