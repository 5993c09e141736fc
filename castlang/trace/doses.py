"""What each line of a mix comes to on the recipe's own basis: doses, damp, solids, water.

dose.MIX.STOCK    binder.MIX
"""

from collections.abc import Iterator

from castlang.spec.model import DoseKind, Ingredient, Mix, Role, Stock
from castlang.spec.quantity import Dimension
from castlang.takeoff.doses import Dosed, Doses
from castlang.takeoff.recipes import AIR, water_of
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input
from castlang.trace.recipes import (
    ACI,
    LANGUAGE,
    NOUGHT,
    ONE,
    basis_mass,
    doses_on_basis,
    mass_and_density,
    mass_of_doses,
)


def _names(ground: Ground) -> Iterator[str]:
    for mix, recipe in ground.takeoff.recipes.items():
        for line in recipe.lines:
            yield f"dose.{mix}.{line.stock}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    mix, _, stock = rest.partition(".")
    if mix not in ground.takeoff.recipes:
        return None
    told = ground.measured.mixes[mix]
    if kind == "dose" and stock:
        return _dose(ground, name, told, stock)
    return _binder(ground, name, told) if kind == "binder" and not stock else None


DOSES = Subject(names=_names, figure=_figure)


def _dose(ground: Ground, name: str, mix: Mix, stock: str) -> Figure | None:
    line = next((i for i in mix.ingredients if i.stock == stock), None)
    if mix.water is not None and stock == water_of(mix, ground.measured.stocks).name and line is None:
        return _water(ground, name, mix)
    if line is None:
        return None
    if mix.measure is not None:
        return _part(ground, name, mix, line)
    dosed = next(d for d in doses_on_basis(ground, mix).lines if d.ingredient == line)
    formula, inputs = _counted(ground, mix, line, dosed)
    factor, more = _weighed(ground, mix, line)
    return Figure(
        name=name,
        value=dosed.mass,
        dimension=Dimension.MASS,
        says=f"{stock} weighed, {basis(mix)}",
        formula=formula + factor,
        inputs=(*inputs, *more),
        source="ACI 211.1-91 (free moisture)" if line.damp else LANGUAGE,
    )


def basis(mix: Mix) -> str:
    """What the doses of a mix are told for."""
    if any(i.dose.kind in (DoseKind.MASS, DoseKind.VOLUME) for i in mix.ingredients):
        return "for the amounts told"
    return "with one part as 1 kg"


def _counted(ground: Ground, mix: Mix, line: Ingredient, dosed: Dosed) -> tuple[str, tuple[Input, ...]]:
    """What the dose itself counts, before damp and solids."""
    dose = line.dose
    told = f"dose of {line.stock} in {mix.name}"
    match dose.kind:
        case DoseKind.PARTS:
            value = ground.told(told, dose.value, Dimension.COUNT, line.span, word="parts")
            return "n x 1 kg", ground.inputs(("n", value))
        case DoseKind.MASS:
            return "n", ground.inputs(("n", ground.told(told, dose.value, Dimension.MASS, line.span)))
        case DoseKind.VOLUME:
            value = ground.told(told, dose.value, Dimension.VOLUME, line.span)
            return "n rho", ground.inputs(("n", value), ("rho", f"density.{line.stock}"))
        case DoseKind.FILL:
            return "V rho", ground.inputs(
                ("V", _left(ground, mix, line, dosed)), ("rho", f"density.{line.stock}")
            )
        case _:
            share = ground.told(told, dose.value, Dimension.SHARE, line.span)
            return "s B", (
                Input(symbol="s", figure=share),
                Input(symbol="B", figure=_base(ground, mix, line)),
            )


def _left(ground: Ground, mix: Mix, line: Ingredient, dosed: Dosed) -> Figure:
    density = ground.measured.stocks[line.stock].density or ONE
    others = [(o.stock) for o in ground.takeoff.recipes[mix.name].lines if o.stock != line.stock]
    pairs = [pair for other in others for pair in mass_and_density(mix, other)]
    yields = ground.told(f"yield of {mix.name}", mix.yields or NOUGHT, Dimension.VOLUME, mix.span, "yields")
    air = ground.told(
        f"air in {mix.name}", AIR if mix.air is None else mix.air, Dimension.SHARE, mix.span, "air"
    )
    return Figure(
        name=f"what the others leave in {mix.name}",
        value=dosed.dry / density,
        dimension=Dimension.VOLUME,
        formula="V (1 - a) - sum of m / rho, pair by pair",
        inputs=ground.inputs(("V", yields), ("a", air), *pairs),
        source=ACI,
    )


def _base(ground: Ground, mix: Mix, line: Ingredient) -> Figure:
    """What a share is a share of: the binders, another line, the whole mix."""
    of = line.dose.of or ""
    if of == "binder":
        found = ground.find(f"binder.{mix.name}")
    elif of == "mix":
        found = Figure(
            name=f"all of {mix.name}",
            value=mass_of_doses(ground, mix),
            dimension=Dimension.MASS,
            formula="all lines with the added water, this one too: solved together",
            source="the doses are linear equations",
        )
    else:
        found = ground.find(f"dose.{mix.name}.{of}")
    if found is not None and of not in ("binder", "mix"):
        dry = next((d.dry for d in doses_on_basis(ground, mix).lines if d.ingredient.stock == of), None)
        if dry is not None and dry != found.value:
            found = Figure(
                name=f"{of} in {mix.name} as it counts",
                value=dry,
                dimension=Dimension.MASS,
                formula="m without its free water, or its solids alone",
                inputs=ground.inputs(("m", found)),
            )
    if found is None:  # a share of something that leads back to this line
        dosed = doses_on_basis(ground, mix)
        value = sum((d.dry for d in dosed.lines if d.ingredient.stock == of), NOUGHT)
        found = Figure(name=f"{of} in {mix.name}", value=value, dimension=Dimension.MASS)
    return found


