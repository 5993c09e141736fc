"""The patterns of a chart in black and white: drawn into a grid of dots, as a laser printer would."""

from collections.abc import Callable
from itertools import combinations, pairwise

import pytest

from castlang.out.pdf import patterns
from castlang.out.pdf.pen import Pen, Segment
from castlang.sheets.model import BarKind

DOTS = 4  # to a point: 288 dots to the inch, half of what a plain laser printer has
WIDE, HIGH = 60, 20  # points
LEFT, MIDDLE = 4.0, 10.0
BAR = 48.0  # points long
APART = 0.3  # of the dots that are black in either, so many are black in one alone


class DotPen(Pen):
    """Draws in dots: a dot is black when its middle is."""

    def __init__(self) -> None:
        self.dots = [[False] * (WIDE * DOTS) for _ in range(HIGH * DOTS)]

    def _paint(self, inside: Callable[[float, float], bool], black: bool = True) -> None:
        for row in range(HIGH * DOTS):
            for column in range(WIDE * DOTS):
                if inside((column + 0.5) / DOTS, (row + 0.5) / DOTS):
                    self.dots[row][column] = black

    def _box(self, left: float, top: float, wide: float, high: float, black: bool) -> None:
        self._paint(lambda x, y: left <= x <= left + wide and top - high <= y <= top, black)

    def black(self, left: float, top: float, wide: float, high: float) -> None:
        self._box(left, top, wide, high, black=True)

    def ground(self, left: float, top: float, wide: float, high: float) -> None:
        self._box(left, top, wide, high, black=False)

    def frame(self, left: float, top: float, wide: float, high: float, weight: float) -> None:
        right, low = left + wide, top - high
        corners = [(left, low), (right, low), (right, top), (left, top), (left, low)]
        self.segments([(*a, *b) for a, b in pairwise(corners)], weight)

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        length = max(((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5, 1e-9)
        along = ((x2 - x1) / length, (y2 - y1) / length)

        def inside(x: float, y: float) -> bool:
            forth = (x - x1) * along[0] + (y - y1) * along[1]
            aside = (x - x1) * along[1] - (y - y1) * along[0]
            return 0 <= forth <= length and abs(aside) <= weight / 2

        self._paint(inside)

    def segments(self, segments: list[Segment], weight: float) -> None:
        for segment in segments:
            self.line(*segment, weight)

    def dotted(self, segments: list[Segment], weight: float, gap: float) -> None:
        for x1, y1, x2, y2 in segments:
            length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
            for step in range(int(length / gap) + 1):
                part = step * gap / length
                x, y = x1 + (x2 - x1) * part, y1 + (y2 - y1) * part
                self._box(x - weight / 2, y, weight, weight, black=True)


def bar(kind: BarKind, critical: bool) -> Callable[[Pen], None]:
    return lambda pen: patterns.bar(pen, LEFT, MIDDLE, BAR, kind, critical)


DRAWN: dict[str, Callable[[Pen], None]] = {
    "work, critical": bar(BarKind.WORK, True),
    "work": bar(BarKind.WORK, False),
    "wait, critical": bar(BarKind.WAIT, True),
    "wait": bar(BarKind.WAIT, False),
    "slack": lambda pen: patterns.slack(pen, LEFT, MIDDLE, LEFT + BAR, ends=True),
    "closed": lambda pen: patterns.closed(pen, LEFT, MIDDLE + 6, BAR, 12),
}


@pytest.fixture(scope="module")
def swatches() -> dict[str, frozenset[tuple[int, int]]]:
    """The black dots of each pattern."""
    found = {}
    for name, draw in DRAWN.items():
        pen = DotPen()
        draw(pen)
        found[name] = frozenset((r, c) for r, row in enumerate(pen.dots) for c, dot in enumerate(row) if dot)
    return found


@pytest.mark.parametrize(("one", "other"), list(combinations(DRAWN, 2)))
def test_every_two_patterns_are_told_apart_in_black_and_white(one, other, swatches) -> None:
    together = swatches[one] | swatches[other]

    assert together
    assert len(swatches[one] ^ swatches[other]) / len(together) > APART


def test_bars_are_told_apart_by_how_dark_they_are_too(swatches) -> None:
    """Where a bar is too short for its pattern to be seen, how much of it is black still differs."""
    heights = {"work, critical": patterns.TALL, "work": patterns.MIDDLE, "wait, critical": patterns.TALL}
    dark = [len(swatches[name]) / (BAR * high * DOTS**2) for name, high in heights.items()]

    assert dark[0] == pytest.approx(1, abs=0.01)
    assert all(0.2 < share < 0.8 for share in dark[1:])
    assert dark[2] - dark[1] > 0.05
    assert patterns.LOW < 0.7 * patterns.MIDDLE
