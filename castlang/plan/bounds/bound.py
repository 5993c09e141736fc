"""Bounds: how long each hold lasts at the least, and the minute before which no plan can finish."""

from collections.abc import Sequence

from castlang.plan.bounds.supply import suffices, supplies_of
from castlang.plan.bounds.turns import handed_on, queues_of
from castlang.plan.gaps.paths import NEVER, edges_of, longest_paths
from castlang.plan.gaps.windows import bounds_of
from castlang.plan.model import Hold
from castlang.plan.placement.blocks import Block
from castlang.plan.placement.placing import Setting
from castlang.plan.ties import Ties


def hold_lengths(ties: Ties, blocks: Sequence[Block]) -> dict[Hold, int]:
    """The least minutes from the start of each hold's first task to the end of its last, by the gaps of the
    tasks in its block. A hold to the end of the plan has none."""
    bounds = bounds_of(ties)
    all_edges = bounds.edges
    block_of = {k: block for block in blocks for k in block.tasks}
    lengths: dict[Hold, int] = {}
    for hold in ties.network.holds:
        if hold.last is None:
            continue
        first, last = ties.index[hold.first], ties.index[hold.last]
        members = block_of[first].tasks
        points = sorted({*members, *(bounds.end[k] for k in members)})
        place = {point: n for n, point in enumerate(points)}
        inner = [n for point in points for n in all_edges.out[point] if all_edges.head[n] in place]
        tails, heads = ([place[row[n]] for n in inner] for row in (all_edges.tail, all_edges.head))
        edges = edges_of(tails, heads, [all_edges.weight[n] for n in inner], len(points))
        low = [NEVER] * len(points)
        low[place[first]] = 0
        found = longest_paths(edges, low, range(len(points)))
        if isinstance(found, tuple):
            raise ValueError("the length of a hold in a network whose gaps cannot be met")
        end = bounds.end[last]
        lengths[hold] = max(found[place[end]] + (ties.tasks[last].minutes if end == last else 0), 0)
    return lengths


def finish_bound(setting: Setting, finish: int | None) -> int:
    """A minute before which no plan can finish, where one is known that ends at `finish`, or none.

    The greatest of: what gaps and hours alone ask; what each thing that is held asks of all that hold it,
    one after another; and the least finish for which no line has less time, between any two moments, than
    the work that has to fall between them (Baptiste, Le Pape & Nuijten, Constraint-Based Scheduling, 2001,
    section 3.1; here in the shop's hours).
    """
    floor = setting.floor
    soonest = setting.soonest
    bound = max((floor.ends(k, start) for k, start in enumerate(soonest)), default=0)
    queues = queues_of(setting)
    bound = max([bound, *(handed_on(setting, queue) for queue in queues)])
    if finish is None or bound >= finish:
        return bound
    lines = supplies_of(setting, queues, finish)
    if not suffices(setting, lines, finish - 1):
        return finish
    low, high = bound, finish - 1  # no plan ends before `low`; none of the checks refuses `high`
    exact = 1 if len(soonest) <= 2000 else max(1, finish // 2000)
    while high - low >= exact:
        middle = (low + high) // 2
        if suffices(setting, lines, middle):
            high = middle
        else:
            low = middle + 1
    return low
