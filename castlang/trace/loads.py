"""What lifts ask of people, what fittings and stations bear, and two indications.

lift.OWNER.STEP    lift.OWNER.STEP.mass    load.OWNER.STEP.FITTING    shipment.OWNER.STEP
stress.PIECE    head.OWNER.STEP
"""

from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.model import StepKind
from castlang.spec.quantity import Dimension
from castlang.takeoff.bodies import pieces_on
from castlang.takeoff.model import Lift
from castlang.takeoff.statics import GRAVITY
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input
from castlang.trace.steps import called

NOUGHT = Fraction(0)
LIFTING = "DHHS (NIOSH) 94-110, Applications Manual for the Revised NIOSH Lifting Equation, 1994"
ROARK = "Roark's Formulas for Stress and Strain, table 11.4, case 1a"


def _names(ground: Ground) -> Iterator[str]:
    for lift in ground.takeoff.lifts:
        yield f"lift.{lift.step}"
        yield f"lift.{lift.step}.mass"
    for bearing in ground.takeoff.bearings:
        yield f"load.{bearing.step}.{bearing.fitting}"
    for shipment in ground.takeoff.shipments:
        yield f"shipment.{shipment.step}"
    for bending in ground.takeoff.bendings:
        yield f"stress.{bending.piece}"
    for head in ground.takeoff.heads:
        yield f"head.{head.step}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    match kind:
        case "lift":
            return _lift(ground, name, rest)
        case "load":
            return _bearing(ground, name, rest)
        case "shipment":
            return _shipment(ground, name, rest)
        case "stress":
            return _stress(ground, name, rest)
        case "head":
            return _head(ground, name, rest)
        case _:
            return None


LOADS = Subject(names=_names, figure=_figure)


# ---------------------------------------------------------------- lifts and loads


def _lift(ground: Ground, name: str, rest: str) -> Figure | None:
    step_name, which = (rest.removesuffix(".mass"), "mass") if rest.endswith(".mass") else (rest, "")
    lift = next((lift for lift in ground.takeoff.lifts if lift.step == step_name), None)
    if lift is None:
        return None
    if which == "mass":
        return _lifted(ground, name, lift)
    owner, _, step = step_name.partition(".")
    people = ground.told(
        f"people on {step_name}", lift.people, Dimension.COUNT, ground.steps[owner, step].span
    )
    return Figure(
        name=name,
        value=lift.each,
        dimension=Dimension.MASS,
        says="each carries",
        formula="m / n",
        inputs=ground.inputs(("m", f"lift.{step_name}.mass"), ("n", people)),
        source=f"set against {LIFTING}",
    )


def _lifted(ground: Ground, name: str, lift: Lift) -> Figure:
    """The heaviest thing that the step names, with what was placed on it before."""
    thing = lift.things.split(",")[0]
    owner, _, step = lift.step.partition(".")
    demold = ground.steps[owner, step].kind is StepKind.DEMOLD
    own = _weight_of(ground, thing, wet=demold)
    inputs: list[Input] = []
    rest = lift.mass
    if own is not None:
        inputs.append(Input(symbol="m", figure=own))
        rest -= own.number
    if rest > 0:
        above = Figure(
            name=f"what stands on {thing}",
            value=rest,
            dimension=Dimension.MASS,
            source="placed on it by an earlier step, shared by its copies",
        )
        inputs.append(Input(symbol="p", figure=above))
    return Figure(
        name=name,
        value=lift.mass,
        dimension=Dimension.MASS,
        says=f"{lift.things}, in {lift.step}",
        formula=" + ".join(i.symbol for i in inputs),
        inputs=tuple(inputs),
        source="one thing at a time, the heaviest",
    )


def _weight_of(ground: Ground, thing: str, *, wet: bool = False) -> Figure | None:
    if thing in ground.takeoff.pieces:
        return ground.find(f"weight.{thing}.wet" if wet else f"weight.{thing}")
    fitting = ground.measured.fittings.get(thing)
    if fitting is None or fitting.weight is None:
        return None
    return ground.told(f"weight of {thing}", fitting.weight, Dimension.MASS, fitting.span, "weight")


