"""Bodies with one section all along: the ramp, the folded wall; and offsets of plane figures, m and m2."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import pi, tan

from castlang.takeoff.blocks import flat_seat
from castlang.takeoff.forms import ZERO, Crease, Grown, Seat, span
from castlang.takeoff.grid import held, root

Point = tuple[Fraction, Fraction]


def polygon_area(points: Sequence[Point]) -> Fraction:
    """The area inside a closed line of corners, anticlockwise (the shoelace rule)."""
    ring = [*points, *points[:1]]
    return sum((a[0] * b[1] - b[0] * a[1] for a, b in pairwise(ring)), ZERO) / 2


def shrunk(corners: Sequence[Point], inward: Sequence[Fraction]) -> tuple[Point, ...]:
    """A convex figure (anticlockwise) with each edge moved inward by its own distance, corners mitred.

    `inward[i]` moves the edge from corner i to the next; below zero it moves outward. Empty when nothing is
    left. The figure is what lies on the inner side of every moved edge.
    """
    reach = 4 * (max(max(abs(x), abs(y)) for x, y in corners) + max(abs(d) for d in inward)) + 1
    left: list[Point] = [(-reach, -reach), (reach, -reach), (reach, reach), (-reach, reach)]
    ring = [*corners, corners[0]]
    for (a, b), distance in zip(pairwise(ring), inward, strict=True):
        along = (b[0] - a[0], b[1] - a[1])
        long = root(along[0] ** 2 + along[1] ** 2)
        left = _kept(left, a, along, distance * long)
        if not left:
            return ()
    return tuple(left)


def _kept(figure: Sequence[Point], start: Point, along: Point, limit: Fraction) -> list[Point]:
    """The part of a convex figure that lies to the left of a line by `limit` (distance times its length)."""

    def beyond(p: Point) -> Fraction:
        return along[0] * (p[1] - start[1]) - along[1] * (p[0] - start[0]) - limit

    kept: list[Point] = []
    for a, b in pairwise([*figure, *figure[:1]]):
        at_a, at_b = beyond(a), beyond(b)
        if at_a >= 0:
            kept.append(a)
        if (at_a < 0 < at_b) or (at_b < 0 < at_a):
            share = at_a / (at_a - at_b)
            kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    return kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Ramp:
    """A wedge that rises from left to right by `rise`; `thick` is its height at the low end."""

    long: Fraction
    wide: Fraction
    rise: Fraction
    thick: Fraction = ZERO

    @property
    def faces(self) -> tuple[str, ...]:
        return ("top", "foot", *(("left",) if self.thick else ()), "right", "front", "back")

    @property
    def holds(self) -> tuple[str, ...]:
        return ()

    @property
    def depth(self) -> Fraction:
        return self.rise + self.thick

    @property
    def thinnest(self) -> Fraction:
        return min(self.rise + self.thick, self.wide, self.long)

    def _edges(self) -> tuple[tuple[str, Point], ...]:
        """Each face of the section with its first corner, anticlockwise from the low end of the foot."""
        end = self.rise + self.thick
        edges = [
            ("foot", (ZERO, ZERO)),
            ("right", (self.long, ZERO)),
            ("top", (self.long, end)),
        ]
        if self.thick:
            edges.append(("left", (ZERO, self.thick)))
        return tuple(edges)

    @property
    def slope(self) -> Fraction:
        """The length of the sloping face from its low edge to its high one."""
        return root(self.long**2 + self.rise**2)

    def seats(self) -> Mapping[str, Seat]:
        end = self.rise + self.thick
        low, far = (ZERO, ZERO, ZERO), (self.long, self.wide, ZERO)
        foot = flat_seat("foot", 2, -1, low, far, behind=end, far="top")
        top = Seat(
            face="top",
            across=self.slope,
            up=self.wide,
            edges=("left", "right", "front", "back"),
            behind=self.thick + self.rise / 2,
        )
        right = Seat(
            face="right", across=self.wide, up=end, edges=("front", "back", "foot", "top"), behind=self.long
        )
        return {"top": top, "foot": foot, "right": right}

    def remaining(self, grown: Grown) -> Fraction:
        edges = self._edges()
        figure = shrunk([p for _, p in edges], [grown.get(face, ZERO) for face, _ in edges])
        wide = span(grown.get("front", ZERO), self.wide - grown.get("back", ZERO))
        return held(polygon_area(figure) * wide) if figure else ZERO

    def area(self, face: str) -> Fraction:
        section = (self.thick + self.rise / 2) * self.long
        return held(
            {
                "top": self.slope * self.wide,
                "foot": self.long * self.wide,
                "left": self.thick * self.wide,
                "right": (self.rise + self.thick) * self.wide,
                "front": section,
                "back": section,
            }[face]
        )

    @property
    def room(self) -> Fraction:
        return ZERO

    def inside(self, depth: Fraction | None) -> Fraction:
        return ZERO


def half_turn(degrees: Fraction) -> Fraction:
    """The tangent of half an angle in degrees, on a grid of 1e-12."""
    return held(tan(float(degrees) / 360 * pi))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """The line of a folded wall seen from above: the lengths of its legs along the front, and the turns.

    The wall lies on the left hand of somebody who walks along its front; a turn to the left (more than 0
    degrees) makes an outside corner, one to the right an inside corner.
    """

    legs: tuple[Fraction, ...]
    turns: tuple[Fraction, ...]  # degrees, one fewer than the legs

    @property
    def bend(self) -> Fraction:
        """The sum of the tangents of half the turns: how much an offset by 1 m shortens the line, halved."""
        return sum((half_turn(turn) for turn in self.turns), ZERO)

    def strip(self, thick: Fraction) -> Fraction:
        """The plan of a strip along the line, corners mitred: t sum(l) - t^2 sum(tan(a/2))."""
        return thick * sum(self.legs, ZERO) - thick * thick * self.bend

    def line(self, inward: Fraction) -> Fraction:
        """The length of the line that lies `inward` behind the front: sum(l) - 2 t sum(tan(a/2))."""
        return sum(self.legs, ZERO) - 2 * inward * self.bend

    def greatest(self) -> Fraction | None:
        """The greatest thickness that every leg can still carry; None when none is too thick."""
        ends = [ZERO, *(half_turn(turn) for turn in self.turns), ZERO]
        limits = [
            leg / (before + after)
            for leg, before, after in zip(self.legs, ends[:-1], ends[1:], strict=True)
            if before + after > 0
        ]
        return min(limits, default=None)

    def creases(self, inward: Fraction = ZERO) -> tuple[Crease, ...]:
        """The folds of the line that lies `inward` behind the front, by their place along it from its left
        end, the start of leg 1; seen from the side on which the line is told."""
        ends = [ZERO, *(half_turn(turn) for turn in self.turns), ZERO]
        found, place = [], ZERO
        for leg, before, after in zip(self.legs[:-1], ends, ends[1:], strict=False):
            place += leg - inward * (before + after)
            found.append(Crease(at=place, slope=-after if inward else after))
        return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A folded wall of one thickness."""

    fold: Fold
    high: Fraction
    thick: Fraction

    @property
    def faces(self) -> tuple[str, ...]:
        return ("front", "back", "top", "foot", "ends")

    @property
    def holds(self) -> tuple[str, ...]:
        return ()

    @property
    def depth(self) -> Fraction:
        return self.high

    @property
    def thinnest(self) -> Fraction:
        return self.thick

    def seats(self) -> Mapping[str, Seat]:
        edges = ("left", "right", "foot", "top")
        front, back = self.fold.creases(), self.fold.creases(self.thick)
        mitred = tuple(Crease(at=one.at, beside=max(ZERO, one.slope * self.thick)) for one in front)
        return {
            "front": Seat(
                face="front",
                across=self.fold.line(ZERO),
                up=self.high,
                edges=edges,
                behind=self.thick,
                far="back",
                creases=front,
            ),
            "back": Seat(
                face="back",
                across=self.fold.line(self.thick),
                up=self.high,
                edges=edges,
                behind=self.thick,
                far="front",
                creases=back,
            ),
            "top": Seat(
                face="top",
                across=self.fold.line(ZERO),
                up=self.thick,
                edges=("left", "right", "front", "back"),
                behind=self.high,
                far="foot",
                creases=mitred,
            ),
        }

    def remaining(self, grown: Grown) -> Fraction:
        front = min(grown.get("front", ZERO), self.thick)
        back = max(front, self.thick - grown.get("back", ZERO))
        plan = self.fold.strip(back) - self.fold.strip(front)
        plan -= 2 * grown.get("ends", ZERO) * (back - front)
        high = span(grown.get("foot", ZERO), self.high - grown.get("top", ZERO))
        return held(max(ZERO, plan) * high)

    def area(self, face: str) -> Fraction:
        return held(
            {
                "front": self.fold.line(ZERO) * self.high,
                "back": self.fold.line(self.thick) * self.high,
                "top": self.fold.strip(self.thick),
                "foot": self.fold.strip(self.thick),
                "ends": 2 * self.thick * self.high,
            }[face]
        )

    @property
    def room(self) -> Fraction:
        return ZERO

    def inside(self, depth: Fraction | None) -> Fraction:
        return ZERO
