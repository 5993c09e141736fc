"""Due dates that a plan does not keep, with what its chain waits for longest."""

from collections.abc import Sequence
from datetime import date

from castlang.plan.clock import DAY, duration_text, moment_text
from castlang.plan.findings import DUE_MISSED
from castlang.plan.model import Link
from castlang.plan.placement.placing import Standing
from castlang.plan.searches.trials import due_tasks
from castlang.plan.ties import Ties
from castlang.problems.model import Problem
from castlang.spec.model import NOWHERE


def due_problems(ties: Ties, standing: Standing, chain: Sequence[Link]) -> tuple[Problem, ...]:
    """A finding for each due date that `standing` misses. chain: its critical chain."""
    start = ties.network.hours.start
    ends = [(due.minute, max(standing.end[k] for k in own), due.prefix) for due, own in due_tasks(ties)]
    if ties.network.due is not None:
        ends.append((ties.network.due, standing.finish, ""))
    return tuple(
        Problem(
            finding=DUE_MISSED,
            message=(
                f"{prefix.removesuffix('/') or 'the plan'} ends on {moment_text(start, finish)}, "
                f"{duration_text(finish - due)} after the due date {_due_text(start, due)}"
                + (_longest_wait(ties, standing, chain) if finish == standing.finish else "")
            ),
            span=NOWHERE,
            about=(prefix,) if prefix else (),
        )
        for due, finish, prefix in ends
        if finish > due
    )


def _due_text(start: date, due: int) -> str:
    """A due date of whole days is told as its last day, as it is written."""
    return moment_text(start, due) if due % DAY else moment_text(start, due - DAY).removesuffix(" 00:00")


def _longest_wait(ties: Ties, standing: Standing, chain: Sequence[Link]) -> str:
    """Which link of the chain lets the most time pass without work, from a day on."""
    waits = []
    for place, link in enumerate(chain):
        begins = standing.start[ties.index[link.task]]
        waits.append((begins if link.before is None else link.gap, -place, link.task))
    waited, place, task = max(waits, default=(0, 0, ""))
    if waited < DAY:
        return ""
    link, begins = chain[-place], standing.start[ties.index[task]]
    when = moment_text(ties.network.hours.start, begins)
    return (
        f"; the longest wait in its chain is for {link.task} on {when}: {duration_text(waited)}, {_why(link)}"
    )


def _why(link: Link) -> str:
    after = f"after {link.before}" if link.before else ""
    told = link.says if link.says and link.says != link.why else link.why.value
    return f"{told} {after}".strip() if not link.before or link.before not in told else told
