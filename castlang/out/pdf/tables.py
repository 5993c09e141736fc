"""Tables on paper: a head on every page, rows that wrap within their cells, room to write by hand."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from castlang.out.pdf.columns import PAD, Columns, columns_of
from castlang.out.pdf.pen import FINE, HAIR, HEAVY, MM, RULE, Pen, base_line
from castlang.out.pdf.prose import heading_strip
from castlang.out.pdf.strip import Room, Strip
from castlang.out.pdf.text import (
    BODY,
    SMALL_BOLD,
    Style,
    cut,
    limited,
    one_line,
    width,
    wrapped,
)
from castlang.sheets.model import Align, Row, Table

MARK = 7.0  # the gutter at the left for the mark of a strong row
ABOVE, ABOVE_TIGHT = 3.2, 2.2  # over and under the text of a row
WRITE_HEIGHT, WRITE_TIGHT = 9 * MM, 8 * MM  # of a row in which the crew writes
HEAD_LINES = 4
NAME = Style(size=6.5)  # of the name that traces a row: to be looked up, not to be worked from


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    table: Table
    columns: Columns
    lefts: tuple[float, ...]
    width: float
    above: float
    write: float
    names: float  # the width kept free at the right for the rows' names; 0: they stand under the text


def table_strips(table: Table, room: Room) -> Iterator[Strip]:
    """The title and head, then a strip for each row; a row taller than a page goes on on the next."""
    table = _abreast(table)
    columns, names = _set(table, room.width - MARK)
    lefts = tuple(accumulate(columns.widths, initial=MARK))
    layout = _Layout(
        table=table,
        columns=columns,
        lefts=lefts,
        width=room.width,
        above=ABOVE_TIGHT if room.tight else ABOVE,
        write=WRITE_TIGHT if room.tight else WRITE_HEIGHT,
        names=names,
    )
    if table.title:
        yield heading_strip(table.title, room)
    head = _head(layout)
    again = _with_title(cut(f"{table.title}, continued".lstrip(", "), SMALL_BOLD, room.width), head)
    yield Strip(height=head.height, draw=head.draw, before=4, with_next=True)
    if not table.rows:
        yield _nothing(table.empty, room.width)
    for number, row in enumerate(table.rows):
        *parts, last = _row_strips(row, layout, again, room.height - again.height)
        yield from parts
        yield replace(last, with_next=_stays(table.rows, number))


def _abreast(table: Table) -> Table:
    """A table of short rows with several of them set as one."""
    beside = min(table.abreast, len(table.rows))
    if beside < 2:
        return table
    nothing = ("",) * len(table.columns)
    rows = []
    for start in range(0, len(table.rows), beside):
        cells = [row.cells for row in table.rows[start : start + beside]]
        cells += [nothing] * (beside - len(cells))
        rows.append(Row(cells=tuple(cell for one in cells for cell in one)))
    return replace(table, columns=table.columns * beside, rows=tuple(rows))


def _stays(rows: Sequence[Row], number: int) -> bool:
    """Whether a row stands on one page with the next: neither the first nor the last is left alone, and a
    total stands under what it adds."""
    if number + 1 == len(rows):
        return False
    return number in (0, len(rows) - 2) or (rows[number + 1].strong and not rows[number].strong)


def _head(layout: _Layout) -> Strip:
    style = layout.columns.head
    cells = [
        limited(column.title, style, wide - 2 * PAD, HEAD_LINES)
        for column, wide in zip(layout.table.columns, layout.columns.widths, strict=True)
    ]
    most = max((len(lines) for lines in cells), default=1)
    height = most * style.leading + 7

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.line(left, top, left + layout.width, top, FINE)
        pen.line(left, top - height + 1, left + layout.width, top - height + 1, HEAVY * 0.8)
        for index, lines in enumerate(cells):
            _cell(pen, layout, index, left, top - 3 - (most - len(lines)) * style.leading, lines, style)

    return Strip(height=height, draw=draw)


def _with_title(title: str, head: Strip) -> Strip:
    """A head that is repeated, under the title of the table that goes on."""
    high = SMALL_BOLD.leading + 3

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.lines(left, top, (title,), SMALL_BOLD)
        head.draw(pen, left, top - high)

    return Strip(height=head.height + high, draw=draw)


def _nothing(text: str, wide: float) -> Strip:
    lines = wrapped(text, BODY, wide - 2 * MARK)
    height = len(lines) * BODY.leading + 2 * ABOVE + 4

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.lines(left + MARK + PAD, top - ABOVE - 2, lines, BODY)
        pen.line(left, top - height, left + wide, top - height, FINE)

    return Strip(height=height, draw=draw)


def _row_strips(row: Row, layout: _Layout, again: Strip, most: float) -> Iterator[Strip]:
    style = layout.columns.style(row.strong)
    cells = [
        wrapped(text, style, wide - 2 * PAD)
        for text, wide in zip(row.cells, layout.columns.widths, strict=True)
    ]
    lines = max((len(cell) for cell in cells), default=1)
    fit = max(1, int((most - 2 * layout.above) / style.leading))
    for start in range(0, lines, fit):
        yield _row(row, layout, [cell[start : start + fit] for cell in cells], style, again)


def _row(row: Row, layout: _Layout, cells: list[tuple[str, ...]], style: Style, again: Strip) -> Strip:
    above = layout.above
    text = max((len(cell) for cell in cells), default=1) * style.leading
    blanks = [i for i, column in enumerate(layout.table.columns) if column.blank and row.ticked]
    named = cut(_name(row), NAME, layout.width / 2) if row.trace else ""
    under = NAME.leading - above / 2 if named and not layout.names else 0.0
    height = text + 2 * above + under
    if blanks:
        height = max(height, layout.write)
    down = (height - 2 * above - style.leading - under) / 2 if blanks and _one_line(cells) else 0.0

    def draw(pen: Pen, left: float, top: float) -> None:
        if row.strong:
            pen.black(left, top - 1.5, 3.6, height - 3)
        for index, lines in enumerate(cells):
            _cell(pen, layout, index, left, top - above - down, lines, style)
        for index in blanks:
            start = left + layout.lefts[index]
            pen.frame(start + 2, top - 2, layout.columns.widths[index] - 4, height - 4, FINE)
        low = top - height
        if named and layout.names:
            base = top - above - down - base_line(style)
            pen.text_right(left + layout.width - PAD, base, named, NAME)
        elif named:
            pen.text(left + layout.lefts[_first_read(layout)] + PAD, low + 2.4, named, NAME)
        pen.line(left, low, left + layout.width, low, RULE if row.strong else HAIR)

    return Strip(height=height, draw=draw, repeat=again)


def _name(row: Row) -> str:
    return f"trace {row.trace}"


def _set(table: Table, room: float) -> tuple[Columns, float]:
    """The columns, and the width kept free behind them for the rows' names where that makes no letter
    smaller, breaks nothing and takes nothing from what is written in by hand, else 0."""
    plain = columns_of(table, room)
    names = max((width(one_line(_name(row)), NAME) for row in table.rows if row.trace), default=0.0)
    if not names or any(column.blank for column in table.columns):
        return plain, 0.0
    narrow = columns_of(table, room - names - PAD)
    if narrow.size < plain.size or _lines(table, narrow) > _lines(table, plain):
        return plain, 0.0
    return narrow, names + PAD


def _lines(table: Table, columns: Columns) -> int:
    """How many lines the table takes."""
    return sum(
        max(
            len(wrapped(text, columns.style(row.strong), wide - 2 * PAD))
            for text, wide in zip(row.cells, columns.widths, strict=True)
        )
        for row in table.rows
    )


def _first_read(layout: _Layout) -> int:
    """The first column that is not left empty for the crew."""
    return next((i for i, column in enumerate(layout.table.columns) if not column.blank), 0)


def _one_line(cells: list[tuple[str, ...]]) -> bool:
    return all(len(cell) <= 1 for cell in cells)


def _cell(
    pen: Pen, layout: _Layout, index: int, left: float, top: float, lines: tuple[str, ...], style: Style
) -> None:
    start = left + layout.lefts[index]
    if layout.table.columns[index].align is Align.LEFT:
        pen.lines(start + PAD, top, lines, style)
        return
    base = top - base_line(style)
    for line in lines:
        pen.text_right(start + layout.columns.widths[index] - PAD, base, line, style)
        base -= style.leading
