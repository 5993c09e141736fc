"""Windows that done work has opened and that close before what comes behind can be done.

The piece is there; what becomes of it is for people to say. So such a window is told, and the rest is planned
without it.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace

from castlang.plan.clock import moment_text
from castlang.plan.from_network import plan_of
from castlang.plan.hours import Shop
from castlang.plan.model import GapEdge, Network, Plan, Point, Task
from castlang.plan.placement.soonest import Shut, soonest_of
from castlang.plan.records.record_findings import WINDOW_PASSED
from castlang.plan.records.record_judging import about_gap, reason_of, span_of
from castlang.plan.records.work_done import as_planned
from castlang.plan.ties import ties_of
from castlang.plan.warmth.ageing import closes_at, over_at
from castlang.problems.model import Outcome, Problem


def without_passed(network: Network) -> Outcome[Network]:
    """The network, and of its windows from done work, and its latest dates, those that can still be kept: by
    what is told, by the waits and the work before them, and by the hours. The others are told."""
    ties = ties_of(as_planned(_without(network, lambda gap: True, lambda task: True)))
    shop = Shop(network.hours, network.resources)
    soonest = soonest_of(ties, shop)
    if isinstance(soonest, Shut):
        return Outcome(value=network)
    ends = {task.name: (soonest.start[k], soonest.end[k]) for k, task in enumerate(ties.tasks)}
    return _told(network, shop, ends, "what comes before it is not over, or the shop not open for it, before")


def plan_on(
    network: Network, *, search: str = "normal", previous: Mapping[str, int] | None = None
) -> Outcome[Plan]:
    """`plan_of`; and where there is no plan, one without the windows that done work has opened and that
    people and places leave no room for."""
    found = plan_of(network, search=search, previous=previous)
    loose = _without(network, lambda gap: True, lambda task: False)
    if found.value is not None or loose == network:
        return found
    second = plan_of(loose, search=search, previous=previous)
    if second.value is None:
        return found
    ends = {p.task: (p.start, p.end) for p in second.value.placed}
    shop = Shop(network.hours, network.resources)
    kept = _told(network, shop, ends, "people and places are not free for it before")
    if kept.value is None:
        return found
    plan = replace(second.value, network=kept.value)
    return Outcome(value=plan, problems=(*kept.problems, *second.problems))


def _told(
    network: Network, shop: Shop, ends: Mapping[str, tuple[int, int]], otherwise: str
) -> Outcome[Network]:
    """The network without the windows that close before `ends`, and these told."""
    tasks = {task.name: task for task in network.tasks}
    problems: list[Problem] = []
    passed: set[GapEdge] = set()
    for gap in network.gaps:
        before, task = tasks[gap.before].done, tasks[gap.after]
        if before is None or gap.longest is None:
            continue
        opened = before[0 if gap.before_point is Point.START else 1]
        closes = closes_at(gap, opened)
        soonest = ends[gap.after][0 if gap.after_point is Point.START else 1]
        if closes is not None and closes < soonest:
            passed.add(gap)
            problems.append(
                Problem(
                    finding=WINDOW_PASSED,
                    message=f"the {gap.after_point} of {gap.after} was due by "
                    f"{moment_text(network.hours.start, closes)}{reason_of(gap)}; "
                    f"{_why(network, shop, gap, (opened, closes), task, soonest, otherwise)}",
                    span=span_of(network, gap),
                    about=about_gap(network, gap),
                )
            )
    late = {task.name for task in network.tasks if _is_late(network, shop, task)}
    for name in sorted(late):
        by = moment_text(network.hours.start, tasks[name].latest or 0)
        up_to = moment_text(network.hours.start, network.since)
        problems.append(
            Problem(
                finding=WINDOW_PASSED,
                message=f"the end of {name} was due by {by} (told in the build); it is not told done, and "
                f"work is told up to {up_to}",
                span=tasks[name].span,
                about=(name, f"{tasks[name].owner}.{tasks[name].step}", tasks[name].owner),
            )
        )
    kept = _without(network, lambda gap: gap in passed, lambda task: task.name in late)
    return Outcome(value=kept, problems=tuple(problems))


def _why(
    network: Network,
    shop: Shop,
    gap: GapEdge,
    window: tuple[int, int],
    task: Task,
    soonest: int,
    otherwise: str,
) -> str:
    """Why a task comes no sooner than its window closes. window: the minutes at which it was opened and
    closes; otherwise: what stands before the moment where neither the records nor the hours say why."""
    (opened, closes), start = window, network.hours.start
    if closes < network.since:
        return f"it is not told done, and work is told up to {moment_text(start, network.since)}"
    over = over_at(gap, opened) if gap.after_point is Point.START else 0
    first = shop.soonest(task, max(network.since, task.earliest or 0, over))
    if first is not None and (first if gap.after_point is Point.START else shop.end(task, first)) > closes:
        return f"the shop is not open for it before {moment_text(start, soonest)}"
    return f"{otherwise} {moment_text(start, soonest)}"


def _is_late(network: Network, shop: Shop, task: Task) -> bool:
    """Whether a task that is not done could not have been begun in time behind the last record."""
    if task.done is not None or task.latest is None or not network.since:
        return False
    first = shop.soonest(task, max(network.since, task.earliest or 0))
    return first is not None and shop.end(task, first) > task.latest


def _without(network: Network, opened: Callable[[GapEdge], bool], dated: Callable[[Task], bool]) -> Network:
    """The network without the longest times that count from done work, and without the latest dates of work
    still to do, where `opened` and `dated` say so."""
    done = {task.name for task in network.tasks if task.done is not None}
    return replace(
        network,
        gaps=tuple(
            _without_longest(gap) if gap.longest is not None and gap.before in done and opened(gap) else gap
            for gap in network.gaps
        ),
        tasks=tuple(
            replace(task, latest=None) if task.latest is not None and not task.done and dated(task) else task
            for task in network.tasks
        ),
    )


def _without_longest(gap: GapEdge) -> GapEdge:
    return replace(gap, longest=None, stretches=tuple(replace(s, longest=None) for s in gap.stretches))
