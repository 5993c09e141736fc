"""When steps of the plan begin and end, and when the build does.

    start.TASK    end.TASK    slack.TASK    finish    bound

Values are minutes from midnight of the build's first day, told as moments.
"""

from collections.abc import Iterator

from castlang.plan.clock import duration_text, moment_text
from castlang.plan.model import GapEdge, Placed, Point
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input


def _names(ground: Ground) -> Iterator[str]:
    for placed in ground.plan.placed:
        yield f"start.{placed.task}"
        yield f"end.{placed.task}"
        yield f"slack.{placed.task}"
    yield "finish"
    yield "bound"


def _figure(ground: Ground, name: str) -> Figure | None:
    if name == "finish":
        return _finish(ground, name)
    if name == "bound":
        return Figure(
            name=name,
            text=_moment(ground, ground.plan.bound),
            says="no plan can finish sooner",
            formula="the longest of: a path by gaps and hours, the work of one kind of people, a place's use",
            source="each with the least that must come before and behind it",
        )
    kind, _, task = name.partition(".")
    placed = next((p for p in ground.plan.placed if p.task == task), None)
    if placed is None:
        return None
    match kind:
        case "start":
            return _start(ground, name, placed)
        case "end":
            return _end(ground, name, placed)
        case "slack":
            return Figure(
                name=name,
                text=duration_text(placed.slack) if placed.slack else "none",
                says=f"how much later {task} may start without moving the finish",
                formula="latest start - start",
                inputs=(
                    Input(symbol="start", figure=_start(ground, f"start.{task}", placed, deep=False)),
                    Input(
                        symbol="latest",
                        figure=Figure(
                            name=f"latest start of {task}",
                            text=_moment(ground, placed.latest),
                            source="all gaps, hours and the order of hands kept",
                        ),
                    ),
                ),
                source="the plan",
            )
        case _:
            return None


TIMES = Subject(names=_names, figure=_figure)


def _moment(ground: Ground, minute: int) -> str:
    return moment_text(ground.plan.network.hours.start, minute)


def _start(ground: Ground, name: str, placed: Placed, *, deep: bool = True) -> Figure:
    """The gap that sets the start; where none does, what the plan says held it back."""
    binding = _binding(ground, placed) if deep else None
    if binding is None:
        link = next((link for link in ground.plan.critical if link.task == placed.task), None)
        held = f"waits for {link.why}" + (f", after {link.before}" if link.before else "") if link else ""
        return Figure(
            name=name,
            text=_moment(ground, placed.start),
            formula=held or "the first moment at which its gaps, the hours, its people and places allow it",
            source="the plan",
        )
    before = binding.before
    point = "start" if binding.before_point is Point.START else "end"
    inputs = [
        Input(symbol="t", figure=_moment_of(ground, f"{point}.{before}", before, point)),
        Input(
            symbol="g",
            figure=Figure(
                name=binding.says or f"gap from {before}",
                text=duration_text(binding.least),
                span=binding.span,
            ),
        ),
    ]
    return Figure(
        name=name,
        text=_moment(ground, placed.start),
        formula=f"t + g, from the {point} of {before}" if binding.least else f"t, the {point} of {before}",
        inputs=tuple(inputs if binding.least else inputs[:1]),
        source="the plan",
    )


def _moment_of(ground: Ground, name: str, task: str, point: str) -> Figure:
    """A moment by its name alone: what set it is asked for by that name, step by step."""
    placed = next(p for p in ground.plan.placed if p.task == task)
    return Figure(name=name, text=_moment(ground, placed.start if point == "start" else placed.end))


def _binding(ground: Ground, placed: Placed) -> GapEdge | None:
    """The gap without which the task could start sooner: the first one that is tight."""
    times = {p.task: p for p in ground.plan.placed}
    for edge in ground.plan.network.gaps:
        if edge.after != placed.task or edge.after_point is not Point.START or edge.before not in times:
            continue
        before = times[edge.before]
        at = before.start if edge.before_point is Point.START else before.end
        if at + edge.least == placed.start:
            return edge
    return None


def _end(ground: Ground, name: str, placed: Placed) -> Figure:
    task = next(task for task in ground.plan.network.tasks if task.name == placed.task)
    called = ".".join(word for word in (task.owner, task.step, task.part) if word)
    minutes = ground.find(f"minutes.{called}")
    inputs = ground.inputs(("t", f"start.{placed.task}"), ("T", minutes))
    return Figure(
        name=name,
        text=_moment(ground, placed.end),
        formula="t + T, breaks and nights left out" if minutes is not None else "t",
        inputs=inputs,
        source="the plan",
    )


def _finish(ground: Ground, name: str) -> Figure:
    last = max(ground.plan.placed, key=lambda p: (p.end, p.task))
    return Figure(
        name=name,
        text=_moment(ground, ground.plan.finish),
        says="the build is done",
        formula="the last end",
        inputs=ground.inputs(("t", f"end.{last.task}")),
        source="the plan",
    )
