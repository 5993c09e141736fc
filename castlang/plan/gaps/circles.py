"""Circles of gaps that cannot all be met: those of the fewest gaps, laid out step by step."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import islice

from castlang.plan.gaps.paths import circles_among, circles_through
from castlang.plan.gaps.windows import EARLIEST, LATEST, TAKES, Bounds, Edge, bounds_of, lowest
from castlang.plan.model import GapEdge, Point, Task
from castlang.plan.ties import Arc, Ties

ROUNDS = 20  # circles told in one run; each further one is found when these are mended


class Kind(StrEnum):
    """What takes a circle from one point to the next."""

    TAKES = "takes"  # from the start of a task to its end
    BACK = "back"  # from the end of a task back to its start
    LEAST = "least"  # a gap's least time
    LONGEST = "longest"  # back over a gap's longest time
    HOLD = "hold"  # the order of what is taken and freed
    EARLIEST = "earliest"  # from the start of the build to a task that has a date
    LATEST = "latest"  # from a task that has a date back to the start of the build


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """One leg of a circle. tail and head are tasks (None: the start of the build), minutes may be below 0."""

    kind: Kind
    tail: Task | None
    tail_point: Point
    head: Task | None
    head_point: Point
    minutes: int
    gap: GapEdge | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A closed walk over points in time that adds up to more than it may: `over` minutes more than 0 (0 for
    steps without length that wait for each other). legs begin behind the last longest time or date.
    wet: its one window is told for the first spot (start to start) and for the last (end to end)."""

    legs: tuple[Leg, ...]
    wet: bool = False

    @property
    def over(self) -> int:
        """By how many minutes the circle cannot be met."""
        return sum(leg.minutes for leg in self.legs)

    @property
    def tasks(self) -> tuple[Task, ...]:
        """The tasks on it, in order, each once."""
        seen = {leg.tail.name: leg.tail for leg in self.legs if leg.tail is not None}
        return tuple(seen.values())

    @property
    def windows(self) -> tuple[Leg, ...]:
        """The legs that allow something: longest times and latest dates."""
        return tuple(leg for leg in self.legs if leg.kind in (Kind.LONGEST, Kind.LATEST))


def circles_of(ties: Ties) -> tuple[Circle, ...]:
    """The circles of bounds in `ties` that cannot be met, none when the gaps can be.

    Found one after another, each of the fewest edges: the windows of each (with all others from the same line
    of text, so that twelve copies make one circle) are let go before the next is looked for.
    """
    bounds = bounds_of(ties)
    gone: set[int] = set()
    found: list[Circle] = []
    for numbers in islice(_circles(bounds, gone), ROUNDS):
        circle = [bounds.edge(n) for n in numbers]
        found.append(_laid_out(bounds, circle))
        _let_go(ties, circle, numbers, gone)
    return tuple(found)


def _circles(bounds: Bounds, gone: Collection[int]) -> Iterator[tuple[int, ...]]:
    """Circles of gaps, then those that close over a latest end, then those that add up to 0; who takes one
    puts what it allows into `gone`."""
    edges, times = bounds.edges, lowest(bounds)
    yield from circles_among(edges, times, bounds.order, gone)
    late = [n for n in bounds.dates if edges.late(times, n)]
    yield from circles_through(edges, times, late, gone, range(len(times)))
    while not bounds.straight and (circle := _idle_circle(bounds, gone)):
        yield circle


def _idle_circle(bounds: Bounds, gone: Collection[int]) -> tuple[int, ...]:
    """A circle of tasks without length that each come after the other: it adds up to 0, so that no sum shows
    it, and yet none of them can be the first."""
    tail, head, weight = bounds.edges.tail, bounds.edges.head, bounds.edges.weight
    after: dict[int, list[int]] = {}
    for n, arc in enumerate(bounds.ties.arcs):
        if weight[n] >= 0 and _comes_after(arc) and n not in gone:
            after.setdefault(tail[n], []).append(n)
    done: set[int] = set()
    for root in sorted(after):
        trail: list[int] = []
        on = {root}
        stack = [iter(after[root])]
        while stack:
            step = next(stack[-1], None)
            if step is None:
                stack.pop()
                done.add(head[trail.pop()] if trail else root)
            elif head[step] in on and head[step] not in done:
                trail.append(step)
                first = next(k for k, n in enumerate(trail) if tail[n] == head[step])
                return tuple(trail[first:])
            elif head[step] not in done:
                trail.append(step)
                on.add(head[step])
                stack.append(iter(after.get(head[step], ())))
    return ()


