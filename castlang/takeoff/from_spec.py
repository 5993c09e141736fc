"""A spec becomes a take-off: bodies, recipes, steps, pieces, bill, loads, in this order."""

from collections.abc import Mapping
from dataclasses import replace

from castlang.problems.model import Outcome
from castlang.spec.model import Spec, Step
from castlang.takeoff.bill import Boards, bill_of
from castlang.takeoff.bodies import Body, body_of, jobs_on
from castlang.takeoff.indications import bendings_of, heads_of
from castlang.takeoff.loads import lifts_and_bearings
from castlang.takeoff.masses import Weights, loads_of
from castlang.takeoff.measured import as_measured, measured_value
from castlang.takeoff.model import Recipe, StepTakeoff, Takeoff
from castlang.takeoff.panels import nests_of, panels_of
from castlang.takeoff.pieces import piece_takeoff
from castlang.takeoff.portions import Ground
from castlang.takeoff.recipes import recipe_of
from castlang.takeoff.said import Said
from castlang.takeoff.shared_batches import shared_batches
from castlang.takeoff.sharing import groups_of
from castlang.takeoff.shipments import shipments_of
from castlang.takeoff.standing import Placings
from castlang.takeoff.steps import step_takeoff
from castlang.takeoff.unsaid import unsaid
from castlang.takeoff.unusual import unusual
from castlang.takeoff.warmth import warmth_of


def takeoff_of(spec: Spec) -> Outcome[Takeoff]:
    """All quantities of `spec`; none when a finding is an error. Recipes are those that a step uses."""
    said = Said()
    measured = as_measured(spec)
    steps = all_steps(measured)
    groups = groups_of(measured, steps)
    jobs = jobs_on(measured)
    ground = Ground(
        spec=measured,
        bodies=_bodies(measured, jobs, said),
        recipes=_recipes(measured, steps, said),
        shared=frozenset((step.owner, step.name) for group in groups for step in group),
    )
    for problem in unusual(measured, ground.recipes, steps):
        said.found(problem)
    taken = _steps(ground, steps, said)
    shared = said.heard(shared_batches(measured, groups, taken, ground.recipes)) or ()
    for assumption in unsaid(measured, steps, taken, ground.recipes):
        said.assumed(assumption)
    pieces = {
        name: piece_takeoff(body, measured, jobs.get(name, ()), taken, ground.recipes)
        for name, body in ground.bodies.items()
    }
    panels = said.heard(panels_of(measured, ground.bodies)) or ()
    nests = said.heard(nests_of(measured, panels)) or ()
    boards = Boards(panels=panels, nests=nests)
    bill = said.heard(bill_of(measured, steps, taken, ground.bodies, boards)) or ()
    weights = Weights(
        spec=measured,
        pieces=pieces,
        steps=taken,
        placings=Placings(spec=measured),
        loads=loads_of(measured),
    )
    lifts, bearings = said.heard(lifts_and_bearings(weights)) or ((), ())
    return said.outcome(
        Takeoff(
            pieces=pieces,
            recipes=ground.recipes,
            steps=taken,
            bill=bill,
            lifts=lifts,
            bearings=bearings,
            shipments=said.heard(shipments_of(weights)) or (),
            bendings=bendings_of(measured, pieces, ground.bodies),
            heads=heads_of(measured, taken, ground.recipes),
            panels=panels,
            nests=nests,
            shared=shared,
            assumptions=tuple(said.assumptions),
        )
    )


def all_steps(spec: Spec) -> tuple[Step, ...]:
    """Every step of every mold, piece and job, in order; the oiling of a mold stands with the piece."""
    return tuple(item for owner in spec.owners() for item in owner.sequence if isinstance(item, Step))


def _bodies(spec: Spec, jobs: Mapping[str, tuple[Step, ...]], said: Said) -> dict[str, Body]:
    bodies = {}
    for name, piece in spec.pieces.items():
        body = said.heard(body_of(piece, spec, jobs.get(name, ())))
        if body is not None:
            bodies[name] = body
    return bodies


def _recipes(spec: Spec, steps: tuple[Step, ...], said: Said) -> dict[str, Recipe]:
    used = {step.material for step in steps}
    recipes = {}
    for name, mix in spec.mixes.items():
        if name in used:
            measured = measured_value(spec, "density", name)
            recipe = said.heard(recipe_of(mix, spec.stocks, measured, units=spec.build.units))
            if recipe is not None:
                recipes[name] = replace(recipe, warmth=said.heard(warmth_of(mix, recipe, spec)))
    return recipes


def _steps(ground: Ground, steps: tuple[Step, ...], said: Said) -> dict[tuple[str, str], StepTakeoff]:
    taken = {}
    for step in steps:
        done = said.heard(step_takeoff(step, ground))
        if done is not None:
            taken[step.owner, step.name] = done
    return taken
