"""What each step comes to: its parts, its batches and what it takes from the stores."""

from fractions import Fraction

from castlang.problems.model import Outcome, Problem
from castlang.spec.model import Mix, Step, StepKind, Stock
from castlang.spec.quantity import Dimension
from castlang.takeoff import mix_findings
from castlang.takeoff.batches import batches_of
from castlang.takeoff.bodies import NOUGHT, ONE
from castlang.takeoff.coats import scrim_of
from castlang.takeoff.divisions import Fill
from castlang.takeoff.durations import minutes_of
from castlang.takeoff.model import Batch, StepPart, StepTakeoff, Use
from castlang.takeoff.portions import Ground, Portion, area_of, lain_on, material_of, portions_of
from castlang.takeoff.said import Said
from castlang.takeoff.scales import scales_of
from castlang.takeoff.uses import use_of, uses_of_mix, waste_of
from castlang.takeoff.vessels import vessel_of
from castlang.takeoff.working_times import as_worked, working_time


def step_takeoff(step: Step, ground: Ground) -> Outcome[StepTakeoff]:
    """The quantities of `step` for one copy of its owner; a job does all copies of a piece at once."""
    said = Said()
    area = area_of(step, ground)
    if step.kind is StepKind.SCRIM:
        return _scrim(step, ground, area or NOUGHT)
    if step.kind is StepKind.INSERT:
        return _insert(step, ground, area)
    portions = said.heard(portions_of(step, ground, area))
    if portions is None:
        return said.outcome(None)
    return _with_stores(step, ground, area, portions, said)


# ---------------------------------------------------------------- what it takes from the stores


def _with_stores(
    step: Step, ground: Ground, area: Fraction | None, portions: tuple[Portion, ...], said: Said
) -> Outcome[StepTakeoff]:
    material = material_of(step, ground)
    waste = waste_of(ground.spec, step, step.material)
    density = ground.densities.get(step.material or "")
    working = (
        said.heard(working_time(material, step, ground.spec.build)) if isinstance(material, Mix) else None
    )
    shares = (step.owner, step.name) in ground.shared
    parts = []
    for portion in portions:
        volume = _volume(portion, density)
        worked = said.heard(minutes_of(step, area, volume))
        batches: tuple[Batch, ...] = ()
        if isinstance(material, Mix) and volume is not None and worked is not None and not shares:
            name = ".".join(word for word in (step.owner, step.name, portion.suffix) if word)
            fill = Fill(
                name=name,
                volume=volume * (ONE + waste),
                minutes=worked,
                span=step.span,
                units=ground.spec.build.units,
            )
            batches = said.heard(_batches(step, ground, as_worked(material, working), fill)) or ()
        parts.append(
            StepPart(suffix=portion.suffix, minutes=worked or 0, batches=batches, depth=portion.depth)
        )
    volumes = [_volume(p, density) for p in portions]
    masses = [_mass(p, density) for p in portions]
    volume, mass = _total(volumes), _total(masses)
    # A load is not used up and comes back: it takes nothing from the stores.
    uses: tuple[Use, ...] = ()
    if step.kind is not StepKind.LOAD:
        uses = said.heard(_uses(step, ground, material, volume, mass, waste)) or ()
    elif mass is None and isinstance(material, Stock):
        said.found(_weightless(step, material))
    if isinstance(material, Mix) and material.name not in ground.recipes:
        return said.outcome(None)  # what is wrong with it was said with the mix
    return said.outcome(
        StepTakeoff(
            owner=step.owner,
            step=step.name,
            parts=tuple(parts),
            area=area,
            volume=volume,
            mass=mass,
            waste=waste if uses else NOUGHT,
            uses=uses,
            faces=lain_on(step, ground),
            working=working if shares or any(part.batches for part in parts) else None,
            shares=shares and isinstance(material, Mix),
            span=step.span,
        )
    )


