"""Slack: how late each task of a plan may start without moving the finish, in the plan's own order of use."""

from collections import deque
from collections.abc import Sequence

from castlang.plan.hours import Shop
from castlang.plan.ties import Arc, Ties
from castlang.plan.told.uses import Hands


def latest_starts(ties: Ties, shop: Shop, start: Sequence[int], hands: Hands, finish: int) -> tuple[int, ...]:
    """The latest start of each task, in minutes, that keeps `finish`, all gaps and hours, and the order in
    which crew, stations and molds go from hand to hand.

    Starts are lowered from the finish until everything holds, which the plan itself does: none ends up below
    its start in the plan. The latest starts of all tasks together keep every gap and capacity.
    """
    ends: list[int] = []
    latest: list[int] = []
    for k, task in enumerate(ties.tasks):
        by = min(finish, hands.before.get(k, finish), finish if task.latest is None else task.latest)
        found = start[k] if k in hands.pinned else shop.last(task, by)
        latest.append(start[k] if found is None else max(found, start[k]))
        ends.append(shop.end(task, latest[k]))
    bounds: list[list[Arc]] = [list(arcs) for arcs in ties.into]
    for handing in hands.handings:
        bounds[handing.to].append(Arc(handing.by, handing.to, 0, True, False, None, False))
    queue = deque(sorted(range(len(ties.tasks)), key=lambda k: (-start[k], k)))
    waiting = [True] * len(ties.tasks)
    while queue:
        head = queue.popleft()
        waiting[head] = False
        for arc in bounds[head]:
            tail = arc.tail
            task = ties.tasks[tail]
            by = arc.back(ends[head] if arc.head_end else latest[head])
            if by >= (ends[tail] if arc.tail_end else latest[tail]):
                continue
            found = shop.last(task, by) if arc.tail_end else shop.last_start(task, by)
            latest[tail] = start[tail] if found is None else max(found, start[tail])
            ends[tail] = shop.end(task, latest[tail])
            if not waiting[tail]:
                waiting[tail] = True
                queue.append(tail)
    return tuple(latest)
