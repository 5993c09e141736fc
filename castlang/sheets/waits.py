"""Waits and windows round a task, worked out from the plan's gaps."""

from dataclasses import dataclass

from castlang.plan.model import GapEdge, Point, Stretch, Task, Why
from castlang.plan.warmth.ageing import closes_at, over_at
from castlang.sheets import amounts, times
from castlang.sheets.basis import Basis, is_ready
from castlang.sheets.cautions import titles_of
from castlang.sheets.dated_text import dated, joined, sentence
from castlang.sheets.hazards import hazards_of_gap
from castlang.sheets.instructions import people
from castlang.sheets.model import Item
from castlang.sheets.warmth import came_to
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
    told = edge.says.removeprefix(f"{edge.after} ")
    return told or f"{NOUNS.get(edge.why, edge.why.value)} after {edge.before}"


def limit_of(edge: GapEdge, begin: int) -> str:
    """The reason of a gap that begins at a minute, with its longest time: `cure of skin, 3 days at most`,
    `within 45 min after back-1.start`, `recoat of inlay.lift-1, 24 h at most as told, here 35 h 5 min`."""
    told = says(edge)
    if edge.longest is None:
        return told
    longest = times.span(edge.longest)
    if told.startswith("within "):
        return f"within {longest} {told.removeprefix('within ')}"
    here = (closes_at(edge, begin) or 0) - begin
    if not edge.stretches:
        return f"{told}, {longest} at most"
    passes_here = dated("" if here == edge.longest else f", here {times.span(here)}")
    return sentence(f"{told}, {longest} at most as told", passes_here)


def passes(edge: GapEdge) -> bool:
    """Whether a gap is a wait from the end of one task to the start of the next."""
    ends = (edge.before_point, edge.after_point) == (Point.END, Point.START)
    return ends and edge.why in PASSING and edge.least > 0


def passing_into(basis: Basis, task: str) -> tuple[GapEdge, ...]:
    """The waits that end at the start of a task. Of several told alike the one that ends last stands for
    all: the others are over sooner."""
    last: dict[tuple[Why, int, int | None, tuple[Stretch, ...]], GapEdge] = {}
    for edge in basis.into[task]:
        if not passes(edge):
            continue
        key = (edge.why, edge.least, edge.longest, edge.stretches)
        if key not in last or _begin(basis, edge) > _begin(basis, last[key]):
            last[key] = edge
    return tuple(last.values())


def _begin(basis: Basis, edge: GapEdge) -> int:
    return basis.time_of(edge.before, edge.before_point)


def closings(basis: Basis, task: Task) -> tuple[Closing, ...]:
    """When the task must have started and ended at the latest, in hours in which it can be worked: of each
    the soonest, start first."""
    found: list[Closing] = []
    for edge in basis.into[task.name]:
        if edge.longest is not None:
            minute = closes_at(edge, _begin(basis, edge)) or 0
            last = basis.last_chance(task, edge.after_point, minute)
            told = limit_of(edge, _begin(basis, edge))
            found.append(Closing(minute=last, point=edge.after_point, says=told))
    if task.latest is not None:
        last = basis.last_chance(task, Point.END, task.latest)
        found.append(Closing(minute=last, point=Point.END, says="latest time told in the build"))
    soonest = [
        min((c for c in found if c.point is point), key=lambda c: c.minute, default=None)
        for point in (Point.START, Point.END)
    ]
    return tuple(closing for closing in soonest if closing is not None)


def until(basis: Basis, task: Task, at: int | None = None) -> str:
    """The moment by which the task must have started, or else ended; empty when nothing closes. The day
    stands before a time on another day than `at`, the task's start if left out; once it has begun, only its
    end can come too late."""
    start = basis.placed[task.name].start
    shown = start if at is None else at
    closing = next((c for c in closings(basis, task) if shown <= start or c.point is Point.END), None)
    return "" if closing is None else basis.moment_after(shown, closing.minute)


