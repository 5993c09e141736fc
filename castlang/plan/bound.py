"""Bounds: how long each hold lasts at the least, and the minute before which no plan can finish."""

from bisect import bisect_right
from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from castlang.plan.blocks import Block
from castlang.plan.clock import DAY
from castlang.plan.floor import Floor
from castlang.plan.hours import Shop, Spells, people_of, people_there, people_wanted
from castlang.plan.model import Hold
from castlang.plan.placing import Setting
from castlang.plan.profile import Line
from castlang.plan.soonest import start_for
from castlang.plan.ties import Ties
from castlang.plan.windows import NEVER, Edge, bounds_of, longest_paths

TURNS = 4000  # turns of kinds of holds that are worked out for one thing; of more, none is
MOMENTS = 24  # minutes from which on the work left is added up
ROUNDS = 2000  # raises of one task's start, past which its windows are let go


def hold_lengths(ties: Ties, blocks: Sequence[Block]) -> dict[Hold, int]:
    """The least minutes from the start of each hold's first task to the end of its last, by the gaps of the
    tasks in its block. A hold to the end of the plan has none."""
    bounds = bounds_of(ties)
    block_of = {k: block for block in blocks for k in block.tasks}
    lengths: dict[Hold, int] = {}
    for hold in ties.network.holds:
        if hold.last is None:
            continue
        first, last = ties.index[hold.first], ties.index[hold.last]
        members = block_of[first].tasks
        points = sorted({*members, *(bounds.end[k] for k in members)})
        place = {point: n for n, point in enumerate(points)}
        out = [
            [
                Edge(place[e.tail], place[e.head], e.weight, e.ref)
                for e in bounds.out[point]
                if e.head in place
            ]
            for point in points
        ]
        low = [NEVER] * len(points)
        low[place[first]] = 0
        found = longest_paths(out, low, range(len(points)))
        if isinstance(found, tuple):
            raise ValueError("the length of a hold in a network whose gaps cannot be met")
        end = bounds.end[last]
        lengths[hold] = max(found[place[end]] + (ties.tasks[last].minutes if end == last else 0), 0)
    return lengths


