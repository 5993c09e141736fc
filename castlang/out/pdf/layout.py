"""A stock sheet on paper, to scale: its panels with their numbers and sizes, offcuts hatched."""

from collections.abc import Iterator

from castlang.out.pdf.patterns import slants
from castlang.out.pdf.pen import FINE, HAIR, HEAVY, RULE, Pen, base_line
from castlang.out.pdf.prose import heading_strip
from castlang.out.pdf.strip import Room, Strip
from castlang.out.pdf.text import BODY_BOLD, SMALL, Style, width
from castlang.sheets.model import LaidOut, Layout

EDGE = 16.0  # beside and below the sheet, for what is written along its sides
HIGHEST = 250.0  # of a drawing, so that a page holds two with their tables
HATCH = 7.0
NUMBER = Style(size=12, bold=True)
LEAST_NUMBER = Style(size=7, bold=True)
ARROW = 26.0


def layout_strips(layout: Layout, room: Room) -> Iterator[Strip]:
    """The title, then the drawing as one strip, which stays with what follows it."""
    yield heading_strip(layout.title, room)
    scale = _scale(layout, room)
    high = layout.across * scale

    def draw(pen: Pen, left: float, top: float) -> None:
        _draw(pen, layout, scale, left + EDGE, top - high)

    yield Strip(height=high + EDGE, draw=draw, before=4, with_next=True)


def _scale(layout: Layout, room: Room) -> float:
    """Points a micrometre, so that the drawing fits."""
    across = min(HIGHEST, room.height - 2 * EDGE)
    return min((room.width - EDGE) / max(1, layout.along), across / max(1, layout.across))


def _draw(pen: Pen, layout: Layout, scale: float, left: float, low: float) -> None:
    """With its near left corner at left, low."""
    wide, high = layout.along * scale, layout.across * scale
    pen.segments(slants(left, low, wide, high, HATCH), HAIR)
    for panel in layout.panels:
        _panel(pen, panel, scale, left, low)
    pen.frame(left, low + high, wide, high, RULE)
    _sides(pen, layout, left, low, wide, high)


def _panel(pen: Pen, panel: LaidOut, scale: float, left: float, low: float) -> None:
    x, y = left + panel.x * scale, low + panel.y * scale
    wide, high = panel.along * scale, panel.across * scale
    pen.ground(x, y + high, wide, high)
    pen.frame(x, y + high, wide, high, FINE)
    style = NUMBER if min(wide, high) >= NUMBER.leading + 2 else LEAST_NUMBER
    if min(wide, high) < style.size:
        return  # too thin to write in: its place stands in the table
    text = width(panel.number, style)
    base = y + high / 2 + style.leading / 2 - base_line(style)
    pen.text(x + (wide - text) / 2, base, panel.number, style)


def _sides(pen: Pen, layout: Layout, left: float, low: float, wide: float, high: float) -> None:
    """The sheet's sizes along two sides, and which way its grain runs."""
    text = width(layout.side, SMALL)
    pen.text(left + (wide - text) / 2, low - SMALL.leading, layout.side, SMALL)
    pen.text_up(left - 4, low + (high - width(layout.end, SMALL)) / 2, layout.end, SMALL)
    if layout.grain:
        word = f"grain {layout.grain}"
        pen.text(left, low - SMALL.leading, word, BODY_BOLD)
        start = left + width(word, BODY_BOLD) + 8
        _arrow(pen, start, low - SMALL.leading + 3.2, up=layout.grain == "across")


def _arrow(pen: Pen, left: float, middle: float, *, up: bool) -> None:
    """Along the grain, both ways."""
    if up:
        pen.line(left, middle - 5, left, middle + 5, HEAVY / 2)
        for end, way in ((middle + 6, -1), (middle - 6, 1)):
            pen.shape([(left, end), (left - 2.2, end + 4 * way), (left + 2.2, end + 4 * way)], fill=True)
        return
    pen.line(left, middle, left + ARROW, middle, HEAVY / 2)
    for end, way in ((left - 1, 1), (left + ARROW + 1, -1)):
        pen.shape([(end, middle), (end + 4 * way, middle - 2.2), (end + 4 * way, middle + 2.2)], fill=True)
