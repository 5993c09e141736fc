"""A piece is cast in a mold that it has taken."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.materials import LAID
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Piece, Step, StepKind

FINDING = Finding(
    name="mold-not-taken",
    severity=Severity.ERROR,
    says="a piece is cast before it has taken its mold",
    why="nothing holds the mold for it: another casting may stand in it, and it may not be built yet",
    remedy="put `take` and the mold's name above the first layer or pour",
    source="the language's rules",
)


def check(ground: Ground) -> Iterator[Problem]:
    """The first layer or pour of a piece, where the taking of a mold stands below it or nowhere."""
    for piece in ground.spec.pieces.values():
        taken = False
        for item in piece.sequence:
            if not isinstance(item, Step):
                continue
            taken = taken or takes_mold(ground, item)
            if not taken and _wants_mold(ground, piece, item):
                yield problem_at(
                    FINDING,
                    item,
                    piece.name,
                    f"{name_of(item)} is cast, and {piece.name} has taken no mold before it",
                )
                break


def takes_mold(ground: Ground, step: Step) -> bool:
    """Whether a step takes a mold, and not a temporary work or a station."""
    mold = ground.spec.molds.get(step.target or "")
    return step.kind is StepKind.TAKE and mold is not None and not mold.temporary


def _wants_mold(ground: Ground, piece: Piece, step: Step) -> bool:
    """A pour into a mold does; a layer does where the piece takes a mold at all."""
    if step.kind is StepKind.POUR:
        return step.cavity == (piece.name, None)
    later = any(isinstance(item, Step) and takes_mold(ground, item) for item in piece.sequence)
    return later and step.kind in LAID and any(face.piece == piece.name for face in step.on)


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks="""\
piece slab
    shape     slab 600 mm long, 400 mm wide, 40 mm thick
    face      show top, sides
    pour      body full of casting into bed using mixer takes 30 min by 2
    cure      24 h at 20 degC covered
""",
    keeps=CAST,
)
