"""Paragraphs and points on paper, and the heading above a block."""

from collections.abc import Iterator

from castlang.out.pdf.pen import Pen, base_line
from castlang.out.pdf.strip import Room, Strip, kept
from castlang.out.pdf.text import BODY, HEADING, limited, wrapped
from castlang.sheets.model import Prose

MEASURE = 480.0  # the longest line that reads well, in points
INDENT = 13.0
BETWEEN = 4.0
HEADING_LINES = 4


def prose_strips(prose: Prose, room: Room) -> Iterator[Strip]:
    """A strip for each line of print, so that long paragraphs run over pages."""
    if prose.title is not None:
        yield heading_strip(prose.title, room)
    indent = INDENT if prose.points else 0.0
    wide = min(room.width, MEASURE) - indent
    for number, paragraph in enumerate(prose.lines):
        above = 10.0 if number == 0 and prose.title is None else BETWEEN
        yield from kept(
            [
                _line(line, indent, point=prose.points and index == 0, before=above if index == 0 else 0.0)
                for index, line in enumerate(wrapped(paragraph, BODY, wide))
            ]
        )


def heading_strip(title: str, room: Room) -> Strip:
    """A heading that stays with what it heads."""
    lines = limited(title, HEADING, room.width, HEADING_LINES)

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.lines(left, top, lines, HEADING)

    return Strip(height=len(lines) * HEADING.leading, draw=draw, before=15, with_next=True)


def _line(line: str, indent: float, *, point: bool, before: float) -> Strip:
    def draw(pen: Pen, left: float, top: float) -> None:
        if point:
            pen.black(left + 2, top - base_line(BODY) + 5.6, 4.4, 4.4)
        pen.text(left + indent, top - base_line(BODY), line, BODY)

    return Strip(height=BODY.leading, draw=draw, before=before)
