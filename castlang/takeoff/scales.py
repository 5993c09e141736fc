"""What a scale can show: weigh-outs rounded to its step."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from castlang.problems.model import Assumption
from castlang.spec.model import Station
from castlang.takeoff import findings

MILLILITRE = Fraction(1, 1_000_000)

# Least mass in kg from which a step in kg is taken, for a shop that tells no scale.
SHOP_STEPS = (
    (Fraction(30), Fraction(50, 1000)),
    (Fraction(5), Fraction(5, 1000)),
    (Fraction(0), Fraction(1, 1000)),
)

SHOP_SCALE = Assumption(
    subject="scale",
    says="weigh-outs to 1 g below 5 kg, to 5 g below 30 kg, to 50 g from there",
    source=findings.COMMON,
    line="scale 5 g to 30 kg step 5 g",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scales:
    """The scales of a shop as (least, greatest, step) in kg; none: the shop steps."""

    ranges: tuple[tuple[Fraction, Fraction, Fraction], ...] = ()

    def step(self, mass: Fraction) -> Fraction:
        """The step in kg that `mass` is rounded to: of the finest scale that bears it."""
        fitting = [step for least, greatest, step in self.ranges if least <= mass <= greatest]
        if fitting:
            return min(fitting)
        return next(step for least, step in SHOP_STEPS if mass >= least)


def scales_of(stations: Sequence[Station]) -> Scales:
    """The scales among `stations`."""
    return Scales(ranges=tuple(s.scale for s in stations if s.scale is not None))


def rounded(amount: Fraction, step: Fraction) -> Fraction:
    """`amount`, not below nought, to the nearest whole step; half a step goes up."""
    return (amount / step + Fraction(1, 2)).__floor__() * step
