"""How long a mix can be worked at the warmest hour that the build's dates can bring.

    t2 = t1 2^((T1 - T2) / D)

t1 s told at T1 K, t2 s at T2 K, D the step in K that halves it: 10 K for parts A and B, where the mix does
not say `doubles`. Within 15 K of T1. Source: I. A. Leenson, "Old Rule of Thumb and the Arrhenius Equation",
Journal of Chemical Education: a rate grows 1.5 to 4 times in 10 K, twice by the rule of thumb.

What sets by water keeps its time as told, unless it says `doubles`: cement follows no one rule this far.
"""

from dataclasses import replace
from decimal import Decimal, localcontext
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.model import Build, Mix, Step, Window
from castlang.takeoff import batch_findings, wording
from castlang.takeoff.model import WorkingTime

DOUBLES = Fraction(10)
REACH = Fraction(15)
RULE = "rule of thumb, 1.5 to 4 times in 10 K: I. A. Leenson, Journal of Chemical Education"


def warmest_of(build: Build) -> Fraction | None:
    """The warmest air, in K, of any day of the build: undated, or dated within start and due."""
    last = build.due
    values = [
        air.value
        for air in build.air
        if air.days is None or (air.days.last >= build.start and (last is None or air.days.first <= last))
    ]
    return max(values, default=None)


def halving_step(mix: Mix) -> Fraction | None:
    """The step in K that halves the working time of `mix`; None where it stands as told."""
    return mix.doubles or (DOUBLES if mix.measure is not None else None)


def stretched(time: Fraction, told_at: Fraction, at: Fraction, doubles: Fraction) -> Fraction:
    """`time` s told at `told_at` K, at `at` K; to the whole second below, the same on every machine."""
    steps = (told_at - at) / doubles
    with localcontext() as context:
        context.prec = 28
        factor = Decimal(2) ** (Decimal(steps.numerator) / Decimal(steps.denominator))
    return Fraction((time * Fraction(factor)).__floor__())


def working_time(mix: Mix, step: Step, build: Build) -> Outcome[WorkingTime]:
    """How long `mix` can be worked in `step`: at the temperature that it is kept `at`, else the warmest hour.

    Finding: a temperature further from the told one than the rule reaches.
    """
    if mix.works is None:
        return Outcome(value=None)
    at = warmest_of(build) if step.at is None else step.at
    doubles = halving_step(mix)
    if doubles is None or mix.works_at is None or at is None:
        return Outcome(value=WorkingTime(seconds=mix.works.least))
    found = WorkingTime(seconds=stretched(mix.works.least, mix.works_at, at, doubles), at=at, doubles=doubles)
    problems = (
        () if abs(at - mix.works_at) <= REACH else (_far_off(mix, mix.works_at, at, step, build.units),)
    )
    return Outcome(value=found, problems=problems, assumptions=_assumed(mix, found, step, build.units))


def as_worked(mix: Mix, working: WorkingTime | None) -> Mix:
    """`mix` with the working time that it has in a step."""
    return mix if working is None else replace(mix, works=Window(least=working.seconds))


def _far_off(mix: Mix, told_at: Fraction, at: Fraction, step: Step, units: str) -> Problem:
    return Problem(
        finding=batch_findings.WORKS_FAR_OFF,
        message=f"the working time of mix {mix.name} is told at {wording.temperature(told_at, units)}, "
        f"and it is used at {wording.temperature(at, units)}",
        span=mix.span,
        related=((step.span, f"{step.owner}.{step.name}"),),
        about=(mix.name, f"{step.owner}.{step.name}"),
    )


def _assumed(mix: Mix, found: WorkingTime, step: Step, units: str) -> tuple[Assumption, ...]:
    if mix.doubles is not None or found.at is None or found.at == mix.works_at:
        return ()
    when = "the warmest hour that the build's dates can bring" if step.at is None else "as the step keeps it"
    return (
        Assumption(
            subject=f"mix {mix.name}",
            says=f"works {wording.minutes(found.seconds)} at {wording.temperature(found.at, units)}, {when}: "
            f"half as long for each {wording.temperature_step(DOUBLES, units)} warmer",
            source=RULE,
            line="doubles 10 K",
            span=mix.span,
        ),
    )