def _comes_after(arc: Arc) -> bool:
    return not arc.longest and arc.tail_end and not arc.head_end and arc.weight >= 0


def _laid_out(bounds: Bounds, circle: Sequence[Edge]) -> Circle:
    """The legs of a circle of edges, with the length of each task on its way as a leg of its own."""
    legs: list[Leg] = []
    for edge in circle:
        for leg in _legs(bounds, edge):
            if legs and _undoes(legs[-1], leg):
                legs.pop()
            else:
                legs.append(leg)
    while len(legs) > 1 and _undoes(legs[-1], legs[0]):
        legs = legs[1:-1]
    last = max((k for k, leg in enumerate(legs) if leg.kind in (Kind.LONGEST, Kind.LATEST)), default=-1)
    back = last + 1
    while back < len(legs) and legs[back].kind is Kind.BACK:
        back += 1
    if last == -1:
        back = 0
    return Circle(legs=tuple(legs[back:] + legs[:back]), wet=_is_wet(bounds.ties, legs))


def _is_wet(ties: Ties, legs: Sequence[Leg]) -> bool:
    windows = [leg.gap for leg in legs if leg.kind is Kind.LONGEST and leg.gap is not None]
    if len(windows) != 1:
        return False
    before, after = ties.index[windows[0].before], ties.index[windows[0].after]
    sides = {(arc.tail_end, arc.head_end) for arc in ties.out[after] if arc.longest and arc.head == before}
    return {(False, False), (True, True)} <= sides


def _undoes(one: Leg, other: Leg) -> bool:
    return {one.kind, other.kind} == {Kind.TAKES, Kind.BACK} and one.tail == other.head


def _legs(bounds: Bounds, edge: Edge) -> list[Leg]:
    tasks = bounds.ties.tasks
    start, end = Point.START, Point.END

    def length(k: int, kind: Kind) -> Leg:
        task = tasks[k]
        points = (start, end) if kind is Kind.TAKES else (end, start)
        minutes = task.minutes if kind is Kind.TAKES else -task.minutes
        return Leg(
            kind=kind, tail=task, tail_point=points[0], head=task, head_point=points[1], minutes=minutes
        )

    if edge.ref == TAKES:
        return [length(edge.tail, Kind.TAKES)]
    if edge.ref == EARLIEST:
        head = tasks[edge.head]
        minutes = edge.weight
        return [
            Leg(
                kind=Kind.EARLIEST,
                tail=None,
                tail_point=start,
                head=head,
                head_point=start,
                minutes=minutes,
            )
        ]
    if edge.ref == LATEST:
        k = next(k for k, point in enumerate(bounds.end) if point == edge.tail)
        date = Leg(
            kind=Kind.LATEST,
            tail=tasks[k],
            tail_point=end,
            head=None,
            head_point=start,
            minutes=-(tasks[k].latest or 0),
        )
        return [length(k, Kind.TAKES), date] if bounds.end[k] == k else [date]
    arc = bounds.ties.arcs[edge.ref]
    kind = Kind.HOLD if arc.gap is None else Kind.LONGEST if arc.longest else Kind.LEAST
    legs = [
        Leg(
            kind=kind,
            tail=tasks[arc.tail],
            tail_point=end if arc.tail_end else start,
            head=tasks[arc.head],
            head_point=end if arc.head_end else start,
            minutes=arc.weight,
            gap=arc.gap,
        )
    ]
    if arc.tail_end and bounds.end[arc.tail] == arc.tail:
        legs.insert(0, length(arc.tail, Kind.TAKES))
    if arc.head_end and bounds.end[arc.head] == arc.head:
        legs.append(length(arc.head, Kind.BACK))
    return legs


def _let_go(ties: Ties, circle: Sequence[Edge], numbers: Sequence[int], gone: set[int]) -> None:
    """Put what the circle allows into `gone`; of a circle that allows nothing all its gaps."""
    arcs = ties.arcs
    dates = [n for n, edge in zip(numbers, circle, strict=True) if edge.ref == LATEST]
    refs = [edge.ref for edge in circle if edge.ref >= 0 and arcs[edge.ref].longest]
    if not refs and not dates:
        refs = [edge.ref for edge in circle if edge.ref >= 0]
    gone.update(dates, refs)
    told = {(gap.span, arcs[n].longest) for n in refs if (gap := arcs[n].gap) is not None and gap.span.file}
    lines = {span.line for span, _ in told}  # quicker to compare than whole spans
    for n, arc in enumerate(arcs if told else ()):
        if arc.gap is not None and arc.gap.span.line in lines and (arc.gap.span, arc.longest) in told:
            gone.add(n)
