"""What was really done, laid over a network: done steps stand where they were, the rest comes behind them.

A step that is told done stands at its told times, whoever was there. What must come before it and is not told
was done too, at the latest moment that it can have been. Gaps between two done steps are judged here and then
dropped; a gap to what is still to do counts from the real time. Nothing is planned before the end of the last
record.
"""

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import replace

from castlang.plan.ageing import over_at
from castlang.plan.clock import moment_text
from castlang.plan.hours import Shop
from castlang.plan.model import GapEdge, Network, Point, Task, Why
from castlang.plan.record_findings import DONE_BEFORE_START, DONE_NO_STEP, TAKEN_AS_DONE
from castlang.plan.record_judging import Spell, judged, judged_over, passed
from castlang.plan.shop_hours import minute_of
from castlang.problems.model import Assumption, Finding, Outcome, Problem
from castlang.spec.model import NOWHERE, Done, Spec
from castlang.takeoff.model import Takeoff


def done_of(spec: Spec, task: Task) -> tuple[Done, ...]:
    """The records that say that this task, or the step it is part of, was done."""
    return tuple(done for done in spec.done if _means(done, task))


def with_records(network: Network, spec: Spec, takeoff: Takeoff) -> Outcome[Network]:
    """The network with its done tasks where they were. None when a record cannot be laid over it."""
    if not spec.done:
        return Outcome(value=network)
    told, problems = _told(network, spec, takeoff)
    if problems:
        return Outcome(value=None, problems=tuple(problems))
    if not told:
        return Outcome(value=network)
    done = _with_ancestors(network, told)
    soonest = _soonest(network, told, done)
    since = max(end for _, end in told.values())
    shop = Shop(network.hours, network.resources)
    gaps: list[GapEdge] = []
    for gap in network.gaps:
        if gap.after in told and gap.before in told:
            problems += judged(network, gap, told)
        elif gap.after in told and gap.before in soonest:
            problems += judged_over(network, gap, told, soonest[gap.before])
        elif gap.after in done:
            continue
        elif gap.before in done:
            late = list(passed(network, shop, gap, done[gap.before], since))
            problems += late
            gaps.append(_without_longest(gap) if late else gap)
        else:
            gaps.append(gap)
    problems += _taken(network, told, done)
    over = {hold for hold in network.holds if hold.first in done and hold.last in done}
    planned = replace(
        network,
        tasks=tuple(
            replace(task, done=done.get(task.name), taken=task.name in done and task.name not in told)
            for task in network.tasks
        ),
        gaps=tuple(gaps),
        holds=tuple(hold for hold in network.holds if hold not in over),
        since=since,
    )
    start = network.hours.start
    assumed = Assumption(
        subject="what is done",
        says=f"nothing is planned before {moment_text(start, since)}, when the last step told done ended",
        source="the records of the build",
        line="done STEP DATE TIME to TIME",
    )
    return Outcome(value=planned, problems=tuple(problems), assumptions=(assumed,))


def as_planned(network: Network) -> Network:
    """The network as the planner sees it: a done task is a length of time that nobody works at, which can
    stand nowhere else, and nothing else begins before the last record's end."""
    if all(task.done is None for task in network.tasks) and not network.since:
        return network
    return replace(network, tasks=tuple(_as_planned(task, network.since) for task in network.tasks))


def _as_planned(task: Task, since: int) -> Task:
    if task.done is not None:
        start, end = task.done
        return replace(
            task,
            minutes=end - start,
            crew=(),
            needs=(),
            may_pause=False,
            through_breaks=False,
            earliest=start,
            latest=end,
        )
    if is_point(task):
        return task
    return replace(task, earliest=max(task.earliest or 0, since))


def is_point(task: Task) -> bool:
    """Whether a task is a mere point in time, which passes by itself: an arrival, the end of a last wait."""
    return task.kind in ("arrival", "ready")


# ---------------------------------------------------------------- which tasks the records mean


def _means(done: Done, task: Task) -> bool:
    ref = done.step
    if ref.gap is not None or ref.owner != task.owner or ref.step != task.step:
        return False
    if ref.part and ref.part != task.part:
        return False
    copies, digits = ref.copies, task.copy.removeprefix("m")
    number = int(digits) if digits.isdigit() else 1
    return copies.first is None or (
        copies.mirrored == task.copy.startswith("m")
        and copies.first <= number <= (copies.last or copies.first)
    )


def _told(network: Network, spec: Spec, takeoff: Takeoff) -> tuple[dict[str, Spell], list[Problem]]:
    """When each task was done by its records. One record of a step in several coats, lifts or grits is shared
    out among them by their length; of several records of one task the first start and the last end count."""
    told: dict[str, Spell] = {}
    problems: list[Problem] = []
    for done in spec.done:
        if done.step.gap is not None:
            continue
        tasks = [task for task in network.tasks if _means(done, task)]
        start, end = minute_of(spec.build, done.start), minute_of(spec.build, done.end)
        if not tasks:
            problems.append(_problem(DONE_NO_STEP, f"`{_written(done)}` is no step that is worked", done))
        elif start < 0:
            first = spec.build.start.isoformat()
            message = f"`{_written(done)}` is told done before the build starts on {first}"
            problems.append(_problem(DONE_BEFORE_START, message, done))
        else:
            for copy in dict.fromkeys(task.copy for task in tasks):
                own = _in_order([task for task in tasks if task.copy == copy], takeoff)
                for task, spell in zip(own, _shared_out(own, start, end), strict=True):
                    before = told.get(task.name, spell)
                    told[task.name] = (min(before[0], spell[0]), max(before[1], spell[1]))
    return told, problems


