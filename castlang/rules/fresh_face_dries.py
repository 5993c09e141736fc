"""A fresh face does not dry faster than its water can follow."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.ground import blocks_of
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Step
from castlang.takeoff.evaporation import Evaporation, evaporation_of
from castlang.takeoff.wording import evaporation, percent, speed, temperature

FINDING = Finding(
    name="fresh-face-dries",
    severity=Severity.WARNING,
    says="the shop's air takes water from a fresh face faster than it can rise from below",
    why="the skin shrinks while the body is still soft, and cracks",
    remedy="cover the face at once or keep fog over it, stop the draft, damp the air, or cool the mix",
    source="P. J. Uno, ACI Materials Journal 95-M34, 1998; limit: ACI 305R, half of it for mixes that bleed "
    "little",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Steps that leave a wet face which dries too fast in the worst air of the build's dates, told once for
    each block at the one that dries fastest."""
    for owner in blocks_of(ground.spec):
        fast: list[tuple[Step, Evaporation]] = []
        for step in owner.sequence:
            found = (
                evaporation_of(ground.spec, ground.takeoff.recipes, step) if isinstance(step, Step) else None
            )
            if isinstance(step, Step) and found is not None and found.too_fast:
                fast.append((step, found))
        if fast:
            yield _problem(owner.name, fast, ground.spec.build.units)


def _problem(owner: str, fast: list[tuple[Step, Evaporation]], units: str) -> Problem:
    step, worst = max(fast, key=lambda pair: pair[1].rate / pair[1].limit)
    others = [other for other, _ in fast if other is not step]
    more = f" (and {len(others)} more on {owner})" if others else ""
    kind = "" if worst.bleeds else ", as the mix hardly bleeds"
    return problem_at(
        FINDING,
        step,
        owner,
        f"the fresh face of {name_of(step)}{more} loses {evaporation(worst.rate, units)}: it is at "
        f"{temperature(worst.face, units)}, the air at {temperature(worst.air, units)} and "
        f"{percent(worst.humidity)}, moving at {speed(worst.draft, units)}; the limit is "
        f"{evaporation(worst.limit, units)}{kind}",
        related=others,
        about=[name_of(other) for other in others],
    )


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks="""\
shop
    humidity  35 %
    draft     4 m/s
measured warmth of casting 29 degC "summer trial"
"""
    + CAST,
    keeps="""\
shop
    humidity  35 %
    draft     1 m/s
measured warmth of casting 22 degC "summer trial"
"""
    + CAST,
)
