"""What the doses of a cement mix come to: masses of every line, on the basis that the recipe is told in.

Every dose is a linear equation in the masses, so shares of shares come out exactly:

    d            what a dose counts: oven-dry sand, the solids of a liquid told `as solids`, else the mass
    p = c d      what is weighed: c = 1 + damp for sand, 1 / s for solids, else 1
    w = b d      water in it: damp d of a sand, (1 - s) p of a liquid
    B = sum d of the binders,   M = sum p + added water
    added water = total water - sum w   (or as told)

s is the share of solids, damp the free moisture as a share of the dry mass (below nought: the sand drinks).
Source: ACI 211.1-91 (free moisture, absolute volumes); ASTM C1602 (water in admixtures counts).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from castlang.problems.model import Assumption, Finding, Outcome, Problem
from castlang.spec.model import Dose, DoseKind, Ingredient, Mix, Role, Stock
from castlang.takeoff import mix_findings
from castlang.takeoff.equations import Equation, solution
from castlang.takeoff.said import Said
from castlang.takeoff.wording import METRIC, US, figure, percent

TAP_WATER = "water"
ONE = Fraction(1)
NOUGHT = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dosed:
    """One line on the recipe's own basis: dry, mass and water in kg; volume m3 where the density is known."""

    ingredient: Ingredient
    dry: Fraction
    mass: Fraction
    water: Fraction
    volume: Fraction | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Doses:
    """All lines, the water added, the water in all, and the binder; kg on the recipe's own basis."""

    lines: tuple[Dosed, ...]
    added: Fraction
    water: Fraction
    binder: Fraction

    @property
    def mass(self) -> Fraction:
        return sum((line.mass for line in self.lines), self.added)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """An ingredient with its factors a unit of dose: weighed, water, and volume m3."""

    ingredient: Ingredient
    unknown: str
    weighed: Fraction
    water: Fraction
    volume: Fraction | None
    density: Fraction | None


def doses_of(
    mix: Mix, stocks: Mapping[str, Stock], water_density: Fraction, air: Fraction, *, units: str = METRIC
) -> Outcome[Doses]:
    """Work out the masses that the doses of `mix` come to: kg for one yield, or with one part as 1 kg.

    air is the share of the volume left for air where a sand is to `fill`.
    """
    said = Said()
    lines = tuple(
        _line(mix, stocks, ingredient, index, water_density, said)
        for index, ingredient in enumerate(mix.ingredients)
    )
    _check(mix, lines, said)
    if said.failed:
        return said.outcome(None)
    equations = _equations(mix, lines, water_density, air)
    unknowns = [*(line.unknown for line in lines), "water", "binder", "mix"]
    masses = solution(unknowns, equations)
    if masses is None or masses["mix"] <= 0:
        said.found(_problem(mix_findings.NO_AMOUNTS, mix, f"mix {mix.name} has doses that come to no amount"))
        return said.outcome(None)
    dosed = tuple(
        Dosed(
            ingredient=line.ingredient,
            dry=masses[line.unknown],
            mass=masses[line.unknown] * line.weighed,
            water=masses[line.unknown] * line.water,
            volume=None if line.volume is None else masses[line.unknown] * line.volume,
        )
        for line in lines
    )
    brought = sum((d.water for d in dosed), NOUGHT)
    total = mix.water is not None and mix.water.total
    added = masses["water"] - (brought if total else NOUGHT)
    doses = Doses(lines=dosed, added=added, water=added + brought, binder=masses["binder"])
    _check_result(mix, doses, brought, units, said)
    return said.outcome(doses)


