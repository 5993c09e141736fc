"""Blocks: tasks that must be placed together, because a longest gap or a hold ties them."""

from collections.abc import Sequence
from dataclasses import dataclass

from castlang.plan.graph import groups_in_order, in_order
from castlang.plan.ties import Ties


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Tasks by index, sorted. after: the blocks (by their place) that must be placed before it.
    tight: its tasks in groups tied by longest gaps alone, along the gaps, else by their least member."""

    tasks: tuple[int, ...]
    after: tuple[int, ...]
    tight: tuple[tuple[int, ...], ...]


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
        Block(tasks=group, after=tuple(sorted(after[k])), tight=tuple(inside[k]))
        for k, group in enumerate(groups)
    )


def placing_order(ties: Ties, block: Block, rank: Sequence[int]) -> tuple[int, ...]:
    """The order in which the tasks of a block are placed: along its gaps, tasks tied by longest gaps one
    right behind the other, and where both leave a choice the one of lower `rank` first."""
    forward = [
        (arc.tail, arc.head)
        for k in block.tasks
        for arc in ties.out[k]
        if not arc.longest and (arc.weight >= 0 or arc.tail_end)
    ]
    group_of = {k: number for number, group in enumerate(block.tight) for k in group}
    first = sorted(range(len(block.tight)), key=lambda n: min(rank[k] for k in block.tight[n]))
    between = [(group_of[a], group_of[b]) for a, b in forward if a in group_of and b in group_of]
    placed: list[int] = []
    for number in in_order(first, between):
        placed.extend(in_order(sorted(block.tight[number], key=lambda k: rank[k]), forward))
    return tuple(placed)
