"""Mixes: what each line comes to on the recipe's own basis, the volume that this makes, and kg in a m3.

dose.MIX.STOCK    yield.MIX    mix.MIX.STOCK    density.MIX    density.STOCK
"""

from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.model import DoseKind, Mix, Role
from castlang.spec.quantity import Dimension
from castlang.takeoff.doses import Doses, doses_of
from castlang.takeoff.model import Recipe
from castlang.takeoff.recipes import AIR, WATER_DENSITY, water_of
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure

ACI = "absolute volumes: ACI 211.1-91"
LANGUAGE = "the language's rules"
NOUGHT, ONE = Fraction(0), Fraction(1)


def _names(ground: Ground) -> Iterator[str]:
    for mix, recipe in ground.takeoff.recipes.items():
        yield f"density.{mix}"
        yield f"yield.{mix}"
        for line in recipe.lines:
            yield f"mix.{mix}.{line.stock}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    mix, _, stock = rest.partition(".")
    if kind == "density" and not stock:
        return _density(ground, name, mix)
    if mix not in ground.takeoff.recipes:
        return None
    if kind == "yield" and not stock:
        return _yield(ground, name, ground.measured.mixes[mix])
    if kind == "mix" and stock:
        return _in_a_cubic_metre(ground, name, mix, stock)
    return None


RECIPES = Subject(names=_names, figure=_figure)


# ---------------------------------------------------------------- densities


def _density(ground: Ground, name: str, thing: str) -> Figure | None:
    line = ground.measured_line("density", thing)
    if line is not None:
        return ground.said(name, line)
    recipe = ground.takeoff.recipes.get(thing)
    if recipe is not None:
        return _density_of_mix(ground, name, recipe)
    stock = ground.measured.stocks.get(thing)
    if stock is not None and stock.density is not None:
        return ground.told(name, stock.density, Dimension.DENSITY, stock.span, "density")
    used = any(line.stock == thing for r in ground.takeoff.recipes.values() for line in r.lines)
    if not used:
        return None
    return Figure(
        name=name,
        value=WATER_DENSITY,
        dimension=Dimension.DENSITY,
        source="handbook value, water at 20 degC (998.2 kg/m3); taken for granted",
    )


def _density_of_mix(ground: Ground, name: str, recipe: Recipe) -> Figure:
    mix = ground.measured.mixes[recipe.mix]
    if mix.density is not None:
        return ground.told(name, recipe.density, Dimension.DENSITY, mix.span, "density")
    parts = [("m", f"dose.{mix.name}.{line.stock}") for line in recipe.lines]
    return Figure(
        name=name,
        value=recipe.density,
        dimension=Dimension.DENSITY,
        says=f"{mix.name} as placed",
        formula="(sum of m) / V",
        inputs=ground.inputs(*parts, ("V", f"yield.{mix.name}")),
        source=ACI if mix.measure is None else "parts keep their volume",
    )


# ---------------------------------------------------------------- the volume that the doses make


def _yield(ground: Ground, name: str, mix: Mix) -> Figure:
    recipe = ground.takeoff.recipes[mix.name]
    mass = mass_of_doses(ground, mix)
    volume = mass / recipe.density
    masses = [("m", f"dose.{mix.name}.{line.stock}") for line in recipe.lines]
    if recipe.density_from != "recipe" and not _told_yield(mix):
        return Figure(
            name=name,
            value=volume,
            dimension=Dimension.VOLUME,
            says=f"what the doses of {mix.name} make",
            formula="(sum of m) / rho",
            inputs=ground.inputs(*masses, ("rho", f"density.{mix.name}")),
            source="the told or measured density stands before the computed one",
        )
    if _told_yield(mix) and mix.yields is not None:
        return ground.told(name, mix.yields, Dimension.VOLUME, mix.span, "yields")
    pairs = [pair for line in recipe.lines for pair in mass_and_density(mix, line.stock)]
    if mix.measure is not None:
        return Figure(
            name=name,
            value=volume,
            dimension=Dimension.VOLUME,
            says=f"what the parts of {mix.name} make",
            formula="sum of m / rho, pair by pair",
            inputs=ground.inputs(*pairs),
            source="parts keep their volume",
        )
    air = AIR if mix.air is None else mix.air
    told = ground.told(f"air in {mix.name}", air, Dimension.SHARE, mix.span, "air")
    return Figure(
        name=name,
        value=volume,
        dimension=Dimension.VOLUME,
        says=f"what the doses of {mix.name} make",
        formula="(sum of m / rho, pair by pair) / (1 - a)",
        inputs=ground.inputs(*pairs, ("a", told)),
        source=ACI,
    )


