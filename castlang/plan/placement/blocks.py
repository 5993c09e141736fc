"""Blocks: tasks that must be placed together, because a longest gap or a hold ties them."""

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from castlang.plan.graph import groups_in_order
from castlang.plan.ties import Ties


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Tasks by index, sorted. after: the blocks (by their place) that must be placed before it.

    tight: its tasks in groups tied by longest gaps alone, along the gaps, else by their least member.
    then: for each group, the groups (by their place in `tight`) that the gaps put behind it; inner: the same
    for the tasks of each group, by their place in it.
    """

    tasks: tuple[int, ...]
    after: tuple[int, ...]
    tight: tuple[tuple[int, ...], ...]
    then: tuple[tuple[int, ...], ...]
    inner: tuple[tuple[tuple[int, ...], ...], ...]


def blocks_of(ties: Ties) -> tuple[Block, ...]:
    """The blocks of a network, each behind those that it comes after.

    What lies between two tasks of a block belongs to it too, else neither could be placed before the other.
    """
    loose = [(a.tail, a.head) for a in ties.arcs if not a.longest]
    windows = [(a.tail, a.head) for a in ties.arcs if a.longest]
    holds = [(a.tail, a.head) for a in ties.arcs if a.gap is None]
    both = [(b, a) for a, b in [*windows, *holds]]
    groups = groups_in_order(len(ties.tasks), [*loose, *windows, *holds, *both])
    tight = groups_in_order(len(ties.tasks), [*loose, *windows, *((b, a) for a, b in windows)])
    block_of = {k: number for number, group in enumerate(groups) for k in group}
    inside: list[list[tuple[int, ...]]] = [[] for _ in groups]
    for group in tight:
        inside[block_of[group[0]]].append(group)
    after: list[set[int]] = [set() for _ in groups]
    for tail, head in loose:
        if block_of[tail] != block_of[head]:
            after[block_of[head]].add(block_of[tail])
    return tuple(
        _block(ties, group, tuple(sorted(after[k])), tuple(inside[k])) for k, group in enumerate(groups)
    )


def _block(
    ties: Ties, tasks: tuple[int, ...], after: tuple[int, ...], tight: tuple[tuple[int, ...], ...]
) -> Block:
    place = {k: (number, n) for number, group in enumerate(tight) for n, k in enumerate(group)}
    then: list[set[int]] = [set() for _ in tight]
    inner: list[list[set[int]]] = [[set() for _ in group] for group in tight]
    for k in tasks if len(tasks) > 1 else ():
        for arc in ties.out[k]:
            if arc.longest or arc.head not in place or not (arc.weight >= 0 or arc.tail_end):
                continue
            (one, m), (other, n) = place[k], place[arc.head]
            if one != other:
                then[one].add(other)
            elif m != n:
                inner[one][m].add(n)
    return Block(
        tasks=tasks,
        after=after,
        tight=tight,
        then=tuple(tuple(sorted(heads)) for heads in then),
        inner=tuple(tuple(tuple(sorted(heads)) for heads in group) for group in inner),
    )


def placing_order(block: Block, rank: Sequence[int]) -> tuple[int, ...]:
    """The order in which the tasks of a block are placed: along its gaps, tasks tied by longest gaps one
    right behind the other, and where both leave a choice the one of lower `rank` first."""
    if len(block.tasks) == 1:
        return block.tasks
    placed: list[int] = []
    for number in along(block.then, [min(rank[k] for k in group) for group in block.tight]):
        group = block.tight[number]
        placed.extend(group[n] for n in along(block.inner[number], [rank[k] for k in group]))
    return tuple(placed)


def along(then: Sequence[Iterable[int]], rank: Sequence[int]) -> list[int]:
    """The places 0, 1, ... so that each stands behind those that it comes `then` after; the least rank
    first where there is a choice, and where there is a circle."""
    waits = [0] * len(then)
    for heads in then:
        for head in heads:
            waits[head] += 1
    ready = [(rank[n], n) for n, number in enumerate(waits) if number == 0]
    heapq.heapify(ready)
    order: list[int] = []
    left = set(range(len(then)))
    while left:
        n = heapq.heappop(ready)[1] if ready else min(left, key=lambda n: (rank[n], n))
        if n not in left:
            continue
        left.remove(n)
        order.append(n)
        for head in then[n]:
            waits[head] -= 1
            if waits[head] == 0 and head in left:
                heapq.heappush(ready, (rank[head], head))
    return order