def _in_order(tasks: Sequence[Task], takeoff: Takeoff) -> list[Task]:
    taken = takeoff.steps.get((tasks[0].owner, tasks[0].step))
    order = [part.suffix for part in taken.parts] if taken is not None else []
    return sorted(tasks, key=lambda task: order.index(task.part) if task.part in order else 0)


def _shared_out(tasks: Sequence[Task], start: int, end: int) -> list[Spell]:
    whole = sum(task.minutes for task in tasks) or 1
    ends, past = [], 0
    for task in tasks:
        past += task.minutes
        ends.append(start + (end - start) * past // whole)
    ends[-1] = end
    return list(zip([start, *ends[:-1]], ends, strict=True))


def _with_ancestors(network: Network, told: Mapping[str, Spell]) -> dict[str, Spell]:
    """`told`, and all that must come before it, each as late as it can have been."""
    tasks = {task.name: task for task in network.tasks}
    into: dict[str, list[GapEdge]] = {}
    out_of: dict[str, list[GapEdge]] = {}
    for gap in network.gaps:
        if _orders(gap):
            into.setdefault(gap.after, []).append(gap)
            out_of.setdefault(gap.before, []).append(gap)
    before: set[str] = set()
    waiting = sorted(told)
    while waiting:
        for gap in into.get(waiting.pop(), ()):
            if gap.before not in before and gap.before not in told:
                before.add(gap.before)
                waiting.append(gap.before)
    done = dict(told)
    for name in reversed(_first_to_last(before, network.gaps)):
        ends = [done[gap.after][0] for gap in out_of[name] if gap.after in done]
        end = max(0, min(ends, default=0))
        done[name] = (max(0, end - tasks[name].minutes), end)
    return done


def _soonest(
    network: Network, told: Mapping[str, Spell], done: Mapping[str, Spell]
) -> dict[str, tuple[int, str]]:
    """Of each task that is taken as done, when the waits before it were over, had the work between taken no
    time; with the task told done from which they count. None for a task with nothing told before it."""
    into: dict[str, list[GapEdge]] = {name: [] for name in done if name not in told}
    for gap in network.gaps:
        if gap.after in into and gap.before in done:
            into[gap.after].append(gap)
    found: dict[str, tuple[int, str]] = {}
    for name in _first_to_last(set(into), network.gaps):
        known = [end for gap in into[name] if (end := _over(gap, told, found)) is not None]
        if known:
            found[name] = max(known)
    return found


def _first_to_last(names: Set[str], gaps: Sequence[GapEdge]) -> list[str]:
    """`names` so that what comes before another stands before it; what waits in a circle stands last."""
    behind: dict[str, list[str]] = {name: [] for name in sorted(names)}
    open_before = dict.fromkeys(behind, 0)
    for gap in gaps:
        if gap.before in names and gap.after in names and _orders(gap):
            behind[gap.before].append(gap.after)
            open_before[gap.after] += 1
    ordered = [name for name, count in open_before.items() if not count]
    for name in ordered:
        for after in behind[name]:
            open_before[after] -= 1
            if not open_before[after]:
                ordered.append(after)
    return [*ordered, *(name for name, count in open_before.items() if count)]


def _orders(gap: GapEdge) -> bool:
    """Whether a gap puts one task before another."""
    return gap.least >= 0 or gap.why is Why.SEQUENCE


def _over(
    gap: GapEdge, told: Mapping[str, Spell], soonest: Mapping[str, tuple[int, str]]
) -> tuple[int, str] | None:
    """When the least time of a gap is over, and from which told task it counts."""
    if gap.before in told:
        return over_at(gap, told[gap.before][0 if gap.before_point is Point.START else 1]), gap.before
    if gap.before in soonest:
        minute, origin = soonest[gap.before]
        return over_at(gap, minute), origin
    return None


def _without_longest(gap: GapEdge) -> GapEdge:
    return replace(gap, longest=None, stretches=tuple(replace(s, longest=None) for s in gap.stretches))


def _taken(network: Network, told: Mapping[str, Spell], done: Mapping[str, Spell]) -> Iterator[Problem]:
    """One note on all work that is taken as done."""
    names = [
        task.name
        for task in sorted(network.tasks, key=lambda t: (done.get(t.name, (0, 0)), t.name))
        if task.name in done and task.name not in told and task.crew
    ]
    if names:
        yield Problem(
            finding=TAKEN_AS_DONE,
            message=f"taken as done, as a step after it is told done: {', '.join(names)}",
            span=NOWHERE,
            about=tuple(names),
        )


def _problem(finding: Finding, message: str, done: Done) -> Problem:
    return Problem(finding=finding, message=message, span=done.span)


def _written(done: Done) -> str:
    """A step as a record names it."""
    ref = done.step
    copy = "" if ref.copies.first is None else f"{'m' if ref.copies.mirrored else ''}{ref.copies.first}"
    return ".".join(word for word in (ref.owner, copy, ref.step or "", ref.part or "") if word)
