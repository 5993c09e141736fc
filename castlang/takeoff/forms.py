"""What every plain form can tell: faces, areas, what is left of it under layers, where things sit."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Protocol

from castlang.takeoff.boxes import Corner

Grown = Mapping[str, Fraction]  # face -> thickness in m that has grown inward from it

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where a flat face lies among boxes: the axis that it looks along (0 x, 1 y, 2 z), +1 or -1, corners."""

    axis: int
    outward: int
    low: Corner
    high: Corner


@dataclass(frozen=True, slots=True, kw_only=True)
class Crease:
    """Where a face is folded: m across it. slope: how far the body behind it draws back from the fold on each
    side, for each m of depth; less than 0 where it does so in front. beside: m kept clear in any case."""

    at: Fraction
    slope: Fraction = ZERO
    beside: Fraction = ZERO

    def clears(self, low: Fraction, high: Fraction, depth: Fraction) -> bool:
        """Whether what lies from `low` to `high` is beside it, `depth` into the body (out of it: below 0)."""
        clear = max(ZERO, self.slope * depth) + self.beside
        return high <= self.at - clear or low >= self.at + clear


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """A face that another form can stand on or be cut into, seen from outside.

    across and up: its sizes in m; edges: the words for its low and high end across, then up.
    behind: how far the body reaches behind it, m; far: the face that a hole through it comes out of.
    round: a disc of diameter `across`. curved: the mouth of a cut there is taken as flat.
    creases: where it is folded; nothing lies across one.
    """

    face: str
    across: Fraction
    up: Fraction
    edges: tuple[str, str, str, str]
    behind: Fraction
    far: str | None = None
    round: bool = False
    curved: bool = False
    frame: Frame | None = None
    creases: tuple[Crease, ...] = ()


class Form(Protocol):
    """One plain form, m. `faces` are single faces in their fixed order."""

    @property
    def faces(self) -> tuple[str, ...]: ...

    @property
    def depth(self) -> Fraction:
        """The greatest depth as it is poured, m."""
        ...

    @property
    def thinnest(self) -> Fraction | None:
        """The least thickness that a layer may grow into, m."""
        ...

    @property
    def holds(self) -> tuple[str, ...]:
        """The faces that a liquid would stand on; empty when it holds none."""
        ...

    def seats(self) -> Mapping[str, Seat]:
        """The faces that something can sit on."""
        ...

    def remaining(self, grown: Grown) -> Fraction:
        """The volume (m3) left when layers have grown in from the faces; less than zero grows outward."""
        ...

    def area(self, face: str) -> Fraction:
        """Of one single face, m2."""
        ...

    @property
    def room(self) -> Fraction:
        """How deep its inside is, from the floor to the rim, m; 0 where it has none."""
        ...

    def inside(self, depth: Fraction | None) -> Fraction:
        """The volume (m3) of liquid up to a depth (m) above the inside floor; None is to the rim."""
        ...


def span(low: Fraction, high: Fraction) -> Fraction:
    """The length from low to high, never below zero."""
    return max(ZERO, high - low)
