"""Voids are filled before the last grit."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.faces import faces_of
from castlang.rules.materials import acts_of
from castlang.rules.model import Ground, Rule
from castlang.rules.order import before
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Acts, Step, StepKind

FINDING = Finding(
    name="fill-late",
    severity=Severity.ERROR,
    says="voids are filled after the last grit",
    why="filler leaves a skin on the face, which only grinding takes off",
    remedy="put the filling above the last grit, or grind once more behind it",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Fillings on a face that is ground before, and not again behind."""
    for piece, steps in ground.work.items():
        for fill in steps:
            if fill.kind is not StepKind.PASS or acts_of(ground, fill) is not Acts.FILLER:
                continue
            late = [face for face in faces_of(ground, piece, fill) if _late(ground, piece, fill, face)]
            if late:
                yield problem_at(
                    FINDING,
                    fill,
                    piece,
                    f"{name_of(fill)} fills {', '.join(late)} of {piece} after the last grit there",
                )


def _late(ground: Ground, piece: str, fill: Step, face: str) -> bool:
    grinds = [s for s in ground.work[piece] if s.grits and face in faces_of(ground, piece, s)]
    return bool(grinds) and all(before(ground, piece, grind, fill) for grind in grinds)


_FILL = """\
    pass      fill 0.15 kg/m2 of slurry on show takes 15 min by 1
    cure      12 h at 20 degC open
"""
_HONE = "    pass      hone grit 100, 200 wet on show takes 30 min by 1\n"

RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=CAST + _HONE + _FILL,
    keeps=CAST + _FILL + _HONE,
)
