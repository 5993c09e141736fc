"""What a batch is mixed in."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from castlang.spec.model import Station
from castlang.spec.quantity import Dimension, Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Vessel:
    """What a batch is mixed in: the most and the least it holds, m3 and kg; None where nothing limits it."""

    volume: Fraction | None = None
    mass: Fraction | None = None
    least_volume: Fraction | None = None
    least_mass: Fraction | None = None
    name: str = ""


def vessel_of(stations: Sequence[Station]) -> Vessel:
    """The narrowest of the stations that hold a volume or a mass; one that holds pieces does not count."""
    mixers = [s for s in stations if s.holds and s.holds.dimension in (Dimension.VOLUME, Dimension.MASS)]
    mixers += [s for s in stations if s.least and s not in mixers]
    most, least = [s.holds for s in mixers], [s.least for s in mixers]
    return Vessel(
        volume=min(_amounts(most, Dimension.VOLUME), default=None),
        mass=min(_amounts(most, Dimension.MASS), default=None),
        least_volume=max(_amounts(least, Dimension.VOLUME), default=None),
        least_mass=max(_amounts(least, Dimension.MASS), default=None),
        name=", ".join(s.name for s in mixers),
    )


def _amounts(quantities: Sequence[Quantity | None], dimension: Dimension) -> list[Fraction]:
    return [q.si for q in quantities if q is not None and q.dimension is dimension]
