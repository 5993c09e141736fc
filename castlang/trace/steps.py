"""What a step lies on, takes and lasts, for one doing of it.

surface.OWNER.STEP    volume.OWNER.STEP    mass.OWNER.STEP    minutes.OWNER.STEP[.PART]
use.OWNER.STEP.STOCK    waste.OWNER.STEP
"""

from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.films import film_coats, wet_film
from castlang.spec.model import Mix, Step, StepKind, Stock
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff.bodies import LAID, faces_on, pieces_on, primitives_of
from castlang.takeoff.model import StepTakeoff
from castlang.takeoff.pours import place_of, pours_of
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input

NOUGHT, ONE = Fraction(0), Fraction(1)
SPREAD = "identity of spreading rates"


def _names(ground: Ground) -> Iterator[str]:
    for (owner, step), taken in ground.takeoff.steps.items():
        name = f"{owner}.{step}"
        if taken.area is not None:
            yield f"surface.{name}"
        if taken.volume is not None:
            yield f"volume.{name}"
        if taken.mass is not None:
            yield f"mass.{name}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, named = name.partition(".")
    key, _ = ground.step_key(named)
    taken, step = ground.takeoff.steps.get(key), ground.steps.get(key)
    if taken is None or step is None:
        return None
    match kind:
        case "surface":
            return _surface(ground, name, step, taken)
        case "volume":
            return _volume(ground, name, step, taken)
        case "mass":
            return _mass(ground, name, step, taken)
        case _:
            return None


STEPS = Subject(names=_names, figure=_figure)


def called(step: Step) -> str:
    """How the shop calls a stock, mix or fitting."""
    return f"{step.owner}.{step.name}"


def amount_figure(ground: Ground, step: Step, amount: Quantity) -> Figure:
    """What the step's line says."""
    return ground.told(
        f"amount of {called(step)}", amount.si, amount.dimension, step.span, word=amount.word or ""
    )


# ---------------------------------------------------------------- where it lies


def _surface(ground: Ground, name: str, step: Step, taken: StepTakeoff) -> Figure | None:
    if taken.area is None:
        return None
    pairs: list[tuple[str, Figure | str | None]] = []
    several = False
    for piece in pieces_on(step.on):
        copies = _times(ground, step, piece)
        faces = faces_on(step, piece)
        body = ground.body(piece)
        single = faces if len(faces) == 1 or body is None else primitives_of(body.geometry, faces)
        for face in single:
            pairs.append(("A", f"area.{piece}.{face}"))
        if copies is not None:
            several = True
            pairs.append(("n", copies))
    return Figure(
        name=name,
        value=taken.area,
        dimension=Dimension.AREA,
        says=f"what {called(step)} lies on",
        formula="sum of A, times n copies" if several else "sum of A",
        inputs=ground.inputs(*pairs),
        source="each spot once",
    )


def _times(ground: Ground, step: Step, piece: str) -> Figure | None:
    """The copies of a piece that one doing covers, where a job does them all; else None."""
    if step.owner not in ground.spec.jobs or step.each is not None:
        return None
    told = ground.spec.pieces[piece]
    copies = told.count + told.mirrored
    if copies == 1:
        return None
    return ground.told(f"copies of {piece}", copies, Dimension.COUNT, told.span, "make")


# ---------------------------------------------------------------- how much of its material


def _volume(ground: Ground, name: str, step: Step, taken: StepTakeoff) -> Figure | None:
    if taken.volume is None:
        return None
    if step.kind in LAID:
        formula, inputs = _laid(ground, step, taken)
    elif step.kind is StepKind.POUR:
        formula, inputs = _poured(ground, step, taken)
    elif step.kind is StepKind.LOAD:
        formula, inputs = _loaded(ground, step)
    else:
        formula, inputs = _coats(ground, step, taken)
    return Figure(
        name=name,
        value=taken.volume,
        dimension=Dimension.VOLUME,
        says=f"{step.material} in {called(step)}, without waste",
        formula=formula,
        inputs=inputs,
        source=SPREAD if step.kind in (StepKind.PASS, StepKind.RELEASE) else "plane and solid geometry",
    )


