"""Why there is no room: windows that cannot be kept together, and of what there is too little for them."""

from castlang.plan.clock import duration_text, moment_text
from castlang.plan.findings import NO_ROOM
from castlang.plan.hours import people_wanted
from castlang.plan.limits import window_text
from castlang.plan.model import GapEdge, Task
from castlang.plan.placing import Setting
from castlang.plan.profile import Line
from castlang.plan.solver import clashing, short_lines
from castlang.plan.ties import Ties
from castlang.problems.model import Problem
from castlang.spec.model import NOWHERE

NAMED = 8  # steps named for one line; of more, the others are counted


def room_problem(setting: Setting, units: float) -> Problem:
    """What the solver has shown to be impossible: the windows that clash, with steps and lines, and the crew,
    stations or molds that do, with the steps that want them. units: the solver's, for the whole plan."""
    ties = setting.floor.ties
    start = ties.network.hours.start
    windows = clashing(setting, units / 8)
    told: list[str] = []
    about: list[str] = []
    for window in windows:
        if isinstance(window, GapEdge):
            told.append(window_text(window))
            about += [window.before, window.after]
        else:
            told.append(f"{window.name} ends by {moment_text(start, window.latest or 0)}")
            about.append(window.name)
    if not told:
        message = "in every order more is held of a mold or station at once than there is"
        return Problem(finding=NO_ROOM, message=message, span=NOWHERE)
    lines = short_lines(setting, windows, units / 8)
    names = [_name(setting, line) for line in lines]
    what = " and ".join(names) or "crew, stations and molds as they are"
    message = f"with {what} these cannot all be kept: {', '.join(told)}"
    for name, line in zip(names, lines, strict=True):
        verb = "has to do" if line[0] == "crew" else "is wanted by"
        message += f"; {name} {verb} {_wanted(ties, line, about)}"
    return Problem(
        finding=NO_ROOM,
        message=message,
        span=next((window.span for window in windows if window.span.file), NOWHERE),
        remedy=f"widen one of these windows, or have more than {' or '.join(names)}" if names else None,
        about=tuple(dict.fromkeys(about)),
    )


def _name(setting: Setting, line: Line) -> str:
    """`a crew of 2`, `1 finisher`, `room for 1 at mixer`."""
    room = setting.floor.capacity[line]
    if line[0] == "place":
        return f"room for {room} at {line[1]}"
    return f"{room} {line[1]}" if line[1] else f"a crew of {room}"


def _wanted(ties: Ties, line: Line, first: list[str]) -> str:
    """The steps that want a line, those of the windows first, each with its length."""
    kept: dict[str, str] = {}
    for task in ties.tasks:
        if task.minutes and _takes(task, line):
            kept[task.name] = f"{task.name} ({duration_text(task.minutes)})"
    for hold in ties.network.holds:
        if line == ("place", hold.resource):
            until = f" to the end of {hold.last}" if hold.last else " for good"
            kept[hold.first] = f"what is held from {hold.first}{until}"
    order = [name for name in ties.index if name in kept]
    order.sort(key=lambda name: name not in first)
    more = f" and {len(order) - NAMED} more" if len(order) > NAMED else ""
    return ", ".join(kept[name] for name in order[:NAMED]) + more


def _takes(task: Task, line: Line) -> bool:
    if line[0] == "crew":
        return any((role or "") == line[1] for role, _ in people_wanted(task))
    return any(need.resource == line[1] for need in task.needs)
