"""How long a coat, lift or pass lasts: told, or quantity over the rate of the whole gang.

    T = A / r  or  V / r        A m2, V m3, r m2/s or m3/s, T s

Whole minutes, rounded up. `takes` and `rate` count for each coat, lift and grit.
"""

from fractions import Fraction
from math import ceil

from castlang.problems.model import Outcome, Problem
from castlang.spec.model import Step
from castlang.spec.quantity import Dimension
from castlang.takeoff import step_findings


def minutes_of(step: Step, area: Fraction | None, volume: Fraction | None) -> Outcome[int]:
    """Whole minutes of one part of `step`, which covers `area` m2 or places `volume` m3.

    0 when neither a time nor a rate is told.

    Finding: a rate over something that the step does not have.
    """
    if step.takes is not None:
        return Outcome(value=ceil(step.takes / 60))
    if step.rate is None:
        return Outcome(value=0)
    counted = area if step.rate.dimension is Dimension.AREA_RATE else volume
    if counted is None or step.rate.si <= 0:
        word = "an area" if step.rate.dimension is Dimension.AREA_RATE else "a volume"
        problem = Problem(
            finding=step_findings.RATE_WITHOUT_MEASURE,
            message=f"{step.owner}.{step.name} has a rate over {word} it does not have",
            span=step.span,
            about=(f"{step.owner}.{step.name}",),
        )
        return Outcome(value=None, problems=(problem,))
    return Outcome(value=ceil(counted / step.rate.si / 60))


def suffixes(word: str, count: int) -> tuple[str, ...]:
    """Names of the parts of a step: `coat-1`, `coat-2`; a single part has no name of its own."""
    return ("",) if count == 1 else tuple(f"{word}-{number}" for number in range(1, count + 1))


def grit_suffixes(grits: tuple[int, ...]) -> tuple[str, ...]:
    """Names of the passes of a step by their grit; a single pass has no name of its own."""
    return ("",) if len(grits) == 1 else tuple(f"grit-{grit}" for grit in grits)
