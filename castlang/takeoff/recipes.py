"""Recipes for 1 m3 in place, from the doses of a mix.

    V = sum of masses over densities + air V        (absolute volumes, ACI 211.1-91)
    rho = M / V

V m3, M kg, rho kg/m3. A yield, a told density or a measured density stands before the computed one; then the
volume is M / rho, and the air is what is left. In a mix of parts A and B nothing shrinks:

    rho = sum m / sum V                             (arithmetic)

Valid for materials told by their particle density, not by their loose weight in a heap.
"""

from collections.abc import Mapping
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.defaults import DEFAULTS
from castlang.spec.model import DoseKind, Ingredient, Mix, Role, Stock
from castlang.takeoff import findings
from castlang.takeoff.doses import NOUGHT, ONE, TAP_WATER, Doses, density_missing, doses_of
from castlang.takeoff.model import Recipe, RecipeLine
from castlang.takeoff.said import Said
from castlang.takeoff.wording import density as density_said
from castlang.takeoff.wording import percent

AIR = DEFAULTS["entrapped-air"].value
WATER_DENSITY = Fraction(998)
PIGMENT_LIMIT = Fraction(1, 10)
PACKED = Fraction(101, 100)  # a told density is rounded, and no finding for that
THIN_LIQUID = Fraction(1000)


def recipe_of(mix: Mix, stocks: Mapping[str, Stock], measured: Fraction | None = None) -> Outcome[Recipe]:
    """The recipe of `mix` for 1 m3 in place. measured: its density in kg/m3, when one was measured."""
    if any(i.role is Role.PART for i in mix.ingredients):
        return _recipe_of_parts(mix, stocks, measured)
    return _recipe_of_doses(mix, stocks, measured)


# ---------------------------------------------------------------- cement mixes


def _recipe_of_doses(mix: Mix, stocks: Mapping[str, Stock], measured: Fraction | None) -> Outcome[Recipe]:
    said = Said()
    water = water_of(mix, stocks)
    water_density = water.density or WATER_DENSITY
    fills = any(i.dose.kind is DoseKind.FILL for i in mix.ingredients)
    told_yield = None if fills else mix.yields
    told = measured or mix.density
    air = AIR if mix.air is None else mix.air
    doses = said.heard(doses_of(mix, stocks, water_density, air))
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
        _assume(mix, water, said)
    came_from = "measured" if measured else "told" if told or told_yield else "recipe"
    if came_from != "recipe":
        air = max(NOUGHT, ONE - solid / volume) if solid is not None else air
        _check_room(mix, doses.mass, volume, solid, said)
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


def _assume(mix: Mix, water: Stock, said: Said) -> None:
    if mix.air is None:
        said.assumed(
            Assumption(
                subject=f"mix {mix.name}",
                says=f"air {percent(AIR)}",
                source=findings.COMMON,
                line="air 3 %",
                span=mix.span,
            )
        )
    if mix.water is not None and water.density is None:
        said.assumed(
            Assumption(
                subject=f"stock {water.name}",
                says=f"density {density_said(WATER_DENSITY)}",
                source="handbook value, water at 20 degC (998.2 kg/m3)",
                line=f"density {density_said(WATER_DENSITY)}",
                span=mix.water.span,
            )
        )


def _check_room(mix: Mix, mass: Fraction, volume: Fraction, solid: Fraction | None, said: Said) -> None:
    if solid is not None and solid > volume * PACKED:
        said.found(
            Problem(
                finding=findings.MORE_THAN_FULL,
                message=f"mix {mix.name} is told or measured at {density_said(mass / volume)}, "
                f"but without any air its materials come to {density_said(mass / solid)}",
                span=mix.span,
                about=(mix.name,),
            )
        )