def _laid(ground: Ground, step: Step, taken: StepTakeoff) -> tuple[str, tuple[Input, ...]]:
    if step.amount is None or taken.volume is None:
        return "", ()
    thick = amount_figure(ground, step, step.amount)
    surface = ground.find(f"surface.{called(step)}")
    inputs = list(ground.inputs(("A", surface), ("e", thick)))
    flat = (taken.area or NOUGHT) * step.amount.si
    if flat != taken.volume:
        inputs.append(
            Input(
                symbol="k",
                figure=Figure(
                    name=f"corners of {called(step)}",
                    value=taken.volume - flat,
                    dimension=Dimension.VOLUME,
                    formula="layers with it, less layers without it, less A e",
                    source="what meets in a corner, or under an earlier layer there, is counted once",
                ),
            )
        )
        return "A e + k", tuple(inputs)
    return "A e", tuple(inputs)


def _poured(ground: Ground, step: Step, taken: StepTakeoff) -> tuple[str, tuple[Input, ...]]:
    piece, cut = place_of(step)
    place = f"cavity.{piece}.{cut}" if cut is not None else f"body.{piece}"
    times = _times(ground, step, piece)
    tail = " x n copies" if times is not None else ""
    more: list[tuple[str, Figure | str | None]] = [("n", times)]
    if step.full:
        others = [("v", f"volume.{called(other)}") for other in _before(ground, step)]
        formula = "V - sum of v" if others else "V"
        return formula + tail, ground.inputs(("V", place), *others, *more)
    if step.amount is None:
        return "", ()
    told = amount_figure(ground, step, step.amount)
    if step.amount.dimension is Dimension.LENGTH:
        return "V h / H" + tail, ground.inputs(
            ("V", place), ("h", told), ("H", _depth(ground, piece, cut)), *more
        )
    if step.amount.dimension is Dimension.MASS:
        return "m / rho" + tail, ground.inputs(("m", told), ("rho", f"density.{step.material}"), *more)
    return "v" + tail, ground.inputs(("v", told), *more)


def _depth(ground: Ground, piece: str, cut: str | None) -> Figure | None:
    body = ground.body(piece)
    if body is None:
        return None
    deep = body.geometry.depth() if cut is None else body.geometry.cavity(cut).depth
    return Figure(
        name=f"depth of {cut or piece}", value=deep, dimension=Dimension.LENGTH, source="as it is poured"
    )


def _before(ground: Ground, step: Step) -> list[Step]:
    """What takes room in the same place: layers in a body, and pours told by amount."""
    place = place_of(step)
    found = [other for other in pours_of(ground.measured).get(place, ()) if not other.full]
    if place[1] is None:
        found += [o for o in ground.steps.values() if o.kind in LAID and place[0] in pieces_on(o.on)]
    return [other for other in found if called(other) != called(step)]


def _loaded(ground: Ground, step: Step) -> tuple[str, tuple[Input, ...]]:
    told = None if step.amount is None else amount_figure(ground, step, step.amount)
    if step.amount is not None and step.amount.dimension is Dimension.MASS:
        return "m / rho", ground.inputs(("m", told), ("rho", f"density.{step.material}"))
    if step.amount is not None and step.amount.dimension is Dimension.VOLUME:
        return "v", ground.inputs(("v", told))
    sizes: list[tuple[str, Figure | str | None]] = []
    for piece in pieces_on(step.on):
        shape = ground.measured.pieces[piece].shape
        if shape is not None:
            sizes += [
                (word, ground.told(f"{piece} {word}", size, Dimension.LENGTH, shape.span))
                for word, size in shape.sizes.items()
            ]
    formula = "inside of it from the floor up to h" if told else "inside of it to the rim"
    return formula, ground.inputs(("h", told), *sizes)


