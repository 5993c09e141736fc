"""How wide a table's columns are, and how large its letters, so that figures and words stay whole."""

from dataclasses import dataclass

from castlang.out.pdf.text import Style, longest_word, printable, width
from castlang.sheets.model import Align, Column, Table

PAD = 5.0  # at the left and right of a cell
BLANK = 64.0  # the least width to write in
SHORT = 120.0  # a column no wider than this, such as one of times, is not broken if there is room
LINES = 3  # into which a longer cell is broken, if there is room
SIZES = (
    10.0,
    9.0,
    8.0,
)  # the largest in which no cell is broken that should not be; the last for words alone
HEAD_SIZE = 9.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """widths: of each column in points, with its padding. size: of the letters in the cells."""

    widths: tuple[float, ...]
    size: float

    def style(self, strong: bool) -> Style:
        return Style(size=self.size, bold=strong)

    @property
    def head(self) -> Style:
        return _head(self.size)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Need:
    """The least widths of a column at which no word is broken, and at which no cell is."""

    words: float
    cells: float

    @property
    def short_cells(self) -> float:
        return self.cells if self.cells <= SHORT else self.words

    @property
    def few_lines(self) -> float:
        return self.cells if self.cells <= SHORT else max(self.words, self.cells / LINES)


def columns_of(table: Table, room: float) -> Columns:
    """The room shared out as the columns ask, then widened so that no cell is broken; where that cannot be,
    that no short one is, and no long one into many lines, in smaller letters if need be; where not,
    that no short one is; where that cannot be, that no word or figure is."""
    total = sum(_share(column) for column in table.columns)
    asked = [_share(column) / total * room for column in table.columns]
    needs = {size: [_need(table, index, wish, size) for index, wish in enumerate(asked)] for size in SIZES}
    for size in SIZES[:-1]:
        for least in ([need.cells for need in needs[size]], [need.few_lines for need in needs[size]]):
            if sum(least) <= room:
                return Columns(widths=_widened(asked, least), size=size)
    for size in SIZES[:-1]:
        least = [need.short_cells for need in needs[size]]
        if sum(least) <= room:
            return Columns(widths=_widened(asked, least), size=size)
    words: list[float] = []
    for size in SIZES:
        words = [min(need.words, room / 2) for need in needs[size]]
        if sum(words) <= room:
            return Columns(widths=_widened(asked, words), size=size)
    return Columns(widths=tuple(word * room / sum(words) for word in words), size=SIZES[-1])


def _share(column: Column) -> float:
    return max(column.share, 0.01)


def _widened(asked: list[float], least: list[float]) -> tuple[float, ...]:
    """Each column at its least or more; what some lack, the others give in proportion to their spare."""
    short = sum(max(0.0, low - have) for low, have in zip(least, asked, strict=True))
    spare = sum(max(0.0, have - low) for low, have in zip(least, asked, strict=True))
    give = short / spare if spare else 0.0
    return tuple(max(low, have - max(0.0, have - low) * give) for low, have in zip(least, asked, strict=True))


def _need(table: Table, index: int, asked: float, size: float) -> _Need:
    column = table.columns[index]
    words = cells = longest_word(column.title, _head(size))
    for row in table.rows:
        style = Style(size=size, bold=row.strong)
        long = max(width(line, style) for line in printable(row.cells[index]).split("\n"))
        cells = max(cells, long)
        words = max(words, long if column.align is Align.RIGHT else longest_word(row.cells[index], style))
    room = max(asked, BLANK) if column.blank else 0.0
    return _Need(words=max(words + 2 * PAD + 0.1, room), cells=max(cells + 2 * PAD + 0.1, room))


def _head(size: float) -> Style:
    return Style(size=min(size, HEAD_SIZE), bold=True)
