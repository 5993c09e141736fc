"""Supply: whether the shop has time enough between any two moments for what has to fall between them."""

from bisect import bisect_right
from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from castlang.plan.bounds.early_work import MOMENTS, left_from
from castlang.plan.bounds.turns import Queue
from castlang.plan.clock import DAY
from castlang.plan.hours import Shop, Spells, people_of, people_there, people_wanted
from castlang.plan.placement.placing import Setting
from castlang.plan.placement.profile import Line


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """What has to be done on one line, and what there is of it. work: (task it starts with, task it ends
    with, minutes times amount). upto[i]: how much there has been of the line until times[i]; in between it
    is had at rate[i] a minute."""

    work: tuple[tuple[int, int, int], ...]
    left: tuple[tuple[int, int], ...]
    times: tuple[int, ...]
    upto: tuple[int, ...]
    rate: tuple[int, ...]

    def until(self, minute: int) -> int:
        """How much there has been of the line until `minute`."""
        i = bisect_right(self.times, minute) - 1
        return self.upto[i] + self.rate[i] * (minute - self.times[i]) if i >= 0 else 0


def supplies_of(setting: Setting, queues: Sequence[Queue], finish: int) -> tuple[Supply, ...]:
    """What has to be done on each line, and what there is of it until `finish`."""
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
    begun = {line: [(first, much) for first, _, much in items] for line, items in work.items()}
    left = left_from(setting, queues, begun)
    supplies = []
    for line in sorted(work):
        when = _united(list({id(spells): spells for spells in hours[line]}.values()), finish)
        if line[0] == "crew":
            rates = _people(floor.shop, line[1] or None, when)
        else:
            rates = [(begin, end, capacity[line]) for begin, end in when]
        supplies.append(_supply(work[line], rates, left.get(line, ())))
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


def _supply(
    work: list[tuple[int, int, int]], rates: Iterable[tuple[int, int, int]], left: tuple[tuple[int, int], ...]
) -> Supply:
    times, upto, rate = [0], [0], [0]
    for begin, end, amount in rates:
        times += [begin, end]
        upto += [upto[-1], upto[-1] + amount * (end - begin)]
        rate += [amount, 0]
    return Supply(work=tuple(work), left=left, times=tuple(times), upto=tuple(upto), rate=tuple(rate))


def suffices(setting: Setting, lines: Iterable[Supply], finish: int) -> bool:
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
        if any(much > line.until(finish) - line.until(minute) for minute, much in line.left):
            return False
    return True


def _latest_ends(setting: Setting, finish: int) -> list[int] | None:
    """The latest end of each task by gaps and hours for all to end by `finish`; None where one of them could
    not start as soon as it can."""
    floor = setting.floor
    ties = floor.ties
    latest: list[int] = []
    ends: list[int] = []
    for k, task in enumerate(ties.tasks):
        by = finish if task.latest is None else min(finish, task.latest)
        start = floor.last(k, by)
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
            by = ends[head] if arc.head_end else latest[head]
            by = by - arc.weight if arc.passing is None else arc.passing.back(by)
            if by >= (ends[tail] if arc.tail_end else latest[tail]):
                continue
            start = floor.last(tail, by) if arc.tail_end else floor.last_start(tail, by)
            if start is None or start < setting.soonest[tail]:
                return None
            latest[tail] = start
            ends[tail] = floor.ends(tail, start)
            if not waiting[tail]:
                waiting[tail] = True
                queue.append(tail)
    return ends