def _check_pigment(mix: Mix, doses: Doses, said: Said) -> None:
    pigment = sum((d.dry for d in doses.lines if d.ingredient.role is Role.PIGMENT), NOUGHT)
    if doses.binder and pigment > PIGMENT_LIMIT * doses.binder:
        said.found(
            Problem(
                finding=findings.PIGMENT_OVER_LIMIT,
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
        lines=_in_order(mix, lines),
        air=air,
        binder=doses.binder / volume,
        water_total=doses.water / volume,
        solids=solids / volume,
    )


def _is_dispersion(ingredient: Ingredient, stocks: Mapping[str, Stock]) -> bool:
    stock = stocks.get(ingredient.stock)
    return stock is not None and stock.solids is not None


def _in_order(mix: Mix, lines: list[RecipeLine]) -> tuple[RecipeLine, ...]:
    """Lines in the order of addition; what `order` does not name comes after, as written."""
    place = {name: index for index, name in enumerate(mix.order)}

    def key(line: RecipeLine) -> int:
        named = place.get(line.stock)
        if named is None and line.role == "water":
            named = place.get("water")
        return len(place) if named is None else named

    return tuple(sorted(lines, key=key))


# ---------------------------------------------------------------- two parts


def _recipe_of_parts(mix: Mix, stocks: Mapping[str, Stock], measured: Fraction | None) -> Outcome[Recipe]:
    """Parts A and B: the mixed density is the masses over the volumes, no change of volume."""
    said = Said()
    if mix.measure not in ("mass", "volume"):
        said.found(
            Problem(
                finding=findings.MEASURE_UNSAID,
                message=f"mix {mix.name} has parts and does not say whether by mass or by volume",
                span=mix.span,
                about=(mix.name,),
            )
        )
        return said.outcome(None)
    by_volume = mix.measure == "volume"
    densities = [_part_density(mix, stocks, i, by_volume, said) for i in mix.ingredients]
    told = measured or mix.density
    if told is None or by_volume:
        for ingredient, known in zip(mix.ingredients, densities, strict=True):
            if known is None:
                said.found(density_missing(mix, ingredient))
    values = [i.dose.value for i in mix.ingredients]
    if sum(values) <= 0 or min(values) < 0 or any(i.dose.kind is not DoseKind.PARTS for i in mix.ingredients):
        said.found(
            Problem(
                finding=findings.NO_AMOUNTS,
                message=f"mix {mix.name} is measured by {mix.measure}, so each part needs a number of parts",
                span=mix.span,
                about=(mix.name,),
            )
        )
    if said.failed:
        return said.outcome(None)
    masses = [v * (d or ONE) if by_volume else v for v, d in zip(values, densities, strict=True)]
    volumes = [None if d is None else m / d for m, d in zip(masses, densities, strict=True)]
    mass = sum(masses, NOUGHT)
    if by_volume or told is None:
        volume = sum((v or NOUGHT for v in volumes), NOUGHT)
        mass_factor = ONE if told is None else told * volume / mass
    else:
        volume, mass_factor = mass / told, ONE
    lines = [
        RecipeLine(
            stock=i.stock,
            role=i.role.value,
            mass=m * mass_factor / volume,
            volume=None if v is None else v / volume,
        )
        for i, m, v in zip(mix.ingredients, masses, volumes, strict=True)
    ]
    return said.outcome(
        Recipe(
            mix=mix.name,
            density=mass * mass_factor / volume,
            density_from="measured" if measured else "told" if told else "recipe",
            lines=_in_order(mix, lines),
            air=NOUGHT,
            binder=NOUGHT,
            water_total=NOUGHT,
            solids=NOUGHT,
        )
    )


def _part_density(
    mix: Mix, stocks: Mapping[str, Stock], ingredient: Ingredient, by_volume: bool, said: Said
) -> Fraction | None:
    known = stocks.get(ingredient.stock, Stock(name=ingredient.stock)).density
    if known is None and by_volume:
        # Measured by volume, the bucket does not need it: only the weights on paper do.
        said.assumed(
            Assumption(
                subject=f"stock {ingredient.stock}",
                says=f"density {density_said(THIN_LIQUID)}, for weights only",
                source=findings.COMMON,
                line="density N kg/m3",
                span=ingredient.span,
            )
        )
        return THIN_LIQUID
    return known
