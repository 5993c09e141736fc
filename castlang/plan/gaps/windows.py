"""Gaps alone, without crew and hours: when each task could run at the soonest and must at the latest.

Every gap bounds a difference of two points in time (Dechter, Meiri & Pearl, "Temporal constraint networks",
Artificial Intelligence 49, 1991). The soonest times are the longest paths from the origin; they exist when
no circle of bounds adds up to more than 0.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from castlang.plan.gaps.paths import NEVER, Edges, circles_through, edges_of, longest_paths
from castlang.plan.model import Network, Point
from castlang.plan.ties import Ties, ties_of

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
    it may take longer than its work; `origin` is minute 0. edges: the arcs in their order, then the lengths
    of tasks that may pause, then from the origin to each task, then from latest ends back to the origin;
    these last are `dates`, and do not stand in `edges.out`. order: all points, each behind those that a least
    gap puts before it, as far as there is no circle; straight: there is none.
    """

    ties: Ties
    end: Sequence[int]
    origin: int
    edges: Edges
    dates: range
    order: Sequence[int]
    straight: bool

    def edge(self, number: int) -> Edge:
        """The edge of that number, and what it stands for."""
        tail, head = self.edges.tail[number], self.edges.head[number]
        ref = number
        if number >= len(self.ties.arcs):
            ref = EARLIEST if tail == self.origin else LATEST if head == self.origin else TAKES
        return Edge(tail, head, self.edges.weight[number], ref)


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

    When the gaps cannot be met: the edges of one circle that adds up to more than 0; `circles`
    finds the smallest of it and says it.
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


def bounds_of(ties: Ties) -> Bounds:
    """The bounds of `ties`."""
    tasks = ties.tasks
    end = list(range(len(tasks)))
    length = [task.minutes for task in tasks]
    pausing = [k for k, task in enumerate(tasks) if task.may_pause and task.minutes]
    for point, k in enumerate(pausing, start=len(tasks)):
        end[k], length[k] = point, 0
    origin = len(tasks) + len(pausing)
    tails: list[int] = []
    heads: list[int] = []
    weights: list[int] = []
    for tail, head, weight, tail_end, head_end, _, _, _ in ties.arcs:
        tails.append(end[tail] if tail_end else tail)
        heads.append(end[head] if head_end else head)
        if tail_end:
            weight += length[tail]
        if head_end:
            weight -= length[head]
        weights.append(weight)
    dated = [k for k, task in enumerate(tasks) if task.latest is not None]
    tails += [*pausing, *([origin] * len(tasks)), *(end[k] for k in dated)]
    heads += [*(end[k] for k in pausing), *range(len(tasks)), *([origin] * len(dated))]
    weights += [*(tasks[k].minutes for k in pausing), *(task.earliest or 0 for task in tasks)]
    weights += [length[k] - (tasks[k].latest or 0) for k in dated]
    dates = range(len(tails) - len(dated), len(tails))
    edges = edges_of(tails, heads, weights, origin + 1, dates.start)
    order, left = _along(edges, [n for n, arc in enumerate(ties.arcs) if arc.longest])
    return Bounds(
        ties=ties,
        end=end,
        origin=origin,
        edges=edges,
        dates=dates,
        order=order + left,
        straight=not left,
    )


def soonest_points(bounds: Bounds) -> "list[int] | tuple[Edge, ...]":
    """The soonest minute of every point, none before the origin; or a circle that cannot be met."""
    edges = bounds.edges
    found = longest_paths(edges, lowest(bounds), bounds.order)
    if isinstance(found, tuple):
        return tuple(map(bounds.edge, found))
    late = [n for n in bounds.dates if edges.late(found, n)]
    for circle in circles_through(edges, found, late, (), range(len(found))):
        return tuple(map(bounds.edge, circle))
    return found


def lowest(bounds: Bounds) -> list[int]:
    """The minute before which no point can be by its date or the start of the build."""
    tasks = bounds.ties.tasks
    return [task.earliest or 0 for task in tasks] + [0] * (bounds.origin + 1 - len(tasks))


def _latest_points(bounds: Bounds, finish: int) -> list[int]:
    """The latest minute of every point with all ends by `finish`; gaps must be such as can be met."""
    edges, origin = bounds.edges, bounds.origin
    inner = [n for n, tail in enumerate(edges.tail) if tail != origin and edges.head[n] != origin]
    tails, heads, weights = ([row[n] for n in inner] for row in (edges.tail, edges.head, edges.weight))
    back = edges_of(heads, tails, weights, origin + 1)
    low = [NEVER] * (origin + 1)
    for k, task in enumerate(bounds.ties.tasks):
        last = finish if task.latest is None else min(finish, task.latest)
        low[k] = task.minutes - last
        if bounds.end[k] != k:
            low[bounds.end[k]] = -last
    found = longest_paths(back, low, bounds.order[::-1])
    if isinstance(found, tuple):
        raise ValueError("latest times of a network whose gaps cannot be met")
    return [-minute for minute in found]


def _along(edges: Edges, windows: Sequence[int]) -> tuple[list[int], list[int]]:
    """The points along all edges but `windows`, and those that stand on a circle or behind one."""
    head, out = edges.head, edges.out
    waits = [0] * len(out)
    back = bytearray(len(head))
    for n in windows:
        back[n] = 1
    for numbers in out:
        for n in numbers:
            if not back[n]:
                waits[head[n]] += 1
    order = [k for k, n in enumerate(waits) if n == 0]
    for point in order:
        for n in out[point]:
            if not back[n]:
                waits[head[n]] -= 1
                if waits[head[n]] == 0:
                    order.append(head[n])
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
    low = [NEVER] * (bounds.origin + 1)
    low[at] = 0
    out = [numbers if k != bounds.origin else () for k, numbers in enumerate(bounds.edges.out)]
    found = longest_paths(replace(bounds.edges, out=out), low, bounds.order)
    if isinstance(found, tuple):
        raise ValueError("a path in a network whose gaps cannot be met")
    return None if found[to] <= NEVER else found[to] - lead + tail
