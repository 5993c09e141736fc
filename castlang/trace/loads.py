"""What lifts ask of people, what fittings and stations bear, and two indications.

lift.OWNER.STEP    lift.OWNER.STEP.mass    load.OWNER.STEP.FITTING    shipment.OWNER.STEP
stress.PIECE    head.OWNER.STEP
"""

from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.model import Step, StepKind
from castlang.spec.quantity import Dimension
from castlang.takeoff.bodies import pieces_on
from castlang.takeoff.inserts import number_in_all, number_in_one
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
    if lift.hoist is not None:
        return _hung(ground, name, lift, lift.hoist)
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


def _hung(ground: Ground, name: str, lift: Lift, station: str) -> Figure:
    """What a station carries asks nothing of people."""
    return Figure(
        name=name,
        value=lift.mass,
        dimension=Dimension.MASS,
        says=f"on {station}: nobody carries",
        formula="m",
        inputs=ground.inputs(("m", f"lift.{lift.step}.mass")),
        source="a station that lifts it, or on which it stands already",
    )


def _lifted(ground: Ground, name: str, lift: Lift) -> Figure:
    """The heaviest thing that the step names, with what was placed on it before and built into it."""
    thing = lift.things.split(",")[0]
    owner, _, step = lift.step.partition(".")
    demold = ground.steps[owner, step].kind is StepKind.DEMOLD
    own = _weight_of(ground, thing, wet=demold)
    inputs: list[Input] = []
    rest = lift.mass
    if own is not None:
        inputs.append(Input(symbol="m", figure=own))
        rest -= own.number
    told = ground.steps[owner, step]
    for figure in (*_built_into(ground, thing, told, one=True), *_built_into_above(ground, thing, told)):
        if figure.number <= rest:
            inputs.append(Input(symbol="i", figure=figure))
            rest -= figure.number
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


def _built_into_above(ground: Ground, thing: str, step: Step) -> list[Figure]:
    """kg that inserts leave in what was placed on a thing before `step`, and on that in its turn."""
    above, waiting = {thing}, [thing]
    found: list[Figure] = []
    while waiting:
        for placing in ground.placings.on_before(waiting.pop(0), step):
            for name in (ref.name for ref in placing.things if ref.name not in above):
                above.add(name)
                waiting.append(name)
                found += _built_into(ground, name, step)
    return found


def _built_into(ground: Ground, thing: str, step: Step | None, *, one: bool = False) -> list[Figure]:
    """kg that inserts of other blocks leave in all copies of a thing, or in the one that has most; as counted
    in `step`, where one is told."""
    found = []
    for insert in ground.placings.into(thing, step):
        each = _weight_of(ground, insert.material or "")
        if each is None:
            continue
        whole = number_in_all(insert, ground.measured)
        counted = number_in_one(insert, ground.measured) if one else whole
        most = f" in the one {thing} that has most" if counted < whole else ""
        count = ground.told(f"number in {called(insert)}{most}", counted, Dimension.COUNT, insert.span)
        found.append(
            Figure(
                name=f"weight of {called(insert)}",
                value=each.number * counted,
                dimension=Dimension.MASS,
                says=f"built into {thing}",
                formula="n m",
                inputs=ground.inputs(("n", count), ("m", each)),
            )
        )
    return found


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
    things = {bearing.fitting: None}
    for step in ground.steps.values():
        on = step.kind is StepKind.PLACE and step.onto is not None and step.onto.name == bearing.fitting
        for thing in step.things if on else ():
            figure = _weight_of(ground, thing.name)
            inputs += ground.inputs(("m", figure))
            inputs += [
                Input(symbol="w", figure=mass)
                for load in ground.steps.values()
                if load.kind is StepKind.LOAD and thing.name in pieces_on(load.on)
                if (mass := ground.find(f"mass.{called(load)}")) is not None
            ]
            things[thing.name] = None
    built_in = [figure for thing in things for figure in _built_into(ground, thing, None)]
    inputs += [Input(symbol="i", figure=figure) for figure in built_in]
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
    owner, _, word = step.partition(".")
    inputs: list[Input] = []
    rest, told = shipment.mass, ground.steps[owner, word]
    for thing in shipment.things.split(", "):
        inputs += ground.inputs(("m", _weight_of(ground, thing)))
        for figure in (*_built_into(ground, thing, told), *_built_into_above(ground, thing, told)):
            if figure.number <= rest:
                inputs.append(Input(symbol="i", figure=figure))
                rest -= figure.number
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
