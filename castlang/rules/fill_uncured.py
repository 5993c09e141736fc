"""Filler cures before it is ground."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.faces import shared_faces
from castlang.rules.materials import acts_of
from castlang.rules.model import Ground, Rule
from castlang.rules.order import before, is_cure, is_drying, waits_between
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Acts, Gap, Step, StepKind

FINDING = Finding(
    name="fill-uncured",
    severity=Severity.WARNING,
    says="filler is ground with no cure since it went on",
    why="soft filler is torn out of the voids that it was to close",
    remedy="put a `cure` line between the filling and the grinding",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Grinding of a filled face where nothing lets the filler cure."""
    for piece, steps in ground.work.items():
        for grind in (step for step in steps if step.grits):
            soft = [step for step in steps if _soft(ground, piece, step, grind)]
            if soft:
                yield problem_at(
                    FINDING,
                    grind,
                    piece,
                    f"{name_of(grind)} grinds {piece}, and nothing lets {name_of(soft[-1])} cure before it",
                    related=soft[-1:],
                )


def _soft(ground: Ground, piece: str, fill: Step, grind: Step) -> bool:
    return (
        fill.kind is StepKind.PASS
        and acts_of(ground, fill) is Acts.FILLER
        and bool(shared_faces(ground, piece, fill, grind))
        and before(ground, piece, fill, grind)
        and not waits_between(ground, piece, fill, grind, _hardens)
    )


def _hardens(gap: Gap) -> bool:
    return is_cure(gap) or is_drying(gap)


_FILL = "    pass      fill 0.15 kg/m2 of slurry on show takes 15 min by 1\n"
_HONE = "    pass      hone grit 100, 200 wet on show takes 30 min by 1\n"

RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=CAST + _FILL + _HONE,
    keeps=CAST + _FILL + "    cure      12 h at 20 degC open\n" + _HONE,
)
