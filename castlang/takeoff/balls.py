"""Parts of a sphere: dome and bowl. z counts from the foot up, m."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from castlang.takeoff import solids
from castlang.takeoff.forms import ZERO, Grown, Seat
from castlang.takeoff.grid import held, root
from castlang.takeoff.revolutions import FLAT_EDGES, curved_seat, disc_seat


def ball_slice(radius: Fraction, middle: Fraction, low: Fraction, high: Fraction) -> Fraction:
    """The volume of a ball, its middle at height `middle`, between the heights low and high (m3).

    The difference of two caps (`solids.cap`), so 0 where there is no ball.
    """
    if radius <= 0:
        return ZERO
    foot = middle - radius

    def below(z: Fraction) -> Fraction:
        return solids.cap(radius, min(max(z - foot, ZERO), 2 * radius))

    return max(ZERO, below(high) - below(low))


@dataclass(frozen=True, slots=True, kw_only=True)
class Dome:
    """A cap of a sphere on its flat foot; hollow from below when `thick` is not 0."""

    dia: Fraction
    high: Fraction
    thick: Fraction = ZERO

    @property
    def faces(self) -> tuple[str, ...]:
        return ("outside", "foot", *(("inside",) if self.thick else ()))

    @property
    def holds(self) -> tuple[str, ...]:
        return ()

    @property
    def depth(self) -> Fraction:
        return self.high

    @property
    def thinnest(self) -> Fraction:
        return self.thick or self.high

    @property
    def radius(self) -> Fraction:
        return solids.cap_radius(self.dia, self.high)

    def seats(self) -> Mapping[str, Seat]:
        if self.thick:
            return {"outside": curved_seat("outside", self.dia, self.dia, self.thick, "inside")}
        return {
            "foot": disc_seat("foot", self.dia, self.high, "outside"),
            "outside": curved_seat("outside", self.dia, self.dia, self.high, "foot"),
        }

    def remaining(self, grown: Grown) -> Fraction:
        middle = self.high - self.radius
        low = grown.get("foot", ZERO)
        outer = self.radius - grown.get("outside", ZERO)
        solid = ball_slice(outer, middle, low, middle + max(outer, ZERO))
        if not self.thick:
            return held(solid)
        inner = min(outer, self.radius - self.thick + grown.get("inside", ZERO))
        return held(solid - ball_slice(inner, middle, low, middle + max(inner, ZERO)))

    def area(self, face: str) -> Fraction:
        middle = self.high - self.radius
        inner = self.radius - self.thick
        hollow = inner * inner - middle * middle if self.thick else ZERO
        return held(
            {
                "outside": solids.cap_area(self.radius, self.high),
                "foot": solids.circle(self.dia) - solids.circle(2 * root(hollow)),
                "inside": solids.cap_area(inner, self.high - self.thick),
            }[face]
        )

    @property
    def room(self) -> Fraction:
        return ZERO

    def inside(self, depth: Fraction | None) -> Fraction:
        return ZERO


@dataclass(frozen=True, slots=True, kw_only=True)
class Bowl:
    """A part of a hollow sphere, open at the top. `foot_dia` 0: it has a round bottom."""

    dia: Fraction
    high: Fraction
    thick: Fraction
    foot_dia: Fraction = ZERO

    @property
    def faces(self) -> tuple[str, ...]:
        return ("outside", *(("foot",) if self.foot_dia else ()), "rim", "inside")

    @property
    def holds(self) -> tuple[str, ...]:
        return ("inside",)

    @property
    def depth(self) -> Fraction:
        return self.high

    @property
    def thinnest(self) -> Fraction:
        return self.thick

    @property
    def middle(self) -> Fraction:
        """The height of the middle of the sphere: it goes through the rim and through the foot."""
        return ((self.dia**2 - self.foot_dia**2) / 4 + self.high**2) / (2 * self.high)

    @property
    def radius(self) -> Fraction:
        return root(self.middle**2 + self.foot_dia**2 / 4)

    def _floor(self, inner: Fraction, lowered: Fraction = ZERO) -> Fraction:
        """The height of the inside floor: flat at `thick` over a flat foot, else the bottom of the sphere."""
        bottom = self.middle - inner
        return max(bottom, self.thick - lowered) if self.foot_dia else bottom

    def seats(self) -> Mapping[str, Seat]:
        told = {"outside": curved_seat("outside", self.dia, self.high, self.thick, "inside")}
        told["inside"] = Seat(
            face="inside",
            across=self.dia - 2 * self.thick,
            up=self.dia - 2 * self.thick,
            edges=FLAT_EDGES,
            behind=self.thick,
            far="foot" if self.foot_dia else "outside",
            round=True,
            curved=True,
        )
        return told

    def remaining(self, grown: Grown) -> Fraction:
        low, high = grown.get("foot", ZERO), self.high - grown.get("rim", ZERO)
        outer = self.radius - grown.get("outside", ZERO)
        within = grown.get("inside", ZERO)
        inner = min(outer, self.radius - self.thick + within)
        floor = max(low, self._floor(inner, within))
        return held(
            ball_slice(outer, self.middle, low, high) - ball_slice(inner, self.middle, floor, high),
        )

    def area(self, face: str) -> Fraction:
        inner = self.radius - self.thick
        floor = self._floor(inner)
        flat = inner**2 - (self.middle - floor) ** 2
        mouth = inner**2 - (self.high - self.middle) ** 2
        return held(
            {
                "outside": solids.cap_area(self.radius, self.high),
                "foot": solids.circle(self.foot_dia),
                "rim": solids.circle(self.dia) - solids.circle(2 * root(mouth)),
                "inside": solids.cap_area(inner, self.high - floor) + solids.circle(2 * root(flat)),
            }[face]
        )

    @property
    def room(self) -> Fraction:
        return self.high - self._floor(self.radius - self.thick)

    def inside(self, depth: Fraction | None) -> Fraction:
        inner = self.radius - self.thick
        floor = self._floor(inner)
        level = self.high if depth is None else min(floor + depth, self.high)
        return held(ball_slice(inner, self.middle, floor, level))
