"""Cures that somebody looks after every so often: when each visit is due, and who is there for it.

A visit is due by the clock, so often after the cure has begun, in hours or out of them. It has no length of
its own and moves no step: the plan keeps nobody free for it, and tells where nobody is.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from castlang.plan.clock import DAY, duration_text, moment_text
from castlang.plan.findings import TEND_BUSY, TEND_CLOSED
from castlang.plan.hours import people_there, people_wanted
from castlang.plan.model import GapEdge, Network, Plan, Point, Stretch, Task, Tend, Tended
from castlang.plan.warmth.ageing import over_at
from castlang.problems.model import Finding, Problem


class Missing(StrEnum):
    """Why nobody can be expected to come."""

    CLOSED = "closed"  # the shop is closed
    AWAY = "away"  # the people for it are away on that day
    BUSY = "at work"  # all who are there are at work


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """One visit to what waits for `task` over `gap`. number: counted from 1 for each cure. missing: None
    where somebody is free for it. busy: at what the others are at work."""

    minute: int
    task: str
    number: int
    gap: GapEdge
    tend: Tend
    missing: Missing | None
    busy: tuple[str, ...] = ()


def visits_of(plan: Plan) -> tuple[Visit, ...]:
    """The visits of a plan, in order of time, from the last record on; to what is done there are none. A cure
    that nothing else follows is looked after until the task behind it begins."""
    network = plan.network
    tasks = {task.name: task for task in network.tasks}
    placed = {p.task: p for p in plan.placed}
    begun: dict[tuple[str, Tend], tuple[int, GapEdge, Tended]] = {}
    for gap in network.gaps:
        if tasks[gap.after].done is not None:
            continue
        before = placed[gap.before]
        start = before.start if gap.before_point is Point.START else before.end
        for tended in gap.tended:
            known = begun.get((gap.after, tended.tend))
            if known is None or start > known[0]:
                begun[gap.after, tended.tend] = (start, gap, tended)
    found = [
        _visit(plan, tasks, gap, tended.tend, number, minute)
        for (after, _), (start, gap, tended) in begun.items()
        for number, minute in _minutes(tended, start, placed[after].start)
        if minute >= network.since
    ]
    return tuple(sorted(found, key=lambda visit: (visit.minute, visit.task, visit.number)))


def tending_problems(plan: Plan) -> tuple[Problem, ...]:
    """For each line of the build, of all its copies: visits that are due when nobody is there, and such that
    are due when all who are there are at work."""
    tasks = {task.name: task for task in plan.network.tasks}
    by_line: dict[object, list[Visit]] = {}
    for visit in visits_of(plan):
        by_line.setdefault(visit.gap.span if visit.gap.span.file else visit.gap.says, []).append(visit)
    found: list[Problem] = []
    for visits in by_line.values():
        absent = [visit for visit in visits if visit.missing in (Missing.CLOSED, Missing.AWAY)]
        busy = [visit for visit in visits if visit.missing is Missing.BUSY]
        found += _problem(plan.network, tasks, TEND_CLOSED, visits, absent)
        found += _problem(plan.network, tasks, TEND_BUSY, visits, busy)
    return tuple(found)


def _minutes(tended: Tended, start: int, until: int) -> Iterator[tuple[int, int]]:
    """The visits to one cure: number and minute."""
    begin, over = _over(tended.before, start), _over(tended.through, start)
    end = max(over, until) if tended.on else over
    number = 1
    while (minute := begin + int(tended.tend.every * number)) < end:
        yield number, minute
        number += 1


def _over(stretches: tuple[Stretch, ...], begin: int) -> int:
    return over_at(GapEdge(before="", after="", least=0, stretches=stretches), begin)


def _visit(plan: Plan, tasks: dict[str, Task], gap: GapEdge, tend: Tend, number: int, minute: int) -> Visit:
    missing, busy = _missing(plan, tasks, tend, minute)
    return Visit(minute=minute, task=gap.after, number=number, gap=gap, tend=tend, missing=missing, busy=busy)


def _missing(
    plan: Plan, tasks: dict[str, Task], tend: Tend, minute: int
) -> tuple[Missing | None, tuple[str, ...]]:
    hours = plan.network.hours
    day, clock = divmod(minute, DAY)
    week = () if day in hours.closed else hours.week[(hours.start.weekday() + day) % 7]
    if not any(begin <= clock < end for begin, end in week):
        return Missing.CLOSED, ()
    there = people_there(hours, day)
    wanted = people_wanted(Task(name="", minutes=0, crew=tend.crew))
    if any(there.get(role, 0) < count for role, count in wanted):
        return Missing.AWAY, ()
    worked = [*((tasks[p.task], p.spells) for p in plan.placed), *plan.elsewhere]
    at_work = [task for task, spells in worked if any(a <= minute < b for a, b in spells)]
    at_work = [task for task in at_work if task.done is None and task.crew]
    for role, count in wanted:
        taken = [(task, dict(people_wanted(task)).get(role, 0)) for task in at_work]
        if sum(people for _, people in taken) + count > there.get(role, 0):
            return Missing.BUSY, tuple(task.name for task, people in taken if people)
    return None, ()


def _problem(
    network: Network, tasks: dict[str, Task], finding: Finding, all_of: Sequence[Visit], of: Sequence[Visit]
) -> Iterator[Problem]:
    """One problem of a line, with the first of its visits that it is about."""
    if not of:
        return
    first = of[0]
    who = ", ".join(f"{count} {role}" if role else f"{count}" for role, count in first.tend.crew)
    every = duration_text(int(first.tend.every)) if first.tend.every >= 1 else "minute"
    how = {
        Missing.CLOSED: "the shop is closed then",
        Missing.AWAY: "people are away then",
        Missing.BUSY: f"all are at work then, at {', '.join(first.busy)}",
        None: "",
    }[first.missing]
    count = f"{len(of)} of {len(all_of)} visits" if len(all_of) > 1 else "its one visit"
    tended = {f"{tasks[v.gap.before].owner}.{tasks[v.gap.before].step}": None for v in all_of}
    names = dict.fromkeys(name for v in all_of for name in (v.gap.before, v.gap.after))
    yield Problem(
        finding=finding,
        message=f"{first.gap.says} is to be looked after every {every} by {who}; {count} "
        f"{'fall' if len(of) > 1 else 'falls'} where nobody is free, the first on "
        f"{moment_text(network.hours.start, first.minute)}: {how}",
        span=first.gap.span,
        about=tuple(dict.fromkeys([*tended, *names])),
    )
