"""The schedule: a drawn chart, every step with its slack, and the chain that sets the finish."""

from castlang.plan.model import Link, Placed, Task, Why
from castlang.sheets import times
from castlang.sheets.basis import Basis, called, is_arrival
from castlang.sheets.chart import chart_of
from castlang.sheets.dated_text import dated, sentence
from castlang.sheets.deliveries import ordered_on
from castlang.sheets.instructions import people
from castlang.sheets.model import Align, Block, Column, Facts, Prose, Row, Sheet, Table
from castlang.sheets.waits import WORDS

CODE = "PLAN"
MARK = "critical"
DONE, TAKEN = "done", "as done"
NOT_TOLD = (dated("not told"), "")  # start and end of what is taken as done

THEN = ", then "  # before what a link waits for after its reason
BUSY = " busy with "  # behind what the other end of a window waits for


def schedule_sheets(basis: Basis) -> tuple[Sheet, ...]:
    chart = Sheet(
        code=CODE,
        title="Schedule",
        subtitle="chart, and the chain that sets the finish",
        blocks=(_facts(basis), chart_of(basis), _method(basis), *_chain(basis)),
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
        ("start", basis.moment(basis.first_work)),
        ("finish", basis.moment(plan.finish)),
    ]
    if basis.spec.build.due is not None:
        pairs.append(("due", dated(f"{times.full_day(basis.spec.build.due)}, {due_text(basis)}")))
    if not plan.beside:
        pairs.append(("critical", dated(f"{len(basis.critical)} of {len(plan.placed)} steps")))
    return Facts(pairs=tuple(pairs))


def _method(basis: Basis) -> Prose:
    plan = basis.plan
    made = f"{plan.made[:1].upper()}{plan.made[1:].rstrip('.')}."
    if plan.beside:
        others = f"Planned in one shop with {', '.join(plan.beside)}, which take people and stations too."
        return Prose(title="How the plan was made", lines=(dated(f"{others} {made}"),))
    if plan.bound >= plan.finish:
        bound = "No plan can finish sooner."
    else:
        gap = times.span(plan.finish - plan.bound)
        bound = f"No plan can finish before {basis.moment(plan.bound)}; this one finishes {gap} after that."
    return Prose(title="How the plan was made", lines=(dated(f"{made} {bound}"),))


def _chain(basis: Basis) -> tuple[Block, ...]:
    """The chain, unless what sets the finish may stand in another build."""
    return () if basis.plan.beside else (chain_table(basis), *_chain_slack(basis))


def _chain_slack(basis: Basis) -> tuple[Prose, ...]:
    """Why a step of the chain can have slack; nothing where none has."""
    if not any(basis.placed[link.task].slack for link in basis.plan.critical):
        return ()
    told = (
        "A step of the chain can have slack of its own: behind it the chain waits for something else, such as"
        " the shop to open or a delivery, and the step may start so much later without moving the finish."
    )
    return (Prose(lines=(dated(told),)),)


# ---------------------------------------------------------------- tables


def plan_table(basis: Basis) -> Table:
    return Table(
        key="plan",
        title="Steps of the plan",
        columns=(
            Column(key="start", title="start", share=1.5),
            Column(key="end", title="end", share=1.4),
            Column(key="step", title="step", share=3),
            Column(key="work", title="work", align=Align.RIGHT, share=1, spare=1),
            Column(key="people", title="people", share=1.4),
            Column(key="stations", title="stations", share=1.6, spare=3),
            Column(key="slack", title="slack", align=Align.RIGHT, share=1.2, spare=2),
            Column(key="critical", title="chain", share=0.9, spare=4),
        ),
        rows=tuple(_row(basis, task) for task in basis.run),
        empty="no step in this build",
        by_date=True,
    )


