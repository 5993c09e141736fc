"""A network seen backwards in time, so that what places tasks as soon as may be places them as late."""

from castlang.plan.clock import DAY
from castlang.plan.model import Ageing, GapEdge, Hold, Hours, Network, Point, Resource, Stretch, Task
from castlang.plan.warmth.ageing import backwards


def mirrored(network: Network, days: int) -> Network:
    """`network` with minute `m` at `days * DAY - m`: what came first comes last, ends are starts.

    days: a multiple of 7, so that weekdays fall on weekdays. Each task, gap and hold has its counterpart of
    the same name; dates before which nothing may start are left out, and so is what is never given back:
    neither has a counterpart, and the mirror serves to find an order, never a plan.
    """
    end = days * DAY
    turned: dict[Ageing, Ageing] = {}
    return Network(
        tasks=tuple(_task(task, end) for task in network.tasks),
        gaps=tuple(_gap(gap, end, turned) for gap in network.gaps),
        holds=tuple(
            Hold(resource=hold.resource, first=hold.last, last=hold.first, amount=hold.amount)
            for hold in network.holds
            if hold.last is not None
        ),
        resources=tuple(
            Resource(
                name=resource.name,
                capacity=resource.capacity,
                kind=resource.kind,
                closed=tuple(sorted((end - opens, end - shuts) for shuts, opens in resource.closed)),
            )
            for resource in network.resources
        ),
        hours=_hours(network.hours, days),
    )


def _task(task: Task, end: int) -> Task:
    return Task(
        name=task.name,
        minutes=task.minutes,
        crew=task.crew,
        needs=task.needs,
        may_pause=task.may_pause,
        through_breaks=task.through_breaks,
        earliest=None if task.latest is None else end - task.latest,
    )


def _gap(gap: GapEdge, end: int, turned: dict[Ageing, Ageing]) -> GapEdge:
    other = {Point.START: Point.END, Point.END: Point.START}
    return GapEdge(
        before=gap.after,
        after=gap.before,
        least=gap.least,
        longest=gap.longest,
        before_point=other[gap.after_point],
        after_point=other[gap.before_point],
        stretches=tuple(_stretch(part, end, turned) for part in reversed(gap.stretches)),
    )


def _stretch(part: Stretch, end: int, turned: dict[Ageing, Ageing]) -> Stretch:
    if part.ageing is None:
        return part
    if part.ageing not in turned:
        turned[part.ageing] = backwards(part.ageing, end)
    return Stretch(least=part.least, longest=part.longest, ageing=turned[part.ageing])


def _hours(hours: Hours, days: int) -> Hours:
    first = hours.start.weekday()
    week = tuple(
        tuple(sorted((DAY - end, DAY - start) for start, end in hours.week[(2 * first - 1 - day) % 7]))
        for day in range(7)
    )
    return Hours(
        start=hours.start,
        week=week,
        closed=frozenset(days - 1 - day for day in hours.closed),
        crew=hours.crew,
        away={days - 1 - day: who for day, who in hours.away.items()},
    )
