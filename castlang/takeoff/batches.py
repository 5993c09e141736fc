"""Batches: as few and as equal as the mixer, the working time, the wet edge and the scale allow.

    n = max(V / V_holds, M / M_holds, T / (works - before), m_line / m_scale), rounded up
    n > 1:  n >= T / (wet edge - before)

V m3 and M kg with waste; T the time in which the whole is placed, before = mixing + carry, all times s;
m_line kg of one material in the whole, m_scale what the scale bears at once. A batch of the n takes
before + T / n, from the first liquid in the bucket to its last handful in place: so old is the edge of a
batch when the next one meets it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from castlang.problems.model import Outcome, Problem
from castlang.source.model import Span
from castlang.spec.model import Mix, Station
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff import findings, wording
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
    volume = fill.volume / divided.count
    _check_charge(recipe, fill, volume, vessel, said)
    lines = weighed_out(mix, recipe, volume, scales)
    error, error_in = rounding_error(mix, lines)
    if _shown(mix, fill, lines, scales, said):
        _check_error(mix, fill, lines, (error, error_in), said)
    time = _before(mix) + Fraction(fill.minutes * 60, divided.count)
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
                limit=divided.limit,
                error=error,
                error_in=error_in,
            )
            for number in range(1, divided.count + 1)
        )
    )


# ---------------------------------------------------------------- how many


@dataclass(frozen=True, slots=True, kw_only=True)
class Division:
    """How many equal batches, and what asks for the last of them: "" for a single one."""

    count: int
    limit: str = ""


def division_of(mix: Mix, recipe: Recipe, fill: Fill, vessel: Vessel, scales: Scales) -> Outcome[Division]:
    """The fewest equal batches within the mixer's size, the working time, the wet edge and the scale."""
    said = Said()
    wanted: list[tuple[int, str]] = [(1, "")]
    if vessel.volume:
        wanted.append((ceil(fill.volume / vessel.volume), "mixer"))
    if vessel.mass:
        wanted.append((ceil(fill.volume * recipe.density / vessel.mass), "mixer"))
    if mix.works is not None:
        left = mix.works.least - _before(mix)
        if left <= 0:
            said.found(_too_short(mix, fill))
            return said.outcome(None)
        wanted.append((ceil(fill.minutes * 60 / left), "working time"))
    if scales.greatest and mix.measure != "volume":
        heaviest = max((line.mass for line in recipe.lines), default=NOUGHT)
        wanted.append((ceil(fill.volume * heaviest / scales.greatest), "scale"))
    count, limit = max(wanted, key=lambda pair: pair[0])
    if count > 1 and mix.wet_edge is not None:
        left = mix.wet_edge - _before(mix)
        if left <= 0:
            said.found(_edge_dries(mix, fill))
            return said.outcome(None)
        edges = ceil(fill.minutes * 60 / left)
        count, limit = (edges, "wet edge") if edges > count else (count, limit)
    if count > MOST:
        said.found(
            Problem(
                finding=findings.TOO_MANY_BATCHES,
                message=f"{fill.name} needs {count} batches of {mix.name} of "
                f"{wording.volume(fill.volume / count, fill.units)}",
                span=fill.span,
                about=(mix.name, fill.name),
            )
        )
    return said.outcome(Division(count=count, limit=limit if count > 1 else ""))


def _before(mix: Mix) -> Fraction:
    """The time, s, before any of a batch is placed."""
    return (mix.mixing or NOUGHT) + (mix.carry or NOUGHT)


def _too_short(mix: Mix, fill: Fill) -> Problem:
    works = wording.minutes(mix.works.least if mix.works else NOUGHT)
    return Problem(
        finding=findings.WORKS_TOO_SHORT,
        message=f"mix {mix.name} works {works}, and mixing and carrying take "
        f"{wording.minutes(_before(mix))} before any of {fill.name} is placed",
        span=mix.span,
        related=((fill.span, fill.name),),
        about=(mix.name, fill.name),
    )


def _edge_dries(mix: Mix, fill: Fill) -> Problem:
    return Problem(
        finding=findings.WET_EDGE_TOO_SHORT,
        message=f"{fill.name} takes several batches of {mix.name}, whose edge stays wet "
        f"{wording.minutes(mix.wet_edge or NOUGHT)}; mixing and carrying the next take "
        f"{wording.minutes(_before(mix))}",
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
                finding=findings.CHARGE_BELOW_LEAST,
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
                finding=findings.BELOW_SCALE,
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
            finding=findings.ROUNDED_OFF,
            message=f"a batch of {fill.step} takes {say(line.exact, fill.units)} of {line.stock}, shown as "
            f"{say(line.shown, fill.units)}: {what} is off by {wording.percent(error[0])}, wanted "
            f"{wording.percent(limit)} at most",
            span=fill.span,
            about=(fill.step, mix.name),
        )
    )
