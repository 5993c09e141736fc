"""Patterns: blocks that are alike but for where they stand in time: what one has shown serves the next."""

from collections.abc import Sequence

from castlang.plan.placement.blocks import Block
from castlang.plan.placement.floor import Floor

Starts = tuple[int, ...]
KEPT = 8  # stretches of time that are remembered of each pattern


def patterns_of(floor: Floor, blocks: Sequence[Block]) -> tuple[int | None, ...]:
    """The number of each block's pattern; None for a task by itself, which the board knows by its shape, and
    where dates, or what is held, tell the blocks apart: only of what is held is anything ever given back."""
    held = {kept.hold.resource for kept in floor.kept}

    def apart(k: int) -> bool:
        task = floor.ties.tasks[k]
        holds = floor.begun[k] or floor.holds[k] or any(need.resource in held for need in task.needs)
        return task.latest is not None or bool(holds)

    numbers: dict[tuple[object, ...], int] = {}
    return tuple(
        None
        if len(block.tasks) == 1 or any(apart(k) for k in block.tasks)
        else numbers.setdefault(_pattern(floor, block), len(numbers))
        for block in blocks
    )


def _pattern(floor: Floor, block: Block) -> tuple[object, ...]:
    place = {k: n for n, k in enumerate(block.tasks)}
    arcs = [
        (n, place[a.head], a.weight, a.tail_end, a.head_end, None if a.passing is None else a.passing.number)
        for n, k in enumerate(block.tasks)
        for a in floor.ties.out[k]
        if a.head in place
    ]
    return tuple(floor.claims[k].shape for k in block.tasks), tuple(arcs)


def since_of(floor: Floor, order: Sequence[int], minutes: Sequence[int]) -> Starts:
    """The minutes before which the tasks of a block cannot start, as far as the gaps among them put each
    behind those that are placed before it. minutes: the same by all else."""
    since = dict(zip(order, minutes, strict=True))
    done: set[int] = set()
    for k in order:
        for tail, weight, at_end in floor.before[k]:
            if tail in done:
                taken = floor.ties.tasks[tail].minutes if at_end else 0
                since[k] = max(since[k], since[tail] + taken + weight)
        done.add(k)
    return tuple(since[k] for k in order)


class Shown:
    """For blocks of one pattern, from which starts on none was found before which others: the room on a board
    is only ever taken, so that what was full stays full."""

    __slots__ = ("_stretches",)

    def __init__(self) -> None:
        self._stretches: list[tuple[Starts, Starts]] = []

    def ahead(self, since: Starts) -> Starts:
        """The first starts that there can be for a block that may start at `since` and no sooner."""
        return max((full for begun, full in self._stretches if _upto(begun, since)), default=since)

    def add(self, since: Starts, starts: Starts) -> None:
        """A block that could start at `since` was placed at `starts`."""
        around = [b for b, full in self._stretches if _upto(b, since) and _upto(since, full)]
        begun = min(around, default=since)
        apart = [(b, full) for b, full in self._stretches if not (_upto(begun, b) and _upto(b, starts))]
        self._stretches = [(begun, starts), *apart][:KEPT]


def _upto(sooner: Starts, later: Starts) -> bool:
    return all(a <= b for a, b in zip(sooner, later, strict=True))
