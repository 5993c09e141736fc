"""Batches: each weighed out as the scale shows it, and judged by itself."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from castlang.problems.model import Outcome, Problem
from castlang.spec.model import Mix
from castlang.takeoff import batch_findings, wording
from castlang.takeoff.divisions import Fill, before_placing, division_of
from castlang.takeoff.model import Batch, Recipe, WeighLine
from castlang.takeoff.said import Said
from castlang.takeoff.scales import Scales, rounded
from castlang.takeoff.vessels import Vessel

NOUGHT = Fraction(0)
RATIO_OFF = Fraction(2, 100)  # of parts that set together; common practice, no source
DOSE_OFF = Fraction(5, 100)  # of a dose, or of a dilution; common practice, no source


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
        carries = None if by_volume else scales.carries(exact)
        lines.append(WeighLine(stock=line.stock, exact=exact, shown=shown, running=running, carries=carries))
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
