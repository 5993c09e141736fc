"""Batches: as few and as equal as the mixer and the working time allow.

    n = max(ceil(V / V_holds), ceil(M / M_holds), ceil(T / (works - mixing - carry)))

V m3 and M kg with waste, T the time in which the whole is placed, all times s. A batch of the n takes
mixing + carry + T / n, from the first liquid in the bucket to its last handful in place.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from castlang.problems.model import Outcome, Problem
from castlang.source.model import Span
from castlang.spec.model import Mix, Station
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff import findings
from castlang.takeoff.model import Batch, Recipe, WeighLine
from castlang.takeoff.said import Said
from castlang.takeoff.scales import MILLILITRE, Scales, rounded
from castlang.takeoff.wording import kilograms, litres, minutes

MOST = 999
NOUGHT = Fraction(0)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """What is to be batched: `name` of the step or part, volume m3 with waste, minutes to place it all."""

    name: str
    volume: Fraction
    minutes: int
    span: Span


def batches_of(
    mix: Mix, recipe: Recipe, fill: Fill, vessel: Vessel, scales: Scales
) -> Outcome[tuple[Batch, ...]]:
    """Divide `fill` into batches of `mix` and weigh them out.

    Findings: a working time used up by mixing and carrying, a batch below the mixer's least charge, a line
    below the scale's step, more than 999 batches.
    """
    if fill.volume <= 0:
        return Outcome(value=())
    said = Said()
    count = said.heard(number_of_batches(mix, recipe, fill, vessel))
    if count is None:
        return said.outcome(None)
    volume = fill.volume / count
    _check_charge(recipe, fill, volume, vessel, said)
    lines = weighed_out(mix, recipe, volume, scales)
    _check_scale(mix, fill, lines, said)
    time = (mix.mixing or NOUGHT) + (mix.carry or NOUGHT) + Fraction(fill.minutes * 60, count)
    return said.outcome(
        tuple(
            Batch(
                name=f"{fill.name}.batch-{number}",
                mix=mix.name,
                volume=volume,
                mass=volume * recipe.density,
                by_volume=mix.measure == "volume",
                minutes=ceil(time / 60),
                lines=lines,
            )
            for number in range(1, count + 1)
        )
    )


def number_of_batches(mix: Mix, recipe: Recipe, fill: Fill, vessel: Vessel) -> Outcome[int]:
    """The fewest equal batches within the mixer's size and the working time."""
    said = Said()
    count = 1
    if vessel.volume:
        count = max(count, ceil(fill.volume / vessel.volume))
    if vessel.mass:
        count = max(count, ceil(fill.volume * recipe.density / vessel.mass))
    if mix.works is not None:
        before = (mix.mixing or NOUGHT) + (mix.carry or NOUGHT)
        left = mix.works.least - before
        if left <= 0:
            said.found(
                Problem(
                    finding=findings.WORKS_TOO_SHORT,
                    message=f"mix {mix.name} works {minutes(mix.works.least)}, and mixing and carrying take "
                    f"{minutes(before)} before any of {fill.name} is placed",
                    span=mix.span,
                    related=((fill.span, fill.name),),
                    about=(mix.name, fill.name),
                )
            )
            return said.outcome(None)
        count = max(count, ceil(fill.minutes * 60 / left))
    if count > MOST:
        said.found(
            Problem(
                finding=findings.TOO_MANY_BATCHES,
                message=f"{fill.name} needs {count} batches of {mix.name} of {litres(fill.volume / count)}",
                span=fill.span,
                about=(mix.name, fill.name),
            )
        )
    return said.outcome(count)


def weighed_out(mix: Mix, recipe: Recipe, volume: Fraction, scales: Scales) -> tuple[WeighLine, ...]:
    """The lines of one batch of `volume` m3, in order of addition, as the scale or the jug shows them."""
    by_volume = mix.measure == "volume"
    running = NOUGHT
    lines = []
    for line in recipe.lines:
        exact = volume * (line.volume or NOUGHT) if by_volume else volume * line.mass
        shown = rounded(exact, MILLILITRE if by_volume else scales.step(exact))
        running += shown
        lines.append(WeighLine(stock=line.stock, exact=exact, shown=shown, running=running))
    return tuple(lines)


def _check_charge(recipe: Recipe, fill: Fill, volume: Fraction, vessel: Vessel, said: Said) -> None:
    mass = volume * recipe.density
    short = []
    if vessel.least_volume and volume < vessel.least_volume:
        short.append((litres(volume), litres(vessel.least_volume)))
    if vessel.least_mass and mass < vessel.least_mass:
        short.append((kilograms(mass), kilograms(vessel.least_mass)))
    for found, wanted in short:
        said.found(
            Problem(
                finding=findings.CHARGE_BELOW_LEAST,
                message=f"a batch of {fill.name} is {found}; {vessel.name} mixes no less than {wanted} well",
                span=fill.span,
                about=(fill.name, recipe.mix),
            )
        )


def _check_scale(mix: Mix, fill: Fill, lines: tuple[WeighLine, ...], said: Said) -> None:
    for line in lines:
        if line.exact > 0 and line.shown == 0:
            amount = litres(line.exact) if mix.measure == "volume" else kilograms(line.exact)
            said.found(
                Problem(
                    finding=findings.BELOW_SCALE,
                    message=f"a batch of {fill.name} takes {amount} of {line.stock}, which rounds to nothing",
                    span=fill.span,
                    about=(fill.name, mix.name),
                )
            )
