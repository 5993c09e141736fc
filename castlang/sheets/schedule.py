"""The schedule: a drawn chart, every step with its slack, and the chain that sets the finish."""

from castlang.plan.model import Link, Task, Why
from castlang.sheets import times
from castlang.sheets.basis import Basis, called
from castlang.sheets.chart import chart_of
from castlang.sheets.instructions import people
from castlang.sheets.model import Align, Column, Facts, Prose, Row, Sheet, Table
from castlang.sheets.waits import WORDS

CODE = "PLAN"
MARK = "critical"

# What holds a start back by itself, whatever step went before.
ALONE = frozenset({Why.DATE, Why.ARRIVAL, Why.HOURS})


def schedule_sheets(basis: Basis) -> tuple[Sheet, ...]:
    chart = Sheet(
        code=CODE,
        title="Schedule",
        subtitle="chart, and the chain that sets the finish",
        blocks=(_facts(basis), chart_of(basis), _method(basis), chain_table(basis)),
        landscape=True,
        outline=0,
        section="Schedule",
    )
    steps = Sheet(
        code=f"{CODE} STEPS",
        title="All steps",
        subtitle="in order of their start",
        blocks=(plan_table(basis),),
        landscape=True,
        section="Schedule",
    )
    return (chart, steps)


def due_text(basis: Basis) -> str:
    """`in time, 3 days to spare` or `late by 4 h`; empty when nothing is due."""
    due = basis.plan.network.due
    if due is None:
        return ""
    spare = due - basis.plan.finish
    if spare < 0:
        return f"late by {times.span(-spare)}"
    return f"in time, {times.span(spare)} to spare"


def _facts(basis: Basis) -> Facts:
    plan = basis.plan
    pairs = [
        ("start", basis.moment(min((placed.start for placed in plan.placed), default=0))),
        ("finish", basis.moment(plan.finish)),
    ]
    if basis.spec.build.due is not None:
        pairs.append(("due", f"{times.full_day(basis.spec.build.due)}, {due_text(basis)}"))
    pairs.append(("critical", f"{len(basis.critical)} of {len(plan.placed)} steps"))
    return Facts(pairs=tuple(pairs))


def _method(basis: Basis) -> Prose:
    plan = basis.plan
    made = f"{plan.made[:1].upper()}{plan.made[1:].rstrip('.')}."
    if plan.bound >= plan.finish:
        bound = "No plan can finish sooner."
    else:
        gap = times.span(plan.finish - plan.bound)
        bound = f"No plan can finish before {basis.moment(plan.bound)}; this one finishes {gap} after that."
    return Prose(title="How the plan was made", lines=(f"{made} {bound}",))


# ---------------------------------------------------------------- tables


def plan_table(basis: Basis) -> Table:
    return Table(
        key="plan",
        title="Steps of the plan",
        columns=(
            Column(key="start", title="start", share=1.5),
            Column(key="end", title="end", share=1.5),
            Column(key="step", title="step", share=3),
            Column(key="work", title="work", align=Align.RIGHT, share=1),
            Column(key="people", title="people", share=1.4),
            Column(key="stations", title="stations", share=1.6),
            Column(key="slack", title="slack", align=Align.RIGHT, share=1.2),
            Column(key="critical", title="chain", share=0.9),
        ),
        rows=tuple(_row(basis, task) for task in basis.run),
        empty="no step in this build",
    )


def _row(basis: Basis, task: Task) -> Row:
    placed = basis.placed[task.name]
    critical = task.name in basis.critical
    return Row(
        cells=(
            basis.moment(placed.start),
            basis.moment(placed.end),
            task.name,
            times.span(task.minutes) if task.minutes else "",
            people(task.crew).removeprefix("by "),
            ", ".join(called(basis.spec, need.resource) for need in task.needs),
            times.span(placed.slack) if placed.slack else "none",
            MARK if critical else "",
        ),
        strong=critical,
    )


def chain_table(basis: Basis) -> Table:
    return Table(
        key="critical-chain",
        title="The chain that sets the finish: a minute lost here is a minute lost at the end",
        columns=(
            Column(key="start", title="start", share=1.5),
            Column(key="step", title="step", share=2.6),
            Column(key="because", title="could not start sooner, because", share=5),
            Column(key="gap", title="time between", align=Align.RIGHT, share=1.2),
        ),
        rows=tuple(_link_row(basis, link) for link in basis.plan.critical),
        empty="no step in this build",
    )


def _link_row(basis: Basis, link: Link) -> Row:
    gap = times.span(link.gap) if link.before is not None and link.gap > 0 else ""
    start = basis.moment(basis.placed[link.task].start)
    return Row(cells=(start, link.task, reason(link), gap))


def reason(link: Link) -> str:
    """Why a link of the chain could not start sooner, in shop words."""
    words = WORDS[link.why]
    if link.before is None:
        return link.says or words
    if link.why in ALONE:
        return f"{words}, after {link.before}"
    if link.before in link.says:
        return link.says
    return f"{words} {link.before}: {link.says}" if link.says else f"{words} {link.before}"
