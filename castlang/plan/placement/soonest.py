"""Gaps and hours without crew: the soonest start of each task, and windows that no hours leave room for."""

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

from castlang.plan.clock import WEEK
from castlang.plan.graph import groups_in_order
from castlang.plan.hours import Shop
from castlang.plan.model import GapEdge, Task
from castlang.plan.ties import Arc, Ties

FILTER = 40  # windows of one group that are tried one by one, to tell the few that clash


@dataclass(frozen=True, slots=True, kw_only=True)
class Shut:
    """Tasks whose windows the shop's hours never leave room for, and the windows that clash."""

    tasks: tuple[Task, ...]
    windows: tuple[GapEdge, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Soonest:
    """The soonest start and end of each task, by index, in a shop with people and places without end."""

    start: tuple[int, ...]
    end: tuple[int, ...]


def soonest_of(ties: Ties, shop: Shop) -> "Soonest | Shut":
    """The least starts that keep all gaps and hours.

    Each task must fit the shop by itself, and the gaps must be such as can be met. Starts are only ever
    raised to what a gap or the hours ask, so that the first that hold are the least. A group of tasks tied
    by windows that is raised past every exception in the calendar, a week, and all that its windows let it
    spread, fits nowhere: weeks repeat, so a place later would be one earlier.
    """
    start = [0] * len(ties.tasks)
    edges = [(arc.tail, arc.head) for arc in ties.arcs]
    for group in groups_in_order(len(ties.tasks), edges):
        if not _raise_group(ties, shop, group, start, frozenset()):
            return Shut(
                tasks=tuple(ties.tasks[k] for k in group), windows=_clashing(ties, shop, group, start)
            )
    return Soonest(start=tuple(start), end=tuple(shop.end(t, start[k]) for k, t in enumerate(ties.tasks)))


def start_for(ties: Ties, shop: Shop, arc: Arc, tail_start: int, tail_end: int) -> int:
    """The minute before which the head of `arc` cannot start, its tail being where it is."""
    minute = tail_end if arc.tail_end else tail_start
    minute = minute + arc.weight if arc.passing is None else arc.passing.ahead(minute)
    return shop.start_ending(ties.tasks[arc.head], minute) if arc.head_end else minute


def _raise_group(
    ties: Ties, shop: Shop, group: Sequence[int], start: list[int], without: frozenset[GapEdge]
) -> bool:
    """Raise the starts of a group, the groups before it being done; False when it fits nowhere."""
    members = set(group)
    end: dict[int, int] = {}
    for k in group:
        task = ties.tasks[k]
        minute = task.earliest or 0
        for arc in ties.into[k]:
            if arc.tail not in members:
                ended = shop.end(ties.tasks[arc.tail], start[arc.tail])
                minute = max(minute, start_for(ties, shop, arc, start[arc.tail], ended))
        found = shop.soonest(task, minute)
        if found is None:
            return False
        start[k] = found
        end[k] = shop.end(task, found)
    # Each window that is left out lets what it tied fall apart, and each part look for its own week.
    limit = _limit(ties, shop, group, start) + WEEK * len(without)
    queue = deque(group)
    waiting = set(group)
    while queue:
        k = queue.popleft()
        waiting.discard(k)
        for arc in ties.out[k]:
            if arc.head not in members or (arc.longest and arc.gap in without):
                continue
            minute = start_for(ties, shop, arc, start[k], end[k])
            if minute <= start[arc.head]:
                continue
            found = shop.soonest(ties.tasks[arc.head], minute)
            if found is None or found > limit:
                return False
            start[arc.head] = found
            end[arc.head] = shop.end(ties.tasks[arc.head], found)
            if arc.head not in waiting:
                waiting.add(arc.head)
                queue.append(arc.head)
    return True


def _limit(ties: Ties, shop: Shop, group: Sequence[int], start: Sequence[int]) -> int:
    members = set(group)
    spread = sum(-a.weight for k in group for a in ties.out[k] if a.longest and a.head in members)
    work = sum(stretched(shop, ties.tasks[k]) for k in group)
    return max(shop.settled, ties.settled, *(start[k] for k in group)) + WEEK + max(spread, 0) + work


def stretched(shop: Shop, task: Task) -> int:
    """No shorter than `task` takes in settled weeks, however it starts."""
    if not task.may_pause or not task.minutes:
        return task.minutes
    spells = shop.spells(task).between(shop.settled + WEEK, shop.settled + 2 * WEEK)
    week = sum(end - start for start, end in spells)
    return (task.minutes // max(week, 1) + 2) * WEEK


def _clashing(ties: Ties, shop: Shop, group: Sequence[int], start: Sequence[int]) -> tuple[GapEdge, ...]:
    """Windows of the group of which none may be left out for it to fit nowhere."""
    members = set(group)
    windows: list[GapEdge] = []
    for k in group:
        for arc in ties.out[k]:
            if arc.longest and arc.head in members and arc.gap is not None and arc.gap not in windows:
                windows.append(arc.gap)
    if len(windows) > FILTER:
        return tuple(windows)
    without: frozenset[GapEdge] = frozenset()
    for gap in windows:
        trial = without | {gap}
        if not _raise_group(ties, shop, group, list(start), trial):
            without = trial
    return tuple(gap for gap in windows if gap not in without)
