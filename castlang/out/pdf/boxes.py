"""Boxes on paper: cautions, facts at the head of a sheet, and boxes to write in."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from castlang.out.pdf.pen import FINE, HEAVY, MM, RULE, Pen
from castlang.out.pdf.strip import Room, Strip
from castlang.out.pdf.text import HEADING, SMALL, WORK, Style, limited, width, wrapped
from castlang.sheets.model import Caution, Facts, WriteIn

SIDE = 34.0  # the black side of a caution that carries the sign
INSIDE, INSIDE_TIGHT = 8.0, 4.0
VALUE = Style(size=11.5, bold=True)
FACT_WIDTH = 160.0  # of one column of facts, about
FACTS_ABOVE, FACTS_TIGHT = 9.0, 6.0  # over and under a line of facts
WRITE_SPACE = 10.5 * MM  # free to write on, under the label of a box
LOW = 8.5 * MM  # a box with its label beside what is written
BESIDE = 20 * MM  # free to write on beside a label
BETWEEN = 5.0
LABEL_LINES = 4
VALUE_LINES = 12
NEARLY_WHOLE = 0.94  # of a line: three boxes of 0.33 fill it


def caution_strips(caution: Caution, room: Room) -> Iterator[Strip]:
    """One box; a caution taller than a page goes on in another box."""
    wide = room.width - SIDE - 2 * INSIDE
    lines = [(line, HEADING) for line in wrapped(caution.title, HEADING, wide)] if caution.title else []
    for text in caution.lines:
        lines.extend((line, WORK) for line in wrapped(text, WORK, wide))
    fit = max(1, int((room.height - 2 * INSIDE - HEADING.leading) / HEADING.leading))
    for start in range(0, len(lines), fit):
        yield _caution(lines[start : start + fit], room)


def _caution(lines: list[tuple[str, Style]], room: Room) -> Strip:
    wide = room.width
    text_height = sum(style.leading for _, style in lines)
    height = max(text_height + 2 * (INSIDE_TIGHT if room.tight else INSIDE), 36.0)

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.frame(left + HEAVY / 2, top - HEAVY / 2, wide - HEAVY, height - HEAVY, HEAVY)
        pen.black(left, top, SIDE, height)
        pen.warning_sign(left + SIDE / 2 - 12.65, top - height / 2 + 11, 22, white=True)
        down = top - (height - text_height) / 2
        for line, style in lines:
            pen.lines(left + SIDE + INSIDE, down, (line,), style)
            down -= style.leading

    return Strip(height=height, draw=draw, before=10)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fact:
    label: tuple[str, ...]
    value: tuple[str, ...]
    columns: int

    @property
    def height(self) -> float:
        return len(self.label) * SMALL.leading + len(self.value) * VALUE.leading


def facts_strips(facts: Facts, room: Room) -> Iterator[Strip]:
    """Lines of facts between two rules; a long value takes the room of several."""
    usual = max(1, round(room.width / FACT_WIDTH))
    choices = [(_all_lines(facts, room.width, columns), columns) for columns in (usual, usual + 1)]
    lines, columns = min(choices, key=lambda choice: len(choice[0]))
    for number, line in enumerate(lines):
        first, last = number == 0, number == len(lines) - 1
        yield _facts(line, room, room.width / columns, first=first, last=last)


def _all_lines(facts: Facts, wide: float, columns: int) -> list[list[_Fact]]:
    return list(_fact_lines([_fact(pair, wide / columns, columns) for pair in facts.pairs], columns))


def _fact(pair: tuple[str, str], cell: float, columns: int) -> _Fact:
    """As many columns as hold the value in one line, or all."""
    label, value = pair
    natural = max(
        max(width(line, VALUE) for line in wrapped(value, VALUE, 10_000)),
        min(max(width(line, SMALL) for line in wrapped(label, SMALL, 10_000)), cell - 10),
    )
    taken = min(columns, max(1, -(-int(natural + 11) // int(cell))))
    wide = taken * cell - 10
    return _Fact(
        label=limited(label, SMALL, wide, LABEL_LINES),
        value=limited(value, VALUE, wide, VALUE_LINES),
        columns=taken,
    )


def _fact_lines(facts: Sequence[_Fact], columns: int) -> Iterator[list[_Fact]]:
    line: list[_Fact] = []
    for fact in facts:
        if line and sum(other.columns for other in line) + fact.columns > columns:
            yield line
            line = []
        line.append(fact)
    if line:
        yield line


def _facts(line: list[_Fact], room: Room, cell: float, *, first: bool, last: bool) -> Strip:
    wide = room.width
    height = max(fact.height for fact in line) + (FACTS_TIGHT if room.tight else FACTS_ABOVE)

    def draw(pen: Pen, left: float, top: float) -> None:
        if first:
            pen.line(left, top, left + wide, top, RULE)
        start = left
        for fact in line:
            if start > left:
                pen.line(start, top - 4, start, top - height + 3, FINE)
            inset = start + (7 if start > left else 0)
            pen.lines(inset, top - 4, fact.label, SMALL)
            pen.lines(inset, top - 4 - len(fact.label) * SMALL.leading, fact.value, VALUE)
            start += fact.columns * cell
        weight = RULE if last else FINE
        pen.line(left, top - height, left + wide, top - height, weight)

    return Strip(height=height, draw=draw, before=10 if first else 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class WriteBox:
    """A box to write in, its label inside: at the top, or in a low box at the left of what is written."""

    label: tuple[str, ...]
    left: float
    width: float
    low: bool = False

    @property
    def height(self) -> float:
        return LOW if self.low else len(self.label) * SMALL.leading + WRITE_SPACE

    def draw(self, pen: Pen, left: float, top: float, height: float) -> None:
        pen.frame(left + self.left, top, self.width, height, RULE * 0.8)
        down = (height - SMALL.leading) / 2 if self.low else 1.5
        pen.lines(left + self.left + 5, top - down, self.label, SMALL)


def write_strips(write: WriteIn, room: Room) -> Iterator[Strip]:
    """The boxes side by side as far as their parts of the line go."""
    for number, boxes in enumerate(write_lines(write.lines, room.width)):
        yield _write(boxes, before=10 if number == 0 else BETWEEN)


def write_lines(
    lines: Sequence[tuple[str, float]], room: float, *, low: bool = False
) -> Iterator[list[WriteBox]]:
    """Boxes of (label, part of the line), set in lines of the whole room; low ones where the labels allow."""
    row: list[tuple[str, float]] = []
    used = 0.0
    for label, part in lines:
        share = min(max(part, 0.1), 1.0)
        if row and used + share > 1.001:
            yield _boxes(row, room, low=low)
            row, used = [], 0.0
        row.append((label, share))
        used += share
    if row:
        yield _boxes(row, room, low=low)


def _boxes(row: list[tuple[str, float]], room: float, *, low: bool) -> list[WriteBox]:
    boxes = []
    left = 0.0
    total = sum(share for _, share in row)
    whole = total if total > NEARLY_WHOLE else 1.0
    for label, share in row:
        wide = (room + BETWEEN) * share / whole - BETWEEN
        lines = limited(label, SMALL, wide - 10, LABEL_LINES)
        beside = low and len(lines) == 1 and width(lines[0], SMALL) + BESIDE <= wide
        boxes.append(WriteBox(label=lines, left=left, width=wide, low=beside))
        left += wide + BETWEEN
    return boxes


def _write(boxes: list[WriteBox], before: float) -> Strip:
    height = max(box.height for box in boxes)

    def draw(pen: Pen, left: float, top: float) -> None:
        for box in boxes:
            box.draw(pen, left, top, height)

    return Strip(height=height, draw=draw, before=before)
