"""What was really done, laid over a network: done steps stand where they were, the rest comes behind them.

A step that is told done stands at its told times, whoever was there. What must come before it and is not told
was done too, at the latest moment that it can have been. Gaps between two done steps are judged here and then
dropped; a gap to what is still to do counts from the real time. Nothing is planned before the end of the last
record.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from castlang.plan.clock import moment_text
from castlang.plan.model import Network, Task
from castlang.plan.records.came_before import (
    CameBefore,
    Spell,
    ancestors,
    beyond_gaps,
    came_before,
    into_of,
    orders_of,
    soonest_over,
)
from castlang.plan.records.passed_windows import without_passed
from castlang.plan.records.record_clashes import Record, clashes
from castlang.plan.records.record_findings import DONE_BEFORE_START, DONE_NO_STEP, TAKEN_AS_DONE
from castlang.plan.records.record_judging import judged, judged_dates, judged_over
from castlang.plan.shop_hours import minute_of
from castlang.problems.model import Assumption, Finding, Outcome, Problem
from castlang.spec.model import Done, Spec
from castlang.takeoff.model import Takeoff


def done_of(spec: Spec, task: Task) -> tuple[Done, ...]:
    """The records that say that this task, or the step it is part of, was done."""
    return tuple(done for done in spec.done if _means(done, task))


def with_records(
    network: Network, spec: Spec, takeoff: Takeoff, *, since: int | None = None
) -> Outcome[Network]:
    """The network with its done tasks where they were. None when a record cannot be laid over it.

    since: a minute up to which the shop's work is told elsewhere, in another build.
    """
    records, problems = _records(network, spec)
    if problems:
        return Outcome(value=None, problems=tuple(problems))
    if not records and since is None:
        return Outcome(value=network)
    told = _told(records, takeoff)
    came = came_before(network, told)
    soonest = soonest_over(network, told, came)
    done = _points_at_once(network, came.done, soonest)
    since = max(end for end in (since, *(end for _, end in told.values())) if end is not None)
    gaps = beyond_gaps(network, came)
    for gap in network.gaps:
        if gap.after not in done:
            gaps.append(gap)
        elif gap.after in told and gap.before in told and not gap.turn:
            problems += judged(network, gap, told)
        elif gap.after in told and gap.before in soonest and not gap.turn:
            problems += judged_over(network, gap, told, soonest[gap.before])
    problems += judged_dates(network, told)
    problems += clashes(network, records, told, came.sure)
    problems += _taken(network, records, came, done)
    over = {hold for hold in network.holds if hold.first in done and hold.last in done} | set(came.beyond)
    laid = replace(
        network,
        tasks=tuple(
            replace(task, done=done.get(task.name), taken=task.name in done and task.name not in told)
            for task in network.tasks
        ),
        gaps=tuple(gaps),
        holds=tuple(hold for hold in network.holds if hold not in over),
        past=tuple(hold for hold in network.holds if hold in over),
        since=since,
    )
    start = network.hours.start
    assumed = Assumption(
        subject="what is done",
        says=f"nothing is planned before {moment_text(start, since)}, when the last step told done ended",
        source="the records of the build",
        line="done STEP DATE TIME to TIME",
    )
    planned = without_passed(replace(laid, assumptions=(*laid.assumptions, assumed)))
    problems += planned.problems
    return Outcome(value=planned.value, problems=tuple(problems), assumptions=(assumed,))


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


def _records(network: Network, spec: Spec) -> tuple[list[Record], list[Problem]]:
    """What the `done` lines mean, and which of them mean nothing."""
    records: list[Record] = []
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
            records.append(Record(done=done, says=_written(done), tasks=tuple(tasks), spell=(start, end)))
    return records, problems


def _told(records: Sequence[Record], takeoff: Takeoff) -> dict[str, Spell]:
    """When each task was done by its records. One record of a step in several coats, lifts or grits is shared
    out among them by their length; of several records of one task the first start and the last end count."""
    told: dict[str, Spell] = {}
    for record in records:
        for copy in dict.fromkeys(task.copy for task in record.tasks):
            own = _in_order([task for task in record.tasks if task.copy == copy], takeoff)
            for task, spell in zip(own, _shared_out(own, *record.spell), strict=True):
                before = told.get(task.name, spell)
                told[task.name] = (min(before[0], spell[0]), max(before[1], spell[1]))
    return told


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


def _taken(
    network: Network, records: Sequence[Record], came: CameBefore, done: Mapping[str, Spell]
) -> Iterator[Problem]:
    """One note on all work that is taken as done, at the first record that it must have come before."""
    told = {task.name for record in records for task in record.tasks}
    names = [
        task.name
        for task in sorted(network.tasks, key=lambda t: (done.get(t.name, (0, 0)), t.name))
        if task.name in done and task.name not in told and task.crew
    ]
    if names:
        yield Problem(
            finding=TAKEN_AS_DONE,
            message=f"taken as done, as a step after it is told done: {', '.join(names)}",
            span=_because(network, records, came, names).done.span,
            about=tuple(names),
        )


def _because(network: Network, records: Sequence[Record], came: CameBefore, names: Sequence[str]) -> Record:
    """The first record of work that came after some of `names`."""
    into = into_of(orders_of(network, came))
    for record in records:
        if not ancestors(into, [task.name for task in record.tasks]).isdisjoint(names):
            return record
    return records[0]


def _points_at_once(
    network: Network, done: Mapping[str, Spell], soonest: Mapping[str, tuple[int, str]]
) -> dict[str, Spell]:
    """`done`, with taking and freeing that nobody works at as soon as the work and waits before are over."""
    found = dict(done)
    for task in network.tasks:
        if task.name in soonest and not task.crew and not task.minutes:
            minute = min(done[task.name][0], soonest[task.name][0])
            found[task.name] = (minute, minute)
    return found


def _problem(finding: Finding, message: str, done: Done) -> Problem:
    return Problem(finding=finding, message=message, span=done.span)


def _written(done: Done) -> str:
    """A step as a record names it."""
    ref = done.step
    copy = "" if ref.copies.first is None else f"{'m' if ref.copies.mirrored else ''}{ref.copies.first}"
    return ".".join(word for word in (ref.owner, copy, ref.step or "", ref.part or "") if word)
