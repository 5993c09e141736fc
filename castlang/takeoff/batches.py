"""Batches: as few and as equal as the mixer, the working time, the wet edge and the scale allow.

    n = max(V / V_holds, M / M_holds, T / (works - before), m_line / m_scale), rounded up
    n > 1:  n >= T / (wet edge - before)

V m3 and M kg with waste; T the time in which the whole is placed, before = mixing + carry, all times s;
m_line kg of one material in the whole, m_scale what the scale bears at once. A batch of the n takes
before + T / n, from the first liquid in the bucket to its last handful in place: so old is the edge of a
batch when the next one meets it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from castlang.problems.model import Outcome, Problem
from castlang.source.model import Span
from castlang.spec.model import Mix, Station
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff import batch_findings, wording
from castlang.takeoff.model import Batch, Recipe, WeighLine
from castlang.takeoff.said import Said
from castlang.takeoff.scales import Scales, rounded
from castlang.takeoff.wording import METRIC

MOST = 999
NOUGHT = Fraction(0)
RATIO_OFF = Fraction(2, 100)  # of parts that set together; common practice, no source
DOSE_OFF = Fraction(5, 100)  # of a dose, or of a dilution; common practice, no source


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
    """What is to be batched: `name` of the step or part, volume m3 with waste, minutes to place it all.
    units: what messages tell."""

    name: str
    volume: Fraction
    minutes: int
    span: Span
    units: str = METRIC

    @property
    def step(self) -> str:
        """The step that it is for, without its part: a finding on every coat is said once."""
        return ".".join(self.name.split(".")[:2])


def batches_of(
    mix: Mix, recipe: Recipe, fill: Fill, vessel: Vessel, scales: Scales
) -> Outcome[tuple[Batch, ...]]:
    """Divide `fill` into batches of `mix` and weigh them out.

    Findings: a working time used up by mixing and carrying, an edge that dries before the next batch is
    there, a batch below the mixer's least charge, a line below what the scale shows, a dose that the scale's
    step moves too far, more than 999 batches.
    """
    if fill.volume <= 0:
        return Outcome(value=())
    said = Said()
    divided = said.heard(division_of(mix, recipe, fill, vessel, scales))
    if divided is None:
        return said.outcome(None)
    volume, placing = fill.volume / divided.count, Fraction(fill.minutes * 60, divided.count)
    batch = said.heard(batch_of(mix, recipe, fill, vessel, scales, Portioned(volume, placing, divided.limit)))
    if batch is None:
        return said.outcome(None)
    return said.outcome(
        tuple(replace(batch, name=f"{fill.name}.batch-{number}") for number in range(1, divided.count + 1))
    )


class Portioned(NamedTuple):
    """What one batch is to be: m3, s in which it is placed, and what no batch fewer would keep."""

    volume: Fraction
    placing: Fraction
    limit: str


def batch_of(
    mix: Mix, recipe: Recipe, fill: Fill, vessel: Vessel, scales: Scales, portion: Portioned
) -> Outcome[Batch]:
    """One batch of `fill`, weighed out; its name is the fill's. Findings: those of `batches_of` that are of a
    single batch."""
    said = Said()
    _check_charge(recipe, fill, portion.volume, vessel, said)
    lines = weighed_out(mix, recipe, portion.volume, scales)
    error, error_in = rounding_error(mix, lines)
    if _shown(mix, fill, lines, scales, said):
        _check_error(mix, fill, lines, (error, error_in), said)
    return said.outcome(
        Batch(
            name=fill.name,
            mix=mix.name,
            volume=portion.volume,
            mass=portion.volume * recipe.density,
            by_volume=mix.measure == "volume",
            minutes=ceil((before_placing(mix) + portion.placing) / 60),
            lines=lines,
            limit=portion.limit,
            error=error,
            error_in=error_in,
        )
    )


# ---------------------------------------------------------------- how many


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What no batch exceeds: m3, each with what asks for it; s in which it is placed; s in which the next of
    several meets its edge. None where nothing limits it."""

    amounts: tuple[tuple[Fraction, str], ...] = ()
    placing: Fraction | None = None
    edge: Fraction | None = None


