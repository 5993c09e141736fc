"""Placing: all tasks of a network set on a board, one block after another, in a given order.

A serial schedule generation scheme (Kolisch & Hartmann, "Heuristic algorithms for the resource-constrained
project scheduling problem", in Weglarz (ed.), Project Scheduling, 1999). A block is placed by raising the
starts of its tasks, and never lowering them, until all its gaps and holds are kept.
"""

import heapq
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from castlang.plan.clock import DAY, WEEK
from castlang.plan.hours import Shop
from castlang.plan.model import GapEdge, Hold, Task
from castlang.plan.placement.blocks import Block, blocks_of, placing_order
from castlang.plan.placement.board import OFF, Board, Clash
from castlang.plan.placement.floor import Floor, floor_of
from castlang.plan.placement.late_points import is_point, take_late
from castlang.plan.placement.patterns import Shown, Starts, patterns_of, since_of
from castlang.plan.placement.profile import FOREVER
from castlang.plan.placement.soonest import Soonest, start_for, stretched
from castlang.plan.ties import Ties

ENOUGH = 400  # how often each task of a block is placed before an order is given up; but
AT_LEAST = 4_000  # so many times all of them together


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A network set out for placing. block: the place of each task's block. soonest: the start of each task
    by gaps and hours alone.

    then: for each block the blocks that come after it. last: whether a block takes what is never given back.
    spread: how much longer than all else a block could take. points: its points in time that begin a hold
    and may be moved. alone: whether it is one task that nothing holds. pattern: the same for blocks that are
    alike but for where they stand. plain: every block is one task, and no date, hold or window ties it.
    """

    floor: Floor
    blocks: tuple[Block, ...]
    block: tuple[int, ...]
    soonest: tuple[int, ...]
    then: tuple[tuple[int, ...], ...]
    last: tuple[bool, ...]
    spread: tuple[int, ...]
    points: tuple[tuple[int, ...], ...]
    alone: tuple[bool, ...]
    pattern: tuple[int | None, ...]
    plain: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Tasks as they stand on a full board, by index. found: the starts before points that begin a hold were
    moved as late as they may be. finish: the last end. placings: how often a task was placed for it."""

    start: tuple[int, ...]
    end: tuple[int, ...]
    found: tuple[int, ...]
    finish: int
    placings: int = field(default=0, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """A task for which an order found no place, the last of its block that was reached. gap: what it is tied
    by; clash: what was full when it was tried; late: its end, where it would end past its latest; placings:
    how often a task was placed in all."""

    task: Task
    gap: GapEdge | None = None
    clash: Clash | None = None
    late: int | None = None
    placings: int = field(default=0, compare=False)


def setting_of(ties: Ties, shop: Shop, soonest: Soonest, least: dict[Hold, int]) -> Setting:
    """A network set out for placing. least: the least length of each hold that ends, in minutes."""
    blocks = blocks_of(ties)
    floor = floor_of(ties, shop, least)
    then: list[list[int]] = [[] for _ in blocks]
    for number, block in enumerate(blocks):
        for before in block.after:
            then[before].append(number)
    block_of = {k: number for number, block in enumerate(blocks) for k in block.tasks}
    begun = [any(floor.kept[n].last is None for n in begins) for begins in floor.begun]
    return Setting(
        floor=floor,
        blocks=blocks,
        block=tuple(block_of[k] for k in range(len(ties.tasks))),
        soonest=soonest.start,
        then=tuple(map(tuple, then)),
        last=tuple(any(begun[k] for k in block.tasks) for block in blocks),
        spread=tuple(_spread(ties, shop, block) for block in blocks),
        points=tuple(
            tuple(k for k in block.tasks if floor.begun[k] and is_point(ties, k)) for block in blocks
        ),
        alone=tuple(
            len(block.tasks) == 1 and not floor.begun[block.tasks[0]] and not floor.holds[block.tasks[0]]
            for block in blocks
        ),
        pattern=patterns_of(floor, blocks),
        plain=len(blocks) == len(ties.tasks)
        and not floor.kept
        and all(task.latest is None for task in ties.tasks)
        and all(arc.tail_end and not arc.head_end and arc.weight >= 0 for arc in ties.arcs),
    )


def ranks_of(order: Sequence[int]) -> list[int]:
    """The place of each task in an order of all tasks."""
    rank = [0] * len(order)
    for place, k in enumerate(order):
        rank[k] = place
    return rank


def sequence_of(setting: Setting, rank: Sequence[int]) -> list[int]:
    """The blocks in the order in which they are placed: of those that could come next, the one with the
    least rank of a task first. What is never given back comes last: nobody could use it afterwards."""
    blocks = setting.blocks
    waits = [len(block.after) for block in blocks]

    def key(number: int) -> tuple[bool, int, int]:
        return setting.last[number], min([rank[k] for k in blocks[number].tasks]), number

    ready = [key(number) for number, n in enumerate(waits) if n == 0]
    heapq.heapify(ready)
    order = []
    while ready:
        number = heapq.heappop(ready)[2]
        order.append(number)
        for then in setting.then[number]:
            waits[then] -= 1
            if waits[then] == 0:
                heapq.heappush(ready, key(then))
    return order


def placed_in(
    setting: Setting, sequence: Sequence[int], rank: Sequence[int], since: int = 0
) -> "Standing | Unplaced":
    """All blocks placed in `sequence`, which keeps to what comes after what, none before minute `since`;
    within a block by `rank`."""
    board = Board(setting.floor)
    floor = [max(minute, since) for minute in setting.soonest]
    if setting.plain:
        failed = _place_plain(setting, board, sequence, floor)
        if failed is not None:
            return replace(failed, placings=board.placings)
        start = tuple(board.start)
        return Standing(
            start=start,
            end=tuple(board.end),
            found=start,
            finish=max(board.end, default=0),
            placings=board.placings,
        )
    found = [0] * len(floor)
    shown: dict[tuple[int, ...], Shown] = {}
    for number in sequence:
        block = setting.blocks[number]
        if setting.alone[number]:
            k = block.tasks[0]
            failed = _place_alone(board, k, floor[k])
            if failed is not None:
                return replace(failed, placings=board.placings)
            found[k] = board.start[k]
            continue
        order = placing_order(block, rank)
        pattern = setting.pattern[number]
        floors: Starts = ()
        if pattern is not None:
            known = shown.setdefault((pattern, *(k - order[0] for k in order)), Shown())
            floors = since_of(setting.floor, order, [board.earliest(k, floor[k]) for k in order])
            for k, first in zip(order, known.ahead(floors), strict=True):
                floor[k] = max(floor[k], first)
        failed = _place(board, block, order, floor, setting.spread[number])
        if pattern is not None and failed is None:
            known.add(floors, tuple([board.start[k] for k in order]))
        if failed is not None:
            return replace(failed, placings=board.placings)
        for k in block.tasks:
            found[k] = board.start[k]
        for k in sorted(setting.points[number], key=lambda k: (-board.start[k], -k)):
            take_late(board, k)
    return Standing(
        start=tuple(board.start),
        end=tuple(board.end),
        found=tuple(found),
        finish=max(board.end, default=0),
        placings=board.placings,
    )


def _place_plain(
    setting: Setting, board: Board, sequence: Sequence[int], floor: Sequence[int]
) -> Unplaced | None:
    blocks = setting.blocks
    for number in sequence:
        k = blocks[number].tasks[0]
        failed = _place_alone(board, k, floor[k])
        if failed is not None:
            return failed
    return None


def _place_alone(board: Board, k: int, minute: int) -> Unplaced | None:
    """Place a task that is tied to no other and holds nothing, not before `minute`."""
    task = board.floor.ties.tasks[k]
    start = board.seek(k, board.earliest(k, minute))
    if start is None:
        return Unplaced(task=task, clash=board.clash)
    board.put(k, start)
    if task.latest is not None and board.end[k] > task.latest:
        return Unplaced(task=task, clash=board.clash, late=board.end[k])
    return None


def _place(
    board: Board, block: Block, order: Sequence[int], floor: list[int], spread: int
) -> Unplaced | None:
    """Place the tasks of one block in `order`, raising `floor` where a start turns out to be too soon; None
    when all are placed."""
    ties, shop = board.floor.ties, board.floor.shop
    busy = board.busy
    limit = max(busy, shop.settled, ties.settled, *[floor[k] for k in order]) + spread
    group_of = {k: group for group in block.tight for k in group}
    soonest = {k: floor[k] for k in order}
    place = {k: n for n, k in enumerate(order)}
    at = deepest = 0
    last = board.placings + ENOUGH * len(order) + AT_LEAST
    stuck = Unplaced(task=ties.tasks[order[0]])
    while at < len(order):
        k = order[at]
        task = ties.tasks[k]
        start = board.seek(k, board.earliest(k, floor[k]))
        if start is None or start > limit or board.placings > last:
            return stuck if at < deepest else Unplaced(task=task, gap=stuck.gap, clash=board.clash)
        over = board.put(k, start)
        if task.latest is not None and board.end[k] > task.latest:
            return Unplaced(task=task, gap=stuck.gap, clash=board.clash, late=board.end[k])
        again = at + 1
        for arc in ties.out[k] if len(order) > 1 else ():
            head = board.start[arc.head]
            if head == OFF:
                continue
            minute = start_for(ties, shop, arc, start, board.end[k])
            if head < minute:
                floor[arc.head] = max(floor[arc.head], minute)
                again = min(again, place[arc.head])
                if at >= deepest:
                    deepest, stuck = at, Unplaced(task=task, gap=arc.gap, clash=board.clash)
                if _chases(board, group_of[arc.head], order, floor, soonest, busy):
                    return stuck
        for first, minute in over:
            if minute >= FOREVER:
                return Unplaced(task=ties.tasks[first], gap=stuck.gap, clash=board.clash)
            floor[first] = max(floor[first], minute)
            again = min(again, place[first])
        if again <= at:
            for taken in order[again : at + 1]:
                board.lift(taken)
        at = again
    return None


def _chases(
    board: Board,
    group: Sequence[int],
    order: Sequence[int],
    floor: Sequence[int],
    soonest: dict[int, int],
    busy: int,
) -> bool:
    """Whether tasks tied by longest gaps have been raised two weeks past everything else on the board and in
    the calendar: weeks repeat there, so they would be raised for ever. busy: the last end before the block.
    """
    members = set(group)
    ends = [board.end[k] for k in order if board.start[k] != OFF and k not in members]
    shop, ties = board.floor.shop, board.floor.ties
    free = max(shop.settled, ties.settled, busy, *(soonest[k] for k in group), *ends)
    return min(floor[k] for k in group) > free + 2 * WEEK


def _spread(ties: Ties, shop: Shop, block: Block) -> int:
    """Past this many minutes behind all that is placed, a block that has found no place is given up: as much
    as its work, gaps and nights could add up to one after another."""
    work = sum(max(stretched(shop, ties.tasks[k]), 2 * DAY) + ties.tasks[k].minutes for k in block.tasks)
    gaps = sum(max(arc.most, 0) for k in block.tasks for arc in ties.out[k] if not arc.longest)
    return 4 * WEEK + work + gaps
