"""Early work: how much of each line's work is left from a minute on, where what is held is waited for."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from itertools import accumulate
from typing import NamedTuple

from castlang.plan.bounds.turns import Queue, raised
from castlang.plan.placement.placing import Setting
from castlang.plan.placement.profile import Line

MOMENTS = 24  # minutes from which on the work left is added up
LOOKS = 6000  # holds times turns that are looked at; of more holds, fewer turns

Work = tuple[int, int]  # a task, and its minutes times what it takes of a line
Row = tuple[tuple[int, tuple[int, ...]], ...]  # what follows upon a hold: each task, its first start by turn


class _Follows(NamedTuple):
    """What follows upon the holds of one thing: how many there is room for at a time, the turns looked at,
    and the row of each hold."""

    room: int
    turns: int
    rows: list[Row]


def left_from(
    setting: Setting, queues: Sequence[Queue], work: Mapping[Line, Sequence[Work]]
) -> dict[Line, tuple[tuple[int, int], ...]]:
    """For each line some minutes, and how much of its `work` is left from then on at the least, in any plan.

    Of holds with room for c at a time, no more than c * j begin before turn j can. What follows upon a hold
    can be done before a minute only as far as it starts by then with the hold begun in its turn. Each turn
    later there is less of it; of each such loss, no more than the c * j greatest are spared.
    """
    if not queues:
        return {}
    looks = max(1, LOOKS // sum(len(queue.holds) for queue in queues))
    last = min(queue.turns[min(looks, len(queue.turns) - 1)] for queue in queues)
    moments = sorted({minute for queue in queues for minute in queue.turns if minute <= last})[1:]
    moments = moments[:: max(1, -(-len(moments) // MOMENTS))]
    taken: set[int] = set()
    follows: list[_Follows] = []
    for queue in queues:
        turns = queue.turns[: bisect_left(queue.turns, last) + 1]
        rows = []
        for first in queue.holds:
            row = _follows(setting, first, turns, taken)
            taken.update(k for k, _ in row)
            rows.append(row)
        follows.append(_Follows(queue.room, len(turns), rows))
    found = {}
    for line, items in work.items():
        amount: dict[int, int] = {}
        for k, much in items:
            amount[k] = amount.get(k, 0) + much
        found[line] = tuple((minute, _left(setting, follows, taken, amount, minute)) for minute in moments)
    return found


def _follows(setting: Setting, first: int, turns: Sequence[int], taken: set[int]) -> Row:
    """For each turn, the first starts of all that follows upon a hold begun in it, and is not taken."""
    everything = dict(enumerate(setting.soonest))
    found = [raised(setting, first, minute, everything) for minute in turns]
    own = sorted({k for starts in found for k in starts} - taken)
    rows = []
    for k in own:
        backwards = accumulate((starts.get(k, setting.soonest[k]) for starts in reversed(found)), min)
        rows.append((k, tuple(backwards)[::-1]))
    return tuple(rows)


def _left(
    setting: Setting,
    follows: Sequence[_Follows],
    taken: set[int],
    amount: Mapping[int, int],
    minute: int,
) -> int:
    left = sum(much for k, much in amount.items() if k not in taken and setting.soonest[k] >= minute)
    for room, turns, rows in follows:
        spared: dict[int, list[int]] = {}  # what holds can do in so many turns, in no later one
        for row in rows:
            lost: dict[int, int] = {}
            for k, starts in row:
                if k not in amount:
                    continue
                left += amount[k]
                turn = bisect_left(starts, minute)
                lost[turn] = lost.get(turn, 0) + amount[k]
            for turn, much in lost.items():
                spared.setdefault(turn, []).append(much)
        for turn, losses in spared.items():
            most = len(rows) if turn == turns else room * turn
            left -= sum(sorted(losses, reverse=True)[:most])
    return left
