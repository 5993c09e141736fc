"""Runs that are served by the same batches follow one another, each batch in place within its time.

    S(b) - S(a) <= p + begin - end

S starts of runs a and b, the first and the last that one batch serves; begin and end where in their work it
does; p the time from a batch's first in place to its last, its working time less mixing and carrying. Source:
the language's rules.
"""

from collections.abc import Iterator
from itertools import pairwise

from castlang.plan.model import GapEdge, Point, Why
from castlang.plan.shop_hours import minutes_down
from castlang.source.model import Span
from castlang.spec.model import NOWHERE, Spec, Step
from castlang.takeoff.model import SharedBatches, Takeoff


def shared_gaps(spec: Spec, takeoff: Takeoff) -> Iterator[GapEdge]:
    """The gaps that shared batches bring: the order of the runs, and how far apart they may start."""
    spans = {
        (item.owner, item.name): item.span
        for owner in spec.owners()
        for item in owner.sequence
        if isinstance(item, Step)
    }
    for shared in takeoff.shared:
        span = spans.get(shared.steps[0], NOWHERE)
        yield from _order(shared, span)
        yield from _windows(shared, span)
    for lower, upper in pairwise(takeoff.shared):
        if _who(lower) == _who(upper):
            yield _follows(lower.runs[-1].task, upper.runs[0].task, spans.get(lower.steps[0], NOWHERE))


def _who(shared: SharedBatches) -> tuple[tuple[str, str, str], ...]:
    """Whose lifts or coats they are: the next ones begin when the last of these is in place."""
    return tuple((run.owner, run.copy, run.step) for run in shared.runs)


def _order(shared: SharedBatches, span: Span) -> Iterator[GapEdge]:
    for before, after in pairwise(shared.runs):
        yield _follows(before.task, after.task, span)


def _follows(before: str, after: str, span: Span) -> GapEdge:
    return GapEdge(
        before=before,
        after=after,
        least=0,
        why=Why.SEQUENCE,
        says=f"{after} follows {before}, cast together",
        span=span,
    )


def _windows(shared: SharedBatches, span: Span) -> Iterator[GapEdge]:
    if shared.placing is None:
        return
    for batch, served in zip(shared.batches, shared.servings, strict=True):
        first, last = served[0], served[-1]
        if first.run == last.run:
            continue
        yield GapEdge(
            before=shared.runs[first.run].task,
            after=shared.runs[last.run].task,
            least=0,
            longest=minutes_down(shared.placing + first.begin - last.end),
            before_point=Point.START,
            after_point=Point.START,
            why=Why.WINDOW,
            says=f"working time of {batch.name}, for both",
            span=span,
        )
