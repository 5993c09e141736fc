"""A piece is out of its mold before its faces are finished."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST, SLAB
from castlang.rules.faces import faces_of, shared_faces
from castlang.rules.materials import LAID, acts_of
from castlang.rules.model import Ground, Rule
from castlang.rules.order import before
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Acts, Step, StepKind

FINISHES = frozenset({Acts.FILLER, Acts.COLOR, Acts.FILM, Acts.PENETRATING})

FINDING = Finding(
    name="finished-in-mold",
    severity=Severity.ERROR,
    says="a face is ground, filled, colored or sealed while the mold is still on it",
    why="the mold covers the face, and what lies bare is its back",
    remedy="put `demold` above the finishing; where the face lies open, leave it out of the `release` line",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Passes on a face that the release says the mold covers, after the casting and before the demold."""
    for piece, steps in ground.work.items():
        demold = next((step for step in steps if step.kind is StepKind.DEMOLD and step.owner == piece), None)
        if demold is None:
            continue
        for step in steps:
            if _finishes(ground, step) and _in_mold(ground, piece, step, demold):
                yield problem_at(
                    FINDING,
                    step,
                    piece,
                    f"{name_of(step)} comes before {name_of(demold)}, and the mold still covers "
                    f"{', '.join(_covered(ground, piece, step))}",
                    related=(demold,),
                )


def _finishes(ground: Ground, step: Step) -> bool:
    return step.kind is StepKind.PASS and (bool(step.grits) or acts_of(ground, step) in FINISHES)


def _in_mold(ground: Ground, piece: str, step: Step, demold: Step) -> bool:
    """Whether a pass lies between the last casting step and the demold: what is earlier goes on the mold."""
    if not before(ground, piece, step, demold) or not _covered(ground, piece, step):
        return False
    cast = [s for s in ground.work[piece] if s.kind in LAID and before(ground, piece, s, demold)]
    return bool(cast) and all(before(ground, piece, s, step) for s in cast)


def _covered(ground: Ground, piece: str, step: Step) -> tuple[str, ...]:
    """The faces of a pass that the mold covers: where release went on, else all."""
    released = [s for s in ground.work[piece] if acts_of(ground, s) is Acts.RELEASE]
    if not released:
        return faces_of(ground, piece, step)
    behind = [face for s in released for face in shared_faces(ground, piece, step, s)]
    return tuple(dict.fromkeys(behind))


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=SLAB
    + """\
    pour      body full of casting into bed using mixer takes 30 min by 2
    cure      24 h at 20 degC covered
    pass      hone grit 100, 200 wet on show takes 30 min by 1
    demold    takes 20 min by 2
""",
    keeps=CAST
    + """\
    pass      hone grit 100, 200 wet on show takes 30 min by 1
""",
)
