"""Bodies, their parts and their layers, told in mm, for the tests of geometry."""

from fractions import Fraction
from typing import Any

from castlang.problems.model import Outcome
from castlang.spec.model import FaceRef, Part, Piece, Shape, Step, StepKind
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff.geometry import Geometry, geometry_of

F = Fraction
HAIR = F(1, 10**9)


def mm(**sizes: float | str) -> dict[str, Fraction]:
    """Sizes in mm, `top_dia` for top-dia."""
    return {word.replace("_", "-"): F(size) / 1000 for word, size in sizes.items()}


def shape(kind: str, **sizes: float | str) -> Shape:
    return Shape(kind=kind, sizes=mm(**sizes))


def less(name: str, kind: str, on: str | None = None, *placed: tuple[int, str], **sizes: float | str) -> Part:
    where = tuple((F(distance, 1000), edge) for distance, edge in placed)
    return Part(name=name, plus=False, shape=shape(kind, **sizes), on=on, placed=where)


def plus(name: str, kind: str, on: str | None = None, **sizes: float | str) -> Part:
    return Part(name=name, plus=True, shape=shape(kind, **sizes), on=on)


def layer(name: str, thick: str, *faces: str) -> Step:
    return Step(
        kind=StepKind.LAYER,
        owner="piece",
        name=name,
        amount=Quantity(si=F(thick) / 1000, dimension=Dimension.LENGTH),
        on=tuple(FaceRef(piece="piece", face=face) for face in faces),
    )


def outcome(body: Shape, *parts: Part, **more: Any) -> Outcome[Geometry]:
    return geometry_of(Piece(name="piece", shape=body, parts=parts, **more))


def geometry(body: Shape, *parts: Part, **more: Any) -> Geometry:
    made = outcome(body, *parts, **more)
    assert made.value is not None, [problem.message for problem in made.problems]
    return made.value


def found(body: Shape, *parts: Part, **more: Any) -> list[str]:
    return [problem.finding.name for problem in outcome(body, *parts, **more).problems]


def near(one: Fraction, other: Fraction, within: Fraction = HAIR) -> bool:
    return abs(one - other) <= within * max(abs(other), F(1, 10**3))
