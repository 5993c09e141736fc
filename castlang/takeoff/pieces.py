"""One copy of each piece: what is cast, its faces, its weight.

    lost = max(0, W - 0.20 B - 0.01 M)      kg of free water that a cement mix loses as it dries

W kg of water in all, B of binder, M of mix. Source: Concrete Society, "Water held in concrete": cement binds
18 to 23 % of its mass (A. M. Neville, Properties of Concrete), say 20 %, and 1 % of the whole stays in pores.
"""

from collections.abc import Mapping
from fractions import Fraction

from castlang.spec.model import Spec, Step, StepKind
from castlang.spec.quantity import Dimension
from castlang.takeoff.bodies import LAID, NOUGHT, Body, faces_on, pieces_on
from castlang.takeoff.inserts import base_of
from castlang.takeoff.measured import measured_value
from castlang.takeoff.model import PieceTakeoff, Recipe, StepTakeoff
from castlang.takeoff.pours import place_of

CAST = (*LAID, StepKind.POUR)
BOUND = Fraction(20, 100)
HELD = Fraction(1, 100)


def piece_takeoff(
    body: Body,
    spec: Spec,
    jobs: tuple[Step, ...],
    steps: Mapping[tuple[str, str], StepTakeoff],
    recipes: Mapping[str, Recipe],
) -> PieceTakeoff:
    """Volume, faces and weight of one copy, from its own steps and from those of `jobs` on it."""
    piece = body.piece
    own = [s for s in piece.sequence if isinstance(s, Step)]
    cast = sum((steps[s.owner, s.name].volume or NOUGHT for s in own if _cast(s, piece.name, steps)), NOUGHT)
    demold = next((n for n, s in enumerate(own) if s.kind is StepKind.DEMOLD), len(own))
    masses = [(s, _mass(s, body, spec, steps)) for s in (*own, *jobs)]
    wet = sum((mass for _, mass in masses[:demold] if mass), NOUGHT)
    dry = wet + sum((mass for _, mass in masses[demold:] if mass), NOUGHT)
    lost = sum((dries_by(s, mass, recipes) for s, mass in masses if mass), NOUGHT)
    measured = measured_value(spec, "mass", piece.name)
    told_volume = measured_value(spec, "volume", piece.name)
    source = "measured" if told_volume is not None else "mesh" if piece.mesh else "shape"
    return PieceTakeoff(
        piece=piece.name,
        volume=told_volume if told_volume is not None else cast or body.volume,
        faces=_faces(body, (*own, *jobs)),
        wet=wet if measured is None else measured,
        dry=dry if measured is None else measured,
        dried=dry - lost if measured is None else measured,
        source=source,
    )


def _cast(step: Step, piece: str, steps: Mapping[tuple[str, str], StepTakeoff]) -> bool:
    """Whether `step` casts something of `piece` itself: a layer on it, or a pour into it."""
    if step.kind not in CAST or (step.owner, step.name) not in steps:
        return False
    return place_of(step)[0] == piece if step.kind is StepKind.POUR else piece in pieces_on(step.on)


def dries_by(step: Step, mass: Fraction, recipes: Mapping[str, Recipe]) -> Fraction:
    """kg of free water that `mass` kg of what `step` cast loses; nothing from what holds no water."""
    recipe = recipes.get(step.material or "") if step.kind in CAST else None
    if recipe is None or not recipe.water_total:
        return NOUGHT
    free = recipe.water_total - BOUND * recipe.binder - HELD * recipe.density
    return max(NOUGHT, free) * mass / recipe.density


def _mass(step: Step, body: Body, spec: Spec, steps: Mapping[tuple[str, str], StepTakeoff]) -> Fraction:
    """kg that `step` leaves in one copy of the piece: layers, pours, scrim and its own inserts. What other
    blocks build into it counts from that step on, with the lifts."""
    piece = body.piece.name
    done = steps.get((step.owner, step.name))
    if done is None:
        return NOUGHT
    if step.kind is StepKind.INSERT and step.owner == piece == base_of(step):
        fitting = spec.fittings.get(step.material or "")
        number = sum((u.net for u in done.uses if u.dimension is Dimension.COUNT), NOUGHT)
        return number * (fitting.weight or NOUGHT) if fitting else NOUGHT
    if done.mass is None:
        return NOUGHT
    if step.kind is StepKind.SCRIM and piece in pieces_on(step.on) and done.area:
        return done.mass * body.area(faces_on(step, piece)) / done.area
    if step.kind in LAID and done.volume:
        return done.mass * body.laid.get((step.owner, step.name), NOUGHT) / done.volume
    if _cast(step, piece, steps):
        return done.mass / (body.copies if step.owner in spec.jobs and step.each is None else 1)
    return NOUGHT


def _faces(body: Body, steps: tuple[Step, ...]) -> dict[str, Fraction]:
    """m2 of every plain face, every group, and every other face that a step names."""
    names = {"all", *body.geometry.primitives("all"), *body.piece.faces}
    for step in steps:
        names |= set(faces_on(step, body.piece.name))
    return {name: body.area((name,)) for name in sorted(names)}
