"""The solver asked: a network that the search leaves open, or a proof that it has no plan.

Only a thorough search asks. One worker, a fixed seed, no linear programme, and a limit in the solver's own
deterministic units: the same network gives the same plan, however busy the machine is.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from importlib.util import find_spec

from castlang.plan.clock import WEEK
from castlang.plan.model import GapEdge, Task
from castlang.plan.placing import Setting, Standing, Unplaced, placed_in, sequence_of
from castlang.plan.profile import Line
from castlang.plan.soonest import stretched

INSTALL = 'pip install "castlang[solve]"'


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """What the solver found: a plan, if any; a minute before which no plan can finish; impossible: that there
    is no plan at all."""

    standing: Standing | None
    bound: int
    impossible: bool = False


def solver_there() -> bool:
    """Whether the solver is installed."""
    return find_spec("ortools") is not None


def solved(setting: Setting, known: Standing | None, bound: int, limit: float) -> Solved:
    """What the solver makes of a network. known: the best plan so far, to begin from; bound: a minute before
    which no plan can finish; limit: the solver's deterministic units."""
    if not setting.soonest:
        return Solved(standing=known, bound=bound)
    from castlang.plan.constraints import Constraints

    if known is not None:
        told = Constraints(setting, known.finish, bound)
        told.hint(known)
        return _kept(setting, told.solve(limit))
    near, far = _horizons(setting)
    found = Constraints(setting, near, bound).solve(limit)
    if found.impossible and near < far:
        found = Constraints(setting, far, bound).solve(limit)
    return _kept(setting, found)


def _kept(setting: Setting, found: Solved) -> Solved:
    """What the solver found, placed again in its order where waits that pass by warmth take longer in its
    plan than the least that they ever come to, which is all that it is told."""
    if found.standing is None or all(arc.passing is None for arc in setting.floor.ties.arcs):
        return found
    start, end = found.standing.start, found.standing.end
    if all(
        (end if arc.head_end else start)[arc.head]
        >= arc.passing.ahead((end if arc.tail_end else start)[arc.tail])
        for arc in setting.floor.ties.arcs
        if arc.passing is not None
    ):
        return found
    order = sorted(range(len(start)), key=lambda k: (start[k], setting.block[k]))
    rank = [0] * len(order)
    for place, k in enumerate(order):
        rank[k] = place
    standing = placed_in(setting, sequence_of(setting, rank), rank)
    return replace(found, standing=None if isinstance(standing, Unplaced) else standing)


def _horizons(setting: Setting) -> tuple[int, int]:
    """A minute by which a plan may well end, and one by which a network that has a plan has one that ends:
    all tasks and gaps one after another, and for a shop with hours as many idle weeks, which could be taken
    out of a longer plan."""
    ties, shop = setting.floor.ties, setting.floor.shop
    near = far = shop.settled + max(setting.soonest, default=0)
    for k, task in enumerate(ties.tasks):
        gaps = max([0, *(arc.weight for arc in ties.out[k] if not arc.longest)])
        near += task.minutes
        far += stretched(shop, task) + gaps
    if all(claim.spells is None for claim in setting.floor.claims):
        return far, far
    return near + 4 * WEEK, far + 2 * WEEK * (len(ties.tasks) + 1)


def clashing(setting: Setting, limit: float) -> tuple[GapEdge | Task, ...]:
    """Of the windows and latest dates of a network that has no plan, some that cannot all be kept with its
    crew, stations and molds: each is let go in turn, and for good where there is no plan without it either.
    limit: the solver's deterministic units for each."""
    from castlang.plan.constraints import Constraints

    horizon = _horizons(setting)[1]
    kept = _windows(setting)
    without: frozenset[GapEdge | Task] = frozenset()
    size = len(kept)
    while kept and size:
        size = size // 2 if size > 1 else 0
        width = max(size, 1)
        for part in [kept[n : n + width] for n in range(0, len(kept), width)]:
            trial = without | frozenset(part)
            if Constraints(setting, horizon, 0, trial).solve(limit).impossible:
                without = trial
        kept = [window for window in kept if window not in without]
    return tuple(kept)


def short_lines(setting: Setting, windows: Sequence[GapEdge | Task], limit: float) -> tuple[Line, ...]:
    """Of crew, stations and molds those for want of which `windows`, alone of all, cannot be kept: the others
    could be without end, and there would be no plan either. limit: the solver's deterministic units for each.
    """
    from castlang.plan.constraints import Constraints

    horizon = _horizons(setting)[1]
    without = frozenset(_windows(setting)) - frozenset(windows)
    lines = tuple(setting.floor.capacity)
    free: frozenset[Line] = frozenset()
    for line in lines:
        if Constraints(setting, horizon, 0, without, free | {line}).solve(limit).impossible:
            free |= {line}
    return tuple(line for line in lines if line not in free)


def _windows(setting: Setting) -> list[GapEdge | Task]:
    """All windows, and the tasks that have a latest date."""
    ties = setting.floor.ties
    windows = dict.fromkeys(arc.gap for arc in ties.arcs if arc.longest and arc.gap is not None)
    return [*windows, *(task for task in ties.tasks if task.latest is not None)]
