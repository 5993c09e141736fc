"""Bounds: how long each hold lasts at the least, and the minute before which no plan can finish."""

from collections.abc import Sequence

from castlang.plan.blocks import Block
from castlang.plan.clock import DAY
from castlang.plan.hours import Shop, people_there, people_wanted
from castlang.plan.model import Hold
from castlang.plan.soonest import Soonest
from castlang.plan.ties import Ties
from castlang.plan.windows import NEVER, Edge, Times, bounds_of, longest_paths


def hold_lengths(ties: Ties, blocks: Sequence[Block]) -> dict[Hold, int]:
    """The least minutes from the start of each hold's first task to the end of its last, by the gaps of the
    tasks in its block. A hold to the end of the plan has none."""
    bounds = bounds_of(ties)
    block_of = {k: block for block in blocks for k in block.tasks}
    lengths: dict[Hold, int] = {}
    for hold in ties.network.holds:
        if hold.last is None:
            continue
        first, last = ties.index[hold.first], ties.index[hold.last]
        members = block_of[first].tasks
        points = sorted({*members, *(bounds.end[k] for k in members)})
        place = {point: n for n, point in enumerate(points)}
        out = [
            [
                Edge(place[e.tail], place[e.head], e.weight, e.ref)
                for e in bounds.out[point]
                if e.head in place
            ]
            for point in points
        ]
        low = [NEVER] * len(points)
        low[place[first]] = 0
        found = longest_paths(out, low, range(len(points)))
        if isinstance(found, tuple):
            raise ValueError("the length of a hold in a network whose gaps cannot be met")
        end = bounds.end[last]
        lengths[hold] = max(found[place[end]] + (ties.tasks[last].minutes if end == last else 0), 0)
    return lengths


def finish_bound(ties: Ties, shop: Shop, times: Times, soonest: Soonest, lengths: dict[Hold, int]) -> int:
    """A minute before which no plan can finish: the greatest of what gaps and hours alone ask, of all work of
    each kind of people put end to end, and of all use of each station, mold and temporary work put end to
    end; each with the least that has to come behind it."""
    bound = max(soonest.end, default=0)
    tail = [times.finish - times.rows[task.name].latest_end for task in ties.tasks]
    by_role: dict[str | None, list[int]] = {}
    for k, task in enumerate(ties.tasks):
        for role, _ in people_wanted(task):
            if task.minutes:
                by_role.setdefault(role, []).append(k)
    for role, tasks in by_role.items():
        work = sum(dict(people_wanted(ties.tasks[k]))[role] * ties.tasks[k].minutes for k in tasks)
        through = any(ties.tasks[k].through_breaks for k in tasks)
        start = min(soonest.start[k] for k in tasks)
        bound = max(bound, _worked_off(shop, role, work, start, through) + min(tail[k] for k in tasks))
    for resource in ties.network.resources:
        used, starts, tails = 0, [], []
        for k, task in enumerate(ties.tasks):
            for need in task.needs:
                if need.resource == resource.name:
                    used += need.amount * task.minutes
                    starts.append(soonest.start[k])
                    tails.append(tail[k])
        for hold, length in lengths.items():
            if hold.resource == resource.name and hold.last is not None:
                used += hold.amount * length
                starts.append(soonest.start[ties.index[hold.first]])
                tails.append(tail[ties.index[hold.last]])
        if used:
            bound = max(bound, min(starts) + -(-used // resource.capacity) + min(tails))
    return bound


def _worked_off(shop: Shop, role: str | None, work: int, start: int, through: bool) -> int:
    """When `work` minutes of people are done by all of a role who are there, from `start` on."""
    left = work
    day = start // DAY
    while True:
        week = shop.hours.week[(shop.hours.start.weekday() + day) % 7]
        people = people_there(shop.hours, day).get(role, 0)
        if week and people and day not in shop.hours.closed:
            for opens, shuts in ((week[0][0], week[-1][1]),) if through else week:
                begin = max(day * DAY + opens, start)
                minutes = max(day * DAY + shuts - begin, 0)
                if minutes * people >= left:
                    return begin + -(-left // people)
                left -= minutes * people
        day += 1
