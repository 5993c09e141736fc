"""How many batches: as few and as equal as the mixer, the working time, the wet edge and the scale allow.

    n = max(V / V_holds, M / M_holds, T / (works - before), m_line / m_scale), rounded up
    n > 1:  n >= T / (wet edge - before)

V m3 and M kg with waste; T the time in which the whole is placed, before = mixing + carry, all times s;
m_line kg of one material in the whole, m_scale what the scale bears at once. A batch of the n takes
before + T / n, from the first liquid in the bucket to its last handful in place: so old is the edge of a
batch when the next one meets it.
"""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from castlang.problems.model import Outcome, Problem
from castlang.source.model import Span
from castlang.spec.model import Mix
from castlang.takeoff import batch_findings, wording
from castlang.takeoff.model import Recipe
from castlang.takeoff.said import Said
from castlang.takeoff.scales import Scales
from castlang.takeoff.vessels import Vessel
from castlang.takeoff.wording import METRIC

MOST = 999
NOUGHT = Fraction(0)


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
