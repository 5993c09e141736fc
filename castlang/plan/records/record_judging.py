"""Gaps between done steps, and their dates, held against the times on record."""

from collections.abc import Iterator, Mapping

from castlang.plan.clock import duration_text, moment_text
from castlang.plan.gaps.sentence import place_text
from castlang.plan.model import GapEdge, Network, Point
from castlang.plan.records.came_before import Spell
from castlang.plan.records.record_findings import WINDOW_NOT_KEPT
from castlang.plan.warmth.ageing import closes_at, over_at
from castlang.problems.model import Problem
from castlang.source.model import Span


def judged(network: Network, gap: GapEdge, told: Mapping[str, Spell]) -> Iterator[Problem]:
    """The gap between two steps that are both told done, where it was not kept."""
    begin = told[gap.before][0 if gap.before_point is Point.START else 1]
    then = told[gap.after][0 if gap.after_point is Point.START else 1]
    over, closes = over_at(gap, begin), closes_at(gap, begin)
    if then < over:
        wanted = f"at least {duration_text(over - begin)}" if over > begin else "after it"
    elif closes is not None and then > closes:
        wanted = f"at most {duration_text(closes - begin)}"
    else:
        return
    was = f"{duration_text(abs(then - begin))} {'after' if then >= begin else 'before'}"
    ends = f"{gap.after_point} of {gap.after}", f"{gap.before_point} of {gap.before}"
    yield Problem(
        finding=WINDOW_NOT_KEPT,
        message=f"the {ends[0]} was {was} the {ends[1]}; wanted was {wanted}{reason_of(gap)}",
        span=span_of(network, gap),
        about=about_gap(network, gap),
    )


def judged_over(
    network: Network, gap: GapEdge, told: Mapping[str, Spell], soonest: tuple[int, str]
) -> Iterator[Problem]:
    """The waits from one step told done to another, over steps between that are not told."""
    over, origin = over_at(gap, soonest[0]), soonest[1]
    then = told[gap.after][0 if gap.after_point is Point.START else 1]
    if then >= over:
        return
    begin = told[origin][1]
    was, wanted = duration_text(then - begin), duration_text(over - begin)
    yield Problem(
        finding=WINDOW_NOT_KEPT,
        message=f"the {gap.after_point} of {gap.after} was {was} after the end of {origin}; "
        f"the waits between them come to at least {wanted}",
        span=span_of(network, gap),
        about=about_gap(network, gap),
    )


def judged_dates(network: Network, told: Mapping[str, Spell]) -> Iterator[Problem]:
    """Steps that are told done sooner or later than a date of the build allows."""
    start = network.hours.start
    for task in network.tasks:
        if task.name not in told or task.kind in ("arrival", "ready"):
            continue
        begun, ended = told[task.name]
        if task.latest is not None and ended > task.latest:
            was, wanted = f"ended on {moment_text(start, ended)}", f"end by {moment_text(start, task.latest)}"
        elif task.earliest is not None and begun < task.earliest:
            was = f"began on {moment_text(start, begun)}"
            wanted = f"begin no sooner than {moment_text(start, task.earliest)}"
        else:
            continue
        yield Problem(
            finding=WINDOW_NOT_KEPT,
            message=f"{task.name} {was}; it was to {wanted}",
            span=task.span,
            about=(task.name, f"{task.owner}.{task.step}", task.owner),
        )


def reason_of(gap: GapEdge) -> str:
    """The reason of a gap and its line."""
    where = f", {place_text(gap.span)}" if gap.span.file else ""
    return f" ({gap.says or gap.why}{where})"


def about_gap(network: Network, gap: GapEdge) -> tuple[str, ...]:
    """The step behind a gap and its owner as a waiver would name them, with the copy and without it."""
    task = next(task for task in network.tasks if task.name == gap.after)
    return (gap.after, f"{task.owner}.{task.step}", task.owner)


def span_of(network: Network, gap: GapEdge) -> Span:
    """The line of a gap, or of the step behind it."""
    task = next(task for task in network.tasks if task.name == gap.after)
    return gap.span if gap.span.file else task.span