def _bearing(ground: Ground, name: str, rest: str) -> Figure | None:
    bearing = next((b for b in ground.takeoff.bearings if f"{b.step}.{b.fitting}" == rest), None)
    if bearing is None:
        return None
    inputs: list[Input] = []
    for step in ground.steps.values():
        on = step.onto is not None and step.onto.name == bearing.fitting
        for thing in step.things if on else ():
            figure = _weight_of(ground, thing.name)
            inputs += ground.inputs(("m", figure))
            inputs += [
                Input(symbol="w", figure=mass)
                for load in ground.steps.values()
                if load.kind is StepKind.LOAD and thing.name in pieces_on(load.on)
                if (mass := ground.find(f"mass.{called(load)}")) is not None
            ]
    return _sum_with_rest(name, bearing.mass, inputs, f"on {bearing.fitting} in {bearing.step}")


def _sum_with_rest(name: str, value: Fraction, inputs: list[Input], says: str) -> Figure:
    """A sum, and in one figure what else is in it (several copies, what stands on what)."""
    rest = value - sum((i.figure.number for i in inputs), NOUGHT)
    if rest:
        more = Figure(
            name=f"further copies and what stands on them, {says}", value=rest, dimension=Dimension.MASS
        )
        inputs = [*inputs, Input(symbol="r", figure=more)]
    return Figure(
        name=name,
        value=value,
        dimension=Dimension.MASS,
        says=says,
        formula=" + ".join(dict.fromkeys(f"sum of {i.symbol}" for i in inputs)),
        inputs=tuple(inputs),
        source="all that lies on it, water and what stands on that included",
    )


def _shipment(ground: Ground, name: str, step: str) -> Figure | None:
    shipment = next((s for s in ground.takeoff.shipments if s.step == step), None)
    if shipment is None:
        return None
    inputs = [
        i for thing in shipment.things.split(", ") for i in ground.inputs(("m", _weight_of(ground, thing)))
    ]
    return _sum_with_rest(name, shipment.mass, inputs, f"moved at once in {step}")


# ---------------------------------------------------------------- indications


def _stress(ground: Ground, name: str, piece: str) -> Figure | None:
    bending = next((b for b in ground.takeoff.bendings if b.piece == piece), None)
    if bending is None:
        return None
    gravity = Figure(
        name="standard gravity", value=GRAVITY, word="m/s2", source="9.80665 m/s2, by definition"
    )
    sizes = [
        ("L", Figure(name=f"span of {piece}", value=bending.span, dimension=Dimension.LENGTH)),
        ("t", Figure(name=f"thickness of {piece}", value=bending.thick, dimension=Dimension.LENGTH)),
    ]
    return Figure(
        name=name,
        value=bending.stress,
        dimension=Dimension.PRESSURE,
        says=f"{piece} lying flat on its two ends, an indication only",
        formula="3/4 (m / V) g L^2 / t",
        inputs=ground.inputs(("m", f"weight.{piece}.wet"), ("V", f"volume.{piece}"), ("g", gravity), *sizes),
        source=ROARK,
    )


def _head(ground: Ground, name: str, step: str) -> Figure | None:
    head = next((h for h in ground.takeoff.heads if h.step == step), None)
    if head is None:
        return None
    owner, _, word = step.partition(".")
    mix = ground.steps[owner, word].material
    gravity = Figure(
        name="standard gravity", value=GRAVITY, word="m/s2", source="9.80665 m/s2, by definition"
    )
    depth = Figure(name=f"depth of {step}", value=head.depth, dimension=Dimension.LENGTH)
    return Figure(
        name=name,
        value=head.pressure,
        dimension=Dimension.PRESSURE,
        says=f"on the foot of the mold in {step}, while liquid",
        formula="rho g h",
        inputs=ground.inputs(("rho", f"density.{mix}"), ("g", gravity), ("h", depth)),
        source="hydrostatics",
    )