def _line(
    mix: Mix,
    stocks: Mapping[str, Stock],
    ingredient: Ingredient,
    index: int,
    water_density: Fraction,
    said: Said,
) -> _Line:
    stock = stocks.get(ingredient.stock, Stock(name=ingredient.stock))
    counts_water = mix.water is not None and mix.water.total
    damp = ingredient.damp or NOUGHT
    weighed, water = ONE + damp, damp
    wet = ingredient.role is Role.LIQUID or ingredient.as_solids or stock.solids is not None
    if wet and stock.solids:
        weighed = ONE / stock.solids if ingredient.as_solids else ONE
        water = weighed * (ONE - stock.solids)
    elif ingredient.as_solids:
        said.found(
            Problem(
                finding=mix_findings.MISSING_SOLIDS,
                message=f"mix {mix.name} doses {stock.name} as solids, but its solids are not told",
                span=ingredient.span,
                remedy=f"write `solids N %` under stock {stock.name}",
                related=((stock.span, f"stock {stock.name}"),),
                about=(mix.name, stock.name),
            )
        )
    elif ingredient.role is Role.LIQUID and counts_water:
        said.assumed(
            Assumption(
                subject=f"stock {stock.name}",
                says="no water counted in it",
                source="nothing told",
                line="solids N %",
                span=ingredient.span,
            )
        )
    elif ingredient.role is Role.SAND and ingredient.damp is None and counts_water:
        said.assumed(
            Assumption(
                subject=f"mix {mix.name}",
                says=f"{stock.name} damp 0 %",
                source="shop default: kiln-dried",
                line=f"sand {stock.name} DOSE damp 0 %",
                span=ingredient.span,
            )
        )
    volume = None
    if stock.density is not None:
        moist = damp / water_density if not wet else NOUGHT
        volume = (weighed if wet else ONE) / stock.density + moist
    return _Line(
        ingredient=ingredient,
        unknown=f"line {index}",
        weighed=weighed,
        water=water,
        volume=volume,
        density=stock.density,
    )


def _equations(mix: Mix, lines: tuple[_Line, ...], water_density: Fraction, air: Fraction) -> list[Equation]:
    """One equation a line, one each for the water, the binder and the whole mix."""
    total = mix.water is not None and mix.water.total
    equations: list[Equation] = []
    for line in lines:
        if line.ingredient.dose.kind is DoseKind.FILL:
            fills = {o.unknown: (o.volume or NOUGHT) - _drawn(o, total, water_density) for o in lines}
            fills["water"] = ONE / water_density
            equations.append((fills, (mix.yields or NOUGHT) * (ONE - air)))
        else:
            equations.append(_dose_equation(line.unknown, line.ingredient.dose, line.density, lines))
    if mix.water is None:
        equations.append(({"water": ONE}, NOUGHT))
    else:
        equations.append(_dose_equation("water", mix.water.dose, water_density, lines))
    binder = {o.unknown: -ONE for o in lines if o.ingredient.role is Role.BINDER}
    equations.append(({**binder, "binder": ONE}, NOUGHT))
    whole = {o.unknown: (o.water if total else NOUGHT) - o.weighed for o in lines}
    equations.append(({**whole, "water": -ONE, "mix": ONE}, NOUGHT))
    return equations


def _drawn(line: _Line, total: bool, water_density: Fraction) -> Fraction:
    """The volume of added water that a line saves when the water is told in all, m3 a unit of dose."""
    return line.water / water_density if total else NOUGHT


def _dose_equation(unknown: str, dose: Dose, density: Fraction | None, lines: tuple[_Line, ...]) -> Equation:
    if dose.kind is DoseKind.VOLUME:
        return {unknown: ONE}, dose.value * (density or NOUGHT)
    if dose.kind is not DoseKind.SHARE:
        return {unknown: ONE}, dose.value
    if dose.of in ("binder", "mix"):
        return {unknown: ONE, dose.of: -dose.value}, NOUGHT
    factors = {unknown: ONE}
    for line in lines:
        if line.ingredient.stock == dose.of:
            factors[line.unknown] = factors.get(line.unknown, NOUGHT) - dose.value
    return factors, NOUGHT


