"""Work of people: what each piece, mold and job takes, all copies.

hours.OWNER    hours.all
"""

from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.quantity import Dimension
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input


def _names(ground: Ground) -> Iterator[str]:
    for hours in ground.costing.hours:
        yield f"hours.{hours.owner}"
    yield "hours.all"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    return _hours(ground, name, rest) if kind == "hours" else None


HOURS = Subject(names=_names, figure=_figure)


def _hours(ground: Ground, name: str, owner: str) -> Figure | None:
    if owner == "all":
        inputs = ground.inputs(*(("t", f"hours.{hours.owner}") for hours in ground.costing.hours))
        total = sum(hours.minutes for hours in ground.costing.hours)
        return _time(name, total, "work of people in all", "sum of t", inputs)
    found = next((hours for hours in ground.costing.hours if hours.owner == owner), None)
    if found is None:
        return None
    done: dict[tuple[str, str], list[int]] = {}
    for task in ground.plan.network.tasks:
        people = sum(number for _, number in task.crew)
        if task.owner == owner and people and task.minutes:
            done.setdefault((task.step, task.part), []).append(people * task.minutes)
    inputs = tuple(
        Input(symbol="t", figure=_worked(ground, owner, step, part, minutes))
        for (step, part), minutes in sorted(done.items())
    )
    return _time(name, found.minutes, f"work of people on {owner}, all copies", "sum of t", inputs)


def _worked(ground: Ground, owner: str, step: str, part: str, minutes: list[int]) -> Figure:
    """People times minutes of one part of a step, over all its copies."""
    called = ".".join(word for word in (owner, step, part) if word)
    told = ground.steps.get((owner, step))
    people = sum(gang.count for gang in told.gang) if told is not None else 1
    span = told.span if told is not None else ground.spec.build.span
    pairs: list[tuple[str, Figure | str | None]] = [
        ("T", f"minutes.{called}"),
        ("p", ground.told(f"people on {owner}.{step}", people, Dimension.COUNT, span)),
        ("n", Figure(name=f"times that {called} is done", value=Fraction(len(minutes)), source="the plan")),
    ]
    return _time(f"people times minutes of {called}", sum(minutes), "", "T p n", ground.inputs(*pairs))


def _time(name: str, minutes: int, says: str, formula: str, inputs: tuple[Input, ...]) -> Figure:
    return Figure(
        name=name,
        value=Fraction(minutes * 60),
        dimension=Dimension.TIME,
        says=says,
        formula=formula,
        inputs=inputs,
        source="the plan",
    )
