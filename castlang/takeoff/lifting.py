"""The revised lifting equation: what one person may lift again and again, at a given posture.

    RWL = LC HM VM DM AM FM CM          LI = L / RWL

    US:  LC 51 lb, HM = 10 / H,  VM = 1 - 0.0075 |V - 30|,  DM = 0.82 + 1.8 / D,  AM = 1 - 0.0032 A
    SI:  LC 23 kg, HM = 25 / H,  VM = 1 - 0.003 |V - 75|,   DM = 0.82 + 4.5 / D,  AM = 1 - 0.0032 A

H from the ankles to the hands, V of the hands above the floor, D travelled up or down: in, or cm; A the twist
in degrees; FM and CM from the manual's tables 5 and 7. The two sets are not conversions of one another: work
in one of them. Source: DHHS (NIOSH) 94-110, 1994, revised 9/2021. Not for team lifts, one hand, sitting,
unstable loads, pushing or carrying: castlang prints its load constant as a reference, never as a permission.
"""

from dataclasses import dataclass
from fractions import Fraction

from castlang.takeoff.wording import POUND, US

ONE = Fraction(1)
NOUGHT = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Posture:
    """reach H, height V, travel D in inches ("us") or cm ("metric"); twist A degrees; frequency FM and
    coupling CM without a unit."""

    reach: Fraction
    height: Fraction
    travel: Fraction
    twist: Fraction = NOUGHT
    frequency: Fraction = ONE
    coupling: Fraction = ONE


@dataclass(frozen=True, slots=True, kw_only=True)
class _Set:
    load: Fraction
    near: Fraction
    far: Fraction
    knuckle: Fraction
    highest: Fraction
    slope: Fraction
    short: Fraction
    longest: Fraction
    travel: Fraction


_METRIC = _Set(
    load=Fraction(23),
    near=Fraction(25),
    far=Fraction(63),
    knuckle=Fraction(75),
    highest=Fraction(175),
    slope=Fraction("0.003"),
    short=Fraction(25),
    longest=Fraction(175),
    travel=Fraction("4.5"),
)
_US = _Set(
    load=Fraction(51),
    near=Fraction(10),
    far=Fraction(25),
    knuckle=Fraction(30),
    highest=Fraction(70),
    slope=Fraction("0.0075"),
    short=Fraction(10),
    longest=Fraction(70),
    travel=Fraction("1.8"),
)
TWIST = Fraction("0.0032")
MOST_TWIST = 135


def load_constant(units: str) -> Fraction:
    """The load constant, kg: 23 kg, or 51 lb for a shop that thinks in pounds."""
    return _US.load * POUND if units == US else _METRIC.load


def recommended_weight(posture: Posture, units: str) -> Fraction:
    """The recommended weight limit in lb ("us") or kg ("metric"); 0 outside of what the equation covers."""
    s = _US if units == US else _METRIC
    outside = posture.reach > s.far or not 0 <= posture.height <= s.highest
    if outside or posture.travel > s.longest or posture.twist > MOST_TWIST:
        return NOUGHT
    reach = min(ONE, s.near / posture.reach) if posture.reach > 0 else ONE
    height = ONE - s.slope * abs(posture.height - s.knuckle)
    travel = ONE if posture.travel <= s.short else Fraction("0.82") + s.travel / posture.travel
    twist = ONE - TWIST * posture.twist
    return s.load * reach * height * travel * twist * posture.frequency * posture.coupling


def lifting_index(load: Fraction, posture: Posture, units: str) -> Fraction | None:
    """`load` over the recommended weight, in one unit; None where the equation allows no weight at all."""
    limit = recommended_weight(posture, units)
    return load / limit if limit else None