def _check(mix: Mix, lines: tuple[_Line, ...], said: Said) -> None:
    doses = [line.ingredient.dose for line in lines]
    doses += [mix.water.dose] if mix.water else []
    kinds = {dose.kind for dose in doses}
    fills = [line for line in lines if line.ingredient.dose.kind is DoseKind.FILL]
    if DoseKind.PARTS in kinds and (
        kinds & {DoseKind.MASS, DoseKind.VOLUME, DoseKind.FILL} or mix.yields is not None
    ):
        other = "a yield" if mix.yields is not None else "masses or volumes"
        said.found(
            _problem(mix_findings.PARTS_AND_MASSES, mix, f"mix {mix.name} is told in parts and in {other}")
        )
    if fills and mix.yields is None:
        said.found(
            _problem(
                mix_findings.FILL_WITHOUT_YIELD,
                mix,
                f"{fills[0].ingredient.stock} fills mix {mix.name}, which does not say how much it yields",
            )
        )
    if len(fills) > 1:
        names = " and ".join(line.ingredient.stock for line in fills)
        said.found(_problem(mix_findings.SECOND_FILL, mix, f"{names} both fill mix {mix.name}"))
    for line in lines:
        if line.density is None and (fills or line.ingredient.dose.kind is DoseKind.VOLUME):
            said.found(density_missing(mix, line.ingredient))
    of_mix = sum((d.value for d in doses if d.kind is DoseKind.SHARE and d.of == "mix"), NOUGHT)
    if of_mix >= 1:
        said.found(
            _problem(
                mix_findings.SHARES_TOO_GREAT,
                mix,
                f"shares of mix {mix.name} come to {percent(of_mix)} of the whole",
            )
        )
    binders = [line.ingredient.dose for line in lines if line.ingredient.role is Role.BINDER]
    of_binder = sum((d.value for d in binders if d.kind is DoseKind.SHARE and d.of == "binder"), NOUGHT)
    if of_binder >= 1:
        said.found(
            _problem(
                mix_findings.SHARES_TOO_GREAT,
                mix,
                f"binders of mix {mix.name} are told as {percent(of_binder)} of the binder, "
                "and nothing in parts or mass beside them",
            )
        )


def _check_result(mix: Mix, doses: Doses, brought: Fraction, units: str, said: Said) -> None:
    for line in doses.lines:
        if line.mass > 0 or (line.mass == 0 and line.ingredient.dose.value == 0 and not _fills(line)):
            continue
        name = line.ingredient.stock
        if _fills(line):
            message = f"the others leave no volume for {name} in mix {mix.name}"
            said.found(_problem(mix_findings.NO_ROOM_TO_FILL, mix, message, name))
        else:
            message = f"{name} in mix {mix.name} comes to {figure(line.mass)}, which is no amount"
            said.found(_problem(mix_findings.NO_AMOUNTS, mix, message, name))
    if doses.added < 0 and not said.failed:
        base = doses.binder or doses.mass
        of = "binder" if doses.binder else "mix"
        unit = "lb" if units == US else "kg"
        said.found(
            _problem(
                mix_findings.WATER_BELOW_ZERO,
                mix,
                f"for 100 {unit} of {of} in mix {mix.name} the liquids and damp sand bring "
                f"{figure(100 * brought / base)} {unit} of water, and it may have "
                f"{figure(100 * doses.water / base)} {unit} in all",
            )
        )


def _fills(line: Dosed) -> bool:
    return line.ingredient.dose.kind is DoseKind.FILL


def density_missing(mix: Mix, ingredient: Ingredient) -> Problem:
    """The finding that the stock of `ingredient` tells no density, though `mix` needs it."""
    name = ingredient.stock
    return Problem(
        finding=mix_findings.MISSING_DENSITY,
        message=f"mix {mix.name} needs the density of {name}, which is not told",
        span=ingredient.span,
        remedy=f"write `density N kg/m3` under stock {name}, or `density N kg/m3` under mix {mix.name}",
        about=(mix.name, name),
    )


def _problem(finding: Finding, mix: Mix, message: str, *names: str) -> Problem:
    return Problem(finding=finding, message=message, span=mix.span, about=(mix.name, *names))
