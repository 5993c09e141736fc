"""The solver asked: a network that the search leaves open, or a proof that it has no plan.

Only a thorough search asks. One worker, a fixed seed, no linear programme, and a limit in the solver's own
deterministic units: the same network gives the same plan, however busy the machine is.
"""

from dataclasses import dataclass, replace
from importlib.util import find_spec

from castlang.plan.placement.placing import Setting, Standing, Unplaced, placed_in, ranks_of, sequence_of
from castlang.plan.solving.horizons import horizons_of
from castlang.plan.solving.parts import in_a_row, parts_of

INSTALL = 'pip install "castlang[solve]"'
A_LITTLE = 0.1  # of the units, for each part at first
REST = 0.9  # of the units left, for parts that are open after that


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """What the solver found: a plan, if any; a minute before which no plan can finish; impossible: that there
    is no plan at all; part: the part of the network that has none by itself; used: deterministic units."""

    standing: Standing | None
    bound: int
    impossible: bool = False
    part: Setting | None = None
    used: float = 0.0


def solver_there() -> bool:
    """Whether the solver is installed."""
    return find_spec("ortools") is not None


def solved(setting: Setting, known: Standing | None, bound: int, limit: float) -> Solved:
    """What the solver makes of a network. known: the best plan so far, to begin from; bound: a minute before
    which no plan can finish; limit: the solver's deterministic units."""
    if not setting.soonest:
        return Solved(standing=known, bound=bound)
    from castlang.plan.solving.constraints import Constraints

    if known is not None:
        told = Constraints(setting, known.finish, bound)
        told.hint(known)
        return _kept(setting, told.solve(limit))
    found = _first(setting, limit)
    if found.impossible or found.standing is None:
        return replace(found, bound=bound)
    # Without the first plan as a hint: it is a poor one, and the solver stays near it.
    left = max(limit - found.used, limit / 2)
    better = Constraints(setting, found.standing.finish, bound).solve(left)
    if better.standing is None:
        better = replace(better, standing=found.standing)
    return _kept(setting, better)


def _first(setting: Setting, limit: float) -> Solved:
    """A first plan, or a part that has none. Parts are asked one by one, a little at first, then in another
    way, and then what is left of the limit; after them the network, where it is more than one part."""
    parts = parts_of(setting)
    plans: dict[int, tuple[Setting, Standing]] = {}
    left = limit
    found = Solved(standing=None, bound=0)
    for turn in range(3):
        pending = [n for n in range(len(parts)) if n not in plans]
        units = limit * A_LITTLE if turn < 2 else max(left, 0.0) * REST / max(len(pending), 1)
        for n in pending:
            found = _any(parts[n], units, turn == 1)
            left -= found.used
            if found.impossible:
                return replace(found, part=parts[n], used=limit - left)
            if found.standing is not None:
                plans[n] = parts[n], found.standing
    if len(parts) == 1 and parts[0] is setting:
        return replace(found, used=limit - left)
    found = _any(setting, max(left, 0.0) / 2, False)
    left -= found.used
    if found.standing is None and not found.impossible and len(plans) == len(parts):
        found = Solved(standing=in_a_row(setting, tuple(plans.values())), bound=0)
    return replace(found, part=setting if found.impossible else None, used=limit - left)


def _any(setting: Setting, limit: float, harder: bool) -> Solved:
    """Any plan that ends by a near minute, or by a far one, or that there is none at all."""
    from castlang.plan.solving.constraints import Constraints

    near, far = horizons_of(setting)
    found = Constraints(setting, near, None).solve(limit, harder)
    if not found.impossible or near == far:
        return found
    used = found.used
    found = Constraints(setting, far, None).solve(limit, harder)
    return replace(found, used=used + found.used)


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
    rank = ranks_of(order)
    standing = placed_in(setting, sequence_of(setting, rank), rank)
    return replace(found, standing=None if isinstance(standing, Unplaced) else standing)
