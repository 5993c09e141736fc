"""Clashes: windows and latest dates that cannot all be kept, and of what there is too little for them."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from castlang.plan.bounds.bound import hold_lengths
from castlang.plan.clock import WEEK
from castlang.plan.model import GapEdge, Task
from castlang.plan.placement.blocks import blocks_of
from castlang.plan.placement.placing import Setting, setting_of
from castlang.plan.placement.profile import Line
from castlang.plan.placement.soonest import Shut, soonest_of
from castlang.plan.solving.constraints import Constraints, solver_of
from castlang.plan.solving.horizons import horizons_of
from castlang.plan.ties import ties_of
from castlang.source.model import Span

NEAR = 8  # weeks
IN_ALL = 16  # times the units of one question, after which no more are asked

_Keys = tuple[GapEdge | Task | Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Windows, tasks with latest dates, and lines (crew, stations, molds) of which there is too little for
    them. least: shown that none of them can be left out. wider: windows and dates with which there is a plan,
    as (what, its new minutes); none where that was not found out."""

    windows: tuple[GapEdge | Task, ...]
    lines: tuple[Line, ...]
    least: bool
    wider: tuple[tuple[GapEdge | Task, int], ...] = ()


def clash_of(setting: Setting, limit: float) -> Clash:
    """A clash in a network that has no plan. limit: the solver's deterministic units for each question.

    What clashes up to a near minute mostly clashes for ever, and is found sooner there; what it then is must
    be shown to clash for ever, else all windows and dates are told, which do.
    """
    near, far = _near(setting), horizons_of(setting)[1]
    model = _Loose(setting, near)
    windows, least = _fewest(model, limit)
    if near < far and not _clash_for_ever(setting, windows, IN_ALL / 4 * limit):
        windows, least = model.keys, False
    lines = tuple(line for line in setting.floor.capacity if line in windows)
    ties = setting.floor.ties
    gaps = dict.fromkeys(arc.gap for arc in ties.arcs if arc.longest and arc.gap is not None)
    told: list[GapEdge | Task] = [gap for gap in gaps if gap in windows]
    told += [task for task in ties.tasks if task in windows]
    return Clash(windows=tuple(told), lines=lines, least=least, wider=_wider(setting, told, near, limit))


def _near(setting: Setting) -> int:
    """A minute by which a plan may well end, whatever days off the calendar still tells behind it."""
    work = sum(claim.minutes for claim in setting.floor.claims)
    dates = [task.latest or 0 for task in setting.floor.ties.tasks]
    return min(horizons_of(setting)[0], max([*setting.soonest, *dates]) + work + NEAR * WEEK)


def _clash_for_ever(setting: Setting, kept: Collection[GapEdge | Task | Line], limit: float) -> bool:
    """Whether it is shown that there is no plan, however late it ends, with no window and no latest date but
    those that are `kept`."""
    ties, shop = setting.floor.ties, setting.floor.shop
    network = replace(
        ties.network,
        tasks=tuple(task if task in kept else replace(task, latest=None) for task in ties.tasks),
        gaps=tuple(gap if gap in kept else replace(gap, longest=None) for gap in ties.network.gaps),
    )
    own = ties_of(network)
    soonest = soonest_of(own, shop)
    if isinstance(soonest, Shut):
        return True
    part = setting_of(own, shop, soonest, hold_lengths(own, blocks_of(own)))
    return Constraints(part, horizons_of(part)[1], None).solve(limit).impossible


def _wider(
    setting: Setting, windows: Sequence[GapEdge | Task], near: int, limit: float
) -> tuple[tuple[GapEdge | Task, int], ...]:
    """By how little some windows and dates have to give for a plan that ends by a near minute; those of one
    line of text alike. Nothing where waits pass by warmth: the solver is told less of them than there is."""
    if not windows or any(arc.passing is not None for arc in setting.floor.ties.arcs):
        return ()
    told = Constraints(setting, near, None, soft=frozenset(windows))
    solver = solver_of(limit)
    if solver.solve(told.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return ()
    found: dict[GapEdge | Task | Span, tuple[GapEdge | Task, int]] = {}
    for window in windows:
        line = window.span if window.span.file else window
        minutes = window.longest if isinstance(window, GapEdge) else window.latest
        slack = solver.value(told.slack[line]) * told.grain
        if slack and minutes is not None and line not in found:
            found[line] = window, minutes + slack
    return tuple(found.values())


class _Loose:
    """A network of which windows, dates and lines may be left out, asked whether it has a plan. used: the
    solver's deterministic units so far."""

    def __init__(self, setting: Setting, horizon: int) -> None:
        self.told = Constraints(setting, horizon, None, loose=True)
        self.keys: _Keys = tuple(self.told.literals)
        self.used = 0.0

    def core(self, limit: float) -> _Keys:
        """Those by which alone the solver shows that there is no plan; all where it does not."""
        model = self.told.model.clone()
        index = {self.told.literals[key].index: key for key in self.keys}
        model.add_assumptions([model.get_bool_var_from_proto_index(number) for number in index])
        solver = solver_of(limit)
        status = solver.solve(model)
        self.used += solver.response_proto.deterministic_time
        if status != cp_model.INFEASIBLE:
            return self.keys
        found = {index[number] for number in solver.sufficient_assumptions_for_infeasibility()}
        return tuple(key for key in self.keys if key in found)

    def any(self, kept: Collection[GapEdge | Task | Line], limit: float) -> bool | None:
        """Whether there is any plan with those that are `kept`; None where the solver does not know."""
        model = self.told.model.clone()
        for key, literal in self.told.literals.items():
            model.add(model.get_bool_var_from_proto_index(literal.index) == (key in kept))
        solver = solver_of(limit)
        status = solver.solve(model)
        self.used += solver.response_proto.deterministic_time
        return {cp_model.INFEASIBLE: False, cp_model.OPTIMAL: True, cp_model.FEASIBLE: True}.get(status)


def _fewest(model: _Loose, limit: float) -> tuple[_Keys, bool]:
    """Some of what a loose model may leave out, that cannot be kept together: what the solver takes for its
    proof, then each let go in turn, and for good where there is no plan without it either. And whether it was
    shown of each that is kept that there is a plan without it."""
    kept = model.core(IN_ALL / 4 * limit)
    lines = [key for key in kept if not isinstance(key, GapEdge | Task)]
    least = True
    for keys in ([key for key in kept if key not in lines], lines):
        size = len(keys)
        while keys and size:
            size = size // 2 if size > 1 else 0
            width = max(size, 1)
            for n in range(0, len(keys), width):
                if model.used > IN_ALL * limit:
                    return kept, False
                trial = tuple(key for key in kept if key not in keys[n : n + width])
                answer = model.any(trial, limit)
                if answer is False:
                    kept = trial
                elif not size:
                    least = least and answer is True
            keys = [key for key in keys if key in kept]
    return kept, least
