"""Recipes of parts A, B and so on, with what goes in beside them by share: thinner, accelerator, pigment.

Everything is told in the measure of the mix, x kg or m3:

    part      x = n                     n parts
    share     x = s P,  P = sum of the parts         `5 % of parts`
              x = s X,  X = sum of everything        `5 % of mix`, itself included
              x = s x_i                              `5 % of STOCK`
    m = rho V for each,  rho_mix = sum m / sum V     nothing shrinks (arithmetic)
"""

from collections.abc import Mapping
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.model import Dose, DoseKind, Ingredient, Mix, Role, Stock
from castlang.takeoff import mix_findings, sources
from castlang.takeoff.additions import in_order
from castlang.takeoff.doses import NOUGHT, ONE, density_missing
from castlang.takeoff.equations import Equation, solution
from castlang.takeoff.model import Recipe, RecipeLine
from castlang.takeoff.said import Said
from castlang.takeoff.wording import density, percent

THIN_LIQUID = Fraction(1000)


def recipe_of_parts(
    mix: Mix, stocks: Mapping[str, Stock], measured: Fraction | None, units: str
) -> Outcome[Recipe]:
    """The recipe for 1 m3 in place. measured: the density in kg/m3, when one was measured.

    Findings: mass or volume unsaid, doses that come to no amount, a density that is needed and not told.
    """
    said = Said()
    if mix.measure not in ("mass", "volume"):
        message = f"mix {mix.name} has parts and does not say whether by mass or by volume"
        said.found(_problem(mix, message, unsaid=True))
        return said.outcome(None)
    by_volume = mix.measure == "volume"
    densities = [_part_density(mix, stocks, i, by_volume, units, said) for i in mix.ingredients]
    told = measured or mix.density
    if told is None or by_volume:
        for ingredient, known in zip(mix.ingredients, densities, strict=True):
            if known is None:
                said.found(density_missing(mix, ingredient))
    amounts = _amounts(mix, said)
    if said.failed or amounts is None:
        return said.outcome(None)
    masses = [x * (d or ONE) if by_volume else x for x, d in zip(amounts, densities, strict=True)]
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
            lines=in_order(mix, lines),
            air=NOUGHT,
            binder=NOUGHT,
            water_total=NOUGHT,
            solids=NOUGHT,
        )
    )


def _amounts(mix: Mix, said: Said) -> list[Fraction] | None:
    """What every ingredient comes to, in the measure of the mix, with one part as 1 kg or 1 m3."""
    of_mix = sum((i.dose.value for i in mix.ingredients if i.dose.of == "mix"), NOUGHT)
    if of_mix >= 1:
        message = f"shares of mix {mix.name} come to {percent(of_mix)} of the whole"
        said.found(
            Problem(finding=mix_findings.SHARES_TOO_GREAT, message=message, span=mix.span, about=(mix.name,))
        )
        return None
    unknowns = [f"line {n}" for n in range(len(mix.ingredients))]
    equations = [
        _equation(unknown, i, mix, unknowns) for unknown, i in zip(unknowns, mix.ingredients, strict=True)
    ]
    known = [e for e in equations if e is not None]
    found = solution(unknowns, known) if len(known) == len(equations) else None
    if found is None or sum(found.values()) <= 0 or min(found.values()) < 0:
        message = f"mix {mix.name} is measured by {mix.measure}, so each part needs a number of parts"
        said.found(_problem(mix, message))
        return None
    return [found[u] for u in unknowns]


def _equation(unknown: str, ingredient: Ingredient, mix: Mix, unknowns: list[str]) -> Equation | None:
    dose: Dose = ingredient.dose
    if ingredient.role is Role.PART:
        return ({unknown: ONE}, dose.value) if dose.kind is DoseKind.PARTS else None
    if dose.kind is not DoseKind.SHARE:
        return None
    factors = {unknown: ONE}
    for other, line in zip(unknowns, mix.ingredients, strict=True):
        meant = {"parts": line.role is Role.PART, "mix": True}.get(dose.of or "", line.stock == dose.of)
        if meant:
            factors[other] = factors.get(other, NOUGHT) - dose.value
    return factors, NOUGHT


def _part_density(
    mix: Mix, stocks: Mapping[str, Stock], ingredient: Ingredient, by_volume: bool, units: str, said: Said
) -> Fraction | None:
    known = stocks.get(ingredient.stock, Stock(name=ingredient.stock)).density
    if known is None and by_volume:
        # Measured by volume, the bucket does not need it: only the weights on paper do.
        said.assumed(
            Assumption(
                subject=f"stock {ingredient.stock}",
                says=f"density {density(THIN_LIQUID, units)}, for weights only",
                source=sources.COMMON,
                line="density N kg/m3",
                span=ingredient.span,
            )
        )
        return THIN_LIQUID
    return known


def _problem(mix: Mix, message: str, *, unsaid: bool = False) -> Problem:
    finding = mix_findings.MEASURE_UNSAID if unsaid else mix_findings.NO_AMOUNTS
    return Problem(finding=finding, message=message, span=mix.span, about=(mix.name,))
