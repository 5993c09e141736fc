"""Shells: bodies without a thickness of their own, which the layers make from the mold inward.

A shell is a set of skins: flat places of the mold with a direction of growth. What layers fill is the union
of the skins, each as thick as its face, so that an inside corner is counted once.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from castlang.takeoff.blocks import flat_seat
from castlang.takeoff.boxes import AXES, Box, Corner, difference_volume, union_volume
from castlang.takeoff.forms import ZERO, Grown, Seat
from castlang.takeoff.grid import held
from castlang.takeoff.prisms import Fold


@dataclass(frozen=True, slots=True, kw_only=True)
class Skin:
    """A flat rectangle of the mold; layers grow along `axis` by `way` (+1 or -1), m."""

    face: str
    axis: int
    way: int
    low: Corner
    high: Corner

    def grown(self, thick: Fraction) -> Box:
        low, high = list(self.low), list(self.high)
        if self.way > 0:
            high[self.axis] += thick
        else:
            low[self.axis] -= thick
        return Box(low=(low[0], low[1], low[2]), high=(high[0], high[1], high[2]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A square hole through one face of a shell: a flat rectangle, like a skin."""

    name: str
    skin: Skin


@dataclass(frozen=True, slots=True, kw_only=True)
class Shell:
    """Flat skins. main: the faces that carry it; built: their thickness by the piece's own layers, m."""

    main: tuple[Skin, ...]
    lips: tuple[Skin, ...] = ()
    openings: tuple[Opening, ...] = ()
    built: Mapping[str, Fraction] = field(default_factory=dict)
    high: Fraction

    def mold_area(self, face: str) -> Fraction:
        """The area (m2) of a face or lip that lies against the mold, square holes taken off."""
        total = ZERO
        skins = [s for s in (*self.main, *self.lips) if s.face == face]
        for plane in sorted({(s.axis, s.low[s.axis]) for s in skins}):
            level = [s.grown(Fraction(1)) for s in skins if (s.axis, s.low[s.axis]) == plane]
            cut = [o.skin.grown(Fraction(1)) for o in self.openings if o.skin.face == face]
            total += difference_volume(level, cut)
        return total

    def laid(self, grown: Grown) -> Fraction:
        solids = [s.grown(grown.get(s.face, ZERO)) for s in (*self.main, *self.lips)]
        cuts = [o.skin.grown(grown.get(o.skin.face, ZERO)) for o in self.openings]
        return difference_volume(solids, cuts)

    def edge_area(self, edge: str) -> Fraction:
        """The area (m2) of a free edge, as thick as the piece's own layers make it."""
        ends = [s.grown(self.built.get(s.face, ZERO)) for s in self.main]
        axis, at_high = {"top": (2, True), "foot": (2, False)}.get(edge, (0, edge == "right"))
        if edge == "ends":
            return sum((self.built.get(s.face, ZERO) * self.high for s in self.main), ZERO)
        level = max(b.high[axis] for b in ends) if at_high else min(b.low[axis] for b in ends)
        cut = [b for b in ends if (b.high[axis] if at_high else b.low[axis]) == level]
        length = max(b.high[axis] for b in cut) - min(b.low[axis] for b in cut)
        return union_volume(cut) / length if length else ZERO

    def back_area(self) -> Fraction:
        """The area (m2) of the inner side of the main faces behind the piece's own layers."""
        total = ZERO
        for skin in self.main:
            others = sum((self.built.get(s.face, ZERO) for s in self.main if s is not skin), ZERO)
            cut = [o.skin.grown(Fraction(1)) for o in self.openings if o.skin.face == skin.face]
            first, second = (a for a in AXES if a != skin.axis)
            whole = (skin.high[first] - skin.low[first]) * (skin.high[second] - skin.low[second])
            holes = union_volume(cut)
            total += whole - holes - others * self.high
        return total

    def seats(self) -> Mapping[str, Seat]:
        return {
            s.face: flat_seat(
                s.face, s.axis, -s.way, s.low, s.high, behind=self.built.get(s.face, ZERO), far="back"
            )
            for s in self.main
        }


