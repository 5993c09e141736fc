"""What a step takes from the stores, with its waste, for one doing of it.

use.OWNER.STEP.STOCK    waste.OWNER.STEP
"""

from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.model import Step, StepKind, Stock
from castlang.spec.quantity import Dimension
from castlang.takeoff.model import StepTakeoff, Use
from castlang.takeoff.uses import sold_by
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input
from castlang.trace.steps import NOUGHT, ONE, called, material_of


def _names(ground: Ground) -> Iterator[str]:
    for (owner, step), taken in ground.takeoff.steps.items():
        for use in taken.uses:
            yield f"use.{owner}.{step}.{use.stock}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, named = name.partition(".")
    if kind not in ("use", "waste"):
        return None
    key, rest = ground.step_key(named)
    taken, step = ground.takeoff.steps.get(key), ground.steps.get(key)
    if taken is None or step is None:
        return None
    return waste_figure(ground, name, step) if kind == "waste" else _use(ground, name, step, taken, rest)


USES = Subject(names=_names, figure=_figure)


def waste_figure(ground: Ground, name: str, step: Step) -> Figure:
    """The waste of a step: its own, else its material's, else the build's."""
    material = material_of(ground, step)
    if step.waste is not None:
        return ground.told(name, step.waste, Dimension.SHARE, step.span)
    if step.kind is StepKind.LOAD:
        return Figure(name=name, value=NOUGHT, dimension=Dimension.SHARE, source="a load is not used up")
    if material is not None and material.waste is not None:
        return ground.told(name, material.waste, Dimension.SHARE, material.span, "waste")
    build = ground.spec.build
    return ground.told(name, build.waste or NOUGHT, Dimension.SHARE, build.span, "waste")


def _use(ground: Ground, name: str, step: Step, taken: StepTakeoff, stock: str) -> Figure | None:
    use = next((use for use in taken.uses if use.stock == stock), None)
    if use is None:
        return None
    formula, inputs = _use_from(ground, step, use)
    return Figure(
        name=name,
        value=use.gross,
        dimension=use.dimension,
        word="pieces" if use.dimension is Dimension.COUNT else "",
        says=f"{stock} for one {called(step)}, with waste",
        formula=formula,
        inputs=inputs,
        source="waste is added once, where the material is used",
    )


def _use_from(ground: Ground, step: Step, use: Use) -> tuple[str, tuple[Input, ...]]:
    waste = f"waste.{called(step)}"
    if step.kind is StepKind.INSERT:
        count = step.amount.si if step.amount is not None else ONE
        return "n", ground.inputs(
            ("n", ground.told(f"number in {called(step)}", count, Dimension.COUNT, step.span))
        )
    if step.kind is StepKind.SCRIM:
        return _cloth(ground, step)
    mix = ground.measured.mixes.get(step.material or "")
    stock = ground.measured.stocks.get(use.stock, Stock(name=use.stock))
    by = sold_by(stock) or use.dimension
    if mix is None:
        by_volume = ground.takeoff.steps[step.owner, step.name].volume is not None
        if use.dimension is Dimension.MASS and by_volume and by is Dimension.MASS:
            return "m (1 + w)", ground.inputs(("m", f"mass.{called(step)}"), ("w", waste))
        what = "volume" if use.dimension is Dimension.VOLUME else "mass"
        return "x (1 + w)", ground.inputs(("x", f"{what}.{called(step)}"), ("w", waste))
    inputs: list[tuple[str, Figure | str | None]] = [
        ("V", f"volume.{called(step)}"),
        ("c", f"mix.{mix.name}.{use.stock}"),
        ("w", waste),
    ]
    measured_by = Dimension.VOLUME if mix.measure == "volume" else Dimension.MASS
    if ground.find(f"mix.{mix.name}.{use.stock}") is None:
        parts = [s.name for s in ground.measured.stocks.values() if s.kit and s.kit.name == use.stock]
        pairs = [("c", f"mix.{mix.name}.{part}") for part in parts]
        return "the kits that V (1 + w) c takes of the part that runs out first", ground.inputs(
            ("V", f"volume.{called(step)}"), *pairs, ("w", waste)
        )
    if use.dimension is measured_by:
        return "V c (1 + w)", ground.inputs(*inputs)
    density = ("rho", f"density.{use.stock}")
    turn = "V c (1 + w) / rho" if use.dimension is Dimension.VOLUME else "V c (1 + w) rho"
    return turn, ground.inputs(*inputs, density)


def _cloth(ground: Ground, step: Step) -> tuple[str, tuple[Input, ...]]:
    layers = step.amount.si if step.amount is not None else ONE
    told = ground.told(f"layers in {called(step)}", layers, Dimension.COUNT, step.span, word="layers")
    shop = ground.spec.defaults.get("laps")
    laps = step.laps if step.laps is not None else shop.si if shop is not None else Fraction(5, 100)
    named = f"laps of {called(step)}"
    lap = (
        ground.told(named, laps, Dimension.LENGTH, step.span)
        if step.laps is not None
        else Figure(name=named, value=laps, dimension=Dimension.LENGTH, source="the shop's default")
    )
    return "A n (1 + l / 1 m) (1 + w)", ground.inputs(
        ("A", f"surface.{called(step)}"), ("n", told), ("l", lap), ("w", f"waste.{called(step)}")
    )
