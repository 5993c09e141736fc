"""How warm a mix comes out of the mixer, from the warmth of what goes in.

    T = (0.22 sum m_d T + sum m_w T) / (0.22 sum m_d + sum m_w)

T of each material K or degC, m_d kg of its dry part, m_w kg of the water in it. 0.22 is the heat that a solid
takes, water being 1. Without ice, without the heat of the motor or of setting. Source: heat balance of
ACI 305R-99, Appendix A, and CRD-C 307-91; polymers taken as solids.
"""

from collections.abc import Mapping
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.model import Mix, Role, Spec, Stock
from castlang.takeoff import range_findings, wording
from castlang.takeoff.measured import measured_value
from castlang.takeoff.model import Recipe, RecipeLine
from castlang.takeoff.working_times import warmest_of

SOLIDS_HEAT = Fraction(22, 100)
NOUGHT = Fraction(0)
ONE = Fraction(1)
USUAL = (wording.ICE_POINT + 10, wording.ICE_POINT + 30)
SLIP = (wording.ICE_POINT + 5, wording.ICE_POINT + 40)


def mixed_warmth(parts: Mapping[str, tuple[Fraction, Fraction, Fraction]]) -> Fraction:
    """The temperature of the whole, from (dry kg, water kg, temperature) of each part, not all of 0 kg."""
    heat = [(SOLIDS_HEAT * dry + water, at) for dry, water, at in parts.values()]
    return sum((h * at for h, at in heat), NOUGHT) / sum((h for h, _ in heat), NOUGHT)


def warmth_of(mix: Mix, recipe: Recipe, spec: Spec) -> Outcome[Fraction]:
    """The warmth of `mix` in K where one of its materials, or the mix itself, was measured; else None.

    What was not measured is as warm as the air, and listed. Finding: colder or warmer than is usual.
    """
    measured = measured_value(spec, "warmth", mix.name)
    if measured is not None:
        return Outcome(value=measured, problems=_check(mix, measured, spec))
    told = {line.stock: measured_value(spec, "warmth", line.stock) for line in recipe.lines}
    air = warmest_of(spec.build)
    if mix.measure is not None or air is None or all(at is None for at in told.values()):
        return Outcome(value=None)
    parts = {}
    for line in recipe.lines:
        water = _water_in(line, mix, spec.stocks)
        at = told[line.stock]
        parts[line.stock] = (line.mass - water, water, air if at is None else at)
    found = mixed_warmth(parts)
    others = [name for name, at in told.items() if at is None]
    assumed = Assumption(
        subject=f"mix {mix.name}",
        says=f"{', '.join(others)} at {wording.temperature(air, spec.build.units)}, as warm as the air",
        source="no warmth measured",
        line='measured warmth of STOCK N degC "how"',
        span=mix.span,
    )
    return Outcome(value=found, problems=_check(mix, found, spec), assumptions=(assumed,) if others else ())


def _water_in(line: RecipeLine, mix: Mix, stocks: Mapping[str, Stock]) -> Fraction:
    """kg of water in a line of the recipe: damp of sand, what a liquid is not solids."""
    if line.role == "water":
        return line.mass
    ingredient = next(i for i in mix.ingredients if i.stock == line.stock)
    stock = stocks.get(line.stock, Stock(name=line.stock))
    if stock.solids is not None:
        return line.mass * (ONE - stock.solids)
    if ingredient.role is Role.LIQUID:
        return line.mass
    damp = max(NOUGHT, ingredient.damp or NOUGHT)
    return line.mass * damp / (ONE + damp)


def _check(mix: Mix, warmth: Fraction, spec: Spec) -> tuple[Problem, ...]:
    units = spec.build.units
    if USUAL[0] <= warmth <= USUAL[1]:
        return ()
    slip = "" if SLIP[0] <= warmth <= SLIP[1] else "; so far off, a typing slip is likely"
    low, high = (wording.temperature(end, units) for end in USUAL)
    return (
        Problem(
            finding=range_findings.TEMPERATURE_UNUSUAL,
            message=f"mix {mix.name} comes out of the mixer at {wording.temperature(warmth, units)}, "
            f"usual is {low} to {high}{slip}",
            span=mix.span,
            about=(mix.name,),
        ),
    )
