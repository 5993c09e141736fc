"""Work items on paper: a box to tick, when, what, how; to be read at arm's length.

The critical chain has a heavy bar at its left and says so; a wait stands in a dotted frame, with an
hour-glass in place of the box, for there is nothing to tick.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from castlang.out.pdf.boxes import BESIDE, BETWEEN, WriteBox, write_lines
from castlang.out.pdf.pen import HAIR, MM, RULE, Pen, tag_width
from castlang.out.pdf.prose import heading_strip
from castlang.out.pdf.strip import Draw, Room, Strip
from castlang.out.pdf.text import (
    BODY_BOLD,
    SMALL,
    SMALL_BOLD,
    WORK,
    WORK_BOLD,
    Style,
    cut,
    one_line,
    width,
    wrapped,
)
from castlang.sheets.model import Item, Items

BAR = 5.0
BOX = 6.5 * MM
BOX_LEFT = 9.0
WHEN_LEFT = BOX_LEFT + BOX + 7
WHEN_LEAST, WHEN_MOST = 50.0, 120.0  # the width of a day and a time, told on one line where it fits
WHEN = BODY_BOLD
WHAT_AFTER = 8.0  # between when and what
ABOVE, ABOVE_TIGHT = 4.0, 2.5
BETWEEN_TIGHT = 3.0
SHARES = (1 / 4, 1 / 3, 1 / 2)  # of the line, for a box to write in
CAUTION = Style(size=11, bold=True)
SIGN = 11.0
APART = 12.0  # between two cautions


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
    when = _when_width(items.items)
    for number, item in enumerate(items.items):
        before = 5.0 if number == 0 and again is None else 0.0
        yield from _item_strips(item, room, again, when, before=before)


def _when_width(items: Sequence[Item]) -> float:
    """Room for the longest time of the block, so that none takes more lines than it must."""
    wide = [width(one_line(item.when), WHEN) for item in items]
    wide += [width(one_line(_until(item)), WORK) for item in items]
    return min(max([*wide, WHEN_LEAST]) + 0.1, WHEN_MOST)


def _again(title: str) -> Strip:
    def draw(pen: Pen, left: float, top: float) -> None:
        pen.lines(left, top, (title,), SMALL_BOLD)

    return Strip(height=SMALL_BOLD.leading + 3, draw=draw)


def _item_strips(item: Item, room: Room, again: Strip | None, when: float, before: float) -> Iterator[Strip]:
    most = room.height - 2 * _edge(room) - (again.height if again else 0.0)
    what_left = WHEN_LEFT + when + WHAT_AFTER
    columns = [_when(item, when), _what(item, room.width - what_left - 6, tight=room.tight)]
    first = True
    while first or any(columns):
        heads = [_fitting(column, most) for column in columns]
        columns = [column[len(head) :] for column, head in zip(columns, heads, strict=True)]
        above = before if first else 0.0
        yield _strip(item, heads, room, what_left, again, first=first, before=above)
        first = False


def _edge(room: Room) -> float:
    """The white above and under what an item says."""
    return ABOVE_TIGHT if room.tight else ABOVE


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
    item: Item,
    columns: list[list[_Part]],
    room: Room,
    what_left: float,
    again: Strip | None,
    *,
    first: bool,
    before: float,
) -> Strip:
    inside = max(sum(part.height for part in column) for column in columns)
    wide, edge = room.width, _edge(room)
    height = max(inside, BOX) + 2 * edge

    def draw(pen: Pen, left: float, top: float) -> None:
        if item.critical:
            pen.black(left, top - 1.5, BAR, height - 3)
        if item.wait:
            start = left + BAR + 2
            pen.dotted_frame(start, top - 2, wide - BAR - 3, height - 4)
        else:
            pen.line(left, top - height, left + wide, top - height, HAIR)
        if first and item.wait:
            _hour_glass(pen, left + BOX_LEFT + 4, top - edge - 1.5)
        elif first:
            pen.frame(left + BOX_LEFT, top - edge, BOX, BOX, RULE)
            if item.done:
                _tick(pen, left + BOX_LEFT, top - edge)
        for column, start in zip(columns, (WHEN_LEFT, what_left), strict=True):
            down = top - edge
            for part in column:
                part.draw(pen, left + start, down)
                down -= part.height
        if first:
            _tags(pen, item, left + wide - 7, top - edge)

    return Strip(height=height, draw=draw, before=before, repeat=again)


def _words(item: Item) -> list[str]:
    return ["critical"] * item.critical + ["wait"] * item.wait + ["done"] * item.done


def _tags(pen: Pen, item: Item, right: float, top: float) -> None:
    for word in _words(item):
        pen.tag(right, top, word, SMALL_BOLD)
        right -= tag_width(word, SMALL_BOLD) + 3


def _tick(pen: Pen, left: float, top: float) -> None:
    foot = (left + BOX * 0.42, top - BOX * 0.8)
    pen.line(left + BOX * 0.18, top - BOX * 0.5, *foot, 2 * RULE)
    pen.line(*foot, left + BOX * 0.85, top - BOX * 0.2, 2 * RULE)


def _hour_glass(pen: Pen, left: float, top: float) -> None:
    wide, high = 11.0, 16.0
    middle, waist = left + wide / 2, top - high / 2
    pen.shape([(left, top), (left + wide, top), (middle, waist)], weight=RULE)
    pen.shape([(left, top - high), (left + wide, top - high), (middle, waist)], weight=RULE, fill=True)


def _until(item: Item) -> str:
    """By when; the day is not said twice."""
    day, _, hour = item.until.rpartition(" ")
    return f"by {hour if day == item.when.rpartition(' ')[0] else item.until}" if item.until else ""


def _when(item: Item, room: float) -> list[_Part]:
    parts = _text(item.when, WHEN, room) if item.when else []
    return parts + (_text(_until(item), WORK, room) if item.until else [])


def _what(item: Item, room: float, *, tight: bool) -> list[_Part]:
    """The title keeps clear of the tags, then lines, cautions and boxes to write in."""
    taken = sum(tag_width(word, SMALL_BOLD) + 3 for word in _words(item))
    parts = _text(item.what, WORK_BOLD, room - taken)
    for line in item.lines:
        parts += _text(line, WORK, room)
    parts += _cautions(item.caution, room)
    for boxes in write_lines([(label, _share(label, room)) for label in item.write], room, low=True):
        parts.append(_boxes(boxes, BETWEEN_TIGHT if tight else BETWEEN))
    return parts


def _text(text: str, style: Style, room: float) -> list[_Part]:
    return [_line(line, style) for line in wrapped(text, style, room)]


def _line(line: str, style: Style, indent: float = 0.0) -> _Part:
    def draw(pen: Pen, left: float, top: float) -> None:
        pen.lines(left + indent, top, (line,), style)

    return _Part(height=style.leading, draw=draw)


def _cautions(titles: Sequence[str], room: float) -> list[_Part]:
    """Each with its sign, beside one another as far as they fit."""
    indent = SIGN * 1.15 + 5
    parts: list[_Part] = []
    row: list[tuple[float, str]] = []
    used = 0.0
    for title in titles:
        lines = wrapped(title, CAUTION, room - indent)
        wide = indent + width(lines[0], CAUTION)
        if row and (used + wide > room or len(lines) > 1):
            parts.append(_caution_line(row, indent))
            row, used = [], 0.0
        row.append((used, lines[0]))
        used += wide + APART
        if len(lines) > 1:
            parts += [_caution_line(row, indent), *(_line(line, CAUTION, indent) for line in lines[1:])]
            row, used = [], 0.0
    return [*parts, _caution_line(row, indent)] if row else parts


def _caution_line(row: Sequence[tuple[float, str]], indent: float) -> _Part:
    def draw(pen: Pen, left: float, top: float) -> None:
        for place, title in row:
            pen.warning_sign(left + place, top - 1.5, SIGN)
            pen.lines(left + place + indent, top, (title,), CAUTION)

    return _Part(height=CAUTION.leading, draw=draw)


def _share(label: str, room: float) -> float:
    """The least part of the line in which a box has its label beside what is written, else the whole."""
    needed = width(one_line(label), SMALL) + BESIDE
    return next((share for share in SHARES if (room + BETWEEN) * share - BETWEEN >= needed), 1.0)


def _boxes(boxes: list[WriteBox], above: float) -> _Part:
    height = max(box.height for box in boxes)

    def draw(pen: Pen, left: float, top: float) -> None:
        for box in boxes:
            box.draw(pen, left, top - above, height)

    return _Part(height=height + above, draw=draw)
