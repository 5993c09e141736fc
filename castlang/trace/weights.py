"""What pieces weigh, what lifts ask of people, what fittings and stations bear.

weight.PIECE    weight.PIECE.wet    weight.PIECE.dried    weight.PIECE.all
lift.OWNER.STEP    lift.OWNER.STEP.mass    load.OWNER.STEP.FITTING    shipment.OWNER.STEP
stress.PIECE    head.OWNER.STEP
"""

from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.model import Step, StepKind
from castlang.spec.quantity import Dimension
from castlang.takeoff.bodies import LAID, pieces_on
from castlang.takeoff.inserts import base_of
from castlang.takeoff.model import PieceTakeoff
from castlang.takeoff.pieces import BOUND, CAST, HELD, dries_by
from castlang.takeoff.pours import place_of
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input
from castlang.trace.steps import called

NOUGHT = Fraction(0)
DRYING = 'Concrete Society, "Water held in concrete"; A. M. Neville, Properties of Concrete'


def _names(ground: Ground) -> Iterator[str]:
    for piece in ground.takeoff.pieces:
        yield f"weight.{piece}"
        for word in ("wet", "dried", "all"):
            yield f"weight.{piece}.{word}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    piece, _, which = rest.partition(".")
    taken = ground.takeoff.pieces.get(piece) if kind == "weight" else None
    return None if taken is None else _weight(ground, name, taken, which)


WEIGHTS = Subject(names=_names, figure=_figure)


# ---------------------------------------------------------------- pieces


def _weight(ground: Ground, name: str, taken: PieceTakeoff, which: str) -> Figure | None:
    piece = taken.piece
    line = ground.measured_line("mass", piece)
    if which == "all":
        copies = ground.spec.pieces[piece]
        number = copies.count + copies.mirrored
        told = ground.told(f"copies of {piece}", number, Dimension.COUNT, copies.span, "make")
        return Figure(
            name=name,
            value=taken.dry * number,
            dimension=Dimension.MASS,
            says=f"all copies of {piece}",
            formula="m n",
            inputs=ground.inputs(("m", f"weight.{piece}"), ("n", told)),
        )
    if which not in ("", "wet", "dried"):
        return None
    if line is not None:
        return ground.said(name, line)
    if which == "dried":
        return _dried(ground, name, taken)
    own = [s for s in ground.steps.values() if s.owner == piece]
    demold = next((n for n, s in enumerate(own) if s.kind is StepKind.DEMOLD), len(own))
    jobs = [s for s in ground.steps.values() if s.owner in ground.spec.jobs]
    counted = own[:demold] if which == "wet" else [*own, *jobs]
    parts = [("m", part) for step in counted if (part := left_by(ground, step, piece)) is not None]
    return Figure(
        name=name,
        value=taken.wet if which == "wet" else taken.dry,
        dimension=Dimension.MASS,
        says=f"one {piece} as it leaves the mold" if which == "wet" else f"one {piece}, finished, at most",
        formula="sum of m",
        inputs=ground.inputs(*parts),
        source="layers, pours, scrim and its own inserts; coats count nowhere",
    )


def left_by(ground: Ground, step: Step, piece: str) -> Figure | None:
    """kg that `step` leaves in one copy of `piece`; None for what leaves nothing that is weighed."""
    taken = ground.takeoff.steps.get((step.owner, step.name))
    if taken is None:
        return None
    if step.kind is StepKind.INSERT and step.owner == piece == base_of(step):
        fitting = ground.measured.fittings.get(step.material or "")
        if fitting is None or fitting.weight is None:
            return None
        each = ground.told(
            f"weight of {fitting.name}", fitting.weight, Dimension.MASS, fitting.span, "weight"
        )
        number = sum((use.net for use in taken.uses if use.dimension is Dimension.COUNT), NOUGHT)
        count = ground.told(f"number in {called(step)}", number, Dimension.COUNT, step.span)
        return Figure(
            name=f"weight of {called(step)}",
            value=number * fitting.weight,
            dimension=Dimension.MASS,
            formula="n m",
            inputs=ground.inputs(("n", count), ("m", each)),
        )
    here = _lies_in(step, piece)
    if taken.mass is None or not here:
        return None
    whole = ground.find(f"mass.{called(step)}")
    if step.owner == piece or whole is None:
        return whole
    return _of_one(ground, step, piece, whole)


def _lies_in(step: Step, piece: str) -> bool:
    if step.kind is StepKind.POUR:
        return place_of(step)[0] == piece
    return step.kind in (*LAID, StepKind.SCRIM) and piece in pieces_on(step.on)


def _of_one(ground: Ground, step: Step, piece: str, whole: Figure) -> Figure:
    """What a job leaves in one copy: it does all copies at once."""
    told = ground.spec.pieces[piece]
    copies = told.count + told.mirrored if step.each is None else 1
    body = ground.body(piece)
    value = whole.number / copies
    if step.kind in LAID and body is not None:
        volume = ground.takeoff.steps[step.owner, step.name].volume
        value = whole.number * body.laid.get((step.owner, step.name), NOUGHT) / (volume or 1)
    if copies == 1 and value == whole.value:
        return whole
    number = ground.told(f"copies of {piece}", copies, Dimension.COUNT, told.span, "make")
    return Figure(
        name=f"{called(step)} in one {piece}",
        value=value,
        dimension=Dimension.MASS,
        formula="m / n",
        inputs=ground.inputs(("m", whole), ("n", number)),
    )


def _dried(ground: Ground, name: str, taken: PieceTakeoff) -> Figure:
    lost = []
    for step in ground.steps.values():
        if step.kind not in CAST or not _lies_in(step, taken.piece):
            continue
        left = left_by(ground, step, taken.piece)
        if left is None:
            continue
        water = dries_by(step, left.number, ground.takeoff.recipes)
        if water:
            lost.append(("w", _lost(ground, step, left, water)))
    return Figure(
        name=name,
        value=taken.dried,
        dimension=Dimension.MASS,
        says=f"one {taken.piece}, dried out, about",
        formula="m - sum of w",
        inputs=ground.inputs(("m", f"weight.{taken.piece}"), *lost),
        source=DRYING,
    )


def _lost(ground: Ground, step: Step, left: Figure, water: Fraction) -> Figure:
    recipe = ground.takeoff.recipes[step.material or ""]
    per = [
        ("W", "water in all", recipe.water_total),
        ("B", "binder", recipe.binder),
        ("M", "all", recipe.density),
    ]
    inputs = [
        Input(
            symbol=symbol,
            figure=Figure(name=f"{says} in a m3 of {recipe.mix}", value=value, dimension=Dimension.DENSITY),
        )
        for symbol, says, value in per
    ]
    return Figure(
        name=f"water that dries out of {called(step)}",
        value=water,
        dimension=Dimension.MASS,
        formula=f"m (W - {float(BOUND):g} B - {float(HELD):g} M) / M",
        inputs=(*inputs, Input(symbol="m", figure=left)),
        source=DRYING,
    )
