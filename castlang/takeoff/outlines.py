"""Where a part lies on its face: its outline, whether it fits, whether two lie over each other. m."""

from dataclasses import dataclass
from fractions import Fraction

from castlang.problems.model import Outcome
from castlang.spec.model import Part
from castlang.takeoff import wording
from castlang.takeoff.forms import ZERO, Seat
from castlang.takeoff.shape_findings import PART_OFF_FACE, PLACED_EDGE, told
from castlang.takeoff.shapes import Sizes
from castlang.takeoff.wording import METRIC

ROUND = ("disc", "frustum", "tube", "dome")

Place = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """centre and size count across the face and up it; round: a disc as wide as its size."""

    centre: Place
    size: Place
    round: bool

    def fits(self, seat: Seat) -> bool:
        """Whether it lies wholly on the face."""
        if not seat.round:
            return all(
                middle - side / 2 >= 0 and middle + side / 2 <= length
                for middle, side, length in zip(self.centre, self.size, (seat.across, seat.up), strict=True)
            )
        off = [abs(middle - seat.across / 2) for middle in self.centre]
        reach = seat.across / 2
        if self.round:
            room = reach - self.size[0] / 2
            return room >= 0 and off[0] ** 2 + off[1] ** 2 <= room**2
        return (off[0] + self.size[0] / 2) ** 2 + (off[1] + self.size[1] / 2) ** 2 <= reach**2

    def overlaps(self, other: "Outline") -> bool:
        """Whether two outlines on one face lie over each other; touching is not."""
        gap = [abs(a - b) for a, b in zip(self.centre, other.centre, strict=True)]
        if self.round and other.round:
            return gap[0] ** 2 + gap[1] ** 2 < ((self.size[0] + other.size[0]) / 2) ** 2
        if not self.round and not other.round:
            return all(g < (a + b) / 2 for g, a, b in zip(gap, self.size, other.size, strict=True))
        ball, square = (self, other) if self.round else (other, self)
        away = [max(ZERO, g - side / 2) for g, side in zip(gap, square.size, strict=True)]
        return away[0] ** 2 + away[1] ** 2 < (ball.size[0] / 2) ** 2


def placed(
    part: Part,
    piece: str,
    seat: Seat,
    mouth: Seat | None,
    sizes: Sizes,
    *,
    depth: Fraction = ZERO,
    units: str = METRIC,
) -> Outcome[Outline]:
    """The outline of a part on its seat, lying wholly on it; turned by 90 degrees when it only fits so.

    mouth: the face of the part that lies in the seat; depth: m that it goes into the body, or stands out.
    Findings: placed-edge, part-off-face.
    """
    about = (piece, f"{piece}.{part.name}")
    centre: list[Fraction | None] = [None, None]
    for distance, edge in part.placed:
        way = seat.edges.index(edge) // 2 if edge in seat.edges else None
        if way is None or centre[way] is not None:
            ways = f"{seat.edges[0]} or {seat.edges[1]}, and {seat.edges[2]} or {seat.edges[3]}"
            what = "which it has not" if way is None else "and told in that direction already"
            message = f"{part.name} of {piece} is placed from {edge}, {what}; {seat.face} has {ways}"
            return Outcome(value=None, problems=(told(PLACED_EDGE, message, part.span, *about),))
        length = seat.up if way else seat.across
        centre[way] = length - distance if seat.edges.index(edge) % 2 else distance
    middle = (
        seat.across / 2 if centre[0] is None else centre[0],
        seat.up / 2 if centre[1] is None else centre[1],
    )
    sides = _outline(part, mouth, sizes)
    into = -depth if part.plus else depth
    for size in (sides, (sides[1], sides[0])):
        outline = Outline(centre=middle, size=size, round=part.shape.kind in ROUND)
        if not outline.fits(seat):
            continue
        low, high = middle[0] - size[0] / 2, middle[0] + size[0] / 2
        fold = next((one for one in seat.creases if not one.clears(low, high, into)), None)
        if fold is None:
            return Outcome(value=outline)
        message = (
            f"{part.name} of {piece} is {_by(size, units)} with its middle "
            f"{wording.length(middle[0], units)} from the {seat.edges[0]} of {seat.face}, across the fold at "
            f"{wording.length(fold.at, units)}"
        )
        remedy = f"move it onto one leg with `placed`: it counts from the {seat.edges[0]}, leg after leg"
        told_so = told(PART_OFF_FACE, message, part.span, *about, remedy=remedy)
        return Outcome(value=None, problems=(told_so,))
    message = (
        f"{part.name} of {piece} is {_by(sides, units)} with its middle {_by(middle, units)} from the "
        f"{seat.edges[0]} and {seat.edges[2]} of {seat.face}, which is {_by((seat.across, seat.up), units)}"
    )
    return Outcome(value=None, problems=(told(PART_OFF_FACE, message, part.span, *about),))


def _by(sides: Place, units: str) -> str:
    return f"{wording.length(sides[0], units)} by {wording.length(sides[1], units)}"


def _outline(part: Part, mouth: Seat | None, sizes: Sizes) -> Place:
    if part.shape.kind in ROUND:
        dia = mouth.across if mouth is not None and mouth.round else sizes.get("dia", ZERO)
        return (dia, dia)
    return (sizes["long"], sizes.get("wide", sizes.get("leg", ZERO)))
