"""What a scale or a jug can show: weigh-outs rounded to its step."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from castlang.problems.model import Assumption
from castlang.spec.model import Station
from castlang.takeoff import sources
from castlang.takeoff.wording import GALLON, METRIC, POUND, US

OUNCE = POUND / 16
FLUID_OUNCE = GALLON / 128

Steps = tuple[tuple[Fraction, Fraction], ...]

# Least mass in kg from which a step in kg is taken, for a shop that tells no scale.
SHOP_STEPS: Steps = (
    (Fraction(30), Fraction(50, 1000)),
    (Fraction(5), Fraction(5, 1000)),
    (Fraction(1, 2), Fraction(1, 1000)),
    (Fraction(0), Fraction(1, 10_000)),  # pigments and small resin batches go on a pocket scale
)
US_SHOP_STEPS: Steps = (
    (70 * POUND, POUND / 10),
    (10 * POUND, OUNCE / 5),
    (POUND, OUNCE / 20),
    (OUNCE, OUNCE / 100),
    (Fraction(0), OUNCE / 1000),
)

# Least volume in m3 from which a step in m3 of the jug is taken.
JUG_STEPS: Steps = (
    (Fraction(50, 1_000_000), Fraction(1, 1_000_000)),
    (Fraction(0), Fraction(1, 10_000_000)),  # a syringe
)
US_JUG_STEPS: Steps = (
    (GALLON / 4, FLUID_OUNCE / 4),
    (2 * FLUID_OUNCE, FLUID_OUNCE / 20),
    (Fraction(0), FLUID_OUNCE / 100),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scales:
    """The scales of a shop as (least, greatest, step) in kg; none: the shop steps of a shop that thinks in
    `units`, "metric" or "us"."""

    ranges: tuple[tuple[Fraction, Fraction, Fraction], ...] = ()
    units: str = METRIC

    @property
    def least(self) -> Fraction | None:
        """The least mass, kg, that any scale shows; None when no scale is told."""
        return min((least for least, _, _ in self.ranges), default=None)

    @property
    def greatest(self) -> Fraction | None:
        """The most, kg, that any scale bears; None when no scale is told."""
        return max((greatest for _, greatest, _ in self.ranges), default=None)

    def step(self, mass: Fraction) -> Fraction:
        """The step in kg that `mass` is rounded to: of the finest scale that bears it. What no scale bears
        at once is weighed in several goes on the one that bears most."""
        fitting = [step for least, greatest, step in self.ranges if least <= mass <= greatest]
        if fitting:
            return min(fitting)
        borne = [(greatest, -step) for _, greatest, step in self.ranges if greatest < mass]
        if borne:
            return -max(borne)[1]
        if self.ranges:
            return min(step for _, _, step in self.ranges)
        return _step(US_SHOP_STEPS if self.units == US else SHOP_STEPS, mass)

    def carries(self, mass: Fraction) -> Fraction | None:
        """The most, kg, that the scale carries on which `mass` is weighed: the one whose step it is rounded
        to. None when no scale is told, or none bears `mass`."""
        fitting = [(step, -greatest) for least, greatest, step in self.ranges if least <= mass <= greatest]
        return -min(fitting)[1] if fitting else None

    def jug_step(self, volume: Fraction) -> Fraction:
        """The step in m3 that `volume` is measured to."""
        return _step(US_JUG_STEPS if self.units == US else JUG_STEPS, volume)


def _step(steps: Steps, amount: Fraction) -> Fraction:
    return next(step for least, step in steps if amount >= least)


def scales_of(stations: Sequence[Station], units: str = METRIC) -> Scales:
    """The scales among `stations`."""
    return Scales(ranges=tuple(s.scale for s in stations if s.scale is not None), units=units)


def shop_scale(units: str) -> Assumption:
    """What is taken for the scale of a shop that tells none."""
    if units == US:
        return Assumption(
            subject="scale",
            says="weigh-outs to 0.001 oz below 1 oz, to 0.01 oz below 1 lb, to 0.05 oz below 10 lb, "
            "to 0.2 oz below 70 lb, to 0.1 lb from there",
            source=sources.COMMON,
            line="scale 0.1 lb to 70 lb step 0.2 oz",
        )
    return Assumption(
        subject="scale",
        says="weigh-outs to 0.1 g below 500 g, to 1 g below 5 kg, to 5 g below 30 kg, to 50 g from there",
        source=sources.COMMON,
        line="scale 5 g to 30 kg step 5 g",
    )


def shop_jug(units: str) -> Assumption:
    """What the jugs and syringes of a shop are taken to show."""
    metric = "measured to 0.1 mL below 50 mL, to 1 mL from there"
    us = "measured to 0.01 fl-oz below 2 fl-oz, to 0.05 fl-oz below a quart, to 0.25 fl-oz from there"
    return Assumption(
        subject="jugs",
        says=us if units == US else metric,
        source=sources.COMMON,
        line="measure mass, under the mix, where its data sheet tells parts by mass",
    )


def rounded(amount: Fraction, step: Fraction) -> Fraction:
    """`amount`, not below nought, to the nearest whole step; half a step goes up."""
    return (amount / step + Fraction(1, 2)).__floor__() * step
