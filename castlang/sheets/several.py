"""The plan of several builds in one shop as one table."""

from castlang.plan.model import Plan, Task
from castlang.sheets import times
from castlang.sheets.dated_text import dated
from castlang.sheets.instructions import people
from castlang.sheets.model import Align, Column, Row, Table
from castlang.sheets.schedule import NOT_TOLD, slack_text


def joint_plan_table(plan: Plan, units: str) -> Table:
    """Every step of work and every step at a station, in order of its start. units: "metric" or "us", for the
    clock."""
    tasks = {task.name: task for task in plan.network.tasks}
    start = plan.network.hours.start
    rows = []
    for placed in plan.placed:
        task = tasks[placed.task]
        if not task.minutes:
            continue
        build, _, step = task.name.partition("/")
        when = (
            times.moment(start, placed.start, units),
            times.moment_after(start, placed.start, placed.end, units),
        )
        rows.append(
            Row(
                cells=(
                    *(NOT_TOLD if task.taken else when),
                    build,
                    step,
                    people(task.crew).removeprefix("by "),
                    _stations(task),
                    dated(slack_text(task, placed)),
                ),
                data=(
                    ("start", "" if task.taken else times.iso(start, placed.start)),
                    ("end", "" if task.taken else times.iso(start, placed.end)),
                    ("slack", times.span(placed.slack)),
                ),
            )
        )
    return Table(
        key="joint-plan",
        title="Steps of all builds",
        columns=(
            Column(key="start", title="start", share=1.5),
            Column(key="end", title="end", share=1.4),
            Column(key="build", title="build", share=1.5),
            Column(key="step", title="step", share=3),
            Column(key="people", title="people", share=1.4),
            Column(key="stations", title="stations", share=1.6, spare=3),
            Column(key="slack", title="slack", align=Align.RIGHT, share=1.2, spare=2),
        ),
        rows=tuple(rows),
        empty="no step in these builds",
        by_date=True,
    )


def _stations(task: Task) -> str:
    return ", ".join(need.resource for need in task.needs)
