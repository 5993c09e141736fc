"""Bodies turned about an upright axis: disc, frustum, tube. z counts from the foot up, m."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from castlang.takeoff import solids
from castlang.takeoff.forms import ZERO, Grown, Seat, span
from castlang.takeoff.grid import held, root

FLAT_EDGES = ("left", "right", "front", "back")
UPRIGHT_EDGES = ("left", "right", "foot", "top")


def disc_seat(face: str, dia: Fraction, behind: Fraction, far: str | None) -> Seat:
    """A flat round face."""
    return Seat(face=face, across=dia, up=dia, edges=FLAT_EDGES, behind=behind, far=far, round=True)


def curved_seat(face: str, dia: Fraction, high: Fraction, behind: Fraction, far: str | None) -> Seat:
    """A face that is round about the axis, as wide as it looks from the side."""
    return Seat(face=face, across=dia, up=high, edges=UPRIGHT_EDGES, behind=behind, far=far, curved=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frustum:
    """A cone cut off flat; a disc when both diameters are equal."""

    top_dia: Fraction
    foot_dia: Fraction
    high: Fraction
    holds: tuple[str, ...] = ()

    @property
    def faces(self) -> tuple[str, ...]:
        return ("side", "top", "foot")

    @property
    def depth(self) -> Fraction:
        return self.high

    @property
    def thinnest(self) -> Fraction:
        return min(self.high, max(self.top_dia, self.foot_dia))

    def seats(self) -> Mapping[str, Seat]:
        least, most = sorted((self.top_dia, self.foot_dia))
        return {
            "top": disc_seat("top", self.top_dia, self.high, "foot"),
            "foot": disc_seat("foot", self.foot_dia, self.high, "top"),
            "side": curved_seat("side", least or most, self.high, (least + most) / 2, None),
        }

    def dia_at(self, z: Fraction) -> Fraction:
        return self.foot_dia + (self.top_dia - self.foot_dia) * z / self.high

    def remaining(self, grown: Grown) -> Fraction:
        low = grown.get("foot", ZERO)
        high = self.high - grown.get("top", ZERO)
        slope = (self.top_dia - self.foot_dia) / self.high
        lost = 2 * grown.get("side", ZERO) * root(1 + slope * slope / 4)
        at_low, at_high = (self.dia_at(z) - lost for z in (low, high))
        if high <= low or (at_low <= 0 and at_high <= 0):
            return ZERO
        if at_low < 0:
            low, at_low = low - at_low / slope, ZERO
        if at_high < 0:
            high, at_high = high - at_high / slope, ZERO
        return held(solids.frustum(at_high, at_low, high - low))

    def area(self, face: str) -> Fraction:
        slant = solids.frustum_slant(self.top_dia, self.foot_dia, self.high)
        return held(
            {
                "side": solids.frustum_side(self.top_dia, self.foot_dia, slant),
                "top": solids.circle(self.top_dia),
                "foot": solids.circle(self.foot_dia),
            }[face]
        )

    @property
    def room(self) -> Fraction:
        return ZERO

    def inside(self, depth: Fraction | None) -> Fraction:
        return ZERO


@dataclass(frozen=True, slots=True, kw_only=True)
class Tube:
    """A hollow cylinder; `floor` is the thickness of its floor, 0 for one that is open at both ends."""

    dia: Fraction
    high: Fraction
    thick: Fraction
    floor: Fraction = ZERO

    @property
    def faces(self) -> tuple[str, ...]:
        return ("side", "walls", "rim", "foot", *(("floor",) if self.floor else ()))

    @property
    def holds(self) -> tuple[str, ...]:
        return ("walls", *(("floor",) if self.floor else ()))

    @property
    def depth(self) -> Fraction:
        return self.high

    @property
    def thinnest(self) -> Fraction:
        return min(self.thick, self.floor) if self.floor else min(self.thick, self.high)

    @property
    def bore(self) -> Fraction:
        return self.dia - 2 * self.thick

    def seats(self) -> Mapping[str, Seat]:
        told = {"side": curved_seat("side", self.dia, self.high, self.thick, "walls")}
        if self.floor:
            told["floor"] = disc_seat("floor", self.bore, self.floor, "foot")
            told["foot"] = disc_seat("foot", self.dia, self.floor, "floor")
        return told

    def remaining(self, grown: Grown) -> Fraction:
        low, high = grown.get("foot", ZERO), self.high - grown.get("rim", ZERO)
        outer = max(ZERO, self.dia - 2 * grown.get("side", ZERO))
        inner = min(outer, max(ZERO, self.bore + 2 * grown.get("walls", ZERO)))
        floor = max(low, self.floor - grown.get("floor", ZERO)) if self.floor else low
        return held(
            solids.cylinder(outer, span(low, high)) - solids.cylinder(inner, span(floor, high)),
        )

    def area(self, face: str) -> Fraction:
        ends = solids.ring(self.dia, self.bore)
        return held(
            {
                "side": solids.cylinder_side(self.dia, self.high),
                "walls": solids.cylinder_side(self.bore, self.high - self.floor),
                "rim": ends,
                "foot": solids.circle(self.dia) if self.floor else ends,
                "floor": solids.circle(self.bore) if self.floor else ZERO,
            }[face]
        )

    @property
    def room(self) -> Fraction:
        return self.high - self.floor

    def inside(self, depth: Fraction | None) -> Fraction:
        return held(solids.cylinder(self.bore, self.room if depth is None else min(depth, self.room)))