def _weightless(step: Step, stock: Stock) -> Problem:
    return Problem(
        finding=mix_findings.MISSING_DENSITY,
        message=f"{step.owner}.{step.name} loads {stock.name}, and nobody can say what that weighs: its "
        "density is not told",
        span=stock.span if stock.span.line else step.span,
        remedy=f"write `density N kg/m3` under stock {stock.name}",
        about=(stock.name,),
    )


def _volume(portion: Portion, density: Fraction | None) -> Fraction | None:
    if portion.volume is not None or portion.mass is None or not density:
        return portion.volume
    return portion.mass / density


def _mass(portion: Portion, density: Fraction | None) -> Fraction | None:
    if portion.mass is not None or portion.volume is None or density is None:
        return portion.mass
    return portion.volume * density


def _total(amounts: list[Fraction | None]) -> Fraction | None:
    known = [a for a in amounts if a is not None]
    return sum(known, NOUGHT) if known else None


def _uses(
    step: Step,
    ground: Ground,
    material: Mix | Stock | None,
    volume: Fraction | None,
    mass: Fraction | None,
    waste: Fraction,
) -> Outcome[tuple[Use, ...]]:
    if isinstance(material, Mix):
        recipe = ground.recipes.get(material.name)
        if recipe is None or volume is None:
            return Outcome(value=())
        return uses_of_mix(ground.spec, material, recipe, volume, waste, step.span)
    if material is None or (volume is None and mass is None):
        return Outcome(value=())
    told_by_mass = step.amount is not None and step.amount.dimension in (Dimension.MASS, Dimension.AREAL_MASS)
    if volume is None or (told_by_mass and mass is not None):
        use = use_of(material, Dimension.MASS, mass or NOUGHT, waste, step.span)
    else:
        use = use_of(material, Dimension.VOLUME, volume, waste, step.span)
    return Outcome(value=None if use.value is None else (use.value,), problems=use.problems)


def _batches(step: Step, ground: Ground, mix: Mix, fill: Fill) -> Outcome[tuple[Batch, ...]]:
    recipe = ground.recipes.get(mix.name)
    if recipe is None:
        return Outcome(value=None)
    stations = [ground.spec.stations[name] for name in step.using if name in ground.spec.stations]
    vessel = vessel_of(stations)
    units = ground.spec.build.units
    scales = scales_of(stations, units)
    if not scales.ranges:
        scales = scales_of(tuple(ground.spec.stations.values()), units)
    return batches_of(mix, recipe, fill, vessel, scales)


# ---------------------------------------------------------------- cloth and fittings


def _scrim(step: Step, ground: Ground, area: Fraction) -> Outcome[StepTakeoff]:
    said = Said()
    cloth = said.heard(scrim_of(step, area, ground.spec.defaults.get("laps"))) or NOUGHT
    stock = ground.spec.stocks.get(step.material or "", Stock(name=step.material or step.name))
    waste = waste_of(ground.spec, step, step.material)
    use = said.heard(use_of(stock, Dimension.AREA, cloth, waste, step.span))
    worked = said.heard(minutes_of(step, area, None)) or 0
    return said.outcome(
        StepTakeoff(
            owner=step.owner,
            step=step.name,
            parts=(StepPart(suffix="", minutes=worked),),
            area=area,
            mass=cloth * stock.areal if stock.areal else None,
            waste=waste,
            uses=(use,) if use else (),
            faces=lain_on(step, ground),
            span=step.span,
        )
    )


def _insert(step: Step, ground: Ground, area: Fraction | None) -> Outcome[StepTakeoff]:
    said = Said()
    worked = said.heard(minutes_of(step, area, None)) or 0
    number = step.amount.si if step.amount else ONE
    use = Use(stock=step.material or step.name, dimension=Dimension.COUNT, net=number, gross=number)
    return said.outcome(
        StepTakeoff(
            owner=step.owner,
            step=step.name,
            parts=(StepPart(suffix="", minutes=worked),),
            area=area,
            uses=(use,),
            faces=lain_on(step, ground),
            span=step.span,
        )
    )
