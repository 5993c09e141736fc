"""What is drawn with: lines, frames, fills and texts in black and white.

Places are in points from the lower left corner of the page, as in PDF; `top` is an upper edge.
"""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from castlang.out.pdf.direction import visual
from castlang.out.pdf.face import CAPITALS, face
from castlang.out.pdf.text import Style, width

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

MM = 72 / 25.4

HAIR = 0.4
FINE = 0.7
RULE = 1.4
HEAVY = 2.6

Segment = tuple[float, float, float, float]


class Pen:
    """Draws on the canvas's present page."""

    def __init__(self, canvas: "Canvas") -> None:
        self._canvas = canvas

    def text(self, left: float, base: float, text: str, style: Style, *, white: bool = False) -> None:
        """One line of text, its base line at `base`."""
        if not text:
            return
        canvas = self._canvas
        out = canvas.beginText(left, base)
        out.setFont(face(style.bold).name, style.size)
        if white:
            out.setFillGray(1)
        out.textOut(visual(text))
        if white:
            out.setFillGray(0)
        canvas.drawText(out)

    def text_right(self, right: float, base: float, text: str, style: Style) -> None:
        """One line of text that ends at `right`."""
        self.text(right - width(text, style), base, text, style)

    def lines(self, left: float, top: float, lines: Iterable[str], style: Style) -> None:
        """Lines of text below one another; the first one's capitals touch the lead under `top`."""
        base = top - base_line(style)
        for line in lines:
            self.text(left, base, line, style)
            base -= style.leading

    def text_up(self, right: float, low: float, text: str, style: Style, *, white: bool = False) -> None:
        """One line of text that reads upwards, its base line at `right`."""
        self._canvas.saveState()
        self._canvas.translate(right, low)
        self._canvas.rotate(90)
        self.text(0, 0, text, style, white=white)
        self._canvas.restoreState()

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self._canvas.setLineWidth(weight)
        self._canvas.line(x1, y1, x2, y2)

    def segments(self, segments: list[Segment], weight: float) -> None:
        if segments:
            self._canvas.setLineWidth(weight)
            self._canvas.lines(segments)

    def dotted(self, segments: list[Segment], weight: float, gap: float) -> None:
        """Lines made of square dots, `gap` points from dot to dot."""
        if segments:
            self._canvas.setDash([weight, gap - weight])
            self.segments(segments, weight)
            self._canvas.setDash([])

    def frame(self, left: float, top: float, wide: float, high: float, weight: float) -> None:
        self._canvas.setLineWidth(weight)
        self._canvas.rect(left, top - high, wide, high, stroke=1, fill=0)

    def dotted_frame(self, left: float, top: float, wide: float, high: float) -> None:
        right, low = left + wide, top - high
        sides = [
            (left, top, right, top),
            (right, top, right, low),
            (right, low, left, low),
            (left, low, left, top),
        ]
        self.dotted(sides, RULE, 4.2)

    def black(self, left: float, top: float, wide: float, high: float) -> None:
        self._canvas.rect(left, top - high, wide, high, stroke=0, fill=1)

    def ground(self, left: float, top: float, wide: float, high: float) -> None:
        """White paper, over whatever was drawn there."""
        self._canvas.setFillGray(1)
        self._canvas.rect(left, top - high, wide, high, stroke=0, fill=1)
        self._canvas.setFillGray(0)

    def shape(self, points: list[tuple[float, float]], *, weight: float = 0, fill: bool = False) -> None:
        """A closed shape: outlined when it has a weight, black when filled."""
        path = self._canvas.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        path.close()
        self._canvas.setLineWidth(weight)
        self._canvas.drawPath(path, stroke=1 if weight else 0, fill=1 if fill else 0)

    def cells(self, left: float, low: float, size: float, runs: list[tuple[int, int, int]]) -> None:
        """Black squares of one size on a grid from a lower left corner: (column, row, how many side by side).
        All are one path, so that no white hair shows between them."""
        path = self._canvas.beginPath()
        for column, row, many in runs:
            path.rect(column, row, many, 1)
        self._canvas.saveState()
        self._canvas.translate(left, low)
        self._canvas.scale(size, size)
        self._canvas.drawPath(path, stroke=0, fill=1)
        self._canvas.restoreState()

    def warning_sign(self, left: float, top: float, high: float, *, white: bool = False) -> None:
        """A triangle with an exclamation mark, as wide as 1.15 of its height; `white` on black ground."""
        wide = high * 1.15
        middle, mark = left + wide / 2, high * 0.13
        ground, ink = (1, 0) if white else (0, 1)
        self._canvas.setFillGray(ground)
        self.shape([(left, top - high), (left + wide, top - high), (middle, top)], fill=True)
        self._canvas.setFillGray(ink)
        self.black(middle - mark / 2, top - high * 0.36, mark, high * 0.32)
        self.black(middle - mark / 2, top - high * 0.77, mark, mark)
        self._canvas.setFillGray(0)

    def tag(self, right: float, top: float, text: str, style: Style) -> None:
        """A word in white on a black label that ends at `right`."""
        wide = width(text, style) + 9
        self.black(right - wide, top, wide, style.leading + 2)
        self.text(right - wide + 4.5, top - 1 - base_line(style), text, style, white=True)


def base_line(style: Style) -> float:
    """From the top of a line of text down to its base line, so that capitals stand in its middle."""
    return (style.leading + style.size * CAPITALS) / 2


def tag_width(text: str, style: Style) -> float:
    """How wide a tag with this text is, in points."""
    return width(text, style) + 9
