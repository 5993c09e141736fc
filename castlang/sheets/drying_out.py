"""What the crew has to know where a fresh face dries out too fast."""

from castlang.plan.model import Task
from castlang.sheets import amounts
from castlang.sheets.basis import Basis
from castlang.sheets.model import Caution
from castlang.spec.model import Step
from castlang.takeoff.evaporation import Evaporation, evaporation_of

TITLE = "Fresh face dries too fast"
ACTS = "Cover it at once with a sheet that lies close, or keep fog over it; stop the draft"


def drying_caution(basis: Basis, step: Step) -> tuple[Caution, ...]:
    """The box for a step whose face dries too fast; none where it does not."""
    found = evaporation_of(basis.spec, basis.takeoff.recipes, step)
    if found is None or not found.too_fast:
        return ()
    return (Caution(title=TITLE, lines=(_measure(found, basis.units), f"{ACTS}.")),)


def drying_line(basis: Basis, task: Task) -> str:
    """One line for the traveller; empty where the face does not dry too fast."""
    step = basis.steps.get((task.owner, task.step))
    if step is None or not drying_caution(basis, step):
        return ""
    return f"{TITLE}: {ACTS[:1].lower()}{ACTS[1:]}"


def _measure(found: Evaporation, units: str) -> str:
    rate, limit = (amounts.evaporation(value, units) for value in (found.rate, found.limit))
    air = f"air {amounts.temperature(found.air, units)}, {amounts.share(found.humidity)}"
    return (
        f"It loses up to {rate}; more than {limit} cracks it. "
        f"Worst told: {air}, draft {amounts.speed(found.draft, units)}, "
        f"face {amounts.temperature(found.face, units)}."
    )
