"""How much material a step takes in each of its coats, lifts or passes, before it is batched."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.model import Mix, Spec, Step, StepKind, Stock
from castlang.takeoff import batch_findings, sources
from castlang.takeoff.bodies import LAID, NOUGHT, ONE, Body, faces_on, pieces_on
from castlang.takeoff.coats import coats_of
from castlang.takeoff.durations import grit_suffixes, suffixes
from castlang.takeoff.fillings import Basin, Hole, closed_holes, filled
from castlang.takeoff.model import Recipe
from castlang.takeoff.pours import MOST, Place, lifts_of, place_of, poured_of, pours_of
from castlang.takeoff.said import Said


@dataclass(frozen=True, kw_only=True)
class Ground:
    """What every step is worked out from: the build as measured, its bodies and its recipes. shared: the
    steps whose batches serve others too, and are made together."""

    spec: Spec
    bodies: Mapping[str, Body]
    recipes: Mapping[str, Recipe]
    shared: frozenset[tuple[str, str]] = frozenset()

    @cached_property
    def densities(self) -> Mapping[str, Fraction]:
        """kg/m3 of every mix and stock where it is known."""
        stocks = {name: s.density for name, s in self.spec.stocks.items() if s.density is not None}
        return {**stocks, **{name: recipe.density for name, recipe in self.recipes.items()}}

    @cached_property
    def closed(self) -> frozenset[Hole]:
        """The cut-outs that something closes."""
        return closed_holes(self.spec)

    @cached_property
    def pours(self) -> Mapping[Place, tuple[Step, ...]]:
        """All pours, by what they go into."""
        return pours_of(self.spec)


@dataclass(frozen=True, slots=True, kw_only=True)
class Portion:
    """One coat, lift or pass before it is batched: volume m3 or mass kg of its material, net."""

    suffix: str = ""
    volume: Fraction | None = None
    mass: Fraction | None = None
    depth: Fraction | None = None


def portions_of(step: Step, ground: Ground, area: Fraction | None) -> Outcome[tuple[Portion, ...]]:
    """The portions of `step` on `area` m2, for one doing of it."""
    if step.kind in LAID:
        volume = sum(
            (
                ground.bodies[piece].laid.get((step.owner, step.name), NOUGHT) * times_of(step, ground, piece)
                for piece in pieces_on(step.on)
                if piece in ground.bodies
            ),
            NOUGHT,
        )
        return Outcome(value=(Portion(volume=volume),))
    if step.kind is StepKind.POUR:
        return _pour_portions(step, ground)
    if step.kind is StepKind.LOAD:
        return _load_portions(step, ground)
    if step.grits:
        return Outcome(value=tuple(Portion(suffix=suffix) for suffix in grit_suffixes(step.grits)))
    material = material_of(step, ground)
    if step.kind in (StepKind.PASS, StepKind.RELEASE) and material is not None:
        coats = coats_of(step, material, area or NOUGHT)
        if coats.value is None:
            return Outcome(value=None, problems=coats.problems)
        if coats.value.count > MOST:
            return Outcome(value=None, problems=(_too_many(step, "coats"),))
        names = suffixes("coat", coats.value.count)
        return Outcome(
            value=tuple(Portion(suffix=n, volume=coats.value.volume, mass=coats.value.mass) for n in names)
        )
    return Outcome(value=(Portion(),))


def _pour_portions(step: Step, ground: Ground) -> Outcome[tuple[Portion, ...]]:
    said = Said()
    piece = place_of(step)[0]
    body = ground.bodies.get(piece)
    if body is None:
        return said.outcome(None)  # what is wrong with its shape was said with the piece
    pours = ground.pours[place_of(step)]
    poured = said.heard(poured_of(step, body, pours, ground.densities, ground.spec.build.units))
    if poured is None:
        return said.outcome(None)
    if step.full and place_of(step)[1] is None and _has_inserts(step, ground.spec):
        said.assumed(
            Assumption(
                subject=f"step {step.owner}.{step.name}",
                says="inserts take up no volume",
                source=sources.COMMON,
                line=f'measured volume of {piece} N L "how"',
                span=step.span,
            )
        )
    times = times_of(step, ground, piece)
    lifts = lifts_of(ground.spec.mixes.get(step.material or ""), poured)
    if not lifts:
        said.found(_too_many(step, "lifts"))
    return said.outcome(
        tuple(
            Portion(suffix=suffix, volume=lift.volume * times, depth=lift.depth)
            for suffix, lift in zip(suffixes("lift", len(lifts)), lifts, strict=True)
        )
    )


def _load_portions(step: Step, ground: Ground) -> Outcome[tuple[Portion, ...]]:
    basins = tuple(
        Basin(ref=ref, geometry=ground.bodies[ref.piece].geometry, copies=times_of(step, ground, ref.piece))
        for ref in step.on
        if ref.piece in ground.bodies
    )
    density = ground.densities.get(step.material or "")
    load = filled(step, basins, density, ground.closed, ground.spec.build.units)
    if load.value is None:
        return Outcome(value=None, problems=load.problems)
    volume, mass = load.value
    return Outcome(value=(Portion(volume=volume, mass=mass),), problems=load.problems)


def _too_many(step: Step, what: str) -> Problem:
    name = f"{step.owner}.{step.name}"
    return Problem(
        finding=batch_findings.TOO_MANY_PARTS,
        message=f"{name} comes to more than {MOST} {what}",
        span=step.span,
        about=(name,),
    )


def area_of(step: Step, ground: Ground) -> Fraction | None:
    """m2 of the faces that the step lies on; None for a step that lies on none."""
    if not step.on:
        return None
    return sum(
        (
            ground.bodies[piece].area(faces_on(step, piece)) * times_of(step, ground, piece)
            for piece in pieces_on(step.on)
            if piece in ground.bodies
        ),
        NOUGHT,
    )


def lain_on(step: Step, ground: Ground) -> tuple[str, ...]:
    """The single faces that the step lies on, as "piece.face"; a pour lies on all of its place."""
    on = [(ref.piece, ref.face) for ref in step.on]
    if step.kind is StepKind.POUR:
        piece, cut = place_of(step)
        on.append((piece, cut or "all"))
    return tuple(
        dict.fromkeys(
            f"{piece}.{face}"
            for piece, named in on
            if piece in ground.bodies
            for face in ground.bodies[piece].geometry.primitives(named)
        )
    )


def times_of(step: Step, ground: Ground, piece: str) -> Fraction:
    """How many copies of `piece` one doing of `step` covers: a job does all of them at once."""
    if step.owner not in ground.spec.jobs or step.each is not None:
        return ONE
    return Fraction(ground.bodies[piece].copies)


def _has_inserts(step: Step, spec: Spec) -> bool:
    owner = spec.pieces.get(step.owner)
    items = owner.sequence if owner else ()
    return any(isinstance(item, Step) and item.kind is StepKind.INSERT for item in items)


def material_of(step: Step, ground: Ground) -> Mix | Stock | None:
    """The mix or stock that `step` uses; None for a fitting or for nothing."""
    name = step.material or ""
    return ground.spec.mixes.get(name) or ground.spec.stocks.get(name)
