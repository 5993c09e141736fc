"""Crowds: molds and places that steps hold at once in every order, more of them than there is."""

from collections import deque
from collections.abc import Sequence
from typing import NamedTuple

from castlang.plan.findings import PLACES_SHORT
from castlang.plan.model import Hold
from castlang.plan.placement.placing import Setting
from castlang.plan.ties import Ties
from castlang.problems.model import Problem
from castlang.spec.model import NOWHERE

NAMED = 6  # holds named in one message; of more, the others are counted
EFFORT = 2_000_000  # gaps followed in all to find crowds; beyond it the rest is left to the search


class _Taken(NamedTuple):
    """A hold: its first and last task by index; last None: to the end of the plan."""

    hold: Hold
    first: int
    last: int | None


def crowd_problems(setting: Setting) -> tuple[Problem, ...]:
    """One problem for each mold or place that is held too often at once in every order.

    Two holds overlap in every order where least gaps lead from the start of each to the end of the other.
    Holds of which any two overlap all have a moment in common, as intervals on a line have (Helly, "Über
    Mengen konvexer Körper mit gemeinschaftlichen Punkten", Jahresbericht der DMV 32, 1923).
    """
    ties = setting.floor.ties
    room = {resource.name: resource.capacity for resource in ties.network.resources}
    held: dict[tuple[str, int], list[_Taken]] = {}
    for kept in setting.floor.kept:
        own = held.setdefault((kept.hold.resource, setting.block[kept.first]), [])
        own.append(_Taken(kept.hold, kept.first, kept.last))
    found: dict[str, Problem] = {}
    left = EFFORT
    for (name, number), holds in held.items():
        tasks = setting.blocks[number].tasks
        if name in found or sum(taken.hold.amount for taken in holds) <= room[name]:
            continue
        left -= len(holds) * sum(len(ties.out[k]) for k in tasks)
        if left < 0:
            break
        crowd = _crowd(ties, holds, room[name])
        if crowd:
            found[name] = _problem(name, room[name], crowd)
    return tuple(found.values())


def _crowd(ties: Ties, holds: Sequence[_Taken], room: int) -> tuple[Hold, ...]:
    """Some holds that overlap in every order and want more than `room`; none where there are no such."""
    reached = [_reached(ties, taken.first) for taken in holds]
    index = range(len(holds))
    until = [[taken.last is None or taken.last in seen for taken in holds] for seen in reached]
    lasting = [n for n in index if until[n][n]]
    for first in lasting:
        crowd = [first]
        for n in lasting:
            if n != first and all(until[n][m] and until[m][n] for m in crowd):
                crowd.append(n)
        crowd.sort()
        wanted = 0
        for place, n in enumerate(crowd):
            wanted += holds[n].hold.amount
            if wanted > room:
                return tuple(holds[m].hold for m in crowd[: place + 1])
    return ()


def _reached(ties: Ties, first: int) -> set[int]:
    """The tasks that end after the start of `first` in every order, by least gaps and the tasks' minutes."""
    starts, ends = {first: 0}, {first: ties.tasks[first].minutes}
    queue = deque([first])
    while queue:
        k = queue.popleft()
        for arc in ties.out[k]:
            if arc.longest:
                continue
            tail = ends.get(k) if arc.tail_end else starts.get(k)
            if tail is None:
                continue
            head, minute, minutes = arc.head, tail + arc.weight, ties.tasks[arc.head].minutes
            times, most = (ends, minute) if arc.head_end else (starts, minute)
            if most > times.get(head, most - 1):
                times[head] = most
                # The start of a task that may pause can lie longer before its end than its minutes.
                if not arc.head_end:
                    ends[head] = max(ends.get(head, most + minutes), most + minutes)
                elif not ties.tasks[head].may_pause:
                    starts[head] = max(starts.get(head, most - minutes), most - minutes)
                queue.append(head)
    return {k for k, minute in ends.items() if minute > 0}


def _problem(name: str, room: int, crowd: Sequence[Hold]) -> Problem:
    told = [
        f"from {hold.first} to the end of {hold.last}" if hold.last else f"from {hold.first} on for good"
        for hold in crowd[:NAMED]
    ]
    more = f" and {len(crowd) - NAMED} times more" if len(crowd) > NAMED else ""
    wanted = sum(hold.amount for hold in crowd)
    return Problem(
        finding=PLACES_SHORT,
        message=(
            f"in every order {name} is held {', '.join(told)}{more} at once, which wants {wanted}, but there "
            f"is room for {room}"
        ),
        span=next((hold.span for hold in crowd if hold.span.file), NOWHERE),
        remedy=f"have {wanted} of {name}, or let some be freed before the others begin",
        about=tuple(hold.first for hold in crowd),
    )
