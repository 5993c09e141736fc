"""The face comes before its backer."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import SHELL
from castlang.rules.faces import shared_faces
from castlang.rules.materials import fibrous, mix_of, sets_with_water
from castlang.rules.model import Ground, Rule
from castlang.rules.order import before
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Step, StepKind

FINDING = Finding(
    name="face-late",
    severity=Severity.ERROR,
    says="a layer without fiber goes on over one with fiber",
    why="layers grow inward from the mold: what is laid first is what is seen, and the face lies behind it",
    remedy="put the face above the backer; where it is a back coat that is meant, waive the rule and say so",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Layers without fiber that go on a face where one with fiber lies already."""
    for piece, steps in ground.work.items():
        layers = [step for step in steps if step.kind is StepKind.LAYER]
        for face in layers:
            if fibrous(mix_of(ground, face)) or not sets_with_water(mix_of(ground, face)):
                continue
            below = [step for step in layers if _lies_below(ground, piece, step, face)]
            if below:
                yield problem_at(
                    FINDING,
                    face,
                    piece,
                    f"{name_of(face)}, without fiber, goes on over {name_of(below[0])}, which has fiber",
                    related=below[:1],
                )


def _lies_below(ground: Ground, piece: str, backer: Step, face: Step) -> bool:
    return (
        fibrous(mix_of(ground, backer))
        and bool(shared_faces(ground, piece, backer, face))
        and before(ground, piece, backer, face)
    )


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=SHELL
    + """\
    layer     back 8 mm of backer on show laid takes 30 min by 2
    wait      20 min to 60 min
    layer     skin 3 mm of face on show sprayed takes 20 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
""",
    keeps=SHELL
    + """\
    layer     skin 3 mm of face on show sprayed takes 20 min by 2
    wait      20 min to 60 min
    layer     back 8 mm of backer on show laid takes 30 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
""",
)
