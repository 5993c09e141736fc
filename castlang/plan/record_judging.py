"""Gaps between done steps, and from done steps to others, held against the times on record."""

from collections.abc import Iterator, Mapping

from castlang.plan.ageing import closes_at, over_at
from castlang.plan.clock import duration_text, moment_text
from castlang.plan.hours import Shop
from castlang.plan.model import GapEdge, Network, Point
from castlang.plan.record_findings import WINDOW_NOT_KEPT, WINDOW_PASSED
from castlang.plan.sentence import place_text
from castlang.problems.model import Problem
from castlang.source.model import Span

Spell = tuple[int, int]
"""From when to when a step was done."""


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
        message=f"the {ends[0]} was {was} the {ends[1]}; wanted was {wanted}{_why(gap)}",
        span=_span(network, gap),
        about=(gap.after, *_names(network, gap)),
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
        span=_span(network, gap),
        about=(gap.after, *_names(network, gap)),
    )


def passed(network: Network, shop: Shop, gap: GapEdge, before: Spell, since: int) -> Iterator[Problem]:
    """A window from a done step to one that is still to do, where it closed before that one can be done:
    before the last record's end, or before the shop is open for it."""
    task = next(task for task in network.tasks if task.name == gap.after)
    closes = closes_at(gap, before[0 if gap.before_point is Point.START else 1])
    first = shop.soonest(task, max(since, task.earliest or 0))
    if closes is None or first is None:
        return
    soonest = first if gap.after_point is Point.START else shop.end(task, first)
    if closes >= soonest:
        return
    by, up_to, then = (moment_text(network.hours.start, minute) for minute in (closes, since, soonest))
    told = (
        f"it is not told done, and work is told up to {up_to}"
        if closes < since
        else f"the shop is not open for it before {then}"
    )
    yield Problem(
        finding=WINDOW_PASSED,
        message=f"the {gap.after_point} of {gap.after} was due by {by}{_why(gap)}; {told}",
        span=_span(network, gap),
        about=(gap.after, *_names(network, gap)),
    )


def _why(gap: GapEdge) -> str:
    """The reason of a gap and its line."""
    where = f", {place_text(gap.span)}" if gap.span.file else ""
    return f" ({gap.says or gap.why}{where})"


def _names(network: Network, gap: GapEdge) -> tuple[str, ...]:
    """The step and its owner as a waiver would name them, without the copy."""
    task = next(task for task in network.tasks if task.name == gap.after)
    return (f"{task.owner}.{task.step}", task.owner)


def _span(network: Network, gap: GapEdge) -> Span:
    task = next(task for task in network.tasks if task.name == gap.after)
    return gap.span if gap.span.file else task.span
