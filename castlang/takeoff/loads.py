"""What pieces weigh, what lifting them asks of people, and what fittings carry.

    m_each = M / people,   M_fitting = sum of all that lies on it, water and what stands on that included

A lift is of one thing at a time, the heaviest that the step names. Reference: DHHS (NIOSH) 94-110, load
constant 23 kg for one person alone at the best of postures.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.model import Copies, Spec, Step, StepKind, ThingRef
from castlang.spec.quantity import Dimension
from castlang.takeoff import findings
from castlang.takeoff.model import Bearing, Lift, PieceTakeoff, StepTakeoff
from castlang.takeoff.said import Said
from castlang.takeoff.wording import kilograms

ONE_PERSON = Fraction(23)
NOUGHT = Fraction(0)
CARRIED = (StepKind.PLACE, StepKind.MOVE, StepKind.TEST)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """What is known of masses: the build, its pieces and its steps."""

    spec: Spec
    pieces: Mapping[str, PieceTakeoff]
    steps: Mapping[tuple[str, str], StepTakeoff]


def lifts_and_bearings(weights: Weights) -> Outcome[tuple[tuple[Lift, ...], tuple[Bearing, ...]]]:
    """Every lift by people and every load on a fitting.

    Findings: a lift over the build's limit (or, with no limit told, a note above 23 kg a person), a fitting
    or a station that bears too much. A fitting without a weight counts as nothing, and is listed.
    """
    said = Said()
    lifts: list[Lift] = []
    bearings: list[Bearing] = []
    for step in _steps(weights.spec):
        if step.kind is StepKind.DEMOLD and step.owner in weights.pieces:
            wet = weights.pieces[step.owner].wet
            lifts.append(_lift(step, step.owner, wet, weights.spec))
        elif step.kind in CARRIED and step.things:
            masses = [(ref, mass_of(ref, weights, said)) for ref in step.things]
            _check_stations(step, masses, weights.spec, said)
            heaviest, mass = max(masses, key=lambda pair: pair[1])
            several = len(masses) > 1 or number_of(heaviest, weights.spec) > 1
            things = f"{heaviest.name}, one at a time" if several else heaviest.name
            if mass > 0 and step.kind is not StepKind.TEST:
                lifts.append(_lift(step, things, mass, weights.spec))
            if step.onto is not None and step.onto.kind == "fitting":
                bearings.append(_bearing(step, step.onto, weights, said))
    for lift in lifts:
        _check_lift(lift, said)
    return said.outcome((tuple(lifts), tuple(bearings)))


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


def _steps(spec: Spec) -> tuple[Step, ...]:
    return tuple(item for owner in spec.owners() for item in owner.sequence if isinstance(item, Step))


def _lift(step: Step, things: str, mass: Fraction, spec: Spec) -> Lift:
    people = sum(gang.count for gang in step.gang) or 1
    return Lift(
        step=f"{step.owner}.{step.name}",
        things=things,
        mass=mass,
        people=people,
        each=mass / people,
        limit=spec.build.lift_limit,
        span=step.span,
    )


def _check_lift(lift: Lift, said: Said) -> None:
    finding = findings.HEAVY_LIFT if lift.limit is None else findings.LIFT_OVER_LIMIT
    limit = ONE_PERSON if lift.limit is None else lift.limit
    if lift.each > limit:
        said.found(
            Problem(
                finding=finding,
                message=f"{lift.step} lifts {kilograms(lift.mass)} by {lift.people}, "
                f"{kilograms(lift.each)} a person, more than {kilograms(limit)}",
                span=lift.span,
                about=(lift.step,),
            )
        )


def _check_stations(step: Step, masses: Sequence[tuple[ThingRef, Fraction]], spec: Spec, said: Said) -> None:
    total = sum((mass * number_of(ref, spec) for ref, mass in masses), NOUGHT)
    for name in step.using:
        station = spec.stations.get(name)
        holds = station.holds if station else None
        if holds is None or holds.dimension is not Dimension.MASS or total <= holds.si:
            continue
        said.found(
            Problem(
                finding=findings.STATION_OVERLOADED,
                message=f"{step.owner}.{step.name} puts {kilograms(total)} on {name}, "
                f"which holds {kilograms(holds.si)}",
                span=step.span,
                about=(f"{step.owner}.{step.name}", name),
            )
        )


# ---------------------------------------------------------------- what fittings carry


def _bearing(step: Step, onto: ThingRef, weights: Weights, said: Said) -> Bearing:
    fitting = weights.spec.fittings[onto.name]
    things = [ref for placing in _placed_on(onto.name, weights) for ref in placing.things]
    mass = sum((_standing(ref, weights, said, frozenset()) for ref in things), NOUGHT)
    carries = None if fitting.carries is None else fitting.carries * number_of(onto, weights.spec)
    bearing = Bearing(
        step=f"{step.owner}.{step.name}", fitting=onto.name, mass=mass, carries=carries, span=step.span
    )
    if carries is not None and mass > carries:
        said.found(
            Problem(
                finding=findings.FITTING_OVERLOADED,
                message=f"{kilograms(mass)} comes to lie on {onto.name} with {bearing.step}, "
                f"which carries {kilograms(carries)} in all",
                span=step.span,
                about=(bearing.step, onto.name),
            )
        )
    return bearing


def _placed_on(name: str, weights: Weights) -> tuple[Step, ...]:
    return tuple(
        step
        for step in _steps(weights.spec)
        if step.kind is StepKind.PLACE and step.onto is not None and step.onto.name == name
    )


def _standing(ref: ThingRef, weights: Weights, said: Said, below: frozenset[str]) -> Fraction:
    """kg of the things meant, of what is loaded into them and of what stands on them.

    Things that stand on each other in a circle count once.
    """
    if ref.name in below:
        return NOUGHT
    own = mass_of(ref, weights, said) * number_of(ref, weights.spec)
    on_top = sum(
        (
            _standing(thing, weights, said, below | {ref.name})
            for step in _placed_on(ref.name, weights)
            for thing in step.things
        ),
        NOUGHT,
    )
    return own + on_top + _loaded(ref.name, weights)


def _loaded(piece: str, weights: Weights) -> Fraction:
    """kg that `load` steps put into `piece`, all copies: the most at one time is taken to be the sum."""
    return sum(
        (
            weights.steps[step.owner, step.name].mass or NOUGHT
            for step in _steps(weights.spec)
            if step.kind is StepKind.LOAD
            and any(ref.piece == piece for ref in step.on)
            and (step.owner, step.name) in weights.steps
        ),
        NOUGHT,
    )
