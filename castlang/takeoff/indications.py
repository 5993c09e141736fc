"""What a thin piece and a filled mold bear, for an indication that defers to an engineer."""

from collections.abc import Mapping
from fractions import Fraction

from castlang.spec.model import Piece, Spec, Step, StepKind
from castlang.takeoff.bodies import Body
from castlang.takeoff.model import Bending, Head, PieceTakeoff, Recipe, StepTakeoff
from castlang.takeoff.shapes import sizes_of
from castlang.takeoff.statics import head_pressure, own_weight, strip_stress

FLAT = ("slab", "panel")
THIN = 10


def bendings_of(
    spec: Spec, pieces: Mapping[str, PieceTakeoff], bodies: Mapping[str, Body]
) -> tuple[Bending, ...]:
    """Every plain thin piece, lying flat on its two ends as it comes out of its mold."""
    found = []
    for name, body in bodies.items():
        sides = _sides(spec.pieces[name], body)
        if sides is None or not pieces[name].volume:
            continue
        span, thick = sides
        load = own_weight(pieces[name].wet / pieces[name].volume, thick)
        if 0 < thick * THIN <= span and load:
            stress = strip_stress(load, span, thick)
            found.append(Bending(piece=name, span=span, thick=thick, stress=stress))
    return tuple(found)


def _sides(piece: Piece, body: Body) -> tuple[Fraction, Fraction] | None:
    """The longer side and the thickness of a flat piece, m; of a shell the thickness of its layers."""
    if piece.shape is None or piece.shape.kind not in FLAT:
        return None
    sizes = sizes_of(piece.shape)
    span = max(sizes.get(word, Fraction(0)) for word in ("long", "wide", "high"))
    return span, sizes.get("thick") or body.thick.get("front", Fraction(0))


def heads_of(
    spec: Spec, steps: Mapping[tuple[str, str], StepTakeoff], recipes: Mapping[str, Recipe]
) -> tuple[Head, ...]:
    """Every pour into a mold, as a liquid of its density to its whole depth, lift by lift."""
    found = []
    for owner in spec.owners():
        for step in owner.sequence:
            if not isinstance(step, Step) or step.kind is not StepKind.POUR:
                continue
            done, recipe = steps.get((step.owner, step.name)), recipes.get(step.material or "")
            depth = max((part.depth or Fraction(0) for part in done.parts), default=0) if done else 0
            if recipe is not None and depth:
                pressure = head_pressure(recipe.density, Fraction(depth))
                found.append(Head(step=f"{step.owner}.{step.name}", depth=Fraction(depth), pressure=pressure))
    return tuple(found)