def _weighed(ground: Ground, mix: Mix, line: Ingredient) -> tuple[str, tuple[Input, ...]]:
    """From what the dose counts to what goes on the scale."""
    stock = ground.measured.stocks.get(line.stock, Stock(name=line.stock))
    if line.as_solids and stock.solids:
        solids = ground.told(f"solids of {stock.name}", stock.solids, Dimension.SHARE, stock.span, "solids")
        return " / q", ground.inputs(("q", solids))
    if line.damp:
        damp = ground.told(f"damp of {stock.name} in {mix.name}", line.damp, Dimension.SHARE, line.span)
        return " (1 + d)", ground.inputs(("d", damp))
    return "", ()


def _binder(ground: Ground, name: str, mix: Mix) -> Figure:
    binders = [i.stock for i in mix.ingredients if i.role is Role.BINDER]
    return Figure(
        name=name,
        value=doses_on_basis(ground, mix).binder,
        dimension=Dimension.MASS,
        says=f"all binders of {mix.name}, {basis(mix)}",
        formula="sum of m",
        inputs=ground.inputs(*(("m", f"dose.{mix.name}.{stock}") for stock in binders)),
        source=LANGUAGE,
    )


def _part(ground: Ground, name: str, mix: Mix, line: Ingredient) -> Figure:
    by_volume = mix.measure == "volume"
    value = basis_mass(ground, mix, line.stock)
    told = ground.told(
        f"{line.stock} in {mix.name}",
        line.dose.value,
        Dimension.COUNT if line.role is Role.PART else Dimension.SHARE,
        line.span,
        word="parts" if line.role is Role.PART else "",
    )
    inputs = [Input(symbol="n", figure=told)]
    formula = "n x 1 kg"
    if line.role is not Role.PART:
        parts = [i for i in mix.ingredients if i.role is Role.PART]
        formula = "n x the sum of what it is a share of"
        inputs += ground.inputs(*(("m", f"dose.{mix.name}.{i.stock}") for i in parts))
    elif by_volume:
        formula = "n x 1 m3 x rho"
        inputs += ground.inputs(("rho", f"density.{line.stock}"))
    return Figure(
        name=name,
        value=value,
        dimension=Dimension.MASS,
        says=f"{line.stock}, with one part as 1 {'m3' if by_volume else 'kg'}",
        formula=formula,
        inputs=tuple(inputs),
        source="by " + (mix.measure or "mass"),
    )


# ---------------------------------------------------------------- water


def _water(ground: Ground, name: str, mix: Mix) -> Figure | None:
    if mix.water is None:
        return None
    doses = doses_on_basis(ground, mix)
    total = _water_told(ground, mix, doses)
    if not mix.water.total:
        return Figure(
            name=name,
            value=doses.added,
            dimension=Dimension.MASS,
            says=f"water added, {basis(mix)}",
            formula="w",
            inputs=ground.inputs(("w", total)),
            source=LANGUAGE,
        )
    brought = [("b", _brought(ground, mix, d)) for d in doses.lines if d.water]
    return Figure(
        name=name,
        value=doses.added,
        dimension=Dimension.MASS,
        says=f"water added, {basis(mix)}",
        formula="w - sum of b" if brought else "w",
        inputs=ground.inputs(("w", total), *brought),
        source="ACI 211.1-91 (free moisture); ASTM C1602 (water in admixtures counts)",
    )


def _water_told(ground: Ground, mix: Mix, doses: Doses) -> Figure:
    water = mix.water
    if water is None:
        raise ValueError(f"{mix.name} has no water")
    value = doses.water if water.total else doses.added
    name = f"water of {mix.name}, {'in all' if water.total else 'added'}"
    if water.dose.kind is DoseKind.SHARE:
        share = ground.told(f"water told in {mix.name}", water.dose.value, Dimension.SHARE, water.span)
        base = ground.find(f"binder.{mix.name}") if water.dose.of == "binder" else None
        return Figure(
            name=name,
            value=value,
            dimension=Dimension.MASS,
            formula="s B",
            inputs=ground.inputs(("s", share), ("B", base)),
            source=LANGUAGE,
        )
    return ground.told(name, value, Dimension.MASS, water.span)


def _brought(ground: Ground, mix: Mix, dosed: Dosed) -> Figure:
    line = dosed.ingredient
    stock = ground.measured.stocks.get(line.stock, Stock(name=line.stock))
    mass = ground.find(f"dose.{mix.name}.{line.stock}")
    if line.damp and not stock.solids:
        damp = ground.told(f"damp of {stock.name} in {mix.name}", line.damp, Dimension.SHARE, line.span)
        formula, pairs = "m d / (1 + d)", ground.inputs(("m", mass), ("d", damp))
    else:
        solids = ground.told(
            f"solids of {stock.name}", stock.solids or NOUGHT, Dimension.SHARE, stock.span, "solids"
        )
        formula, pairs = "m (1 - q)", ground.inputs(("m", mass), ("q", solids))
    return Figure(
        name=f"water in {line.stock} in {mix.name}",
        value=dosed.water,
        dimension=Dimension.MASS,
        formula=formula,
        inputs=pairs,
        source="ACI 211.1-91; ASTM C1602",
    )