def mass_and_density(mix: Mix, stock: str) -> list[tuple[str, str]]:
    """The names of what a line weighs and of its density, for a sum of m / rho."""
    return [("m", f"dose.{mix.name}.{stock}"), ("rho", f"density.{stock}")]


def _told_yield(mix: Mix) -> bool:
    fills = any(i.dose.kind is DoseKind.FILL for i in mix.ingredients)
    return mix.yields is not None and mix.density is None and not fills


def mass_of_doses(ground: Ground, mix: Mix) -> Fraction:
    """kg of all lines, on the recipe's own basis."""
    recipe = ground.takeoff.recipes[mix.name]
    return sum((basis_mass(ground, mix, line.stock) for line in recipe.lines), NOUGHT)


def basis_mass(ground: Ground, mix: Mix, stock: str) -> Fraction:
    """kg of one line on the recipe's own basis: one part is 1 kg (or 1 m3 of a mix measured by volume), or
    the amounts told."""
    recipe = ground.takeoff.recipes[mix.name]
    if mix.measure is not None:
        first = next(i for i in mix.ingredients if i.role is Role.PART)
        base = next(line for line in recipe.lines if line.stock == first.stock)
        line = next(line for line in recipe.lines if line.stock == stock)
        if mix.measure == "mass":
            return line.mass / base.mass * first.dose.value
        return line.mass / (base.volume or ONE) * first.dose.value
    doses = doses_on_basis(ground, mix)
    if stock == water_of(mix, ground.measured.stocks).name and mix.water is not None:
        return doses.added
    return sum((d.mass for d in doses.lines if d.ingredient.stock == stock), NOUGHT)


def doses_on_basis(ground: Ground, mix: Mix) -> Doses:
    """The doses of a cement mix, solved again."""
    water = water_of(mix, ground.measured.stocks).density or WATER_DENSITY
    doses = doses_of(mix, ground.measured.stocks, water, AIR if mix.air is None else mix.air).value
    if doses is None:
        raise ValueError(f"the doses of {mix.name} come to nothing")
    return doses


# ---------------------------------------------------------------- kg in a m3


def _in_a_cubic_metre(ground: Ground, name: str, mix: str, stock: str) -> Figure | None:
    told = ground.measured.mixes[mix]
    if all(line.stock != stock for line in ground.takeoff.recipes[mix].lines):
        return None
    inputs = ground.inputs(("m", f"dose.{mix}.{stock}"), ("V", f"yield.{mix}"))
    formula, dimension = "m / V", Dimension.DENSITY
    value = inputs[0].figure.number / inputs[1].figure.number
    if told.measure == "volume":
        # A jug measures it: m3 of the part in a m3 of the mix.
        inputs = ground.inputs(
            ("m", f"dose.{mix}.{stock}"), ("rho", f"density.{stock}"), ("V", f"yield.{mix}")
        )
        formula, dimension = "m / rho / V", Dimension.SHARE
        line = next(line for line in ground.takeoff.recipes[mix].lines if line.stock == stock)
        value = line.volume or NOUGHT
    return Figure(
        name=name,
        value=value,
        dimension=dimension,
        says=f"{stock} in a cubic metre of {mix}",
        formula=formula,
        inputs=inputs,
        source=ACI if told.measure is None else "parts keep their volume",
    )