def _row(basis: Basis, task: Task) -> Row:
    placed = basis.placed[task.name]
    critical = task.name in basis.critical
    when = (basis.moment(placed.start), basis.moment_after(placed.start, placed.end))
    return Row(
        cells=(
            *(NOT_TOLD if task.taken else when),
            task.name,
            _work(basis, task),
            people(task.crew).removeprefix("by "),
            ", ".join(called(basis.spec, need.resource) for need in task.needs),
            dated(slack_text(task, placed)),
            dated(MARK if critical else ""),
        ),
        strong=critical,
        data=(
            ("start", "" if task.taken else basis.iso(placed.start)),
            ("end", "" if task.taken else basis.iso(placed.end)),
            ("slack", times.span(placed.slack)),
        ),
        # `castlang trace` plans the build alone.
        trace="" if basis.plan.beside else f"start.{task.name}",
    )


def _work(basis: Basis, task: Task) -> str:
    """`30 min`; of what is done, and took another time, `30 min, took 40 min`."""
    if not task.minutes:
        return ""
    took = basis.minutes(task)
    told = "" if took == task.minutes else f", took {times.span(took)}"
    return sentence(times.span(task.minutes), dated(told))


def slack_text(task: Task, placed: Placed) -> str:
    """How much later a task may start; of one that is done, or taken as done, that it is."""
    if task.done is not None:
        return TAKEN if task.taken else DONE
    return _slack(placed)


def _slack(placed: Placed) -> str:
    return times.about(placed.slack) if placed.slack else "none"


def chain_table(basis: Basis) -> Table:
    return Table(
        key="critical-chain",
        title="The chain that sets the finish",
        columns=(
            Column(key="start", title="start", share=1.5),
            Column(key="step", title="step", share=2.6),
            Column(key="because", title="could not start sooner, because", share=5),
            Column(key="gap", title="time between", align=Align.RIGHT, share=1.2),
            Column(key="slack", title="slack", align=Align.RIGHT, share=1.1),
        ),
        rows=tuple(_link_row(basis, link) for link in basis.plan.critical),
        empty="no step in this build",
    )


def _link_row(basis: Basis, link: Link) -> Row:
    """A row of dates alone: which steps stand in the chain is for the plan to say."""
    gap = times.span(link.gap) if link.before is not None and link.gap > 0 else ""
    placed = basis.placed[link.task]
    cells = (basis.moment(placed.start), link.task, reason(basis, link), gap, _slack(placed))
    return Row(
        cells=tuple(map(dated, cells)),
        data=(("start", basis.iso(placed.start)), ("slack", times.span(placed.slack))),
        trace=f"start.{link.task}",
    )


def reason(basis: Basis, link: Link) -> str:
    """Why a link of the chain could not start sooner, in shop words."""
    task = basis.tasks[link.task]
    if task.done is not None:
        return "taken as done" if task.taken else "it was done then"
    if link.before is None and not is_arrival(task) and basis.plan.network.since > (task.earliest or 0):
        return "work is told done up to then"
    if link.before is None:
        return _delivered(basis, task) if is_arrival(task) else link.says or WORDS[link.why]
    what, then, rest = link.says.partition(THEN)
    if what and " " not in what:
        return f"{_holder(basis, what)} {link.before}{then}{rest}"
    kept, busy, by = link.says.partition(BUSY)
    if busy:
        window, _, held = kept.partition(": ")
        return f"{window}: {_holder(basis, held)} {by}"
    return link.says.removeprefix(f"{link.task} ") or f"{WORDS[link.why]} {link.before}"


def _delivered(basis: Basis, task: Task) -> str:
    return f"delivered then, if ordered {times.day(ordered_on(basis.spec, task.owner))}"


def _holder(basis: Basis, name: str) -> str:
    """What was not free: a station, mold or temporary work, or people, all or of one role."""
    thing, _, copy = name.partition(".")
    if thing in basis.spec.stations or thing in basis.spec.molds:
        return f"{called(basis.spec, thing)}{f', {copy},' if copy else ''} is held by"
    roles = {gang.role for gang in basis.spec.build.crew}
    return f"the {name} is busy with" if name in roles else WORDS[Why.CREW]
