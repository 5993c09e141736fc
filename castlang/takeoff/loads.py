"""What pieces weigh, what lifting them asks of people, and what fittings carry.

    m_each = M / people,   M_fitting = sum of all that lies on it, water and what stands on that included

A lift is of one thing at a time, the heaviest that the step names, with what was placed on it before.
Reference: DHHS (NIOSH) 94-110, load constant for one person alone at the best of postures.
"""

from fractions import Fraction

from castlang.problems.model import Outcome, Problem
from castlang.spec.model import Spec, Station, Step, StepKind, ThingRef
from castlang.spec.quantity import Dimension
from castlang.takeoff import load_findings, wording
from castlang.takeoff.lifting import load_constant
from castlang.takeoff.masses import Weights, burdens_of, number_of, standing
from castlang.takeoff.model import Bearing, Lift
from castlang.takeoff.said import Said
from castlang.takeoff.standing import placed_on, steps_of

NOUGHT = Fraction(0)
CARRIED = (StepKind.PLACE, StepKind.MOVE, StepKind.TEST)


def lifts_and_bearings(weights: Weights) -> Outcome[tuple[tuple[Lift, ...], tuple[Bearing, ...]]]:
    """Every lift by people and every load on a fitting.

    Findings: a lift over the build's limit (or, with no limit told, a note above the load constant of the
    lifting equation), a hoist, a fitting or a station that bears too much. A fitting without a weight counts
    as nothing, and is listed. A station that `lifts` carries in people's place.
    """
    said = Said()
    lifts: list[Lift] = []
    bearings: list[Bearing] = []
    for step in steps_of(weights.spec):
        if step.kind is StepKind.DEMOLD and step.owner in weights.pieces:
            wet = weights.pieces[step.owner].wet
            _check_stations(step, wet, weights.spec, said)
            _check_hoists(step, wet, weights.spec, said)
            lifts.append(_lift(step, step.owner, wet, weights.spec))
        elif step.kind in CARRIED and step.things:
            burdens = burdens_of(step, weights, said)
            total = sum((one.mass * one.number for one in burdens), NOUGHT)
            heaviest = max(burdens, key=lambda one: one.mass)
            _check_stations(step, heaviest.mass if step.kind is StepKind.PLACE else total, weights.spec, said)
            _check_hoists(step, heaviest.mass, weights.spec, said)
            several = len(burdens) > 1 or heaviest.number > 1
            things = f"{heaviest.ref.name}, one at a time" if several else heaviest.ref.name
            if heaviest.mass > 0 and step.kind is not StepKind.TEST:
                lifts.append(_lift(step, things, heaviest.mass, weights.spec))
            if step.onto is not None and step.onto.kind == "fitting":
                bearings.append(_bearing(step, step.onto, weights, said))
    for lift in lifts:
        _check_lift(lift, weights.spec.build.units, said)
    return said.outcome((tuple(lifts), tuple(bearings)))


# ---------------------------------------------------------------- masses


# ---------------------------------------------------------------- lifts


def _lift(step: Step, things: str, mass: Fraction, spec: Spec) -> Lift:
    people = sum(gang.count for gang in step.gang) or 1
    hoists = _hoists(step, spec)
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
    finding = load_findings.HEAVY_LIFT if lift.limit is None else load_findings.LIFT_OVER_LIMIT
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


def _hoists(step: Step, spec: Spec) -> list[Station]:
    """What lifts in people's place: a gantry, a crane, a forklift."""
    stations = [spec.stations[name] for name in step.using if name in spec.stations]
    return [station for station in stations if station.lifts is not None]


def _check_hoists(step: Step, mass: Fraction, spec: Spec, said: Said) -> None:
    for station in _hoists(step, spec):
        if station.lifts is None or mass <= station.lifts:
            continue
        said.found(
            Problem(
                finding=load_findings.HOIST_OVERLOADED,
                message=f"{step.owner}.{step.name} hangs {wording.mass(mass, spec.build.units)} on "
                f"{station.name}, which lifts {wording.mass(station.lifts, spec.build.units)}",
                span=step.span,
                about=(f"{step.owner}.{step.name}", station.name),
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
                finding=load_findings.STATION_OVERLOADED,
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
    mass = sum((standing(ref, weights, said, frozenset()) for ref in things), NOUGHT)
    carries = None if fitting.carries is None else fitting.carries * number_of(onto, weights.spec)
    bearing = Bearing(
        step=f"{step.owner}.{step.name}", fitting=onto.name, mass=mass, carries=carries, span=step.span
    )
    if carries is not None and mass > carries:
        said.found(
            Problem(
                finding=load_findings.FITTING_OVERLOADED,
                message=f"{wording.mass(mass, units)} comes to lie on {onto.name} with {bearing.step}, "
                f"which carries {wording.mass(carries, units)} in all",
                span=step.span,
                about=(bearing.step, onto.name),
            )
        )
    return bearing
