"""A piece is crated and moved last."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.faces import faces_of
from castlang.rules.materials import LAID
from castlang.rules.model import Ground, Rule
from castlang.rules.order import before
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Step, StepKind

FINDING = Finding(
    name="moved-too-soon",
    severity=Severity.WARNING,
    says="a piece is cast on, ground or coated after a job has moved it, and is not moved again",
    why="the last move takes a piece out of the shop, and what is left to do then has no shop to be done in",
    remedy="put the finishing above the move; a move inside the shop belongs among the piece's own lines",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Casting and passes that come after a job's move of the piece, with no move behind them."""
    for piece, steps in ground.work.items():
        moves = [step for step in steps if step.kind is StepKind.MOVE]
        for step in steps:
            if not (step.kind in LAID or step.kind is StepKind.PASS) or not faces_of(ground, piece, step):
                continue
            gone = [m for m in moves if m.owner in ground.spec.jobs and before(ground, piece, m, step)]
            if gone and not _moved_after(ground, piece, step, moves):
                yield problem_at(
                    FINDING,
                    step,
                    piece,
                    f"{name_of(step)} works on {piece} after {name_of(gone[-1])} has moved it",
                    related=gone[-1:],
                )


def _moved_after(ground: Ground, piece: str, step: Step, moves: list[Step]) -> bool:
    return any(before(ground, piece, step, move) for move in moves)


_SEAL = "    pass      seal 1 coat of varnish on slab.show rolled takes 20 min by 1\n"
_MOVE = "    move      load-up of slab takes 20 min by 2\n"

RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=CAST + "    dry       2 days\njob finish\n    after     slab\n" + _MOVE + _SEAL,
    keeps=CAST + "    dry       2 days\njob finish\n    after     slab\n" + _SEAL + _MOVE,
)
