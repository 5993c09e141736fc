"""What ties the tasks of a network to one another: each gap as one or two bounds between points of tasks."""

import re
from dataclasses import dataclass
from typing import NamedTuple

from castlang.plan.model import GapEdge, Network, Point, Stretch, Task
from castlang.plan.warmth.ageing import Passing, passings_of
from castlang.source.model import Span

_DIGITS = re.compile(r"(\d+)")


class Arc(NamedTuple):
    """`point(head) >= point(tail) + weight`, in minutes; tasks by their index in `Ties.tasks`.

    A tuple, because a large build has some hundred thousand of them. tail_end, head_end: whether the point
    is the task's end. gap: the gap it comes from, None for the order of a hold (its first task starts
    before its last one ends). longest: whether it is the gap's upper side, which runs backwards. passing: how
    it passes where that goes by the shop's warmth; the weight is then the least that it ever comes to.
    """

    tail: int
    head: int
    weight: int
    tail_end: bool
    head_end: bool
    gap: GapEdge | None
    longest: bool
    passing: Passing | None = None

    @property
    def most(self) -> int:
        """The most minutes that the head's point ever has to come after the tail's."""
        return self.weight if self.passing is None else self.passing.greatest

    def back(self, head: int) -> int:
        """The last minute at which the tail's point lets the head's come by that minute."""
        return head - self.weight if self.passing is None else self.passing.back(head)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ties:
    """A network in one settled order, whatever the order in which it was told.

    tasks go by name, numbers in names by value. into[i] and out[i] are the arcs that end and begin at
    task i. settled: from which minute on each week is as warm as the one before.
    """

    network: Network
    tasks: tuple[Task, ...]
    index: dict[str, int]
    arcs: tuple[Arc, ...]
    into: tuple[tuple[Arc, ...], ...]
    out: tuple[tuple[Arc, ...], ...]
    settled: int = 0


def name_key(name: str) -> tuple[tuple[int, int, str], ...]:
    """Orders names with their numbers by value: `tread.2` before `tread.10`."""
    parts = _DIGITS.split(name)
    return tuple((0, int(p), "") if k % 2 else (1, 0, p) for k, p in enumerate(parts))


def ties_of(network: Network) -> Ties:
    """The ties of `network`.

    Raises ValueError for two tasks of one name and KeyError for a gap or hold of an unknown task: both are
    faults of the program that made the network, never of a builder.
    """
    tasks = tuple(sorted(network.tasks, key=lambda t: name_key(t.name)))
    index = {t.name: k for k, t in enumerate(tasks)}
    if len(index) != len(tasks):
        raise ValueError("two tasks of one name")
    arcs = _gap_arcs(network, index)
    for hold in sorted(network.holds, key=lambda h: (h.resource, h.first, h.last or "", h.amount)):
        if hold.last is not None:
            arcs.append(Arc(index[hold.first], index[hold.last], 0, False, True, None, False))
    into: list[list[Arc]] = [[] for _ in tasks]
    out: list[list[Arc]] = [[] for _ in tasks]
    for arc in arcs:
        out[arc.tail].append(arc)
        into[arc.head].append(arc)
    return Ties(
        network=network,
        tasks=tasks,
        index=index,
        arcs=tuple(arcs),
        into=tuple(map(tuple, into)),
        out=tuple(map(tuple, out)),
        settled=max((arc.passing.settled for arc in arcs if arc.passing is not None), default=0),
    )


def _gap_arcs(network: Network, index: dict[str, int]) -> list[Arc]:
    def key(gap: GapEdge) -> tuple[int | str | Span, ...]:
        longest = -1 if gap.longest is None else gap.longest
        points = (gap.before_point, gap.after_point)
        waits = repr(gap.stretches) if gap.stretches else ""
        place = (index[gap.before], index[gap.after])
        return (*place, *points, gap.least, longest, gap.why, gap.says, gap.span, waits)

    arcs = []
    passings: dict[tuple[Stretch, ...], tuple[Passing, Passing | None]] = {}
    for gap in sorted(network.gaps, key=key):
        before, after = index[gap.before], index[gap.after]
        ends = gap.before_point is Point.END, gap.after_point is Point.END
        if gap.stretches:
            if gap.stretches not in passings:
                passings[gap.stretches] = passings_of(gap.stretches, len(passings))
            least, longest = passings[gap.stretches]
            arcs.append(Arc(before, after, least.shortest, *ends, gap, False, least))
            if longest is not None:
                arcs.append(Arc(after, before, longest.shortest, *ends[::-1], gap, True, longest))
            continue
        arcs.append(Arc(before, after, gap.least, ends[0], ends[1], gap, False))
        if gap.longest is not None:
            arcs.append(Arc(after, before, -gap.longest, ends[1], ends[0], gap, True))
    return arcs
