"""What is done to one piece is done in an order."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.model import Ground, Rule
from castlang.rules.order import unordered
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Step, StepKind

FINDING = Finding(
    name="unordered-work",
    severity=Severity.ERROR,
    says="two steps of different blocks work on one piece, and nothing says which comes first",
    why="the plan may put them in either order, or both at once",
    remedy="put an `after` line above one of the two, with the name of the other",
    source="the language's rules",
)
HELD = frozenset({StepKind.TAKE, StepKind.FREE})
"""Steps that handle what holds a piece, and not the piece."""


def check(ground: Ground) -> Iterator[Problem]:
    """Every step of another block that is not ordered against all that its piece undergoes, told once."""
    for piece, steps in ground.work.items():
        worked = [step for step in steps if step.kind not in HELD]
        for place, step in enumerate(worked):
            if step.owner == piece:
                continue
            loose = [other for other in worked[:place] if unordered(ground, piece, step, other)]
            if loose:
                yield _problem(piece, step, loose)


def _problem(piece: str, step: Step, loose: list[Step]) -> Problem:
    own = [other for other in loose if other.owner == piece]
    last = (own or loose)[-1]
    more = f" (and {len(loose) - 1} more on {piece})" if len(loose) > 1 else ""
    return problem_at(
        FINDING,
        step,
        piece,
        f"{name_of(step)} and {name_of(last)}{more} work on {piece}, and nothing says which comes first",
        remedy=f"put `after {name_of(last)}`, or what else comes first, above {step.name}",
        related=(last,),
        about=(name_of(last),),
    )


_SEAL = "    pass      seal 1 coat of varnish on slab.show rolled takes 20 min by 1\n"

RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=CAST + "    dry       2 days\njob finish\n" + _SEAL,
    keeps=CAST + "    dry       2 days\njob finish\n    after     slab\n" + _SEAL,
)
