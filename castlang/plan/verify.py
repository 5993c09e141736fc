"""An independent check of a plan against everything that its network asks.

It shares only the model with what makes plans: its calendar is its own, so that a mistake in theirs shows.
A plan that fails is a fault of the program, never of the builder.
"""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from castlang.plan.model import Ageing, GapEdge, Hours, Network, Placed, Plan, Point, Task

_DAY = 1440
_EVER = 10**12
_MILLION = 10**6
_Span = tuple[int, int]
_Closed = Mapping[str, Sequence[_Span]]


def verify(plan: Plan) -> tuple[str, ...]:
    """What is wrong with `plan`, in sentences; empty for a plan that keeps everything."""
    network = plan.network
    placed = {p.task: p for p in plan.placed}
    wrong = [*_once(network, plan)]
    if wrong:
        return tuple(wrong)
    closed = {r.name: r.closed for r in network.resources}
    for task in network.tasks:
        wrong.extend(_task(network, closed, task, placed[task.name]))
    for gap in network.gaps:
        wrong.extend(_gap(gap, placed))
    wrong.extend(_crew(network, placed))
    wrong.extend(_places(network, placed))
    wrong.extend(_figures(plan))
    return tuple(wrong)


def _once(network: Network, plan: Plan) -> Iterable[str]:
    wanted = Counter(task.name for task in network.tasks)
    found = Counter(p.task for p in plan.placed)
    for name in sorted(wanted | found):
        if wanted[name] != found[name]:
            yield f"{name} is placed {found[name]} times"


def _figures(plan: Plan) -> Iterable[str]:
    finish = max((p.end for p in plan.placed), default=0)
    if plan.finish != finish:
        yield f"the finish is told as {plan.finish}, but the last end is {finish}"
    if plan.bound > plan.finish:
        yield f"the plan finishes at {plan.finish}, before its bound {plan.bound}"
    for p in plan.placed:
        if p.latest < p.start or p.slack != p.latest - p.start:
            yield f"{p.task} starts at {p.start}, latest {p.latest}, with a slack of {p.slack}"
    starts = [p.start for p in plan.placed]
    if starts != sorted(starts):
        yield "the tasks are not in the order of their starts"


def _task(network: Network, closed: _Closed, task: Task, p: Placed) -> Iterable[str]:
    if task.done is not None:
        if (p.start, p.end) != task.done:
            yield f"{task.name} was done from {task.done[0]} to {task.done[1]}, but stands elsewhere"
        return
    if p.start < network.since and task.kind not in ("arrival", "ready"):
        yield f"{task.name} starts at {p.start}, before {network.since}, up to when work was told"
    if p.start < 0 or (task.earliest is not None and p.start < task.earliest):
        yield f"{task.name} starts at {p.start}, sooner than it may"
    if task.latest is not None and p.end > task.latest:
        yield f"{task.name} ends at {p.end}, later than {task.latest}"
    if not task.minutes:
        if p.spells or p.start != p.end:
            yield f"{task.name} has no length, but is worked"
        elif not _may_happen(network, closed, task, p.start):
            yield f"{task.name} happens at {p.start}, when it may not"
        return
    worked = sum(b - a for a, b in p.spells)
    if worked != task.minutes:
        yield f"{task.name} is worked {worked} min of {task.minutes}"
    if not p.spells or p.spells[0][0] != p.start or p.spells[-1][1] != p.end:
        yield f"{task.name} does not start and end with its work"
    if any(a >= b for a, b in p.spells) or any(
        x[1] >= y[0] for x, y in zip(p.spells, p.spells[1:], strict=False)
    ):
        yield f"{task.name} is worked in spells that are not in order"
        return
    if len(p.spells) > 1 and not task.may_pause:
        yield f"{task.name} pauses, but may not"
    for a, b in p.spells:
        if _minutes_open(network, closed, task, a, b) != b - a:
            yield f"{task.name} is worked from {a} to {b}, not all of it in hours"
    for x, y in zip(p.spells, p.spells[1:], strict=False):
        if _minutes_open(network, closed, task, x[1], y[0]):
            yield f"{task.name} pauses from {x[1]} to {y[0]}, though it could be worked"


def _may_happen(network: Network, closed: _Closed, task: Task, minute: int) -> bool:
    """Whether a task without length can be at `minute`: an end of a spell counts as open."""
    if not task.crew and not task.needs:
        return True
    before = minute > 0 and _minutes_open(network, closed, task, minute - 1, minute) == 1
    return before or _minutes_open(network, closed, task, minute, minute + 1) == 1


def _minutes_open(network: Network, closed: _Closed, task: Task, start: int, end: int) -> int:
    """How many minutes from `start` to `end` the task could be worked, as far as hours and closings go."""
    spells: list[_Span] = []
    for day in range(start // _DAY - 1, end // _DAY + 1):
        for a, b in _day(network.hours, task, day):
            spells.append((max(a, start), min(b, end)))
    spells = _united(spells)
    used = dict.fromkeys(need.resource for need in task.needs)
    shut = _united([c for name in used for c in closed.get(name, ())])
    lost = sum(max(0, min(b, d) - max(a, c)) for a, b in spells for c, d in shut)
    return sum(b - a for a, b in spells) - lost


def _day(hours: Hours, task: Task, day: int) -> Sequence[_Span]:
    if not any(people for _, people in task.crew):
        return ((day * _DAY, day * _DAY + _DAY),)
    if day < 0 or day in hours.closed:
        return ()
    wanted = _wanted(task)
    there = _there(hours, day)
    if any(people > there.get(role, 0) for role, people in wanted.items()):
        return ()
    week = hours.week[(hours.start.toordinal() + day + 6) % 7]
    if task.through_breaks and week:
        week = ((week[0][0], week[-1][1]),)
    return [(day * _DAY + a, day * _DAY + b) for a, b in week]


def _united(spans: Iterable[_Span]) -> list[_Span]:
    joined: list[_Span] = []
    for a, b in sorted(s for s in spans if s[0] < s[1]):
        if joined and a <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], b))
        else:
            joined.append((a, b))
    return joined


