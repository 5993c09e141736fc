"""Turns: what each thing that is held asks of all that hold it, one after another."""

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from castlang.plan.model import Hold
from castlang.plan.placement.blocks import Block
from castlang.plan.placement.floor import Floor
from castlang.plan.placement.placing import Setting
from castlang.plan.placement.soonest import start_for
from castlang.plan.ties import Arc

TURNS = 4000  # turns of kinds of holds that are worked out for one thing; of more, none is
ROUNDS = 2000  # raises of one task's start, past which its windows are let go


def held_things(floor: Floor) -> list[str]:
    """The stations, molds and temporary works that are held and given back."""
    return sorted({hold.resource for hold in floor.ties.network.holds if hold.last is not None})


@dataclass(frozen=True, slots=True, kw_only=True)
class Queue:
    """What waits for one thing. holds: the tasks that begin a hold of it; room: how many it has room for at a
    time; turns[j]: before then no more than room * j of them can have begun."""

    holds: tuple[int, ...]
    room: int
    turns: tuple[int, ...]


def queues_of(setting: Setting) -> tuple[Queue, ...]:
    """The queues of all things that are handed on, the longest first."""
    queues = [_queue(setting, name) for name in held_things(setting.floor)]
    return tuple(sorted((q for q in queues if q is not None), key=lambda q: -len(q.turns)))


def _queue(setting: Setting, name: str) -> Queue | None:
    """Of n holds of a thing, with room for c at a time, one begins when at least n / c - 1, rounded up, have
    come and gone one after the other; None where nothing is handed on, or too much to work it out."""
    ties = setting.floor.ties
    holds = [h for h in ties.network.holds if h.resource == name and h.last is not None]
    room = next(r.capacity for r in ties.network.resources if r.name == name)
    room //= max(min(h.amount for h in holds), 1)
    turns = -(-len(holds) // max(room, 1))
    if turns <= 1:
        return None
    kinds = _kinds(setting, holds)
    if not room or len(kinds) * turns > TURNS:
        return None
    minutes = [min(setting.soonest[ties.index[hold.first]] for hold in holds)]
    for _ in range(turns - 1):
        ends = []
        for hold in kinds:
            first, last = ties.index[hold.first], ties.index[hold.last or hold.first]
            since = {k: setting.soonest[k] for k in _block(setting, first).tasks}
            start = raised(setting, first, minutes[-1], since)
            ends.append(setting.floor.ends(last, start.get(last, since[last])))
        minutes.append(max(minutes[-1], min(ends)))
    return Queue(holds=tuple(ties.index[h.first] for h in holds), room=room, turns=tuple(minutes))


def handed_on(setting: Setting, queue: Queue) -> int:
    """The least finish by one thing alone: the hold of its last turn, and all that waits for it."""
    everything = dict(enumerate(setting.soonest))
    finishes = []
    for first in queue.holds:
        start = raised(setting, first, queue.turns[-1], everything)
        finishes.append(max(setting.floor.ends(k, at) for k, at in start.items()))
    return min(finishes)


def _block(setting: Setting, k: int) -> Block:
    return setting.blocks[setting.block[k]]


def _kinds(setting: Setting, holds: Iterable[Hold]) -> list[Hold]:
    """Of holds whose blocks are alike but for their figures, those that none is quicker than all through."""
    ties = setting.floor.ties
    alike: dict[tuple[object, ...], list[tuple[list[int], Hold]]] = {}
    for hold in holds:
        shape, figures = _figures(setting, _block(setting, ties.index[hold.first]), hold)
        kept = alike.setdefault(shape, [])
        if any(all(a <= b for a, b in zip(quicker, figures, strict=True)) for quicker, _ in kept):
            continue
        kept[:] = [(f, h) for f, h in kept if any(a < b for a, b in zip(f, figures, strict=True))]
        kept.append((figures, hold))
    return [hold for kept in alike.values() for _, hold in kept]


def _figures(setting: Setting, block: Block, hold: Hold) -> tuple[tuple[object, ...], list[int]]:
    """A hold's block without its figures, and its figures: with each of them less, all ends come sooner."""
    ties = setting.floor.ties
    place = {k: n for n, k in enumerate(block.tasks)}
    arcs = sorted(
        (place[a.tail], place[a.head], a.tail_end, a.head_end, a.longest, _warmth(a), a.weight)
        for k in block.tasks
        for a in ties.out[k]
        if a.head in place
    )
    by_end = {head for _, head, _, head_end, *_ in arcs if head_end}
    tasks: list[object] = []
    figures = [weight for *_, weight in arcs]
    for n, k in enumerate(block.tasks):
        task = ties.tasks[k]
        # What ends at a given minute starts sooner the longer it is: its minutes are told apart.
        tasks.append(
            (task.crew, task.needs, task.may_pause, task.through_breaks, n in by_end and task.minutes)
        )
        figures += [task.minutes, setting.soonest[k]]
    ends = place[ties.index[hold.first]], place[ties.index[hold.last or hold.first]]
    return (tuple(tasks), tuple(arc[:6] for arc in arcs), ends), figures


def _warmth(arc: Arc) -> int:
    """How a wait passes by warmth: only those that pass alike are told apart by their figures."""
    return -1 if arc.passing is None else arc.passing.number


def raised(setting: Setting, k: int, minute: int, since: Mapping[int, int]) -> dict[int, int]:
    """The starts, by gaps and hours alone, that change when task k starts at `minute` or later; k among them.
    since: where the tasks stand that may move."""
    floor = setting.floor
    ties, shop = floor.ties, floor.shop
    start = {k: floor.opens(k, max(minute, since[k])) or since[k]}
    queue = deque([k])
    for _ in range(ROUNDS):
        if not queue:
            break
        tail = queue.popleft()
        end = floor.ends(tail, start[tail])
        for arc in ties.out[tail]:
            if arc.head not in since:
                continue
            by = start_for(ties, shop, arc, start[tail], end)
            opens = floor.opens(arc.head, by) if by > start.get(arc.head, since[arc.head]) else None
            if opens is not None:
                start[arc.head] = opens
                queue.append(arc.head)
    return start
