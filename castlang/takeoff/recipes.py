"""Recipes for 1 m3 in place, from the doses of a mix.

    V = sum of masses over densities + air V        (absolute volumes, ACI 211.1-91)
    rho = M / V

V m3, M kg, rho kg/m3. A yield, a told density or a measured density stands before the computed one; then the
volume is M / rho, and the air is what is left. Mixes of parts A and B: see `two_part`.

Valid for materials told by their particle density, not by their loose weight in a heap.
"""

from collections.abc import Mapping
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.defaults import DEFAULTS
from castlang.spec.model import DoseKind, Ingredient, Mix, Role, Stock
from castlang.takeoff import mix_findings, range_findings, sources
from castlang.takeoff.additions import in_order
from castlang.takeoff.doses import NOUGHT, ONE, TAP_WATER, Doses, density_missing, doses_of
from castlang.takeoff.model import Recipe, RecipeLine
from castlang.takeoff.said import Said
from castlang.takeoff.two_part import recipe_of_parts
from castlang.takeoff.wording import METRIC, density, percent

AIR = DEFAULTS["entrapped-air"].value
WATER_DENSITY = Fraction(998)
PIGMENT_LIMIT = Fraction(1, 10)
PACKED = Fraction(101, 100)  # a told density is rounded, and no finding for that


def recipe_of(
    mix: Mix, stocks: Mapping[str, Stock], measured: Fraction | None = None, *, units: str = METRIC
) -> Outcome[Recipe]:
    """The recipe of `mix` for 1 m3 in place. measured: its density in kg/m3, when one was measured.
    units: what messages tell."""
    if any(i.role is Role.PART for i in mix.ingredients):
        return recipe_of_parts(mix, stocks, measured, units)
    return _recipe_of_doses(mix, stocks, measured, units)


def _recipe_of_doses(
    mix: Mix, stocks: Mapping[str, Stock], measured: Fraction | None, units: str
) -> Outcome[Recipe]:
    said = Said()
    water = water_of(mix, stocks)
    water_density = water.density or WATER_DENSITY
    fills = any(i.dose.kind is DoseKind.FILL for i in mix.ingredients)
    told_yield = None if fills else mix.yields
    told = measured or mix.density
    air = AIR if mix.air is None else mix.air
    doses = said.heard(doses_of(mix, stocks, water_density, air, units=units))
    if doses is None:
        return said.outcome(None)
    solid = _solid_volume(doses, water_density)
    if told is not None:
        volume = doses.mass / told
    elif told_yield is not None:
        volume = told_yield
    elif solid is None or air >= 1:
        for line in doses.lines:
            if line.volume is None:
                said.found(density_missing(mix, line.ingredient))
        return said.outcome(None)
    else:
        volume = solid / (ONE - air)
        _assume(mix, water, units, said)
    came_from = "measured" if measured else "told" if told or told_yield else "recipe"
    if came_from != "recipe":
        air = max(NOUGHT, ONE - solid / volume) if solid is not None else air
        _check_room(mix, doses.mass, volume, solid, units, said)
    _check_pigment(mix, doses, said)
    return said.outcome(_recipe(mix, stocks, doses, volume, air, came_from, water_density))


def water_of(mix: Mix, stocks: Mapping[str, Stock]) -> Stock:
    """The stock that the water of `mix` comes from; tap water with nothing told when there is none."""
    name = (mix.water and mix.water.stock) or TAP_WATER
    return stocks.get(name, Stock(name=name))


def _solid_volume(doses: Doses, water_density: Fraction) -> Fraction | None:
    """The volume of everything but air, m3 on the recipe's basis; None when a density is not known."""
    volume = doses.added / water_density
    for line in doses.lines:
        if line.volume is None:
            return None
        volume += line.volume
    return volume


def _assume(mix: Mix, water: Stock, units: str, said: Said) -> None:
    if mix.air is None:
        said.assumed(
            Assumption(
                subject=f"mix {mix.name}",
                says=f"air {percent(AIR)}",
                source=sources.COMMON,
                line="air 3 %",
                span=mix.span,
            )
        )
    if mix.water is not None and water.density is None:
        said.assumed(
            Assumption(
                subject=f"stock {water.name}",
                says=f"density {density(WATER_DENSITY, units)}",
                source="handbook value, water at 20 degC (998.2 kg/m3)",
                line=f"density {density(WATER_DENSITY, units)}",
                span=mix.water.span,
            )
        )


def _check_room(
    mix: Mix, mass: Fraction, volume: Fraction, solid: Fraction | None, units: str, said: Said
) -> None:
    if solid is not None and solid > volume * PACKED:
        said.found(
            Problem(
                finding=mix_findings.MORE_THAN_FULL,
                message=f"mix {mix.name} is told or measured at {density(mass / volume, units)}, "
                f"but without any air its materials come to {density(mass / solid, units)}",
                span=mix.span,
                about=(mix.name,),
            )
        )


def _check_pigment(mix: Mix, doses: Doses, said: Said) -> None:
    # A liquid pigment counts with its solids.
    pigments = [d for d in doses.lines if d.ingredient.role is Role.PIGMENT]
    pigment = sum((d.mass - d.water for d in pigments), NOUGHT)
    if doses.binder and pigment > PIGMENT_LIMIT * doses.binder:
        said.found(
            Problem(
                finding=range_findings.PIGMENT_OVER_LIMIT,
                message=f"mix {mix.name} has {percent(pigment / doses.binder)} of pigment on its binder, "
                f"more than {percent(PIGMENT_LIMIT)}",
                span=mix.span,
                about=(mix.name,),
            )
        )


def _recipe(
    mix: Mix,
    stocks: Mapping[str, Stock],
    doses: Doses,
    volume: Fraction,
    air: Fraction,
    came_from: str,
    water_density: Fraction,
) -> Recipe:
    lines = [
        RecipeLine(
            stock=d.ingredient.stock,
            role=d.ingredient.role.value,
            mass=d.mass / volume,
            volume=None if d.volume is None else d.volume / volume,
        )
        for d in doses.lines
    ]
    if mix.water is not None:
        lines.append(
            RecipeLine(
                stock=mix.water.stock or TAP_WATER,
                role="water",
                mass=doses.added / volume,
                volume=doses.added / water_density / volume,
            )
        )
    solids = sum(
        (
            d.mass - d.water
            for d in doses.lines
            if d.ingredient.role is Role.LIQUID and _is_dispersion(d.ingredient, stocks)
        ),
        NOUGHT,
    )
    return Recipe(
        mix=mix.name,
        density=doses.mass / volume,
        density_from=came_from,
        lines=in_order(mix, lines),
        air=air,
        binder=doses.binder / volume,
        water_total=doses.water / volume,
        solids=solids / volume,
    )


def _is_dispersion(ingredient: Ingredient, stocks: Mapping[str, Stock]) -> bool:
    stock = stocks.get(ingredient.stock)
    return stock is not None and stock.solids is not None
