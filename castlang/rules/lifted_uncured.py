"""Nothing is lifted before its cure."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST, SLAB
from castlang.rules.materials import LAID
from castlang.rules.model import Ground, Rule
from castlang.rules.order import before, is_cure, key, waits_between
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Step, StepKind

FINDING = Finding(
    name="lifted-uncured",
    severity=Severity.ERROR,
    says="a piece is demolded or carried with no cure since it was cast",
    why="green concrete and soft resin break and bend under their own weight",
    remedy="put a `cure` line between the last layer or pour and the lifting",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """The first lifting of a piece after each casting step, where no cure lies between the two."""
    for piece, steps in ground.work.items():
        told: list[tuple[str, str]] = []
        for lift in (step for step in steps if _lifts(piece, step)):
            soft = [
                step
                for step in steps
                if step.kind in LAID
                and key(step) not in told
                and before(ground, piece, step, lift)
                and not waits_between(ground, piece, step, lift, is_cure)
            ]
            if soft:
                told += [key(step) for step in soft]
                yield problem_at(
                    FINDING,
                    lift,
                    piece,
                    f"{name_of(lift)} lifts {piece}, and nothing lets {name_of(soft[-1])} cure before it",
                    related=soft[-1:],
                )


def _lifts(piece: str, step: Step) -> bool:
    if step.kind is StepKind.DEMOLD:
        return step.owner == piece
    carried = any(thing.name == piece for thing in step.things)
    return carried and step.kind in (StepKind.PLACE, StepKind.MOVE)


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=SLAB
    + """\
    pour      body full of casting into bed using mixer takes 30 min by 2
    wait      3 h
    demold    takes 20 min by 2
""",
    keeps=CAST,
)
