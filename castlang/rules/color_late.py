"""Color goes on before the sealer."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.faces import ground_between, shared_faces
from castlang.rules.materials import acts_of, seals
from castlang.rules.model import Ground, Rule
from castlang.rules.order import before
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Acts, Step, StepKind

FINDING = Finding(
    name="color-late",
    severity=Severity.ERROR,
    says="color goes on over a sealer",
    why="a wash or stain has to soak in, and a sealed face lets nothing in: it beads, and wipes off",
    remedy="put the color above the sealer, or grind the sealer off between them",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Color on a face that a sealer closed before, and that was not ground since."""
    for piece, steps in ground.work.items():
        for color in steps:
            if color.kind is not StepKind.PASS or acts_of(ground, color) is not Acts.COLOR:
                continue
            sealed = [step for step in steps if sealed_under(ground, piece, step, color)]
            if sealed:
                yield problem_at(
                    FINDING,
                    color,
                    piece,
                    f"{name_of(color)} goes on over {name_of(sealed[-1])}, which seals the face",
                    related=sealed[-1:],
                )


def sealed_under(ground: Ground, piece: str, sealer: Step, over: Step) -> bool:
    """Whether `over` goes on a face that `sealer` closed and that was not ground since."""
    return (
        seals(ground, sealer)
        and before(ground, piece, sealer, over)
        and any(
            not ground_between(ground, piece, sealer, over, face)
            for face in shared_faces(ground, piece, sealer, over)
        )
    )


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=CAST
    + """\
    dry       2 days
    pass      seal 1 coat of varnish on show rolled takes 20 min by 1
    wait      4 h
    pass      tint 1 coat of rust on show brushed takes 20 min by 1
""",
    keeps=CAST
    + """\
    dry       2 days
    pass      tint 1 coat of rust on show brushed takes 20 min by 1
    dry       12 h
    pass      seal 1 coat of varnish on show rolled takes 20 min by 1
""",
)
