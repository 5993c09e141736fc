"""Limits: what no plan could mend, told before one is tried. Tasks too long for the shop's hours, too few
people, too few places, circles of gaps, windows that are never open, dates that come too soon."""

from collections.abc import Iterable, Mapping, Sequence

from castlang.plan.clock import duration_text, moment_text
from castlang.plan.findings import (
    CIRCLE,
    CREW_SHORT,
    DATE_MISSED,
    NEVER_FITS,
    PLACES_SHORT,
    WINDOW_MISSED,
    WINDOW_SHUT,
)
from castlang.plan.gaps.circles import Circle, Kind, circles_of
from castlang.plan.gaps.sentence import mend_circle, place_text, say_circle
from castlang.plan.hours import Shop, people_of, people_wanted
from castlang.plan.model import GapEdge, Hold, Point, Resource, Task
from castlang.plan.placement.soonest import Shut, Soonest
from castlang.plan.ties import Ties
from castlang.problems.model import Problem
from castlang.source.model import Span
from castlang.spec.model import NOWHERE


def circle_problems(ties: Ties) -> tuple[Problem, ...]:
    """One problem for each circle of gaps that cannot be met."""
    return tuple(_circle_problem(ties, circle) for circle in circles_of(ties))


def task_problems(ties: Ties, shop: Shop, lengths: Mapping[Hold, int]) -> tuple[Problem, ...]:
    """Tasks and holds that want more than there ever is; one for each kind and line of text.

    lengths: how long each hold that ends lasts at the least; of one that is not in it nothing is counted."""
    resources = {r.name: r for r in ties.network.resources}
    begun: dict[str, list[Hold]] = {}
    for hold in ties.network.holds:
        begun.setdefault(hold.first, []).append(hold)
    found: list[Problem] = []
    for task in ties.tasks:
        short = _crew_short(task, shop)
        if short is not None:
            found.append(short)
        elif shop.soonest(task, 0) is None:
            found.append(_never_fits(task, shop))
        lasting = [h for h in begun.get(task.name, ()) if h.last is None or lengths.get(h, 0) > 0]
        found.extend(_places_short(task, lasting, resources))
    return _one_a_line(found)


def shut_problem(shut: Shut, shop: Shop) -> Problem:
    """Windows that gaps and hours together never leave room for."""
    told = ", ".join(window_text(gap) for gap in shut.windows)
    names = {name for gap in shut.windows for name in (gap.before, gap.after)}
    crewed = [t for t in shut.tasks if t.crew and t.minutes and (t.name in names or not names)]
    long = max(crewed, key=lambda t: t.minutes, default=None)
    spell = ""
    if long is not None:
        spell = (
            f"; {long.name} takes {duration_text(long.minutes)}, and the longest spell of the shop is "
            f"{duration_text(shop.spells(long).longest())}"
        )
    what = "hours and warmth" if any(gap.stretches for gap in shut.windows) else "hours"
    span = next((gap.span for gap in shut.windows if gap.span.file), shut.tasks[0].span)
    about = tuple(t.name for t in shut.tasks if t.name in names) or tuple(t.name for t in shut.tasks)
    return Problem(
        finding=WINDOW_SHUT,
        message=f"the shop's {what} never leave room for this: {told}{spell}",
        span=span,
        about=about,
    )


def date_problems(ties: Ties, soonest: Soonest) -> tuple[Problem, ...]:
    """Tasks that end past their latest date by gaps and hours alone."""
    found = []
    start = ties.network.hours.start
    for k, task in enumerate(ties.tasks):
        if task.latest is not None and soonest.end[k] > task.latest:
            message = (
                f"{task.name} ends on {moment_text(start, soonest.end[k])} at the soonest, even with people "
                f"and places without end, but must end by {moment_text(start, task.latest)}"
            )
            found.append(Problem(finding=DATE_MISSED, message=message, span=task.span, about=(task.name,)))
    return _one_a_line(found)


