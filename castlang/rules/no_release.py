"""Release goes on before the first layer."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.materials import LAID, acts_of
from castlang.rules.model import Ground, Rule
from castlang.rules.mold_not_taken import takes_mold
from castlang.rules.order import before
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Acts, Piece, Step

FINDING = Finding(
    name="no-release",
    severity=Severity.WARNING,
    says="a piece is cast in a mold on which no release has gone",
    why="the casting bonds to most molds, and one of the two is spoilt when they are parted",
    remedy="add a `release` line to the mold; for a mold that needs none, waive the rule and say why",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """The first layer or pour into a mold, where no release goes on before it."""
    for piece in ground.spec.pieces.values():
        steps = [item for item in piece.sequence if isinstance(item, Step)]
        take = next((step for step in steps if takes_mold(ground, step)), None)
        first = next((step for step in steps if _casts(piece, step)), None)
        if take is None or first is None or not before(ground, piece.name, take, first):
            continue
        released = any(
            acts_of(ground, step) is Acts.RELEASE and before(ground, piece.name, step, first)
            for step in ground.work[piece.name]
        )
        if not released:
            mold = take.target or ""
            yield problem_at(
                FINDING,
                first,
                piece.name,
                f"{name_of(first)} is cast in {mold}, and no release goes on before it",
                related=(take,),
                about=(mold,),
            )


def _casts(piece: Piece, step: Step) -> bool:
    on_it = any(face.piece == piece.name for face in step.on) or step.cavity == (piece.name, None)
    return step.kind in LAID and on_it


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks="""\
mold bare
    fits      slab
    lasts     10 castings
    work      plane takes 1 h by 1
"""
    + CAST.replace("bed", "bare"),
    keeps="""\
mold bare
    fits      slab
    lasts     10 castings
    release   oil on slab.show takes 15 min by 1
    work      plane takes 1 h by 1
"""
    + CAST.replace("bed", "bare"),
)
