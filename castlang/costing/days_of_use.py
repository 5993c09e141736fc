"""The days on which each stock and fitting is first and last needed, by the plan."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from castlang.plan.model import Plan
from castlang.spec.model import After, Spec, Step, StepKind
from castlang.takeoff.model import Takeoff

DAY = 1440


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysOfUse:
    """On which days of the plan each stock and fitting is used."""

    first: date
    last: date


def days_of_use(spec: Spec, takeoff: Takeoff, plan: Plan) -> Mapping[str, DaysOfUse]:
    """The first and last day of use by name; what no task uses is left out."""
    starts = _starts(plan)
    wanted: dict[str, list[int]] = {}
    for step, done in takeoff.steps.items():
        for use in done.uses:
            wanted.setdefault(use.stock, []).extend(starts.get(step, ()))
    for owner in spec.owners():
        waiting: tuple[str, ...] = ()
        for item in owner.sequence:
            if isinstance(item, After):
                waiting += tuple(ref.owner for ref in item.refs if ref.fitting)
            elif isinstance(item, Step):
                for name in (*waiting, *_fittings(item)):
                    wanted.setdefault(name, []).extend(starts.get((item.owner, item.name), ()))
                waiting = ()
    for name, minutes in _panels(spec, starts).items():
        wanted.setdefault(name, []).extend(minutes)
    return {
        name: DaysOfUse(first=_day(plan, min(minutes)), last=_day(plan, max(minutes)))
        for name, minutes in sorted(wanted.items())
        if minutes
    }


def _day(plan: Plan, minute: int) -> date:
    return plan.network.hours.start + timedelta(days=minute // DAY)


def _starts(plan: Plan) -> dict[tuple[str, str], list[int]]:
    """Starts of all tasks by (owner, step), in minutes."""
    placed = {p.task: p.start for p in plan.placed}
    starts: dict[tuple[str, str], list[int]] = {}
    for task in plan.network.tasks:
        if task.name in placed:
            starts.setdefault((task.owner, task.step), []).append(placed[task.name])
    return starts


def _fittings(step: Step) -> tuple[str, ...]:
    refs = (*step.things, *((step.onto,) if step.onto else ()))
    return tuple(ref.name for ref in refs if ref.kind == "fitting")


def _panels(spec: Spec, starts: Mapping[tuple[str, str], list[int]]) -> dict[str, list[int]]:
    """Sheet stock is first cut with the first step that makes its mold, else when the mold is first taken."""
    made: dict[str, list[int]] = {}
    for (owner, _), minutes in starts.items():
        made.setdefault(owner, []).extend(minutes)
    taken: dict[str, list[int]] = {}
    for item in (item for owner in spec.owners() for item in owner.sequence):
        if isinstance(item, Step) and item.kind is StepKind.TAKE and item.target is not None:
            taken.setdefault(item.target, []).extend(starts.get((item.owner, item.name), ()))
    found: dict[str, list[int]] = {}
    for mold in spec.molds.values():
        stocks = {panel.stock or mold.board for panel in mold.panels} if mold.panels else {mold.board}
        for stock in sorted(name for name in stocks if name is not None):
            found.setdefault(stock, []).extend(made.get(mold.name) or taken.get(mold.name, []))
    return found