def finish_bound(setting: Setting, finish: int | None) -> int:
    """A minute before which no plan can finish, where one is known that ends at `finish`, or none.

    The greatest of: what gaps and hours alone ask; what each thing that is held asks of all that hold it,
    one after another; and the least finish for which no line has less time, between any two moments, than
    the work that has to fall between them (Baptiste, Le Pape & Nuijten, Constraint-Based Scheduling, 2001,
    section 3.1; here in the shop's hours).
    """
    floor = setting.floor
    soonest = setting.soonest
    bound = max((floor.ends(k, start) for k, start in enumerate(soonest)), default=0)
    bound = max([bound, *(_handed_on(setting, name) for name in _held(floor))])
    if finish is None or bound >= finish:
        return bound
    lines = _lines(setting, finish)
    if not _suffices(setting, lines, finish - 1):
        return finish
    low, high = bound, finish - 1  # no plan ends before `low`; none of the checks refuses `high`
    exact = 1 if len(soonest) <= 1000 else max(1, finish // 2000)
    while high - low >= exact:
        middle = (low + high) // 2
        if _suffices(setting, lines, middle):
            high = middle
        else:
            low = middle + 1
    return low


# ------------------------------------------------------------ what is held, one after another


def _held(floor: Floor) -> list[str]:
    return sorted({hold.resource for hold in floor.ties.network.holds if hold.last is not None})


def _handed_on(setting: Setting, name: str) -> int:
    """The least finish by one thing alone: of n holds of it, with room for c at a time, one begins when at
    least n / c - 1, rounded up, have come and gone one after the other; all that waits for it follows."""
    ties = setting.floor.ties
    holds = [h for h in ties.network.holds if h.resource == name and h.last is not None]
    room = next(r.capacity for r in ties.network.resources if r.name == name)
    room //= max(min(h.amount for h in holds), 1)
    block_of = {k: block for block in setting.blocks for k in block.tasks}
    kinds = _kinds(setting, block_of, holds)
    turns = -(-len(holds) // max(room, 1))
    if not room or len(kinds) * turns > TURNS:
        return 0
    minute = min(setting.soonest[ties.index[hold.first]] for hold in holds)
    for _ in range(turns - 1):
        ends = []
        for hold in kinds:
            first, last = ties.index[hold.first], ties.index[hold.last or hold.first]
            since = {k: setting.soonest[k] for k in block_of[first].tasks}
            start = _raised(setting, first, minute, since)
            ends.append(setting.floor.ends(last, start.get(last, since[last])))
        minute = max(minute, min(ends))
    finishes = []
    for hold in holds:
        start = _raised(setting, ties.index[hold.first], minute, dict(enumerate(setting.soonest)))
        finishes.append(max(setting.floor.ends(k, at) for k, at in start.items()))
    return min(finishes)


def _kinds(setting: Setting, block_of: Mapping[int, Block], holds: Iterable[Hold]) -> list[Hold]:
    """Of holds whose blocks are alike but for their figures, those that none is quicker than all through."""
    ties = setting.floor.ties
    alike: dict[tuple[object, ...], list[tuple[list[int], Hold]]] = {}
    for hold in holds:
        shape, figures = _figures(setting, block_of[ties.index[hold.first]], hold)
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
        (place[a.tail], place[a.head], a.tail_end, a.head_end, a.longest, a.weight)
        for k in block.tasks
        for a in ties.out[k]
        if a.head in place
    )
    by_end = {head for _, head, _, head_end, _, _ in arcs if head_end}
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
    return (tuple(tasks), tuple(arc[:5] for arc in arcs), ends), figures


def _raised(setting: Setting, k: int, minute: int, since: Mapping[int, int]) -> dict[int, int]:
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


# ------------------------------------------------------------ time enough between two moments


@dataclass(frozen=True, slots=True, kw_only=True)
class _Supply:
    """What has to be done on one line, and what there is of it. work: (task it starts with, task it ends
    with, minutes times amount). upto[i]: how much there has been of the line until times[i]; in between it
    is had at rate[i] a minute."""

    work: tuple[tuple[int, int, int], ...]
    times: tuple[int, ...]
    upto: tuple[int, ...]
    rate: tuple[int, ...]

    def until(self, minute: int) -> int:
        """How much there has been of the line until `minute`."""
        i = bisect_right(self.times, minute) - 1
        return self.upto[i] + self.rate[i] * (minute - self.times[i]) if i >= 0 else 0


def _lines(setting: Setting, finish: int) -> tuple[_Supply, ...]:
    floor = setting.floor
    ties = floor.ties
    work: dict[Line, list[tuple[int, int, int]]] = {}
    hours: dict[Line, list[Spells | None]] = {}
    for k, task in enumerate(ties.tasks):
        claim = floor.claims[k]
        if not task.minutes:
            continue
        for role, people in people_wanted(task):
            work.setdefault(("crew", role or ""), []).append((k, k, people * task.minutes))
            hours.setdefault(("crew", role or ""), []).append(claim.spells)
        for need in task.needs:
            work.setdefault(("place", need.resource), []).append((k, k, need.amount * task.minutes))
            spells = None if claim.pauses else claim.spells
            hours.setdefault(("place", need.resource), []).append(spells)
    for kept in floor.kept:
        if kept.last is not None and kept.least:
            line = ("place", kept.hold.resource)
            work.setdefault(line, []).append((kept.first, kept.last, kept.hold.amount * kept.least))
            hours.setdefault(line, []).append(None)
    capacity = {("place", r.name): r.capacity for r in ties.network.resources}
    supplies = []
    for line in sorted(work):
        when = _united(list({id(spells): spells for spells in hours[line]}.values()), finish)
        if line[0] == "crew":
            rates = _people(floor.shop, line[1] or None, when)
        else:
            rates = [(begin, end, capacity[line]) for begin, end in when]
        supplies.append(_supply(work[line], rates))
    return tuple(supplies)


def _united(spells: Sequence[Spells | None], finish: int) -> list[tuple[int, int]]:
    """When any of the spells is open, until `finish`; None is open always."""
    if any(s is None for s in spells):
        return [(0, finish)]
    joined: list[tuple[int, int]] = []
    for begin, end in sorted(spell for s in spells if s is not None for spell in s.between(0, finish)):
        if joined and begin <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((begin, end))
    return joined


def _people(shop: Shop, role: str | None, when: Iterable[tuple[int, int]]) -> list[tuple[int, int, int]]:
    rates = []
    full = people_of(shop.hours).get(role, 0)
    for begin, end in when:
        while begin < end:
            day = begin // DAY
            until = min(end, (day + 1) * DAY)
            there = people_there(shop.hours, day).get(role, 0) if day in shop.hours.away else full
            rates.append((begin, until, there))
            begin = until
    return rates


def _supply(work: list[tuple[int, int, int]], rates: Iterable[tuple[int, int, int]]) -> _Supply:
    times, upto, rate = [0], [0], [0]
    for begin, end, amount in rates:
        times += [begin, end]
        upto += [upto[-1], upto[-1] + amount * (end - begin)]
        rate += [amount, 0]
    return _Supply(work=tuple(work), times=tuple(times), upto=tuple(upto), rate=tuple(rate))


def _suffices(setting: Setting, lines: Iterable[_Supply], finish: int) -> bool:
    """Whether nothing speaks against a plan that ends by `finish`: each task can end in time by gaps and
    hours, and no line has too little time for what has to fall between two moments."""
    latest = _latest_ends(setting, finish)
    if latest is None:
        return False
    for line in lines:
        work = sorted((latest[last], setting.soonest[first], amount) for first, last, amount in line.work)
        heads = sorted({head for _, head, _ in work})
        for begin in heads[:: max(1, len(heads) // MOMENTS)]:
            before = line.until(begin)
            asked = 0
            for end, head, amount in work:
                if head >= begin:
                    asked += amount
                    if asked > line.until(end) - before:
                        return False
    return True


def _latest_ends(setting: Setting, finish: int) -> list[int] | None:
    """The latest end of each task by gaps and hours for all to end by `finish`; None where one of them could
    not start as soon as it can."""
    floor = setting.floor
    ties, shop = floor.ties, floor.shop
    latest: list[int] = []
    ends: list[int] = []
    for k, task in enumerate(ties.tasks):
        by = finish if task.latest is None else min(finish, task.latest)
        start = shop.last(task, by)
        if start is None or start < setting.soonest[k]:
            return None
        latest.append(start)
        ends.append(floor.ends(k, start))
    queue = deque(reversed([k for block in setting.blocks for k in block.tasks]))
    waiting = [True] * len(latest)
    while queue:
        head = queue.popleft()
        waiting[head] = False
        for arc in ties.into[head]:
            tail = arc.tail
            by = (ends[head] if arc.head_end else latest[head]) - arc.weight
            if by >= (ends[tail] if arc.tail_end else latest[tail]):
                continue
            task = ties.tasks[tail]
            start = shop.last(task, by) if arc.tail_end else shop.last_start(task, by)
            if start is None or start < setting.soonest[tail]:
                return None
            latest[tail] = start
            ends[tail] = floor.ends(tail, start)
            if not waiting[tail]:
                waiting[tail] = True
                queue.append(tail)
    return ends
