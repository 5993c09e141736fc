"""What the hands must know of a step beside its amounts: what it weighs, and who bears it."""

from castlang.plan.model import Task
from castlang.sheets import amounts
from castlang.sheets.basis import Basis, called
from castlang.takeoff.model import Lift

ONE_BY_ONE = ", one at a time"


def load_lines(basis: Basis, task: Task) -> tuple[str, ...]:
    """`lifts 56.2 kg, 28.1 kg a person`, `lifts 158 kg, by Gantry`: nothing of what lifts nothing."""
    lifts = basis.lifts.get(f"{task.owner}.{task.step}", ())
    return tuple(dict.fromkeys(_load_text(basis, lift) for lift in lifts))


def _load_text(basis: Basis, lift: Lift) -> str:
    mass = amounts.mass(lift.mass, basis.units)
    if lift.things.endswith(ONE_BY_ONE):
        mass += ONE_BY_ONE
    if lift.hoist is not None:
        station = basis.spec.stations.get(lift.hoist)
        hangs = station is not None and station.holds is None
        name = called(basis.spec, lift.hoist)
        return f"lifts {mass}, by {name}" if hangs else f"weighs {mass}, on {name}"
    if lift.people < 2:
        return f"lifts {mass}{_over(basis, lift)}"
    return f"lifts {mass}, {amounts.mass(lift.each, basis.units)} a person{_over(basis, lift)}"


def _over(basis: Basis, lift: Lift) -> str:
    if lift.limit is None or lift.each <= lift.limit:
        return ""
    return f", over the limit of {amounts.mass(lift.limit, basis.units)} a person"
