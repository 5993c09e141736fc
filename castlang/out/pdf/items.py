"""Work items on paper: a box to tick, when, what, how; to be read at arm's length.

The critical chain has a heavy bar at its left and says so; a wait stands in a dotted frame, with an
hour-glass in place of the box, for there is nothing to tick.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from castlang.out.pdf.boxes import BETWEEN, WriteBox, write_lines
from castlang.out.pdf.pen import HAIR, MM, RULE, Pen, tag_width
from castlang.out.pdf.prose import heading_strip
from castlang.out.pdf.strip import Draw, Room, Strip
from castlang.out.pdf.text import SMALL, SMALL_BOLD, WORK, WORK_BOLD, Style, cut, one_line, width, wrapped
from castlang.sheets.model import Item, Items

BAR = 5.0
BOX = 6.5 * MM
BOX_LEFT = 11.0
WHEN_LEFT = BOX_LEFT + BOX + 8
WHEN_WIDTH = 82.0
WHAT_LEFT = WHEN_LEFT + WHEN_WIDTH + 8
ABOVE = 7.0
WRITE_LEAST = 98.0  # a box to write in is at least this wide
CAUTION = Style(size=11, bold=True)
SIGN = 11.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """A piece of a column that is not divided."""

    height: float
    draw: Draw


def items_strips(items: Items, room: Room) -> Iterator[Strip]:
    """A strip for each item; an item taller than a page goes on on the next."""
    again: Strip | None = None
    if items.title is not None:
        yield heading_strip(items.title, room)
        again = _again(cut(f"{items.title}, continued", SMALL_BOLD, room.width))
    for number, item in enumerate(items.items):
        yield from _item_strips(item, room, again, before=10.0 if number == 0 and again is None else 0.0)


def _again(title: str) -> Strip:
    def draw(pen: Pen, left: float, top: float) -> None:
        pen.lines(left, top, (title,), SMALL_BOLD)

    return Strip(height=SMALL_BOLD.leading + 3, draw=draw)


def _item_strips(item: Item, room: Room, again: Strip | None, before: float) -> Iterator[Strip]:
    most = room.height - 2 * ABOVE - (again.height if again else 0.0)
    columns = [_when(item), _what(item, room.width - WHAT_LEFT - 6)]
    first = True
    while first or any(columns):
        heads = [_fitting(column, most) for column in columns]
        columns = [column[len(head) :] for column, head in zip(columns, heads, strict=True)]
        yield _strip(item, heads, room.width, again, first=first, before=before if first else 0.0)
        first = False


def _fitting(column: Sequence[_Part], most: float) -> list[_Part]:
    """The parts that stand within a height, at least one."""
    fit: list[_Part] = []
    used = 0.0
    for part in column:
        if fit and used + part.height > most:
            break
        fit.append(part)
        used += part.height
    return fit


def _strip(
    item: Item, columns: list[list[_Part]], wide: float, again: Strip | None, *, first: bool, before: float
) -> Strip:
    inside = max(sum(part.height for part in column) for column in columns)
    height = max(inside, BOX) + 2 * ABOVE

    def draw(pen: Pen, left: float, top: float) -> None:
        if item.critical:
            pen.black(left, top - 1.5, BAR, height - 3)
        if item.wait:
            start = left + BAR + 2
            pen.dotted_frame(start, top - 2, wide - BAR - 3, height - 4)
        else:
            pen.line(left, top - height, left + wide, top - height, HAIR)
        if first and item.wait:
            _hour_glass(pen, left + BOX_LEFT + 4, top - ABOVE - 1)
        elif first:
            pen.frame(left + BOX_LEFT, top - ABOVE, BOX, BOX, RULE)
        for column, start in zip(columns, (WHEN_LEFT, WHAT_LEFT), strict=True):
            down = top - ABOVE
            for part in column:
                part.draw(pen, left + start, down)
                down -= part.height
        if first:
            _tags(pen, item, left + wide - 7, top - ABOVE)

    return Strip(height=height, draw=draw, before=before, repeat=again)


def _words(item: Item) -> list[str]:
    return ["critical"] * item.critical + ["wait"] * item.wait


def _tags(pen: Pen, item: Item, right: float, top: float) -> None:
    for word in _words(item):
        pen.tag(right, top, word, SMALL_BOLD)
        right -= tag_width(word, SMALL_BOLD) + 3


def _hour_glass(pen: Pen, left: float, top: float) -> None:
    wide, high = 11.0, 16.0
    middle, waist = left + wide / 2, top - high / 2
    pen.shape([(left, top), (left + wide, top), (middle, waist)], weight=RULE)
    pen.shape([(left, top - high), (left + wide, top - high), (middle, waist)], weight=RULE, fill=True)


def _when(item: Item) -> list[_Part]:
    """When, and by when; the day is not said twice."""
    parts = _text(item.when, WORK_BOLD, WHEN_WIDTH) if item.when else []
    if item.until:
        day, _, hour = item.until.rpartition(" ")
        until = hour if day == item.when.rpartition(" ")[0] else item.until
        parts += _text(f"by {until}", WORK, WHEN_WIDTH)
    return parts


def _what(item: Item, room: float) -> list[_Part]:
    """The title keeps clear of the tags, then lines, cautions and boxes to write in."""
    taken = sum(tag_width(word, SMALL_BOLD) + 3 for word in _words(item))
    parts = _text(item.what, WORK_BOLD, room - taken)
    for line in item.lines:
        parts += _text(line, WORK, room)
    for line in item.caution:
        parts += _caution(line, room)
    for boxes in write_lines([(label, _share(label, room, len(item.write))) for label in item.write], room):
        parts.append(_boxes(boxes))
    return parts


def _text(text: str, style: Style, room: float) -> list[_Part]:
    return [_line(line, style) for line in wrapped(text, style, room)]


def _line(line: str, style: Style) -> _Part:
    def draw(pen: Pen, left: float, top: float) -> None:
        pen.lines(left, top, (line,), style)

    return _Part(height=style.leading, draw=draw)


def _caution(text: str, room: float) -> list[_Part]:
    indent = SIGN * 1.15 + 5
    lines = wrapped(text, CAUTION, room - indent)
    return [_caution_line(line, indent, sign=number == 0) for number, line in enumerate(lines)]


def _caution_line(line: str, indent: float, *, sign: bool) -> _Part:
    def draw(pen: Pen, left: float, top: float) -> None:
        if sign:
            pen.warning_sign(left, top - 1.5, SIGN)
        pen.lines(left + indent, top, (line,), CAUTION)

    return _Part(height=CAUTION.leading, draw=draw)


def _share(label: str, room: float, count: int) -> float:
    """The part of the line for one box of `count`: a third or a half where its label fits, else the whole."""
    for share in (1 / 3, 1 / 2):
        wide = (room - 2 * BETWEEN) * share
        enough = count > 2 or share == 1 / 2
        if enough and wide >= WRITE_LEAST and width(one_line(label), SMALL) <= wide - 10:
            return share
    return 1.0


def _boxes(boxes: list[WriteBox]) -> _Part:
    height = max(box.height for box in boxes)

    def draw(pen: Pen, left: float, top: float) -> None:
        for box in boxes:
            box.draw(pen, left, top - BETWEEN, height)

    return _Part(height=height + BETWEEN, draw=draw)
