"""Why there is no room: windows that cannot be kept together, and of what there is too little for them."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from castlang.plan.clock import duration_text, moment_text
from castlang.plan.findings import NO_ROOM
from castlang.plan.gaps.limits import window_text
from castlang.plan.gaps.sentence import place_text
from castlang.plan.hours import people_wanted
from castlang.plan.model import GapEdge, Task
from castlang.plan.placement.placing import Setting
from castlang.plan.placement.profile import Line
from castlang.plan.ties import Ties
from castlang.problems.model import Problem
from castlang.spec.model import NOWHERE

if TYPE_CHECKING:
    from castlang.plan.solving.clashes import Clash

NAMED = 8  # windows named, and steps for one line; of more, the others are counted


def room_problem(setting: Setting, units: float) -> Problem:
    """What the solver has shown to be impossible: the windows that clash, with steps and lines, and the crew,
    stations or molds that do, with the steps that want them. units: the solver's, for each question."""
    from castlang.plan.solving.clashes import clash_of

    ties = setting.floor.ties
    start = ties.network.hours.start
    clash = clash_of(setting, units)
    told: list[str] = []
    about: list[str] = []
    for window in clash.windows:
        if isinstance(window, GapEdge):
            told.append(window_text(window))
            about += [window.before, window.after]
        else:
            told.append(f"{window.name} ends by {moment_text(start, window.latest or 0)}")
            about.append(window.name)
    names = [_name(setting, line) for line in clash.lines]
    what = " and ".join(names) or "crew, stations and molds as they are"
    these = "these cannot all" if len(told) > 1 else "this cannot"
    more = f" and {len(told) - NAMED} more" if len(told) > NAMED else ""
    message = f"with {what} {these} be kept: {', '.join(told[:NAMED])}{more}"
    message = message if told else f"with {what} no order works"
    for line in clash.lines:
        message += f"; {taken_text(setting, line, about)}"
    if not clash.least:
        message += "; it is not shown that all of this has to do with it"
    return Problem(
        finding=NO_ROOM,
        message=message,
        span=next((window.span for window in clash.windows if window.span.file), NOWHERE),
        remedy=_remedy(setting, clash, names),
        about=tuple(dict.fromkeys(about)),
    )


def _remedy(setting: Setting, clash: "Clash", names: Sequence[str]) -> str | None:
    """What would make room: windows and dates with which there is a plan, or else any wider ones, or more of
    what there is too little of."""
    start = setting.floor.ties.network.hours.start
    ways = []
    for window, minutes in clash.wider:
        if isinstance(window, GapEdge):
            place = f" ({place_text(window.span)})" if window.span.file else ""
            old = duration_text(window.longest or 0)
            ways.append(f"widen the window of {old}{place} to {duration_text(minutes)}")
        else:
            ways.append(f"let {window.name} end by {moment_text(start, minutes)}")
    if ways:
        ways = [" and ".join(ways)]
    elif clash.windows:
        ways = ["widen one of these windows, or move one of these dates"]
    if names:
        ways.append(f"have more than {' or '.join(names)}")
    return ", or ".join(ways) or None


def taken_text(setting: Setting, line: Line, first: Sequence[str]) -> str:
    """What takes a line, steps named `first` before others: `a crew of 1 has to do a (40 min), b (1 h)`."""
    verb = "has to do" if line[0] == "crew" else "is wanted by"
    return f"{_name(setting, line)} {verb} {_wanted(setting.floor.ties, line, first)}"


def _name(setting: Setting, line: Line) -> str:
    """`a crew of 2`, `1 finisher`, `room for 1 at mixer`, `1 of bed-mold`."""
    room = setting.floor.capacity[line]
    if line[0] == "place":
        resources = setting.floor.ties.network.resources
        station = any(r.name == line[1] and r.kind == "station" for r in resources)
        return f"room for {room} at {line[1]}" if station else f"{room} of {line[1]}"
    return f"{room} {line[1]}" if line[1] else f"a crew of {room}"


def _wanted(ties: Ties, line: Line, first: Sequence[str]) -> str:
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
