"""What pieces weigh, what lifting them asks of people, and what fittings carry.

    m_each = M / people,   M_fitting = sum of all that lies on it, water and what stands on that included

A lift is of one thing at a time, the heaviest that the step names, with what was placed on it before and what
was built into it. What hangs on a station, or stands on one already, asks nothing of people.
Reference: DHHS (NIOSH) 94-110, load constant for one person alone at the best of postures.
"""

from fractions import Fraction

from castlang.problems.model import Outcome, Problem
from castlang.spec.model import Copies, Spec, Station, Step, StepKind, ThingRef
from castlang.spec.quantity import Dimension
from castlang.takeoff import load_findings, wording
from castlang.takeoff.lifting import load_constant
from castlang.takeoff.masses import Burden, Weights, built_into, burdens_of, mass_of, number_of, standing
from castlang.takeoff.model import Bearing, Lift
from castlang.takeoff.said import Said
from castlang.takeoff.standing import steps_of

NOUGHT = Fraction(0)
LIFTED = Fraction(3)
"""kg from which building a fitting in counts as a lift. Source: ISO 11228-1:2003, clause 1."""
CARRIED = (StepKind.PLACE, StepKind.MOVE, StepKind.TEST)


def lifts_and_bearings(weights: Weights) -> Outcome[tuple[tuple[Lift, ...], tuple[Bearing, ...]]]:
    """Every lift by people and every load on a fitting.

    Findings: a lift over the build's limit (or, with no limit told, a note above the load constant of the
    lifting equation), a hoist, a fitting or a station that bears too much. A fitting without a weight counts
    as nothing, and is listed. A station that `lifts` carries in people's place, and so does one that holds a
    mass for what an earlier step set on it.
    """
    said = Said()
    lifts: list[Lift] = []
    bearings: list[Bearing] = []
    for step in steps_of(weights.spec):
        if step.kind is StepKind.DEMOLD and step.owner in weights.pieces:
            inside = built_into(step.owner, weights, said, frozenset((step.owner,)), before=step)
            wet = weights.pieces[step.owner].wet + inside.in_one
            _check_stations(step, wet, weights.spec, said)
            _check_hoists(step, wet, weights.spec, said)
            lifts.append(_lift(step, step.owner, wet, weights.spec))
        elif step.kind in CARRIED and step.things:
            burdens = burdens_of(step, weights, said)
            total = sum((one.mass * one.number for one in burdens), NOUGHT)
            heaviest = max(burdens, key=lambda one: one.mass)
            _check_stations(step, heaviest.mass if step.kind is StepKind.PLACE else total, weights.spec, said)
            _check_hoists(step, heaviest.mass, weights.spec, said)
            if heaviest.mass > 0 and step.kind is not StepKind.TEST:
                lifts.append(_lift_of(step, burdens, weights))
            if step.onto is not None and step.onto.kind == "fitting":
                bearings.append(_bearing(step, step.onto, weights, said))
        elif step.kind is StepKind.INSERT and step.material is not None:
            fitting = ThingRef(name=step.material, kind="fitting", span=step.span)
            mass, number = mass_of(fitting, weights, said), step.amount.si if step.amount else NOUGHT
            _check_hoists(step, mass, weights.spec, said)
            if mass >= LIFTED:
                things = f"{fitting.name}, one at a time" if number > 1 else fitting.name
                lifts.append(_lift(step, things, mass, weights.spec))
            if step.onto is not None:
                bearings.append(_bearing(step, step.onto, weights, said))
    for lift in lifts:
        _check_lift(lift, weights.spec.build.units, said)
    return said.outcome((tuple(lifts), tuple(bearings)))


# ---------------------------------------------------------------- lifts


def _lift_of(step: Step, burdens: tuple[Burden, ...], weights: Weights) -> Lift:
    """The lift of the heaviest thing that does not stand on its station already; of the heaviest, where all
    do."""
    stands = {one.ref.name: _stands_on(one, step, weights) for one in burdens}
    loose = [one for one in burdens if stands[one.ref.name] is None]
    heaviest = max(loose or burdens, key=lambda one: one.mass)
    several = len(burdens) > 1 or heaviest.number > 1
    things = f"{heaviest.ref.name}, one at a time" if several else heaviest.ref.name
    return _lift(step, things, heaviest.mass, weights.spec, stands[heaviest.ref.name])


def _stands_on(burden: Burden, step: Step, weights: Weights) -> str | None:
    """The station that a move takes a thing away on, where the last step that handled it set it there."""
    stations = _mass_stations(step, weights.spec) if step.kind is StepKind.MOVE else []
    if not stations:
        return None
    before = weights.placings.before(step)
    own = [one for one in before if one.owner == step.owner]
    latest_first = (*reversed(own), *reversed(before))
    last = next((one for one in latest_first if burden.ref.name in _lifted_by(one, weights)), None)
    if last is None or not _meant_too(burden.ref, last):
        return None
    return next((station.name for station in stations if station.name in last.using), None)


def _lifted_by(step: Step, weights: Weights) -> tuple[str, ...]:
    """The names of what a step lifts; a move with what its things stand on."""
    if step.kind is StepKind.DEMOLD:
        return (step.owner,)
    if step.kind is StepKind.MOVE:
        return tuple(one.ref.name for one in burdens_of(step, weights, Said()))
    return tuple(thing.name for thing in step.things) if step.kind is StepKind.PLACE else ()


def _meant_too(ref: ThingRef, last: Step) -> bool:
    """Whether the copies meant are among those that `last` handled."""
    handled = next((thing for thing in last.things if thing.name == ref.name), None)
    return handled is None or handled.copies in (Copies(), ref.copies)


def _lift(step: Step, things: str, mass: Fraction, spec: Spec, stands_on: str | None = None) -> Lift:
    people = sum(gang.count for gang in step.gang) or 1
    hoist = next((station.name for station in _hoists(step, spec)), stands_on)
    return Lift(
        step=f"{step.owner}.{step.name}",
        things=things,
        mass=mass,
        people=people,
        each=mass / people if hoist is None else NOUGHT,
        limit=spec.build.lift_limit,
        hoist=hoist,
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
    things = [ref for placing in weights.placings.on(onto.name) for ref in placing.things]
    inside = built_into(onto.name, weights, said, frozenset((onto.name,)))
    mass = sum((standing(ref, weights, said, frozenset()) for ref in things), inside.in_all)
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