def _wanted(task: Task) -> dict[str, int]:
    """People wanted by role; under "" all together."""
    wanted: dict[str, int] = {}
    for role, people in task.crew:
        if people:
            wanted[""] = wanted.get("", 0) + people
            if role is not None:
                wanted[role] = wanted.get(role, 0) + people
    return wanted


def _there(hours: Hours, day: int) -> dict[str, int]:
    there = {"": sum(people for _, people in hours.crew)}
    for role, people in hours.crew:
        if role is not None:
            there[role] = there.get(role, 0) + people
    for role, people in hours.away.get(day, ()):
        there[""] = max(there[""] - people, 0)
        if role is not None and role in there:
            there[role] = max(there[role] - people, 0)
    return there


def _gap(gap: GapEdge, placed: dict[str, Placed]) -> Iterable[str]:
    before, after = placed[gap.before], placed[gap.after]
    first = before.end if gap.before_point is Point.END else before.start
    then = after.end if gap.after_point is Point.END else after.start
    over, closes = _over(gap, first), _closes(gap, first)
    if then < over:
        yield f"{gap.after} comes {then - first} min after {gap.before}, not {over - first} or more"
    if closes is not None and then > closes:
        yield f"{gap.after} comes {then - first} min after {gap.before}, not {closes - first} or less"


def _over(gap: GapEdge, minute: int) -> int:
    """When the least time of a gap is over: of waits that pass by warmth, hour by hour."""
    if not gap.stretches:
        return minute + gap.least
    for part in gap.stretches:
        if part.ageing is None:
            minute += part.least
            continue
        wanted = part.least * _MILLION
        while wanted > 0:
            rate, until = _rate(part.ageing, minute)
            if rate * (until - minute) >= wanted:
                until = minute - (-wanted // rate)
            wanted -= rate * (until - minute)
            minute = until
    return minute


def _closes(gap: GapEdge, minute: int) -> int | None:
    """When the longest time of a gap is over."""
    if gap.longest is None or not gap.stretches:
        return None if gap.longest is None else minute + gap.longest
    for part in gap.stretches:
        if part.ageing is None:
            minute += part.longest or 0
            continue
        allowed = (part.longest or 0) * _MILLION
        while True:
            rate, until = _rate(part.ageing, minute)
            if rate * (until - minute) > allowed:
                minute += allowed // rate
                break
            allowed -= rate * (until - minute)
            minute = until
    return minute


def _rate(ageing: Ageing, minute: int) -> tuple[int, int]:
    """How many millionths of a minute as told pass in each minute from this one on, and until when: to the
    end of the hour at the most."""
    told = minute
    if told >= ageing.settled:
        told = ageing.settled + (told - ageing.settled) % (7 * _DAY)
    spell = bisect_right(ageing.spells, (told, _EVER)) - 1
    until = (told // 60 + 1) * 60
    if spell + 1 < len(ageing.spells):
        until = min(until, ageing.spells[spell + 1][0])
    until = min(until, ageing.settled + (0 if told < ageing.settled else 7 * _DAY))
    return ageing.spells[spell][2], minute + until - told


def _crew(network: Network, placed: dict[str, Placed]) -> Iterable[str]:
    uses: dict[str, list[tuple[int, int, int]]] = {}
    for task in (task for task in network.tasks if task.done is None):
        for role, people in _wanted(task).items():
            for a, b in placed[task.name].spells:
                uses.setdefault(role, []).append((a, b, people))
    full = _there(network.hours, -1)
    for role in sorted(uses):
        for minute, taken in _peaks(uses[role], (day * _DAY for day in network.hours.away)):
            there = _there(network.hours, minute // _DAY) if minute // _DAY in network.hours.away else full
            if taken > there.get(role, 0):
                yield f"{taken} {role or 'people'} are wanted at {minute}, {there.get(role, 0)} are there"


def _places(network: Network, placed: dict[str, Placed]) -> Iterable[str]:
    uses: dict[str, list[tuple[int, int, int]]] = {}
    for task in (task for task in network.tasks if task.done is None):
        p = placed[task.name]
        for need in task.needs:
            uses.setdefault(need.resource, []).append((p.start, p.end, need.amount))
    for hold in network.holds:
        start = placed[hold.first].start
        end = _EVER if hold.last is None else placed[hold.last].end
        if end < start:
            yield f"{hold.resource} is given back at {end}, before it is taken at {start}"
        uses.setdefault(hold.resource, []).append((start, end, hold.amount))
    capacity = {r.name: r.capacity for r in network.resources}
    for name in sorted(uses):
        for minute, taken in _peaks(uses[name], ()):
            if taken > capacity.get(name, 0):
                yield f"{taken} of {name} are wanted at {minute}, there is room for {capacity.get(name, 0)}"


def _peaks(uses: Iterable[tuple[int, int, int]], marks: Iterable[int]) -> Iterable[tuple[int, int]]:
    """How much is taken from each minute at which that, or what there is (`marks`), may change."""
    change: dict[int, int] = dict.fromkeys(marks, 0)
    for start, end, amount in uses:
        if start < end:
            change[start] = change.get(start, 0) + amount
            change[end] = change.get(end, 0) - amount
    taken = 0
    for minute in sorted(change):
        taken += change[minute]
        yield minute, taken
