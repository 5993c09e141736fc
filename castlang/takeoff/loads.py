"""What pieces weigh, what lifting them asks of people, and what fittings carry.

    m_each = M / people,   M_fitting = sum of all that lies on it, water and what stands on that included

A lift is of one thing at a time, the heaviest that the step names, with what was placed on it before.
Reference: DHHS (NIOSH) 94-110, load constant for one person alone at the best of postures.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.model import Copies, Spec, Station, Step, StepKind, ThingRef
from castlang.spec.quantity import Dimension
from castlang.takeoff import findings, wording
from castlang.takeoff.lifting import load_constant
from castlang.takeoff.model import Bearing, Lift, PieceTakeoff, StepTakeoff
from castlang.takeoff.said import Said
from castlang.takeoff.standing import placed_before, placed_on, steps_of

NOUGHT = Fraction(0)
CARRIED = (StepKind.PLACE, StepKind.MOVE, StepKind.TEST)
HOISTED = (StepKind.DEMOLD, StepKind.PLACE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """What is known of masses: the build, its pieces and its steps."""

    spec: Spec
    pieces: Mapping[str, PieceTakeoff]
    steps: Mapping[tuple[str, str], StepTakeoff]


def lifts_and_bearings(weights: Weights) -> Outcome[tuple[tuple[Lift, ...], tuple[Bearing, ...]]]:
    """Every lift by people and every load on a fitting.

    Findings: a lift over the build's limit (or, with no limit told, a note above the load constant of the
    lifting equation), a fitting or a station that bears too much. A fitting without a weight counts as
    nothing, and is listed. What a station with a greatest mass demolds or places is on its hook.
    """
    said = Said()
    lifts: list[Lift] = []
    bearings: list[Bearing] = []
    for step in steps_of(weights.spec):
        if step.kind is StepKind.DEMOLD and step.owner in weights.pieces:
            wet = weights.pieces[step.owner].wet
            _check_stations(step, wet, weights.spec, said)
            lifts.append(_lift(step, step.owner, wet, weights.spec))
        elif step.kind in CARRIED and step.things:
            masses = [(ref, with_load(ref, step, weights, said)) for ref in step.things]
            total = sum((mass * number_of(ref, weights.spec) for ref, mass in masses), NOUGHT)
            heaviest, mass = max(masses, key=lambda pair: pair[1])
            _check_stations(step, mass if step.kind is StepKind.PLACE else total, weights.spec, said)
            several = len(masses) > 1 or number_of(heaviest, weights.spec) > 1
            things = f"{heaviest.name}, one at a time" if several else heaviest.name
            if mass > 0 and step.kind is not StepKind.TEST:
                lifts.append(_lift(step, things, mass, weights.spec))
            if step.onto is not None and step.onto.kind == "fitting":
                bearings.append(_bearing(step, step.onto, weights, said))
    for lift in lifts:
        _check_lift(lift, weights.spec.build.units, said)
    return said.outcome((tuple(lifts), tuple(bearings)))


# ---------------------------------------------------------------- masses


def mass_of(ref: ThingRef, weights: Weights, said: Said) -> Fraction:
    """kg of one of the things meant, as it leaves the shop; nothing for what tells no weight."""
    if ref.name in weights.pieces and ref.kind == "piece":
        return weights.pieces[ref.name].dry
    fitting = weights.spec.fittings.get(ref.name) if ref.kind == "fitting" else None
    if fitting is not None and fitting.weight is not None:
        return fitting.weight
    said.assumed(
        Assumption(
            subject=f"{ref.kind} {ref.name}",
            says="no weight counted where it is lifted or carried",
            source="nothing told",
            line="weight N kg" if ref.kind == "fitting" else f"measured mass of {ref.name} N kg",
            span=ref.span,
        )
    )
    return NOUGHT


def with_load(ref: ThingRef, step: Step, weights: Weights, said: Said) -> Fraction:
    """kg of one of the things meant, with its share of what was placed on it before `step`.

    What stands on it and is itself named in a `move` counts there, once.
    """
    named = frozenset(thing.name for thing in step.things) if step.kind is StepKind.MOVE else frozenset()
    below = named | {ref.name}
    above = sum(
        (
            _standing(thing, weights, said, below, before=step)
            for placing in placed_before(ref.name, step, weights.spec)
            for thing in placing.things
        ),
        NOUGHT,
    )
    return mass_of(ref, weights, said) + above / number_of(ref, weights.spec)


def number_of(ref: ThingRef, spec: Spec) -> int:
    """How many copies `ref` means; a fitting counts as many as the build buys, at least one."""
    piece = spec.pieces.get(ref.name) if ref.kind == "piece" else None
    if piece is not None:
        return copies_meant(ref.copies, piece.count, piece.mirrored)
    fitting = spec.fittings.get(ref.name) if ref.kind == "fitting" else None
    return (fitting.buy or 1) if fitting is not None else 1


def copies_meant(copies: Copies, count: int, mirrored: int) -> int:
    """How many of `count` plain and `mirrored` mirrored copies are meant."""
    if copies.each:
        return 1
    if copies.first is not None:
        return (copies.last or copies.first) - copies.first + 1
    return mirrored if copies.mirrored else count + mirrored


# ---------------------------------------------------------------- lifts


def _lift(step: Step, things: str, mass: Fraction, spec: Spec) -> Lift:
    people = sum(gang.count for gang in step.gang) or 1
    hoists = _mass_stations(step, spec) if step.kind in HOISTED else []
    return Lift(
        step=f"{step.owner}.{step.name}",
        things=things,
        mass=mass,
        people=people,
        each=mass / people,
        limit=spec.build.lift_limit,
        hoist=hoists[0].name if hoists else None,
        span=step.span,
    )


def _check_lift(lift: Lift, units: str, said: Said) -> None:
    finding = findings.HEAVY_LIFT if lift.limit is None else findings.LIFT_OVER_LIMIT
    limit = load_constant(units) if lift.limit is None else lift.limit
    if lift.each > limit and lift.hoist is None:
        said.found(
            Problem(
                finding=finding,
                message=f"{lift.step} lifts {wording.mass(lift.mass, units)} by {lift.people}, "
                f"{wording.mass(lift.each, units)} a person, more than {wording.mass(limit, units)}",
                span=lift.span,
                about=(lift.step,),
            )
        )


def _mass_stations(step: Step, spec: Spec) -> list[Station]:
    stations = [spec.stations[name] for name in step.using if name in spec.stations]
    return [s for s in stations if s.holds is not None and s.holds.dimension is Dimension.MASS]


def _check_stations(step: Step, total: Fraction, spec: Spec, said: Said) -> None:
    for station in _mass_stations(step, spec):
        holds = station.holds.si if station.holds else NOUGHT
        if total <= holds:
            continue
        said.found(
            Problem(
                finding=findings.STATION_OVERLOADED,
                message=f"{step.owner}.{step.name} puts {wording.mass(total, spec.build.units)} on "
                f"{station.name}, which holds {wording.mass(holds, spec.build.units)}",
                span=step.span,
                about=(f"{step.owner}.{step.name}", station.name),
            )
        )


# ---------------------------------------------------------------- what fittings carry


def _bearing(step: Step, onto: ThingRef, weights: Weights, said: Said) -> Bearing:
    fitting, units = weights.spec.fittings[onto.name], weights.spec.build.units
    things = [ref for placing in placed_on(onto.name, weights.spec) for ref in placing.things]
    mass = sum((_standing(ref, weights, said, frozenset()) for ref in things), NOUGHT)
    carries = None if fitting.carries is None else fitting.carries * number_of(onto, weights.spec)
    bearing = Bearing(
        step=f"{step.owner}.{step.name}", fitting=onto.name, mass=mass, carries=carries, span=step.span
    )
    if carries is not None and mass > carries:
        said.found(
            Problem(
                finding=findings.FITTING_OVERLOADED,
                message=f"{wording.mass(mass, units)} comes to lie on {onto.name} with {bearing.step}, "
                f"which carries {wording.mass(carries, units)} in all",
                span=step.span,
                about=(bearing.step, onto.name),
            )
        )
    return bearing


def _standing(
    ref: ThingRef, weights: Weights, said: Said, below: frozenset[str], *, before: Step | None = None
) -> Fraction:
    """kg of the things meant, of what is loaded into them and of what stands on them; only what was placed
    `before` a step, where one is told, and then without water.

    Things that stand on each other in a circle count once.
    """
    if ref.name in below:
        return NOUGHT
    own = mass_of(ref, weights, said) * number_of(ref, weights.spec)
    spec = weights.spec
    placings = placed_on(ref.name, spec) if before is None else placed_before(ref.name, before, spec)
    on_top = sum(
        (
            _standing(thing, weights, said, below | {ref.name}, before=before)
            for step in placings
            for thing in step.things
        ),
        NOUGHT,
    )
    return own + on_top + (_loaded(ref.name, weights) if before is None else NOUGHT)


def _loaded(piece: str, weights: Weights) -> Fraction:
    """kg that `load` steps put into `piece`, all copies: the most at one time is taken to be the sum."""
    return sum(
        (
            weights.steps[step.owner, step.name].mass or NOUGHT
            for step in steps_of(weights.spec)
            if step.kind is StepKind.LOAD
            and any(ref.piece == piece for ref in step.on)
            and (step.owner, step.name) in weights.steps
        ),
        NOUGHT,
    )
