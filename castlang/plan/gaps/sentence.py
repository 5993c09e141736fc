"""A circle of gaps in one sentence, with every step and line on it, and what would mend it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from castlang.plan.clock import duration_text, moment_text
from castlang.plan.gaps.circles import Circle, Kind, Leg
from castlang.plan.model import Point, Task, Why
from castlang.source.model import Span

_WORDS = {
    Why.SEQUENCE: "wait",
    Why.AFTER: "after",
    Why.WAIT: "wait",
    Why.CURE: "cure",
    Why.DRY: "dry",
    Why.RECOAT: "recoat",
    Why.WINDOW: "window",
    Why.COVER: "cover",
    Why.DATE: "date",
    Why.ARRIVAL: "arrival",
}
_ALLOWING = (Kind.LONGEST, Kind.LATEST, Kind.BACK)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ages:
    """How old a wet layer is where the next covers it: at the first spot and at the last, in minutes."""

    under: Task
    over: Task
    first: int
    last: int
    longest: int


def say_circle(circle: Circle, start: date) -> str:
    """The circle as one sentence; `start` is the day from which its minutes count."""
    ages = ages_of(circle)
    if ages is not None:
        return _say_ages(circle, ages)
    if not circle.windows:
        return _say_waiting(circle)
    return _say_runs(circle, start)


def mend_circle(circle: Circle) -> str | None:
    """What would mend the circle; None where the finding's own remedy says it."""
    ages = ages_of(circle)
    if ages is None:
        return None
    if ages.last > ages.longest:
        most = duration_text(ages.over.minutes - (ages.last - ages.longest))
        return (
            f"get {ages.over.name} done in {most} with a faster gang, cut the field smaller, "
            f"or hold a second batch of {ages.under.name} back"
        )
    most = duration_text(ages.under.minutes - (ages.first - ages.longest))
    return f"get {ages.under.name} done in {most} with a faster gang, or cut the field smaller"


def ages_of(circle: Circle) -> Ages | None:
    """The ages at the first and last spot, when the circle is one window between two wet layers."""
    window = circle.windows[0] if circle.wet and len(circle.windows) == 1 else None
    if window is None or window.gap is None:
        return None
    gap, longest = window.gap, window.gap.longest
    under, over = window.head, window.tail
    if gap.before_point is not gap.after_point or longest is None or under is None or over is None:
        return None
    if under.may_pause or over.may_pause:
        return None
    age = longest + circle.over
    longer = over.minutes - under.minutes
    first, last = (age - longer, age) if gap.before_point is Point.END else (age, age + longer)
    return Ages(under=under, over=over, first=first, last=last, longest=longest)


def place_text(span: Span) -> str:
    """`desk.pour:14`, or nothing where the place is not known."""
    return f"{span.file}:{span.line}" if span.file else ""


class _Names:
    """Names of tasks, with the line of each where it is named first."""

    __slots__ = ("_seen",)

    def __init__(self) -> None:
        self._seen: set[str] = set()

    def __call__(self, task: Task) -> str:
        place = place_text(task.span)
        if task.name in self._seen or not place:
            self._seen.add(task.name)
            return task.name
        self._seen.add(task.name)
        return f"{task.name} ({place})"

    def seen(self, task: Task) -> bool:
        return task.name in self._seen


def _say_ages(circle: Circle, ages: Ages) -> str:
    name = _Names()
    over, under = name(ages.over), name(ages.under)
    between = [
        leg for leg in circle.legs if leg.tail not in (ages.under, ages.over) and leg.kind is Kind.TAKES
    ]
    others = "".join(f", behind {name(leg.tail)}" for leg in between if leg.tail is not None)
    gap = circle.windows[0].gap
    line = f" ({place_text(gap.span)})" if gap is not None and gap.span.file else ""
    late = max(ages.first, ages.last) - ages.longest
    return (
        f"{over} goes on {under}{others} when that is {duration_text(ages.first)} old at the first spot "
        f"and {duration_text(ages.last)} at the last: "
        f"{duration_text(late)} past the window of {duration_text(ages.longest)}{line}"
    )


