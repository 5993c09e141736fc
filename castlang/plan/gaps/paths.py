"""Longest paths between points in time, and the circles of fewest edges where there are none."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from castlang.plan.gaps.groups import groups_against

NEVER = -(1 << 60)  # below every time


@dataclass(frozen=True, slots=True, kw_only=True)
class Edges:
    """Edges by number: `time(head[n]) >= time(tail[n]) + weight[n]`. out: those that go on from each point.

    Plain lists, because a large build has some hundred thousand edges; nothing is done to them once made.
    """

    tail: Sequence[int]
    head: Sequence[int]
    weight: Sequence[int]
    out: Sequence[Sequence[int]]

    def after(self, point: int) -> list[int]:
        """The points to which the edges in `out` lead from one."""
        return [self.head[n] for n in self.out[point]]

    def late(self, times: Sequence[int], n: int) -> bool:
        """Whether the times break edge n."""
        return times[self.head[n]] < times[self.tail[n]] + self.weight[n]


def edges_of(
    tail: Sequence[int], head: Sequence[int], weight: Sequence[int], points: int, last: int | None = None
) -> Edges:
    """The edges from `tail` to `head` with their weights, between `points` points; in `out` stand those
    before number `last` (None: all)."""
    out: list[list[int]] = [[] for _ in range(points)]
    for n, point in enumerate(tail[:last]):
        out[point].append(n)
    return Edges(tail=tail, head=head, weight=weight, out=out)


def longest_paths(edges: Edges, low: Sequence[int], order: Sequence[int]) -> "list[int] | tuple[int, ...]":
    """The least times that keep every edge in `out` and are not below `low`; or the edges, by number, of a
    circle that adds up to more than 0.

    order: all points, best each behind those that edges put before it. Points at NEVER may not lie on a
    circle of that kind.
    """
    times = list(low)
    for circle in circles_among(edges, times, order, set()):
        return circle
    return times


def circles_among(
    edges: Edges, times: list[int], order: Sequence[int], gone: Collection[int]
) -> Iterator[tuple[int, ...]]:
    """Raises `times` until they keep every edge in `out`; of each that cannot be kept a circle as
    `circles_through` tells it.

    What the edges along `order` leave late is looked at group by group, a group being points that lie on
    common circles: what stands behind a group does not move until the group is done.
    """
    late = _raise_along(edges, times, order, gone)
    if not late:
        return
    heads = [edges.head[n] for n in reversed(late)]
    groups = groups_against(len(edges.out), heads, edges.after)
    reached = {point for group in groups for point in group}
    for n in late:
        if edges.tail[n] not in reached:
            times[edges.head[n]] = max(times[edges.head[n]], times[edges.tail[n]] + edges.weight[n])
    place = {point: k for k, point in enumerate(order)}
    for members in reversed(groups):
        group = sorted(members, key=place.__getitem__)
        late = _raise_along(edges, times, group, gone)
        if late:
            yield from circles_through(edges, times, late, gone, set(group))
            _raise_along(edges, times, group, gone)


def circles_through(
    edges: Edges, times: list[int], late: Sequence[int], gone: Collection[int], within: Collection[int]
) -> Iterator[tuple[int, ...]]:
    """Raises `times` of the points `within` until they keep the edges `late` too, one after another; of each
    that cannot be kept, with those before it, a circle of fewest edges that adds up to more than 0.

    All other edges between these points must be kept by `times`. gone: edges that do not count; who takes a
    circle puts into it what shall not count from then on, at least one edge of the circle.

    Since there is no such circle before an edge is added, each passes through it (Cotton & Maler, "Fast and
    flexible difference constraint propagation for DPLL(T)", SAT 2006).
    """
    aside = {*late, *gone}
    for n in late:
        if n not in gone:
            aside.remove(n)
        while n not in gone and edges.late(times, n):
            circle = _keep(edges, times, n, aside, within)
            if not circle:
                break
            yield circle
            aside.update(gone)


def _raise_along(edges: Edges, times: list[int], order: Sequence[int], gone: Collection[int]) -> list[int]:
    """Raise `times` as the edges from the points of `order` ask that do not lead back; the edges back that
    these times break, sorted."""
    head, weight, out = edges.head, edges.weight, edges.out
    passed: set[int] = set()
    late: list[int] = []
    for point in order:
        passed.add(point)
        base = times[point]
        if base <= NEVER:
            continue
        for n in out[point]:
            minute = base + weight[n]
            to = head[n]
            if minute > times[to] and n not in gone:
                if to in passed:
                    late.append(n)
                else:
                    times[to] = minute
    return sorted(late)


def _keep(
    edges: Edges, times: list[int], added: int, aside: Collection[int], within: Collection[int]
) -> tuple[int, ...]:
    """Raise `times` as the edge `added` asks; or, `times` left alone, a circle of fewest edges through it.

    In rounds, so that a point is reached by paths of 1, 2, ... edges; only what is raised goes on.
    """
    tail, head, weight, out = edges.tail, edges.head, edges.weight, edges.out
    home = tail[added]
    raised = {head[added]: times[home] + weight[added]}
    rounds = [{head[added]: added}]  # the edge by which each point was raised
    while rounds[-1]:
        if home in rounds[-1]:
            return _walk(tail, rounds, home)
        if len(rounds) > len(out):
            raise ValueError("a circle among points that nothing reaches")
        came: dict[int, int] = {}
        for point, base in [(point, raised[point]) for point in rounds[-1]]:
            for n in out[point]:
                minute = base + weight[n]
                to = head[n]
                if minute <= times[to] or minute <= raised.get(to, NEVER) or n in aside or to not in within:
                    continue
                raised[to] = minute
                came[to] = n
        rounds.append(came)
    for point, minute in raised.items():
        times[point] = minute
    return ()


def _walk(tail: Sequence[int], rounds: Sequence[dict[int, int]], home: int) -> tuple[int, ...]:
    """The edges by which `home` was reached, in their order, from the least point on."""
    walk: list[int] = []
    at = home
    for came in reversed(rounds):
        walk.append(came[at])
        at = tail[came[at]]
    walk.reverse()
    first = min(range(len(walk)), key=lambda k: tail[walk[k]])
    return (*walk[first:], *walk[:first])