def _circle_problem(ties: Ties, circle: Circle) -> Problem:
    windows = circle.windows
    if not windows:
        finding = CIRCLE
    else:
        finding = DATE_MISSED if any(leg.kind is Kind.LATEST for leg in windows) else WINDOW_MISSED
    tasks = circle.tasks
    late = windows[0].tail if windows and windows[0].tail is not None else tasks[-1]
    gaps = [leg.gap.span for leg in circle.legs if leg.gap is not None]
    spans = [span for span in (late.span, *gaps, *(t.span for t in tasks)) if span.file]
    related: list[tuple[Span, str]] = []
    for task in tasks:
        if task.span.file and task.span != spans[0]:
            related.append((task.span, task.name))
    for leg in windows:
        if leg.gap is not None and leg.gap.span.file and leg.gap.span != spans[0]:
            related.append((leg.gap.span, f"the window of {duration_text(leg.gap.longest or 0)}"))
    return Problem(
        finding=finding,
        message=say_circle(circle, ties.network.hours.start),
        span=spans[0] if spans else NOWHERE,
        remedy=mend_circle(circle),
        related=tuple(dict.fromkeys(related)),
        about=tuple(task.name for task in tasks),
    )


def _crew_short(task: Task, shop: Shop) -> Problem | None:
    crew = people_of(shop.hours)
    for role, wanted in reversed(people_wanted(task)):
        there = crew.get(role, 0)
        if wanted > there:
            who = role or "people"
            message = f"{task.name} wants {wanted} {who}, but the crew has {there}"
            return Problem(finding=CREW_SHORT, message=message, span=task.span, about=(task.name,))
    return None


def _never_fits(task: Task, shop: Shop) -> Problem:
    longest = shop.spells(task).longest()
    if not longest:
        message = f"{task.name} takes {duration_text(task.minutes)}, but the shop is never open for it"
        remedy = "give the shop hours"
    else:
        message = (
            f"{task.name} takes {duration_text(task.minutes)} and may not pause, "
            f"but the longest spell of the shop is {duration_text(longest)}"
        )
        words = ["may-pause"]
        if not task.through_breaks and shop.spells(task, through=True).longest() >= task.minutes:
            words.append("through-breaks")
        shorter = "make it shorter with more people or a better rate"
        remedy = f"say {' or '.join(words)}, or {shorter}"
    return Problem(finding=NEVER_FITS, message=message, span=task.span, remedy=remedy, about=(task.name,))


def _places_short(task: Task, begun: Iterable[Hold], resources: dict[str, Resource]) -> list[Problem]:
    """Stations, molds and temporary works of which a task takes more at its start than there is, with what
    is held from it on (`begun`)."""
    wanted: dict[str, int] = {}
    spans = [task.span]
    needs = task.needs if task.minutes else ()
    for need in needs:
        wanted[need.resource] = wanted.get(need.resource, 0) + need.amount
    for hold in begun:
        # Holds that begin with a point in time may end with it: they are counted one by one.
        others = wanted.get(hold.resource, 0) if task.minutes else 0
        wanted[hold.resource] = max(wanted.get(hold.resource, 0), others + hold.amount)
        spans.append(hold.span)
    span = next((span for span in spans if span.file), NOWHERE)
    found = []
    for name in sorted(wanted):
        room = resources[name].capacity
        if wanted[name] > room:
            message = f"{task.name} wants {wanted[name]} of {name}, but there is room for {room}"
            found.append(Problem(finding=PLACES_SHORT, message=message, span=span, about=(task.name,)))
    return found


def _one_a_line(found: Sequence[Problem]) -> tuple[Problem, ...]:
    """The first of the problems of one kind on one line: copies of a piece share their lines."""
    kept: dict[tuple[str, object], Problem] = {}
    for problem in found:
        key = (problem.finding.name, problem.span if problem.span.file else problem.message)
        if key in kept:
            first = kept[key]
            about = tuple(dict.fromkeys((*first.about, *problem.about)))
            kept[key] = Problem(
                finding=first.finding,
                message=first.message,
                span=first.span,
                remedy=first.remedy,
                related=first.related,
                about=about,
            )
        else:
            kept[key] = problem
    return tuple(kept.values())


def window_text(gap: GapEdge) -> str:
    """A window with its two points and its line: `the start of a comes within 45 min after the end of b`."""

    def point(name: str, point: Point) -> str:
        return f"the {point.value} of {name}"

    place = place_text(gap.span)
    least = f"{duration_text(gap.least)} to " if gap.least > 0 else "within "
    told = ", as told," if gap.stretches else ""
    return (
        f"{point(gap.after, gap.after_point)} comes {least}{duration_text(gap.longest or 0)}{told} after "
        f"{point(gap.before, gap.before_point)}{f' ({place})' if place else ''}"
    )