def panel_shell(long: Fraction, high: Fraction, lips: Mapping[str, tuple[str, Fraction]]) -> tuple[Skin, ...]:
    """The skins of a panel: its front, then the lips by edge: edge -> (name, deep m)."""
    skins = [Skin(face="front", axis=1, way=1, low=(ZERO, ZERO, ZERO), high=(long, ZERO, high))]
    for edge, (name, deep) in lips.items():
        if edge in ("top", "foot"):
            skins.append(_level(name, edge, high, (ZERO, ZERO), (long, deep)))
        for end in ("left", "right") if edge == "ends" else (edge,):
            if end in ("left", "right"):
                at = ZERO if end == "left" else long
                way = 1 if end == "left" else -1
                skins.append(Skin(face=name, axis=0, way=way, low=(at, ZERO, ZERO), high=(at, deep, high)))
    return tuple(skins)


def corner_shell(
    long: Fraction, wide: Fraction, high: Fraction, lips: Mapping[str, tuple[str, Fraction]]
) -> tuple[Skin, ...]:
    """The skins of two walls that meet at a corner: front along x, side along y, then the lips by edge."""
    skins = [
        Skin(face="front", axis=1, way=1, low=(ZERO, ZERO, ZERO), high=(long, ZERO, high)),
        Skin(face="side", axis=0, way=1, low=(ZERO, ZERO, ZERO), high=(ZERO, wide, high)),
    ]
    for edge, (name, deep) in lips.items():
        if edge == "ends":
            skins.append(Skin(face=name, axis=0, way=-1, low=(long, ZERO, ZERO), high=(long, deep, high)))
            skins.append(Skin(face=name, axis=1, way=-1, low=(ZERO, wide, ZERO), high=(deep, wide, high)))
        else:
            skins.append(_level(name, edge, high, (ZERO, ZERO), (long, deep)))
            skins.append(_level(name, edge, high, (ZERO, ZERO), (deep, wide)))
    return tuple(skins)


def _level(
    name: str, edge: str, high: Fraction, low: tuple[Fraction, Fraction], far: tuple[Fraction, Fraction]
) -> Skin:
    at, way = (high, -1) if edge == "top" else (ZERO, 1)
    return Skin(face=name, axis=2, way=way, low=(*low, at), high=(*far, at))


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldShell:
    """A folded wall without a thickness. lips: edge -> (name, deep m)."""

    fold: Fold
    high: Fraction
    lips: Mapping[str, tuple[str, Fraction]] = field(default_factory=dict)
    built: Mapping[str, Fraction] = field(default_factory=dict)

    def _wall(self) -> Fraction:
        return self.built.get("front", ZERO)

    def mold_area(self, face: str) -> Fraction:
        if face == "front":
            return held(self.fold.line(ZERO) * self.high)
        for edge, (name, deep) in self.lips.items():
            if name == face:
                return held(2 * deep * self.high if edge == "ends" else self.fold.strip(deep))
        raise KeyError(face)

    def edge_area(self, edge: str) -> Fraction:
        return held(2 * self._wall() * self.high if edge == "ends" else self.fold.strip(self._wall()))

    def back_area(self) -> Fraction:
        return held(self.fold.line(self._wall()) * self.high)

    def laid(self, grown: Grown) -> Fraction:
        """Level by level: where a lip runs along top or foot the plan is the wider of lip and wall."""
        wall = grown.get("front", ZERO)
        end, end_deep = self._lip("ends", grown)
        total, middle = ZERO, self.high
        for edge in ("top", "foot"):
            thick, deep = self._lip(edge, grown)
            thick = min(thick, middle)
            reach = max(wall, deep)
            total += thick * (self.fold.strip(reach) + 2 * end * max(ZERO, end_deep - reach))
            middle -= thick
        total += middle * (self.fold.strip(wall) + 2 * end * max(ZERO, end_deep - wall))
        return held(total)

    def _lip(self, edge: str, grown: Grown) -> tuple[Fraction, Fraction]:
        name, deep = self.lips.get(edge, ("", ZERO))
        return grown.get(name, ZERO), deep

    def seats(self) -> Mapping[str, Seat]:
        return {
            "front": Seat(
                face="front",
                across=self.fold.line(ZERO),
                up=self.high,
                edges=("left", "right", "foot", "top"),
                behind=self._wall(),
                far="back",
                creases=self.fold.creases(),
            )
        }
