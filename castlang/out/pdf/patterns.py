"""How a bar shows what it is: by its fill, its edge and its height, never by grey or colour.

Work that is critical is solid; other work is hatched within a heavy edge. A critical wait is cross-hatched
within a heavy edge; any other wait is a low bar of level lines. All are told apart when printed in 1 bit.
"""

from castlang.out.pdf.pen import FINE, HAIR, RULE, Pen, Segment
from castlang.sheets.model import BarKind

TALL = 12.0  # a critical bar
MIDDLE = 10.0
LOW = 6.5  # a wait that is not critical
HATCH = 3.6  # from line to line, across
CROSS = 3.4
LEVEL = 2.1
NARROWEST = 2.6  # a solid bar is at least so wide; one with a hollow inside a little more
NARROWEST_HOLLOW = 4.6
CLOSED_DOTS = 5.0


def narrowest(kind: BarKind, critical: bool) -> float:
    """The least width, in points, at which a pattern is still told from the others."""
    return NARROWEST if kind is BarKind.WORK and critical else NARROWEST_HOLLOW


def bar(pen: Pen, left: float, middle: float, wide: float, kind: BarKind, critical: bool) -> None:
    """One bar, centred on `middle`."""
    if kind is BarKind.WORK and critical:
        pen.black(left, middle + TALL / 2, wide, TALL)
    elif kind is BarKind.WORK:
        _edged(pen, left, middle, wide, MIDDLE, RULE)
        pen.segments(slants(left, middle - MIDDLE / 2, wide, MIDDLE, HATCH), FINE)
    elif critical:
        _edged(pen, left, middle, wide, TALL, RULE)
        pen.segments(slants(left, middle - TALL / 2, wide, TALL, CROSS), FINE)
        pen.segments(slants(left, middle - TALL / 2, wide, TALL, CROSS, falling=True), FINE)
    else:
        _edged(pen, left, middle, wide, LOW, HAIR)
        low = middle - LOW / 2
        levels = [low + LEVEL * step for step in range(1, int(LOW / LEVEL) + 1)]
        pen.segments([(left, y, left + wide, y) for y in levels], FINE)


def slack(pen: Pen, left: float, middle: float, right: float, *, ends: bool) -> None:
    """A thin line from the end of a bar to where it could slip, with a tick at its end."""
    pen.line(left, middle, right, middle, FINE)
    if ends:
        pen.line(right, middle - 4, right, middle + 4, RULE)


def closed(pen: Pen, left: float, top: float, wide: float, high: float) -> None:
    """The ground where the shop is closed: a few small dots."""
    columns = max(1, int(wide / CLOSED_DOTS))
    first = left + (wide - (columns - 1) * CLOSED_DOTS) / 2
    uprights = [
        (first + CLOSED_DOTS * step, top, first + CLOSED_DOTS * step, top - high) for step in range(columns)
    ]
    pen.dotted(uprights, 0.6, CLOSED_DOTS)


def slants(
    left: float, low: float, wide: float, high: float, step: float, *, falling: bool = False
) -> list[Segment]:
    """Lines at 45 degrees that fill a rectangle and end at its edges."""
    segments: list[Segment] = []
    offset = step - high
    while offset < wide:
        start, end = max(0.0, offset), min(wide, offset + high)
        if end - start > 0.3:
            rise = (start - offset, end - offset)
            if falling:
                rise = (high - rise[0], high - rise[1])
            segments.append((left + start, low + rise[0], left + end, low + rise[1]))
        offset += step * 1.4142
    return segments


def _edged(pen: Pen, left: float, middle: float, wide: float, high: float, weight: float) -> None:
    """A frame whose outer edge is the rectangle, on white so that the ground does not show through."""
    pen.ground(left, middle + high / 2, wide, high)
    pen.frame(left + weight / 2, middle + (high - weight) / 2, wide - weight, high - weight, weight)