def _say_waiting(circle: Circle) -> str:
    name = _Names()
    gaps = [leg for leg in circle.legs if leg.kind in (Kind.LEAST, Kind.HOLD) and leg.tail and leg.head]
    told = [
        f"{name(leg.head)} waits for {name(leg.tail)}{_line(leg)}"
        for leg in reversed(gaps)
        if leg.tail is not None and leg.head is not None
    ]
    return f"{', '.join(told)}: a circle in which no step can be the first"


def _say_runs(circle: Circle, start: date) -> str:
    """Each run of what is needed, then what the windows allow."""
    name = _Names()
    runs: list[list[Leg]] = [[]]
    need = allow = 0
    for leg in circle.legs:
        if leg.kind in _ALLOWING:
            allow -= leg.minutes
            if runs[-1]:
                runs.append([])
        else:
            need += leg.minutes
            runs[-1].append(leg)
    told = "; ".join(_run(run, name, start) for run in runs if run)
    allowed = [_allowance(leg, name, start) for leg in circle.legs if leg.kind in _ALLOWING]
    latest = next((leg for leg in circle.windows if leg.kind is Kind.LATEST), None)
    if latest is not None and len(circle.windows) == 1:
        return (
            f"{told}; that is over on {moment_text(start, need)} at the soonest, but {allowed[0]}: "
            f"{duration_text(circle.over)} too late"
        )
    verb = "allows" if len(allowed) == 1 else "allow"
    return (
        f"{told}; these need {duration_text(need)}, but {' and '.join(allowed)} {verb} "
        f"{duration_text(allow)}: {duration_text(circle.over)} too long"
    )


def _run(run: Sequence[Leg], name: _Names, start: date) -> str:
    first, last = run[0], run[-1]
    ends = f"from {_point(first.tail, first.tail_point, name)} to {_point(last.head, last.head_point, name)}"
    parts = [part for leg in run if (part := _part(leg, name, start))]
    return f"{ends}: {', '.join(parts)}" if parts else ends


def _point(task: Task | None, point: Point, name: _Names) -> str:
    return "the start of the build" if task is None else f"the {point.value} of {name(task)}"


def _part(leg: Leg, name: _Names, start: date) -> str:
    if leg.head is None or (leg.kind is Kind.EARLIEST and not leg.minutes):
        return ""
    if leg.kind is Kind.TAKES:
        return f"{name(leg.head)} takes {duration_text(leg.minutes)}" if leg.minutes else ""
    if leg.kind is Kind.EARLIEST:
        return f"{name(leg.head)} starts no sooner than {moment_text(start, leg.minutes)}"
    if leg.kind is Kind.HOLD or leg.gap is None:
        return f"then {name(leg.head)}"
    if leg.minutes < 0:
        return f"{name(leg.head)} may start {duration_text(-leg.minutes)} sooner{_line(leg)}"
    if not leg.minutes:
        bare = leg.gap.why is Why.SEQUENCE
        return "" if bare and name.seen(leg.head) else f"then {name(leg.head)}{'' if bare else _line(leg)}"
    least = "at least " if leg.gap.stretches else ""
    return f"{_reason(leg)} {least}{duration_text(leg.minutes)}{_line(leg)}"


def _allowance(leg: Leg, name: _Names, start: date) -> str:
    if leg.kind is Kind.LATEST and leg.tail is not None:
        return f"{name(leg.tail)} must end by {moment_text(start, -leg.minutes)}"
    if leg.kind is Kind.BACK and leg.tail is not None:
        return f"{name(leg.tail)} ({duration_text(-leg.minutes)})"
    if leg.tail is None or leg.head is None:
        raise AssertionError("a window without its tasks")
    gap = "" if leg.gap is None else place_text(leg.gap.span)
    place = f", {gap}" if gap else ""
    ends = f"from {_point(leg.head, leg.head_point, name)} to {_point(leg.tail, leg.tail_point, name)}"
    most = " at most" if leg.gap is not None and leg.gap.stretches else ""
    return f"the window of {duration_text(-leg.minutes)}{most} ({_reason(leg)}{place}) {ends}"


def _reason(leg: Leg) -> str:
    if leg.gap is None:
        return "hold"
    return leg.gap.says or _WORDS.get(leg.gap.why, leg.gap.why.value)


def _line(leg: Leg) -> str:
    place = place_text(leg.gap.span) if leg.gap is not None else ""
    return f" ({place})" if place else ""
