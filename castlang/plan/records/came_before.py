"""What must have been done before the steps that are told done, and when it can have been at the latest.

A step comes before another by gaps that put it there; what begins a hold, before what ends it; and what frees
the place that a done step took, before that step. Turns (copies by number) are the planner's own choice: in a
shop that casts copy 2 first, copy 1 is not cast.
"""

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass

from castlang.plan.model import GapEdge, Hold, Network, Point, Why
from castlang.plan.warmth.ageing import over_at

Spell = tuple[int, int]
"""From when to when a step was done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CameBefore:
    """done: what is told done, and all that must have come before it, each as late as it can have been. sure:
    the same, had what is not told taken no time: nothing can have been begun later. freed: gaps that say what
    gave its place back to what. beyond: holds of done work that are on record beside others with which there
    is no room for them."""

    done: Mapping[str, Spell]
    sure: Mapping[str, Spell]
    freed: tuple[GapEdge, ...]
    beyond: tuple[Hold, ...]


def came_before(network: Network, told: Mapping[str, Spell]) -> CameBefore:
    """What must have come before the steps that are told done."""
    orders = _orders(network)
    freed: list[GapEdge] = []
    while True:
        sure = _closed([*orders, *freed], told, {})
        found, beyond = _given_back(network, told, sure, into_of(orders))
        if not found:
            done = _closed([*orders, *freed], told, {task.name: task.minutes for task in network.tasks})
            return CameBefore(done=done, sure=sure, freed=tuple(freed), beyond=tuple(beyond))
        freed += found


def orders_of(network: Network, came: CameBefore) -> list[GapEdge]:
    """All that puts one step before another, in the build and on record."""
    return [*_orders(network), *came.freed]


def _orders(network: Network) -> list[GapEdge]:
    orders = [gap for gap in network.gaps if orders_two(gap)]
    return [*orders, *(_order(hold.first, hold.last) for hold in network.holds if hold.last is not None)]


def _order(before: str, after: str) -> GapEdge:
    return GapEdge(before=before, after=after, least=0, why=Why.AFTER)


def _given_back(
    network: Network, told: Mapping[str, Spell], sure: Mapping[str, Spell], into: Mapping[str, Sequence[str]]
) -> tuple[list[GapEdge], list[Hold]]:
    """For a place that is on record as taken once too often: of what still has it, the first one taken was
    given back first, before the one too many took it; where it was surely still at work then, there is no
    room for it. Those givings back that are not known yet, and all that there is no room for."""
    found: list[GapEdge] = []
    beyond: list[Hold] = []
    for resource in network.resources:
        taken = sorted(
            (hold for hold in network.holds if hold.resource == resource.name and hold.first in sure),
            key=lambda hold: (sure[hold.first][0], hold.first),
        )
        still: list[Hold] = []
        for hold in taken:
            begun = sure[hold.first][0]
            still = [one for one in still if told.get(one.last or "", (begun, begun + 1))[1] > begun]
            still.append(hold)
            while len(still) > 1 and sum(one.amount for one in still) > resource.capacity:
                back = still.pop(0)
                if back.last is None or sure_end(back, told, sure, into)[0] > begun:
                    beyond.append(back)
                elif back.last not in sure:
                    found.append(_order(back.last, hold.first))
    return found, beyond


def sure_end(
    hold: Hold, told: Mapping[str, Spell], sure: Mapping[str, Spell], into: Mapping[str, Sequence[str]]
) -> tuple[int, str]:
    """Until when a hold of done work lasted at the least: to the end of the last work told that needs it, and
    its name; empty where nothing told needs it."""
    names = () if hold.last is None else (hold.last, *ancestors(into, [hold.last]))
    return max([(sure[hold.first][0], ""), *((told[name][1], name) for name in names if name in told)])


def beyond_gaps(network: Network, came: CameBefore) -> list[GapEdge]:
    """What is yet to take a place with no room for all that is on record in it waits for that to be gone."""
    into = into_of([*network.gaps, *(_order(h.first, h.last) for h in network.holds if h.last is not None)])
    found = []
    for hold in came.beyond:
        if hold.last is None or hold.last in came.done:
            continue
        before = ancestors(into, [hold.last])
        users = {other.first for other in network.holds if other.resource == hold.resource}
        users |= {t.name for t in network.tasks if any(n.resource == hold.resource for n in t.needs)}
        for name in sorted(users - before - set(came.done) - {hold.last}):
            says = f"{hold.resource} is empty again"
            gap = GapEdge(before=hold.last, after=name, least=0, why=Why.AFTER, says=says, span=hold.span)
            found.append(gap)
    return found


def _closed(
    orders: Sequence[GapEdge], told: Mapping[str, Spell], minutes: Mapping[str, int]
) -> dict[str, Spell]:
    """What is told, and what comes before it, as late as it can have been. minutes: how long each took."""
    out_of: dict[str, list[GapEdge]] = {}
    for gap in orders:
        out_of.setdefault(gap.before, []).append(gap)
    before = ancestors(into_of(orders), sorted(told)) - set(told)
    done = dict(told)
    for name in reversed(first_to_last(before, orders)):
        ends = [done[gap.after][0] for gap in out_of[name] if gap.after in done]
        end = max(0, min(ends, default=0))
        done[name] = (max(0, end - minutes.get(name, 0)), end)
    return done


def into_of(gaps: Sequence[GapEdge]) -> dict[str, list[str]]:
    """For each task those that come right before it, by gaps that put one before another."""
    into: dict[str, list[str]] = {}
    for gap in gaps:
        if orders_two(gap):
            into.setdefault(gap.after, []).append(gap.before)
    return into


def ancestors(into: Mapping[str, Sequence[str]], names: Sequence[str]) -> set[str]:
    """All that comes before any of `names`. into: what comes right before each task."""
    before: set[str] = set()
    waiting = list(names)
    while waiting:
        for name in into.get(waiting.pop(), ()):
            if name not in before:
                before.add(name)
                waiting.append(name)
    return before


def soonest_over(network: Network, told: Mapping[str, Spell], came: CameBefore) -> dict[str, tuple[int, str]]:
    """Of each task that is taken as done, when the waits before it were over, had the work between taken no
    time; with the task told done from which they count. None for a task with nothing told before it."""
    into: dict[str, list[GapEdge]] = {name: [] for name in came.done if name not in told}
    gaps = [*network.gaps, *came.freed]
    for gap in gaps:
        if gap.after in into and gap.before in came.done and not gap.turn:
            into[gap.after].append(gap)
    found: dict[str, tuple[int, str]] = {}
    for name in first_to_last(set(into), gaps):
        known = [end for gap in into[name] if (end := _over(gap, told, found)) is not None]
        if known:
            found[name] = max(known)
    return found


def first_to_last(names: Set[str], gaps: Sequence[GapEdge]) -> list[str]:
    """`names` so that what comes before another stands before it; what waits in a circle stands last."""
    behind: dict[str, list[str]] = {name: [] for name in sorted(names)}
    open_before = dict.fromkeys(behind, 0)
    for gap in gaps:
        if gap.before in names and gap.after in names and orders_two(gap):
            behind[gap.before].append(gap.after)
            open_before[gap.after] += 1
    ordered = [name for name, count in open_before.items() if not count]
    for name in ordered:
        for after in behind[name]:
            open_before[after] -= 1
            if not open_before[after]:
                ordered.append(after)
    return [*ordered, *(name for name, count in open_before.items() if count)]


def orders_two(gap: GapEdge) -> bool:
    """Whether a gap puts one task before another, whoever plans."""
    return not gap.turn and (gap.least >= 0 or gap.why is Why.SEQUENCE)


def _over(
    gap: GapEdge, told: Mapping[str, Spell], soonest: Mapping[str, tuple[int, str]]
) -> tuple[int, str] | None:
    """When the least time of a gap is over, and from which told task it counts."""
    if gap.before in told:
        return over_at(gap, told[gap.before][0 if gap.before_point is Point.START else 1]), gap.before
    if gap.before in soonest:
        minute, origin = soonest[gap.before]
        return over_at(gap, minute), origin
    return None
