"""Waits and windows round a task, worked out from the plan's gaps."""

from dataclasses import dataclass

from castlang.plan.model import GapEdge, Point, Task, Why
from castlang.sheets import times
from castlang.sheets.basis import Basis, is_ready
from castlang.sheets.cautions import titles_of
from castlang.sheets.hazards import hazards_of_gap
from castlang.sheets.model import Item
from castlang.spec.model import Gap

# Waits that pass by themselves, and in which nothing is to be done but to keep them.
PASSING = frozenset({Why.WAIT, Why.CURE, Why.DRY, Why.RECOAT})

WORDS = {
    Why.SEQUENCE: "comes after",
    Why.AFTER: "must come after",
    Why.WAIT: "waits after",
    Why.CURE: "cures after",
    Why.DRY: "dries after",
    Why.RECOAT: "recoat time after",
    Why.WINDOW: "window after",
    Why.COVER: "covered at once after",
    Why.DATE: "date told in the build",
    Why.ARRIVAL: "waits for delivery",
    Why.CREW: "people are busy with",
    Why.STATION: "station is taken by",
    Why.MOLD: "mold or temporary work is held by",
    Why.HOURS: "waits for the shop to open",
}

NOUNS = {
    Why.WAIT: "wait",
    Why.CURE: "cure",
    Why.DRY: "dry",
    Why.RECOAT: "recoat",
    Why.WINDOW: "window",
    Why.COVER: "cover at once",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """The latest minute by which a task must start or end, and why."""

    minute: int
    point: Point
    says: str


def span_of(edge: GapEdge) -> str:
    """`18 h to 3 days`, `2 h`, `within 45 min`."""
    if edge.longest is None:
        return times.span(edge.least)
    if edge.least <= 0:
        return f"within {times.span(edge.longest)}"
    return f"{times.span(edge.least)} to {times.span(edge.longest)}"


def says(edge: GapEdge) -> str:
    """The reason of a gap in shop words."""
    return edge.says or f"{NOUNS.get(edge.why, edge.why.value)} after {edge.before}"


def passes(edge: GapEdge) -> bool:
    """Whether a gap is a wait from the end of one task to the start of the next."""
    ends = (edge.before_point, edge.after_point) == (Point.END, Point.START)
    return ends and edge.why in PASSING and edge.least > 0


def passing_into(basis: Basis, task: str) -> tuple[GapEdge, ...]:
    """The waits that end at the start of a task. Of several told alike the one that ends last stands for
    all: the others are over sooner."""
    last: dict[tuple[Why, int, int | None], GapEdge] = {}
    for edge in basis.into[task]:
        if not passes(edge):
            continue
        key = (edge.why, edge.least, edge.longest)
        if key not in last or _begin(basis, edge) > _begin(basis, last[key]):
            last[key] = edge
    return tuple(last.values())


def _begin(basis: Basis, edge: GapEdge) -> int:
    return basis.time_of(edge.before, edge.before_point)


def closings(basis: Basis, task: Task) -> tuple[Closing, ...]:
    """When the task must have started and ended at the latest: of each the soonest, start first."""
    found: list[Closing] = []
    for edge in basis.into[task.name]:
        if edge.longest is not None:
            found.append(
                Closing(minute=_begin(basis, edge) + edge.longest, point=edge.after_point, says=says(edge))
            )
    if task.latest is not None:
        found.append(Closing(minute=task.latest, point=Point.END, says="latest time told in the build"))
    soonest = [
        min((c for c in found if c.point is point), key=lambda c: c.minute, default=None)
        for point in (Point.START, Point.END)
    ]
    return tuple(closing for closing in soonest if closing is not None)


def until(basis: Basis, task: Task) -> str:
    """The moment by which the task must have started, or else ended; empty when nothing closes. The day
    stands before a time on another day than the task's start."""
    closing = next(iter(closings(basis, task)), None)
    if closing is None:
        return ""
    return basis.moment_after(basis.placed[task.name].start, closing.minute)


def bounds(basis: Basis, task: Task) -> tuple[str, ...]:
    """Lines that say between when and when, and why: windows, longest waits, dates told in the build."""
    start = basis.placed[task.name].start
    lines = []
    for edge in basis.into[task.name]:
        point, begin = edge.after_point.value, _begin(basis, edge)
        least = basis.moment_after(start, begin + edge.least) if edge.least > 0 and not passes(edge) else ""
        longest = basis.moment_after(start, begin + edge.longest) if edge.longest is not None else ""
        if least and longest:
            lines.append(f"{point} {least} to {longest}: {says(edge)}, {span_of(edge)}")
        elif least:
            lines.append(f"{point} not before {least}: {says(edge)}, {span_of(edge)}")
        elif longest:
            lines.append(f"{point} by {longest}: {says(edge)}, {span_of(edge)}")
    if task.earliest is not None:
        lines.append(f"start not before {basis.moment_after(start, task.earliest)}: told in the build")
    if task.latest is not None:
        lines.append(f"end by {basis.moment_after(start, task.latest)}: told in the build")
    return tuple(dict.fromkeys(lines))


def gaps_of(basis: Basis, task: Task) -> tuple[Gap, ...]:
    """The lines of the build that wait for this task: those above its step, for the step's first part; for
    the point at which an owner is ready, those below its last step."""
    if is_ready(task):
        return basis.gaps_last.get(task.owner, ())
    if task.name not in basis.first_parts:
        return ()
    return basis.gaps_above.get((task.owner, task.step), ())


def texts_of(gaps: tuple[Gap, ...]) -> tuple[str, ...]:
    return tuple(text for gap in gaps for text in (gap.text or "", *gap.notes) if text)


def wait_items(basis: Basis, task: Task) -> tuple[Item, ...]:
    """The waits above a task as items; the first bears the texts, boxes and hazards of the lines that
    were written for them."""
    items = []
    for index, edge in enumerate(passing_into(basis, task.name)):
        begin = _begin(basis, edge)
        told = gaps_of(basis, task) if index == 0 else ()
        items.append(
            Item(
                when=basis.moment(begin),
                what=f"{says(edge)}: {span_of(edge)}",
                until=basis.moment_after(begin, begin + edge.longest) if edge.longest is not None else "",
                lines=(*_least(basis, begin, edge.least), *texts_of(told)),
                write=tuple(write for gap in told for write in gap.writes),
                caution=titles_of(tuple(word for gap in told for word in hazards_of_gap(gap))),
                critical=task.name in basis.critical and _binds(basis, task, edge),
                wait=True,
            )
        )
    return tuple(items)


def _least(basis: Basis, begin: int, least: int) -> tuple[str, ...]:
    return (f"at least to {basis.moment_after(begin, begin + least)}",) if least else ()


def _binds(basis: Basis, task: Task, edge: GapEdge) -> bool:
    return any(link.task == task.name and link.before == edge.before for link in basis.plan.critical)
