"""Nothing that has to bond goes on over a sealer."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.color_late import sealed_under
from castlang.rules.examples import CAST
from castlang.rules.materials import LAID, acts_of
from castlang.rules.model import Ground, Rule
from castlang.rules.order import before
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Acts, Step, StepKind

FINDING = Finding(
    name="bond-over-sealer",
    severity=Severity.ERROR,
    says="a layer, resin, filler or primer goes on over a sealer",
    why="a sealed face gives it no hold, and it lifts off",
    remedy="seal last, or grind the sealer off first; what is meant to be bonded to acts as `primer`",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """What has to bond, on a face of the casting that a sealer closed before."""
    for piece, steps in ground.work.items():
        for over in (step for step in steps if _bonds(ground, step)):
            sealed = [
                step
                for step in steps
                if sealed_under(ground, piece, step, over) and _on_casting(ground, piece, step, over)
            ]
            if sealed:
                yield problem_at(
                    FINDING,
                    over,
                    piece,
                    f"{name_of(over)} has to bond, and goes on over {name_of(sealed[-1])}, "
                    "which seals the face",
                    related=sealed[-1:],
                )


def _bonds(ground: Ground, step: Step) -> bool:
    if step.kind in LAID:
        return True
    return step.kind is StepKind.PASS and acts_of(ground, step) in (Acts.FILLER, Acts.PRIMER, Acts.RESIN)


def _on_casting(ground: Ground, piece: str, sealer: Step, over: Step) -> bool:
    """Whether the sealer lies on the casting: one that goes on before the first layer seals the mold."""
    if over.kind is StepKind.PASS:
        return True
    return any(s.kind in LAID and before(ground, piece, s, sealer) for s in ground.work[piece])


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=CAST
    + """\
    dry       2 days
    pass      seal 1 coat of varnish on show, slot rolled takes 20 min by 1
    wait      24 h
    pour      glow full of clear into slot takes 10 min by 1
    cure      48 h at 22 degC open
""",
    keeps=CAST
    + """\
    dry       2 days
    pour      glow full of clear into slot takes 10 min by 1
    cure      48 h at 22 degC open
    pass      seal 1 coat of varnish on show, slot rolled takes 20 min by 1
""",
)
