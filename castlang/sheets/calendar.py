"""The plan for a calendar: work, what arrives, and when windows close.

Times have no zone: they are the clock on the shop's wall, wherever it hangs.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from castlang.plan.hours import Shop
from castlang.plan.model import Plan, Point, Task
from castlang.plan.warmth.ageing import closes_at
from castlang.sheets.basis import Basis, called, is_arrival
from castlang.sheets.instructions import effort, task_title
from castlang.sheets.tending import TOLD, visit_text, visits_of
from castlang.sheets.waits import limit_of

WARNED = timedelta(minutes=15)
"""How long before a window closes an alarm rings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One entry. uid: stays when the plan moves. end None: a point in time. whole_day: begin's day alone.
    alarm: how long before `begin` it rings; None: not at all. lines: what stands under the title."""

    uid: str
    begin: datetime
    title: str
    end: datetime | None = None
    lines: tuple[str, ...] = ()
    whole_day: bool = False
    alarm: timedelta | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """stamp: a moment told with every event, the same for every run. revision: a number that grows with the
    build's revisions, so that a calendar takes the newer one."""

    name: str
    stamp: datetime
    revision: int
    events: tuple[Event, ...]


def calendar_of(basis: Basis, revision: str = "", name: str = "") -> Calendar:
    """The plan of one build. revision: as printed, in place of the build's own; name: what its entries are
    kept under, in place of the build's name."""
    build = basis.spec.build
    prefix = f"{name or build.name}/"
    titles = {task.name: _title(basis, task) for task in basis.run}
    lines = {task.name: (effort(basis, task),) for task in basis.run if task.crew}
    return Calendar(
        name=build.label or build.name,
        stamp=_midnight(basis.plan),
        revision=revision_number(revision or build.revision or ""),
        events=_in_order([*_events(basis.plan, titles, lines, prefix), *_visits(basis, prefix)]),
    )


def joint_calendar(parts: Mapping[str, Basis]) -> Calendar:
    """The plan of several builds. parts: by the name of each build its part of the joint plan. An entry is
    called as in the build's own calendar, behind the build's label; its name where two are labelled alike."""
    events: list[Event] = []
    labels = [basis.spec.build.label for basis in parts.values()]
    for name, basis in parts.items():
        label = basis.spec.build.label
        build = name if label is None or labels.count(label) > 1 else label
        alone = calendar_of(basis, name=name).events
        events += [replace(event, title=f"{build}: {event.title}") for event in alone]
    return Calendar(
        name="several builds",
        stamp=min(_midnight(basis.plan) for basis in parts.values()),
        revision=0,
        events=_in_order(events),
    )


def revision_number(revision: str) -> int:
    """`C` is 3, `AA` 27, `12` is 12; nought for what is neither a number nor letters."""
    if revision.isascii() and revision.isdigit():
        return min(int(revision), 2**31 - 1)
    if not (revision.isascii() and revision.isalpha() and len(revision) <= 2):
        return 0
    number = 0
    for letter in revision.upper():
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


def _midnight(plan: Plan) -> datetime:
    return datetime.combine(plan.network.hours.start, datetime.min.time())


def _title(basis: Basis, task: Task) -> str:
    if is_arrival(task):
        return f"{called(basis.spec, task.owner)} arrives"
    return task_title(basis, task, full=True)


def _events(
    plan: Plan, titles: Mapping[str, str], lines: Mapping[str, tuple[str, ...]], prefix: str
) -> Iterator[Event]:
    """Each spell of work, each arrival, and each window as it closes."""
    tasks = {task.name: task for task in plan.network.tasks}
    found: list[Event] = []
    for placed in plan.placed:
        task, uid = tasks[placed.task], f"{prefix}{placed.task}"
        if is_arrival(task):
            found.append(
                Event(uid=uid, begin=_at(plan, placed.start), title=titles[task.name], whole_day=True)
            )
        for number, (begin, end) in enumerate(placed.spells if task.crew and not task.taken else (), 1):
            found.append(
                Event(
                    uid=uid if number == 1 else f"{uid}/{number}",
                    begin=_at(plan, begin),
                    end=_at(plan, end),
                    title=titles[task.name] if number == 1 else f"{titles[task.name]}, goes on",
                    lines=lines.get(task.name, ()),
                )
            )
    yield from found
    yield from _closings(plan, titles, prefix)


def _in_order(events: Iterable[Event]) -> tuple[Event, ...]:
    return tuple(sorted(events, key=lambda e: (e.begin, e.end is None, e.uid)))


def _visits(basis: Basis, prefix: str) -> Iterator[Event]:
    for visit in visits_of(basis):
        yield Event(
            uid=f"{prefix}{visit.task}/tend-{visit.number}",
            begin=_at(basis.plan, visit.minute),
            title=f"Look after: {visit_text(visit)}{TOLD[visit.missing]}",
            alarm=timedelta(0),
        )


def _closings(plan: Plan, titles: Mapping[str, str], prefix: str) -> Iterator[Event]:
    """For each step of people that is still to do, and each of its ends, the window that closes first; in the
    hours in which it can be worked."""
    network, placed = plan.network, {p.task: p for p in plan.placed}
    shop = Shop(network.hours, network.resources)
    tasks = {task.name: task for task in network.tasks if task.crew and task.done is None}
    found: list[tuple[str, Point, int, str]] = [
        (task.name, Point.END, task.latest, "latest time told in the build")
        for task in tasks.values()
        if task.latest is not None
    ]
    for edge in network.gaps:
        before = placed[edge.before]
        begin = before.start if edge.before_point is Point.START else before.end
        closes = closes_at(edge, begin)
        if closes is not None and edge.after in tasks:
            found.append((edge.after, edge.after_point, closes, limit_of(edge, begin)))
    soonest: dict[tuple[str, Point], tuple[int, str]] = {}
    for name, point, closes, why in found:
        closing = (shop.last_chance(tasks[name], point, closes), why)
        soonest[name, point] = min(soonest.get((name, point), closing), closing)
    for (name, point), (minute, why) in soonest.items():
        must = "begun" if point is Point.START else "ended"
        yield Event(
            uid=f"{prefix}{name}/{point.value}-by",
            begin=_at(plan, minute),
            title=f"Window closes: {titles[name]} must have {must}",
            lines=(why,),
            alarm=WARNED,
        )


def _at(plan: Plan, minute: int) -> datetime:
    return _midnight(plan) + timedelta(minutes=minute)