def _coats(ground: Ground, step: Step, taken: StepTakeoff) -> tuple[str, tuple[Input, ...]]:
    """A pass or a release: by coverage, by mass or volume an area, or by its film."""
    material = material_of(ground, step)
    surface = f"surface.{called(step)}"
    number = Figure(
        name=f"coats of {called(step)}", value=Fraction(len(taken.parts)), says="coats", source="the step"
    )
    if step.amount is not None:
        told = amount_figure(ground, step, step.amount)
        match step.amount.dimension:
            case Dimension.AREAL_MASS:
                return "A a / rho", ground.inputs(
                    ("A", surface), ("a", told), ("rho", f"density.{step.material}")
                )
            case Dimension.FILM:
                return "A f", ground.inputs(("A", surface), ("f", told))
            case Dimension.LENGTH:
                return _film(ground, step, material, told)
            case Dimension.MASS:
                return "m / rho", ground.inputs(("m", told), ("rho", f"density.{step.material}"))
            case Dimension.VOLUME:
                return "v", ground.inputs(("v", told))
            case _:
                number = told
    covers = None
    if material is not None and material.covers is not None:
        covers = ground.told(
            f"covers of {material.name}", material.covers, Dimension.COVERAGE, material.span, "covers"
        )
    return "n A / c", ground.inputs(("n", number), ("A", surface), ("c", covers))


def _film(
    ground: Ground, step: Step, material: Mix | Stock | None, told: Figure
) -> tuple[str, tuple[Input, ...]]:
    surface = f"surface.{called(step)}"
    if material is None or wet_film(step, material) is None or step.wet is not False:
        return "A e", ground.inputs(("A", surface), ("e", told))
    solids = ground.told(
        f"volume solids of {material.name}",
        material.volume_solids or ONE,
        Dimension.SHARE,
        material.span,
        "volume-solids",
    )
    coats = Figure(
        name=f"coats of {called(step)}", value=Fraction(film_coats(step, material)), source="by `thick`"
    )
    return "A e / q, in n coats", ground.inputs(("A", surface), ("e", told), ("q", solids), ("n", coats))


def material_of(ground: Ground, step: Step) -> Mix | Stock | None:
    """The stock or mix that a step uses, if any."""
    name = step.material or ""
    return ground.measured.mixes.get(name) or ground.measured.stocks.get(name)


def _mass(ground: Ground, name: str, step: Step, taken: StepTakeoff) -> Figure | None:
    if taken.mass is None:
        return None
    told_by_mass = step.amount is not None and step.amount.dimension in (
        Dimension.MASS,
        Dimension.AREAL_MASS,
    )
    if step.kind is StepKind.SCRIM:
        cloth = ground.find(f"use.{called(step)}.{step.material}")
        stock = ground.measured.stocks.get(step.material or "")
        weight = None
        if stock is not None and stock.areal is not None:
            weight = ground.told(
                f"weight of {stock.name}", stock.areal, Dimension.AREAL_MASS, stock.span, "weight"
            )
        formula = "A a / (1 + w)"
        pairs = ground.inputs(("A", cloth), ("a", weight), ("w", f"waste.{called(step)}"))
    elif told_by_mass and step.amount is not None and step.kind is not StepKind.POUR:
        told = amount_figure(ground, step, step.amount)
        surface = f"surface.{called(step)}"
        areal = step.amount.dimension is Dimension.AREAL_MASS
        formula = "A a" if areal else "m"
        pairs = ground.inputs(("A", surface), ("a", told)) if areal else ground.inputs(("m", told))
    else:
        formula = "V rho"
        pairs = ground.inputs(("V", f"volume.{called(step)}"), ("rho", f"density.{step.material}"))
    return Figure(
        name=name,
        value=taken.mass,
        dimension=Dimension.MASS,
        says=f"{step.material} in {called(step)}, without waste",
        formula=formula,
        inputs=pairs,
        source="arithmetic",
    )
