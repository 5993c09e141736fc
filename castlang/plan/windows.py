"""Gaps alone, without crew and hours: when each task could run at the soonest and must at the latest.

Every gap bounds a difference of two points in time (Dechter, Meiri & Pearl, "Temporal constraint networks",
Artificial Intelligence 49, 1991). The soonest times are the longest paths from the origin; they exist when
no circle of bounds adds up to more than 0.
"""

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from castlang.plan.model import Network, Point
from castlang.plan.ties import Arc, Ties, ties_of

NEVER = -(1 << 60)  # below every time
TAKES, EARLIEST, LATEST = -1, -2, -3


class Edge(NamedTuple):
    """`time(head) >= time(tail) + weight`. ref: place in `Ties.arcs`, or TAKES, EARLIEST, LATEST."""

    tail: int
    head: int
    weight: int
    ref: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """The arcs of a network between points in time.

    Point i is the start of task i; a task that may pause has a further point for its end (`end[i]`), since
    it may take longer than its work; `origin` is minute 0. out: the edges from each point. order: all
    points, each behind those that a least gap puts before it, as far as there is no circle; straight:
    there is none.
    """

    ties: Ties
    end: tuple[int, ...]
    origin: int
    out: tuple[tuple[Edge, ...], ...]
    order: tuple[int, ...]
    straight: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Minutes of a task by gaps alone; slack is total slack, in clock minutes."""

    earliest: int
    earliest_end: int
    latest: int
    latest_end: int

    @property
    def slack(self) -> int:
        """How much later the task may start without moving the finish."""
        return self.latest - self.earliest


@dataclass(frozen=True, slots=True, kw_only=True)
class Times:
    """When each task could run by gaps alone, by name; finish in minutes."""

    rows: Mapping[str, Row]
    finish: int


def times_of(network: Network, finish: int | None = None) -> "Times | tuple[Edge, ...]":
    """Soonest and latest times of every task, counted back from `finish` (None: the soonest end of all).

    When the gaps cannot be met: the edges of one circle that adds up to more than 0 (`castlang.plan.circles`
    finds the smallest of it and says it).
    """
    return times_of_ties(ties_of(network), finish)


def times_of_ties(ties: Ties, finish: int | None = None) -> "Times | tuple[Edge, ...]":
    """`times_of` for a network whose ties are at hand."""
    bounds = bounds_of(ties)
    soonest = soonest_points(bounds)
    if isinstance(soonest, tuple):
        return soonest
    ends = [_end(bounds, soonest, k) for k in range(len(ties.tasks))]
    done = max(ends, default=0) if finish is None else finish
    latest = _latest_points(bounds, done)
    rows = {
        task.name: Row(
            earliest=soonest[k],
            earliest_end=ends[k],
            latest=latest[k],
            latest_end=_end(bounds, latest, k),
        )
        for k, task in enumerate(ties.tasks)
    }
    return Times(rows=rows, finish=done)


def gap_between(
    network: Network, before: tuple[str, Point], after: tuple[str, Point]
) -> tuple[int | None, int | None]:
    """The tightest `least <= after - before <= longest` that the gaps imply; None where they say nothing.

    The network must be one whose gaps can be met.
    """
    bounds = bounds_of(ties_of(network))
    least = _path(bounds, before, after)
    longest = _path(bounds, after, before)
    return least, None if longest is None else -longest


def bounds_of(
    ties: Ties, without: frozenset[int] = frozenset(), free: frozenset[int] = frozenset()
) -> Bounds:
    """The bounds of `ties`, leaving out the arcs `without` and the latest ends of the tasks `free`."""
    end = []
    points = len(ties.tasks)
    for k, task in enumerate(ties.tasks):
        end.append(points if task.may_pause and task.minutes else k)
        points += end[k] != k
    origin = points
    out: list[list[Edge]] = [[] for _ in range(points + 1)]
    length = [t.minutes if end[k] == k else 0 for k, t in enumerate(ties.tasks)]
    for ref, arc in enumerate(ties.arcs):
        if without and ref in without:
            continue
        tail, head, weight, tail_end, head_end = arc[:5]
        at, to = tail, head
        if tail_end:
            weight += length[tail]
            at = end[tail]
        if head_end:
            weight -= length[head]
            to = end[head]
        out[at].append(Edge(at, to, weight, ref))
    for k, task in enumerate(ties.tasks):
        if end[k] != k:
            out[k].append(Edge(k, end[k], task.minutes, TAKES))
        out[origin].append(Edge(origin, k, task.earliest or 0, EARLIEST))
        if task.latest is not None and k not in free:
            out[end[k]].append(Edge(end[k], origin, length[k] - task.latest, LATEST))
    order, left = _along(out, ties.arcs)
    return Bounds(
        ties=ties,
        end=tuple(end),
        origin=origin,
        out=tuple(map(tuple, out)),
        order=(*order, *left),
        straight=not left,
    )


def soonest_points(bounds: Bounds) -> "list[int] | tuple[Edge, ...]":
    """The soonest minute of every point, none before the origin; or a circle that cannot be met."""
    low = [0] * len(bounds.out)
    for edge in bounds.out[bounds.origin]:
        low[edge.head] = edge.weight
    return longest_paths(bounds.out, low, bounds.order)


def _latest_points(bounds: Bounds, finish: int) -> list[int]:
    """The latest minute of every point with all ends by `finish`; gaps must be such as can be met."""
    count = len(bounds.out)
    back: list[list[Edge]] = [[] for _ in range(count)]
    for edges in bounds.out:
        for edge in edges:
            if edge.ref != EARLIEST and edge.ref != LATEST:
                back[edge.head].append(Edge(edge.head, edge.tail, edge.weight, edge.ref))
    low = [NEVER] * count
    for k, task in enumerate(bounds.ties.tasks):
        last = finish if task.latest is None else min(finish, task.latest)
        low[k] = task.minutes - last
        if bounds.end[k] != k:
            low[bounds.end[k]] = -last
    found = longest_paths(back, low, bounds.order[::-1])
    if isinstance(found, tuple):
        raise ValueError("latest times of a network whose gaps cannot be met")
    return [-minute for minute in found]


def longest_paths(
    out: Sequence[Sequence[Edge]], low: Sequence[int], order: Sequence[int]
) -> "list[int] | tuple[Edge, ...]":
    """The least times that keep every edge and are not below `low`; or the edges of a circle that adds up
    to more than 0.

    Queue Bellman-Ford that starts with `order`; after every len(out) raises it looks for a circle in the
    forest of parents, so that one is found soon after it closes (Cherkassky & Goldberg, "Negative-cycle
    detection algorithms", Mathematical Programming 85, 1999).
    """
    count = len(out)
    times = list(low)
    parent: list[Edge | None] = [None] * count
    queue = deque(order)
    waiting = [True] * count
    raises = 0
    while queue:
        tail = queue.popleft()
        waiting[tail] = False
        base = times[tail]
        if base <= NEVER:
            continue
        for edge in out[tail]:
            head = edge[1]
            minute = base + edge[2]
            if minute > times[head]:
                times[head] = minute
                parent[head] = edge
                if not waiting[head]:
                    waiting[head] = True
                    queue.append(head)
                raises += 1
                if raises % count == 0:
                    circle = _circle(parent)
                    if circle:
                        return circle
                if head == tail:
                    return (edge,)
    return times


def _circle(parent: Sequence[Edge | None]) -> tuple[Edge, ...]:
    """A circle in the forest of parents, in the order of its edges; empty when there is none."""
    seen = [0] * len(parent)
    for root in range(len(parent)):
        at = root
        while not seen[at]:
            seen[at] = root + 1
            edge = parent[at]
            if edge is None:
                break
            at = edge.tail
        else:
            if seen[at] == root + 1 and parent[at] is not None:
                return _round(parent, at)
    return ()


def _round(parent: Sequence[Edge | None], at: int) -> tuple[Edge, ...]:
    """The circle of parents through `at`; empty when the walk ends at a root."""
    edges: list[Edge] = []
    point = at
    while True:
        edge = parent[point]
        if edge is None:
            return ()
        edges.append(edge)
        point = edge.tail
        if point == at:
            return tuple(reversed(edges))


def _along(out: Sequence[Sequence[Edge]], arcs: Sequence[Arc]) -> tuple[list[int], list[int]]:
    """The points along the least gaps, and those that stand on a circle or behind one."""
    waits = [0] * len(out)
    heads: list[list[int]] = []
    for edges in out:
        ahead = [head for _, head, _, ref in edges if not (arcs[ref].longest if ref >= 0 else ref == LATEST)]
        for head in ahead:
            waits[head] += 1
        heads.append(ahead)
    order = [k for k, n in enumerate(waits) if n == 0]
    for tail in order:
        for head in heads[tail]:
            waits[head] -= 1
            if waits[head] == 0:
                order.append(head)
    return order, [k for k, n in enumerate(waits) if n > 0]


def _end(bounds: Bounds, times: Sequence[int], k: int) -> int:
    return times[bounds.end[k]] + (bounds.ties.tasks[k].minutes if bounds.end[k] == k else 0)


def _path(bounds: Bounds, source: tuple[str, Point], target: tuple[str, Point]) -> int | None:
    """The longest path from one point to the other by gaps and lengths alone; None where there is none."""
    ties = bounds.ties

    def point(place: tuple[str, Point]) -> tuple[int, int]:
        k = ties.index[place[0]]
        if place[1] is Point.START:
            return k, 0
        return bounds.end[k], ties.tasks[k].minutes if bounds.end[k] == k else 0

    (at, lead), (to, tail) = point(source), point(target)
    low = [NEVER] * len(bounds.out)
    low[at] = 0
    out = tuple(edges if k != bounds.origin else () for k, edges in enumerate(bounds.out))
    found = longest_paths(out, low, bounds.order)
    if isinstance(found, tuple):
        raise ValueError("a path in a network whose gaps cannot be met")
    return None if found[to] <= NEVER else found[to] - lead + tail