def bounds(basis: Basis, task: Task, shown: tuple[GapEdge, ...] = ()) -> tuple[str, ...]:
    """Lines that say between when and when, and why: windows, longest waits, dates told in the build.

    shown: the waits that stand above the task on its sheet, and say it themselves. What is to be covered at
    once has no line: the time by which it must start says it.
    """
    start = basis.placed[task.name].start
    lines = []
    for edge in basis.into[task.name]:
        if edge in shown or edge.why is Why.COVER:
            continue
        point, begin = edge.after_point.value, _begin(basis, edge)
        over, closes = over_at(edge, begin), closes_at(edge, begin)
        least = basis.moment_after(start, over) if edge.least > 0 and not passes(edge) else ""
        last = None if closes is None else basis.last_chance(task, edge.after_point, closes)
        longest = basis.moment_after(start, last) if last is not None else ""
        if least and longest:
            span = dated(f"{least} to {longest}")
            lines.append(sentence(f"{point} ", span, f": {says(edge)}, {span_of(edge)}"))
        elif least:
            lines.append(sentence(f"{point} not before ", least, f": {says(edge)}, {span_of(edge)}"))
        elif longest:
            whole = "" if last == closes else dated(f", to {basis.moment_after(start, closes or 0)}")
            lines.append(sentence(f"{point} by ", longest, ": ", limit_of(edge, begin), whole))
    if task.earliest is not None:
        lines.append(sentence("start not before ", _from(basis, task.earliest), ": told in the build"))
    if task.latest is not None:
        lines.append(sentence("end by ", _to(basis, task.latest), ": told in the build"))
    return tuple(dict.fromkeys(lines))


def _from(basis: Basis, minute: int) -> str:
    """A date told in the build: the day alone where it tells no time."""
    if minute % times.DAY:
        return basis.moment(minute)
    return times.day(times.date_of(basis.plan.network.hours.start, minute))


def _to(basis: Basis, minute: int) -> str:
    """A date told in the build as the last: the end of the day where it tells no time."""
    if minute % times.DAY:
        return basis.moment(minute)
    day = times.day(times.date_of(basis.plan.network.hours.start, minute - 1))
    return sentence("the end of ", day)


def gaps_of(basis: Basis, task: Task) -> tuple[Gap, ...]:
    """The lines of the build that wait for this task: those above its step, for the step's first part; for
    the point at which an owner is ready, those below its last step."""
    if is_ready(task):
        return basis.gaps_last.get(task.owner, ())
    if task.name not in basis.first_parts:
        return ()
    return basis.gaps_above.get((task.owner, task.step), ())


def loose_gaps(basis: Basis, task: Task) -> tuple[Gap, ...]:
    """The lines that wait for this task and have no item of their own above it."""
    return () if passing_into(basis, task.name) else gaps_of(basis, task)


def texts_of(gaps: tuple[Gap, ...], units: str) -> tuple[str, ...]:
    """How the waits are kept, and what was written for whoever keeps them."""
    return tuple(text for gap in gaps for text in (_kept(gap, units), gap.text or "", *gap.notes) if text)


def _kept(gap: Gap, units: str) -> str:
    """`at 20 degC, covered, tend every 4 h by 1`."""
    words = [
        f"until {amounts.pressure(gap.until, units)}" if gap.until is not None else "",
        f"at {amounts.temperature(gap.at, units)}" if gap.at is not None else "",
        {True: "covered", False: "open", None: ""}[gap.covered],
        f"tend every {times.seconds(gap.tend[0])} {people(gap.tend[1])}" if gap.tend is not None else "",
    ]
    return ", ".join(word for word in words if word)


def wait_items(basis: Basis, task: Task) -> tuple[Item, ...]:
    """The waits above a task as items; the first bears the texts, boxes and hazards of the lines that
    were written for them."""
    items = []
    for index, edge in enumerate(passing_into(basis, task.name)):
        begin = _begin(basis, edge)
        closes = closes_at(edge, begin)
        last = None if closes is None else basis.last_chance(task, edge.after_point, closes)
        told = gaps_of(basis, task) if index == 0 else ()
        items.append(
            Item(
                when=basis.moment(begin),
                what=f"{says(edge)}: {span_of(edge)}",
                until=basis.moment_after(begin, last) if last is not None else "",
                lines=_lines(basis, begin, edge, told),
                write=tuple(write for gap in told for write in gap.writes),
                caution=titles_of(tuple(word for gap in told for word in hazards_of_gap(gap))),
                critical=(edge.before, task.name) in basis.links,
                wait=True,
            )
        )
    return tuple(items)


def _lines(basis: Basis, begin: int, edge: GapEdge, told: tuple[Gap, ...]) -> tuple[str, ...]:
    """`at least to 05:40; at 20 degC, covered; Keep the sheet on.`: a wait is kept short on its sheet."""
    over = basis.moment_after(begin, over_at(edge, begin))
    words: list[str] = [dated(f"at least to {over}")] if edge.least else []
    words += came_to(edge, begin, basis.units)
    words += texts_of(told, basis.units)
    return (joined(*words),) if words else ()
