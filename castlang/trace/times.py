"""When steps of the plan begin and end, and when the build does.

    start.TASK    end.TASK    slack.TASK    wait.TASK    finish    bound

wait.TASK is the wait before a task that passes by the shop's warmth. Values are minutes from midnight of the
build's first day, told as moments. A moment is followed back so many links of the plan, LINKS; the last one
tells how many more there are, and is asked for by its own name.
"""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from castlang.plan.clock import duration_text, moment_text
from castlang.plan.model import GapEdge, Placed, Point
from castlang.plan.warmth.ageing import over_at
from castlang.plan.warmth.warm_runs import WarmRun, runs_of
from castlang.takeoff import wording
from castlang.takeoff.maturity import MILLION
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input


def _names(ground: Ground) -> Iterator[str]:
    for placed in ground.plan.placed:
        yield f"start.{placed.task}"
        yield f"end.{placed.task}"
        yield f"slack.{placed.task}"
    for task in sorted({edge.after for edge in ground.plan.network.gaps if edge.stretches and edge.least}):
        yield f"wait.{task}"
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
    placed = ground.placed.get(task)
    if placed is None:
        return None
    match kind:
        case "start":
            return _start(ground, name, placed)
        case "end":
            return _end(ground, name, placed)
        case "wait":
            edge = _warm_wait(ground, task)
            return None if edge is None else replace(_gap(ground, edge), name=name, says=edge.says)
        case "slack":
            return Figure(
                name=name,
                text=duration_text(placed.slack) if placed.slack else "none",
                says=f"how much later {task} may start without moving the finish",
                formula="latest start - start",
                inputs=(
                    Input(symbol="start", figure=_start(ground, f"start.{task}", placed, 0)),
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


LINKS = 6  # steps of the plan that a moment is followed back
FEW = 8  # temperatures of a wait that are told one by one

_RULES = {
    "nurse-saul": (("T0", "r = (T - T0) / (Tr - T0), none at T0 and below"), "ASTM C1074, Eq. 1"),
    "arrhenius": (("Q", "r = exp(-Q (1/T - 1/Tr)), in K"), "EN 1992-1-1, Annex B, (B.10); ASTM C1074, Eq. 2"),
    "doubling": (
        ("D", "r = 2^((T - Tr) / D)"),
        'I. A. Leenson, "Old Rule of Thumb and the Arrhenius Equation", Journal of Chemical Education',
    ),
}

TIMES = Subject(names=_names, figure=_figure)


def _moment(ground: Ground, minute: int) -> str:
    return moment_text(ground.plan.network.hours.start, minute)


def _start(ground: Ground, name: str, placed: Placed, links: int = LINKS) -> Figure:
    """The gap that sets the start; where none does, what the plan says held it back. links: so many steps
    are followed back, this one counted."""
    if _done(ground, placed.task):
        return Figure(name=name, text=_moment(ground, placed.start), source=_record(ground, placed.task))
    if not links:
        more = _links(ground, placed)
        told = f"{more} link{'s' if more != 1 else ''} more: trace {name}" if more else "the plan"
        return Figure(name=name, text=_moment(ground, placed.start), source=told)
    binding = _binding(ground, placed)
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
        Input(symbol="t", figure=_moment_of(ground, before, point, links - 1)),
        Input(symbol="g", figure=_gap(ground, binding)),
    ]
    return Figure(
        name=name,
        text=_moment(ground, placed.start),
        formula=f"t + g, from the {point} of {before}" if binding.least else f"t, the {point} of {before}",
        inputs=tuple(inputs if binding.least else inputs[:1]),
        source="the plan",
    )


def _moment_of(ground: Ground, task: str, point: str, links: int) -> Figure:
    """The start or end of a task, followed back so many links."""
    placed = ground.placed[task]
    made = _start if point == "start" else _end
    return made(ground, f"{point}.{task}", placed, links)


def _links(ground: Ground, placed: Placed) -> int:
    """How many gaps, one before the other, set a start."""
    seen = {placed.task}
    while (binding := _binding(ground, placed)) is not None and binding.before not in seen:
        seen.add(binding.before)
        placed = ground.placed[binding.before]
    return len(seen) - 1


def _binding(ground: Ground, placed: Placed) -> GapEdge | None:
    """The gap without which the task could start sooner: the first one that is tight."""
    for edge in ground.into.get(placed.task, ()):
        before = ground.placed.get(edge.before)
        if before is None or edge.after_point is not Point.START:
            continue
        at = before.start if edge.before_point is Point.START else before.end
        if over_at(edge, at) == placed.start:
            return edge
    return None


def _warm_wait(ground: Ground, task: str) -> GapEdge | None:
    """The wait by warmth before a task that is over last."""
    found = [
        (over_at(edge, before.start if edge.before_point is Point.START else before.end), edge)
        for edge in ground.into.get(task, ())
        if edge.stretches and edge.least and (before := ground.placed[edge.before])
    ]
    return max(found, key=lambda one: one[0])[1] if found else None


def _gap(ground: Ground, edge: GapEdge) -> Figure:
    """How long a gap is; of waits that pass by the shop's warmth, how they come to that."""
    name = edge.says or f"gap from {edge.before}"
    if not edge.stretches:
        return Figure(name=name, text=duration_text(edge.least), span=edge.span)
    before = ground.placed[edge.before]
    begin = before.start if edge.before_point is Point.START else before.end
    runs = runs_of(edge, begin)
    clocked = sum(part.least for part in edge.stretches if part.ageing is None)
    inputs = [Input(symbol=f"w{n}", figure=_stretched(ground, run)) for n, run in enumerate(runs, start=1)]
    if clocked:
        inputs.append(Input(symbol="c", figure=Figure(name="by the clock", text=duration_text(clocked))))
    return Figure(
        name=name,
        text=duration_text(over_at(edge, begin) - begin),
        formula=" + ".join(one.symbol for one in inputs),
        inputs=tuple(inputs),
        span=edge.span,
    )


def _by_degree(run: WarmRun) -> list[list[tuple[Fraction, int]]]:
    """How warm it was for how long; of many readings, those within a degree together."""
    if len(run.warmth) <= FEW:
        return [[one] for one in run.warmth]
    groups: dict[int, list[tuple[Fraction, int]]] = {}
    for warmth, minutes in run.warmth:
        groups.setdefault(int(warmth - wording.ICE_POINT + 100), []).append((warmth, minutes))
    return list(groups.values())


def _span(texts: list[str]) -> str:
    return texts[0] if texts[0] == texts[-1] else f"{texts[0]} to {texts[-1]}"


def _stretched(ground: Ground, run: WarmRun) -> Figure:
    """A wait that passes by warmth: what is told, the rule, and the hours in which it ran."""
    ageing, units = run.ageing, ground.spec.build.units
    rates = {warmth: rate for _, warmth, rate in ageing.spells}
    hours = []
    for n, alike in enumerate(_by_degree(run), start=1):
        kelvins = [warmth for warmth, _ in alike]
        warmth = _span([wording.temperature(kelvin, units) for kelvin in kelvins])
        rate = _span([wording.figure(Fraction(rates[int(kelvin * 1000)], MILLION)) for kelvin in kelvins])
        text = f"{duration_text(sum(minutes for _, minutes in alike))}, r {rate}"
        hours.append(Input(symbol=f"t{n}", figure=Figure(name=f"at {warmth}", text=text)))
    told = f"{duration_text(run.told.least)} at {wording.temperature(ageing.told_at, units)}"
    formula, source = _RULES[ageing.rule]
    constant = (
        wording.temperature(ageing.constant, units)
        if ageing.rule == "nurse-saul"
        else f"{wording.figure(ageing.constant)} K"
    )
    return Figure(
        name=f"{told}, in the plan",
        text=duration_text(run.over - run.begin),
        says=f"{formula[0]} = {constant}; Tr = {wording.temperature(ageing.told_at, units)}",
        formula=f"the time by which the sum of r t is {told}; {formula[1]}",
        inputs=tuple(hours),
        source=source,
    )


def _done(ground: Ground, name: str) -> bool:
    return any(task.name == name and task.done is not None for task in ground.plan.network.tasks)


def _record(ground: Ground, name: str) -> str:
    taken = any(task.name == name and task.taken for task in ground.plan.network.tasks)
    return "taken as done, no later than this" if taken else "told done"


def _end(ground: Ground, name: str, placed: Placed, links: int = LINKS) -> Figure:
    if _done(ground, placed.task):
        return Figure(name=name, text=_moment(ground, placed.end), source=_record(ground, placed.task))
    task = next(task for task in ground.plan.network.tasks if task.name == placed.task)
    called = ".".join(word for word in (task.owner, task.step, task.part) if word)
    minutes = ground.find(f"minutes.{called}")
    start = _start(ground, f"start.{placed.task}", placed, links)
    inputs = ground.inputs(("t", start), ("T", minutes))
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