def limits_of(mix: Mix, recipe: Recipe, vessel: Vessel, scales: Scales) -> Limits:
    """The limits of a batch of `mix`. Times come out at nothing or less where mixing and carrying use all of
    it up."""
    amounts = []
    if vessel.volume:
        amounts.append((vessel.volume, "mixer"))
    if vessel.mass:
        amounts.append((vessel.mass / recipe.density, "mixer"))
    heaviest = max((line.mass for line in recipe.lines), default=NOUGHT)
    if scales.greatest and mix.measure != "volume" and heaviest:
        amounts.append((scales.greatest / heaviest, "scale"))
    return Limits(
        amounts=tuple(amounts),
        placing=None if mix.works is None else mix.works.least - before_placing(mix),
        edge=None if mix.wet_edge is None else mix.wet_edge - before_placing(mix),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Division:
    """How many equal batches, and what asks for the last of them: "" for a single one."""

    count: int
    limit: str = ""


def division_of(mix: Mix, recipe: Recipe, fill: Fill, vessel: Vessel, scales: Scales) -> Outcome[Division]:
    """The fewest equal batches within the mixer's size, the working time, the wet edge and the scale."""
    said = Said()
    limits = limits_of(mix, recipe, vessel, scales)
    wanted: list[tuple[int, str]] = [(1, "")]
    wanted += [(ceil(fill.volume / most), word) for most, word in limits.amounts if word == "mixer"]
    if limits.placing is not None:
        if limits.placing <= 0:
            said.found(too_short(mix, fill))
            return said.outcome(None)
        wanted.append((ceil(fill.minutes * 60 / limits.placing), "working time"))
    wanted += [(ceil(fill.volume / most), word) for most, word in limits.amounts if word == "scale"]
    count, limit = max(wanted, key=lambda pair: pair[0])
    if count > 1 and limits.edge is not None:
        if limits.edge <= 0:
            said.found(edge_dries(mix, fill))
            return said.outcome(None)
        edges = ceil(fill.minutes * 60 / limits.edge)
        count, limit = (edges, "wet edge") if edges > count else (count, limit)
    if count > MOST:
        said.found(too_many(mix, fill, count))
    return said.outcome(Division(count=count, limit=limit if count > 1 else ""))


def too_many(mix: Mix, fill: Fill, count: int) -> Problem:
    """More batches than anybody mixes for one step."""
    return Problem(
        finding=batch_findings.TOO_MANY_BATCHES,
        message=f"{fill.name} needs {count} batches of {mix.name} of "
        f"{wording.volume(fill.volume / count, fill.units)}",
        span=fill.span,
        about=(mix.name, fill.name),
    )


def before_placing(mix: Mix) -> Fraction:
    """The time, s, before any of a batch is placed."""
    return (mix.mixing or NOUGHT) + (mix.carry or NOUGHT)


def too_short(mix: Mix, fill: Fill) -> Problem:
    """Mixing and carrying leave no time to place anything."""
    works = wording.minutes(mix.works.least if mix.works else NOUGHT)
    return Problem(
        finding=batch_findings.WORKS_TOO_SHORT,
        message=f"mix {mix.name} works {works}, and mixing and carrying take "
        f"{wording.minutes(before_placing(mix))} before any of {fill.name} is placed",
        span=mix.span,
        related=((fill.span, fill.name),),
        about=(mix.name, fill.name),
    )


def edge_dries(mix: Mix, fill: Fill) -> Problem:
    """The edge of a batch dries before the next one is there."""
    return Problem(
        finding=batch_findings.WET_EDGE_TOO_SHORT,
        message=f"{fill.name} takes several batches of {mix.name}, whose edge stays wet "
        f"{wording.minutes(mix.wet_edge or NOUGHT)}; mixing and carrying the next take "
        f"{wording.minutes(before_placing(mix))}",
        span=mix.span,
        related=((fill.span, fill.name),),
        about=(mix.name, fill.name),
    )


# ---------------------------------------------------------------- what goes in


def weighed_out(mix: Mix, recipe: Recipe, volume: Fraction, scales: Scales) -> tuple[WeighLine, ...]:
    """The lines of one batch of `volume` m3, in order of addition, as the scale or the jug shows them."""
    by_volume = mix.measure == "volume"
    running = NOUGHT
    lines = []
    for line in recipe.lines:
        exact = volume * (line.volume or NOUGHT) if by_volume else volume * line.mass
        shown = rounded(exact, scales.jug_step(exact) if by_volume else scales.step(exact))
        running += shown
        lines.append(WeighLine(stock=line.stock, exact=exact, shown=shown, running=running))
    return tuple(lines)


def rounding_error(mix: Mix, lines: Sequence[WeighLine]) -> tuple[Fraction, str]:
    """The greatest share by which rounding moves a dose, and the stock that it moves.

    Of parts, the ratio to the first part that it moves:

        e = |(b' / a') / (b / a) - 1|       of other doses:  e = |d' / d - 1|

    a, b, d exact, with a dash as the scale shows them. 1 where a line rounds to nothing.
    """
    base = Fraction(1)
    if mix.measure is not None and lines and lines[0].exact > 0 and lines[0].shown > 0:
        base = lines[0].shown / lines[0].exact
    errors = [(abs(line.shown / line.exact / base - 1), line.stock) for line in lines if line.exact > 0]
    return max(errors, key=lambda pair: pair[0], default=(NOUGHT, ""))


# ---------------------------------------------------------------- what is wrong with it


def _check_charge(recipe: Recipe, fill: Fill, volume: Fraction, vessel: Vessel, said: Said) -> None:
    mass = volume * recipe.density
    short = []
    if vessel.least_volume and volume < vessel.least_volume:
        least = wording.volume(vessel.least_volume, fill.units)
        short.append((wording.volume(volume, fill.units), least))
    if vessel.least_mass and mass < vessel.least_mass:
        short.append((wording.mass(mass, fill.units), wording.mass(vessel.least_mass, fill.units)))
    for found, wanted in short:
        said.found(
            Problem(
                finding=batch_findings.CHARGE_BELOW_LEAST,
                message=f"a batch of {fill.step} is {found}; {vessel.name} mixes no less than {wanted} well",
                span=fill.span,
                about=(fill.step, recipe.mix),
            )
        )


def _shown(mix: Mix, fill: Fill, lines: Sequence[WeighLine], scales: Scales, said: Said) -> bool:
    """Whether the scale shows every line; what it does not show is a finding."""
    before = len(said.problems)
    by_volume = mix.measure == "volume"
    say = wording.volume if by_volume else wording.mass
    least = None if by_volume else scales.least
    for line in lines:
        if line.exact <= 0 or (line.shown > 0 and (least is None or line.exact >= least)):
            continue
        why = "which rounds to nothing"
        if least is not None and line.exact < least:
            why = f"and no scale of the shop shows less than {say(least, fill.units)}"
        said.found(
            Problem(
                finding=batch_findings.BELOW_SCALE,
                message=f"a batch of {fill.step} takes {say(line.exact, fill.units)} of {line.stock}, {why}",
                span=fill.span,
                about=(fill.step, mix.name),
            )
        )
    return len(said.problems) == before


def _check_error(
    mix: Mix, fill: Fill, lines: Sequence[WeighLine], error: tuple[Fraction, str], said: Said
) -> None:
    limit = DOSE_OFF if mix.measure is None or mix.works is None else RATIO_OFF
    if error[0] <= limit:
        return
    line = next(line for line in lines if line.stock == error[1])
    say = wording.volume if mix.measure == "volume" else wording.mass
    what = "its dose" if mix.measure is None else "the ratio"
    said.found(
        Problem(
            finding=batch_findings.ROUNDED_OFF,
            message=f"a batch of {fill.step} takes {say(line.exact, fill.units)} of {line.stock}, shown as "
            f"{say(line.shown, fill.units)}: {what} is off by {wording.percent(error[0])}, wanted "
            f"{wording.percent(limit)} at most",
            span=fill.span,
            about=(fill.step, mix.name),
        )
    )
