"""What is cast in a piece fills its body."""

from collections.abc import Iterator
from fractions import Fraction

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.model import Ground, Rule
from castlang.spec.model import Piece, Step, StepKind
from castlang.takeoff.geometry import geometry_of

FINDING = Finding(
    name="body-unfilled",
    severity=Severity.WARNING,
    says="the layers and pours of a piece do not fill its body",
    why="the piece comes out thinner than its shape says, and its weight and its fittings do not match",
    remedy="lay another layer, pour the rest with `full`, or mend the thickness of the shape",
    source="arithmetic",
)

SHORT = Fraction(2, 100)  # of the body; less is what inserts and rounding take


def check(ground: Ground) -> Iterator[Problem]:
    """Pieces with a thickness of their own, of which more than a little is left empty."""
    for piece in ground.spec.pieces.values():
        cast = sum((_cast(ground, piece, step) for step in _casting(ground, piece)), Fraction(0))
        geometry = geometry_of(piece).value
        if not cast or geometry is None or geometry.shell or geometry.volume <= 0:
            continue
        left = 1 - cast / geometry.volume
        if left > SHORT:
            yield Problem(
                finding=FINDING,
                message=f"`{piece.name}` is filled to {float(1 - left) * 100:.0f} %; the rest stays empty",
                span=piece.span,
                about=(piece.name,),
            )


def _casting(ground: Ground, piece: Piece) -> Iterator[Step]:
    """The steps that put material into the body of a piece, whoever's they are."""
    for step in ground.work[piece.name]:
        laid = step.kind in (StepKind.LAYER, StepKind.PRESS) and any(f.piece == piece.name for f in step.on)
        if laid or (step.kind is StepKind.POUR and step.cavity == (piece.name, None)):
            yield step


def _cast(ground: Ground, piece: Piece, step: Step) -> Fraction:
    """m3 that one step puts into one copy."""
    done = ground.takeoff.steps.get((step.owner, step.name))
    copies = piece.count + piece.mirrored if step.owner != piece.name and step.each is None else 1
    return (done.volume or Fraction(0)) / copies if done is not None else Fraction(0)


LAID = """\
piece slab
    shape     slab 800 mm long, 400 mm wide, 20 mm thick
    face      show foot
    take      bed
    layer     skin 3 mm of face on show sprayed takes 20 min by 2
    wait      20 min to 60 min
    layer     back 8 mm of backer on show laid takes 20 min by 2
"""
END = """\
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
"""

RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=LAID + END,
    keeps=LAID
    + """\
    wait      20 min to 60 min
    layer     rest 9 mm of backer on show laid takes 20 min by 2
"""
    + END,
)
