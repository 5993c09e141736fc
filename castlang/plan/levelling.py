"""Levelling: tasks placed one block after another, so that crew, stations and molds suffice, by plain rules.

A serial schedule generation scheme with priority rules (Kolisch & Hartmann, "Heuristic algorithms for the
resource-constrained project scheduling problem", in Weglarz (ed.), Project Scheduling, 1999). A block is
placed by raising the starts of its tasks, and never lowering them, until all its gaps and holds are kept.
"""

import heapq
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from castlang.plan.blocks import Block, blocks_of, placing_order
from castlang.plan.board import Board, Clash
from castlang.plan.clock import DAY, WEEK
from castlang.plan.hours import Shop
from castlang.plan.model import GapEdge, Hold, Task
from castlang.plan.profile import FOREVER
from castlang.plan.soonest import Soonest, start_for, stretched
from castlang.plan.ties import Ties
from castlang.plan.windows import Times

RAISES = 20_000  # how often a block's starts are raised before the rule is given up


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A priority rule: of the tasks that could come next, the one with the least `key` is placed first."""

    says: str
    key: Callable[[Ties, Times, int], int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Levelled:
    """Start of each task by index, the finish, and the rule that gave them."""

    start: tuple[int, ...]
    finish: int
    rule: Rule


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """A task for which a rule found no place. gap: the last gap that moved its block; clash: what was full
    the last time it was tried; late: its end, where it would end past its latest."""

    task: Task
    gap: GapEdge | None = None
    clash: Clash | None = None
    late: int | None = None


def _latest_start(ties: Ties, times: Times, k: int) -> int:
    return times.rows[ties.tasks[k].name].latest


def _latest_end(ties: Ties, times: Times, k: int) -> int:
    return times.rows[ties.tasks[k].name].latest_end


def _soonest_start(ties: Ties, times: Times, k: int) -> int:
    return times.rows[ties.tasks[k].name].earliest


def _name(ties: Ties, times: Times, k: int) -> int:
    return k


RULES = (
    Rule(says="least latest start first", key=_latest_start),
    Rule(says="least latest end first", key=_latest_end),
    Rule(says="soonest start first", key=_soonest_start),
    Rule(says="one piece after the other", key=_name),
)


def level(
    ties: Ties, shop: Shop, times: Times, soonest: Soonest, least: dict[Hold, int]
) -> "Levelled | Unplaced":
    """The plan of soonest finish that the rules find, the earlier rule where two are equal; where none finds
    a place for every task: what the first one could not place.

    times, soonest: the network by gaps alone, and by gaps and hours. least: the least length of each hold.
    """
    blocks = blocks_of(ties)
    best: Levelled | None = None
    first: Unplaced | None = None
    tried: list[tuple[int, ...]] = []
    for rule in RULES:
        rank = _ranks(rule, ties, times)
        if rank in tried:
            continue
        tried.append(rank)
        found = _by_rank(rule, rank, blocks, Board(ties, shop, least), soonest)
        if isinstance(found, Unplaced):
            first = first or found
        elif best is None or found.finish < best.finish:
            best = found
    if best is not None:
        return best
    if first is None:
        raise AssertionError("no rule was tried")
    return first


def _ranks(rule: Rule, ties: Ties, times: Times) -> tuple[int, ...]:
    """The place of each task in the order of a rule; equal ones by latest start, then name."""
    keys = [rule.key(ties, times, k) for k in range(len(ties.tasks))]
    order = sorted(range(len(ties.tasks)), key=lambda k: (keys[k], times.rows[ties.tasks[k].name].latest, k))
    rank = [0] * len(order)
    for place, k in enumerate(order):
        rank[k] = place
    return tuple(rank)


def _by_rank(
    rule: Rule, rank: Sequence[int], blocks: Sequence[Block], board: Board, soonest: Soonest
) -> "Levelled | Unplaced":
    ties = board.ties
    kept = {hold.first for hold in ties.network.holds if hold.last is None}
    waits = [len(block.after) for block in blocks]
    before: list[list[int]] = [[] for _ in blocks]
    for number, block in enumerate(blocks):
        for first in block.after:
            before[first].append(number)

    def key(number: int) -> tuple[bool, int, int]:
        # What is never given back comes last: nobody could use it afterwards.
        tasks = blocks[number].tasks
        return any(ties.tasks[k].name in kept for k in tasks), min(rank[k] for k in tasks), number

    ready = [key(number) for number, n in enumerate(waits) if n == 0]
    heapq.heapify(ready)
    floor = list(soonest.start)
    while ready:
        number = heapq.heappop(ready)[2]
        failed = _place(board, blocks[number], placing_order(ties, blocks[number], rank), floor)
        if failed is not None:
            return failed
        _take_late(board, blocks[number])
        for then in before[number]:
            waits[then] -= 1
            if waits[then] == 0:
                heapq.heappush(ready, key(then))
    start = tuple(minute for minute in board.start if minute is not None)
    return Levelled(start=start, finish=max(board.end, default=0), rule=rule)


def _place(board: Board, block: Block, order: Sequence[int], floor: list[int]) -> Unplaced | None:
    """Place the tasks of one block in `order`, raising `floor` where a start turns out to be too soon; None
    when all are placed."""
    ties, shop = board.ties, board.shop
    limit = _limit(board, order, floor)
    group_of = {k: group for group in block.tight for k in group}
    soonest = list(floor)
    place = {k: n for n, k in enumerate(order)}
    raises = at = 0
    moved: GapEdge | None = None
    while at < len(order):
        k = order[at]
        task = ties.tasks[k]
        minute = floor[k]
        for arc in ties.into[k]:
            tail = board.start[arc.tail]
            if tail is not None:
                minute = max(minute, start_for(ties, shop, arc, tail, board.end[arc.tail]))
        start = board.seek(k, minute)
        if start is None or start > limit or raises > RAISES:
            return Unplaced(task=task, gap=moved, clash=board.clash)
        board.put(k, start)
        if task.latest is not None and board.end[k] > task.latest:
            return Unplaced(task=task, gap=moved, clash=board.clash, late=board.end[k])
        again = at + 1
        for arc in ties.out[k]:
            head = board.start[arc.head]
            if head is None:
                continue
            minute = start_for(ties, shop, arc, start, board.end[k])
            if head < minute:
                floor[arc.head] = max(floor[arc.head], minute)
                again = min(again, place[arc.head])
                moved = arc.gap or moved
                if _chases(board, group_of[arc.head], floor, soonest):
                    return Unplaced(task=task, gap=moved, clash=board.clash)
        for first, minute in board.overfull_holds(k):
            if minute >= FOREVER:
                return Unplaced(task=ties.tasks[first], gap=moved, clash=board.clash)
            floor[first] = max(floor[first], minute)
            again = min(again, place[first])
        if again <= at:
            raises += 1
            for taken in order[again : at + 1]:
                board.lift(taken)
        at = again
    return None


def _chases(board: Board, group: Sequence[int], floor: Sequence[int], soonest: Sequence[int]) -> bool:
    """Whether tasks tied by longest gaps have been raised two weeks past everything else on the board and in
    the calendar: weeks repeat there, so they would be raised for ever."""
    members = set(group)
    ends = (end for k, end in enumerate(board.end) if board.start[k] is not None and k not in members)
    free = max(board.shop.settled, *(soonest[k] for k in group), max(ends, default=0))
    return min(floor[k] for k in group) > free + 2 * WEEK


def _limit(board: Board, order: Sequence[int], floor: Sequence[int]) -> int:
    """A minute past which a block that has found no place so far is given up: behind all that is placed, and
    as much later as its work, gaps and nights could add up to one after another."""
    ties, shop = board.ties, board.shop
    busy = max((end for k, end in enumerate(board.end) if board.start[k] is not None), default=0)
    base = max(busy, shop.settled, *(floor[k] for k in order))
    work = sum(max(stretched(shop, ties.tasks[k]), 2 * DAY) + ties.tasks[k].minutes for k in order)
    gaps = sum(max(arc.weight, 0) for k in order for arc in ties.out[k] if not arc.longest)
    return base + 4 * WEEK + work + gaps


def _take_late(board: Board, block: Block) -> None:
    """Begin each hold of a placed block as late as nothing else has to move, so that what is held serves
    others until then."""
    ties, shop = board.ties, board.shop
    starts = sorted((board.start[k] or 0, k) for k in block.tasks if board.begins_hold(k))
    for start, k in reversed(starts):
        task = ties.tasks[k]
        latest: int | None = None
        for arc in ties.out[k]:
            head = board.start[arc.head]
            if head is None:
                latest = start  # what comes after is not placed yet and may want it early
                break
            minute = (board.end[arc.head] if arc.head_end else head) - arc.weight
            found = shop.last(task, minute) if arc.tail_end else shop.last_start(task, minute)
            bound = start if found is None else found
            latest = bound if latest is None else min(latest, bound)
        if latest is None or latest <= start:
            continue
        if task.latest is not None:
            latest = min(latest, shop.last(task, task.latest) or 0)
        board.lift(k)
        board.put(k, latest if latest > start and board.fits(k, latest) else start)
