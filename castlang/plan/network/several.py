"""Several builds in one shop: their networks joined, so that they share crew, stations and molds, and
the joint plan taken apart again."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from castlang.plan.clock import DAY
from castlang.plan.findings import SHOPS_DIFFER
from castlang.plan.model import Ageing, Due, GapEdge, Hold, Hours, Network, Plan, Resource, Stretch, Task
from castlang.plan.warmth.ageing import begun_later
from castlang.problems.model import Outcome, Problem
from castlang.spec.model import NOWHERE


def joined(builds: Sequence[tuple[str, Network]]) -> Outcome[Network]:
    """One network of builds by name, its minute 0 the midnight of the first start of all; tasks are called
    `build/task`.

    A minute past the due date weighs the more, the lower the priority's number of a build, and without one
    the further to the front it stands. Finding: hours, crew, a station or a mold that two builds tell
    differently.
    """
    start = min(network.hours.start for _, network in builds)
    first = builds[0][1]
    problems: list[Problem] = []
    resources: dict[str, Resource] = {}
    tasks: list[Task] = []
    gaps: list[GapEdge] = []
    holds: list[Hold] = []
    dues: list[Due] = []
    ranks = _ranks([network for _, network in builds])
    for place, (name, network) in enumerate(builds):
        later = (network.hours.start - start).days * DAY
        problems += _differing(builds[0][0], first.hours, name, network.hours)
        for resource in network.resources:
            moved = _moved(resource, later)
            known = resources.setdefault(resource.name, moved)
            if known.capacity != moved.capacity:
                problems.append(_problem(f"there are {known.capacity} of {resource.name} in one build, and "
                                         f"{moved.capacity} in {name}"))  # fmt: skip
            resources[resource.name] = replace(known, closed=tuple(sorted({*known.closed, *moved.closed})))
        tasks += [_task(name, task, later) for task in network.tasks]
        ageings: dict[Ageing, Ageing] = {}
        gaps += [_gap(name, gap, later, ageings) for gap in network.gaps]
        for hold in network.holds:
            last = None if hold.last is None else f"{name}/{hold.last}"
            holds.append(replace(hold, first=f"{name}/{hold.first}", last=last))
        if network.due is not None:
            dues.append(Due(prefix=f"{name}/", minute=network.due + later, weight=len(builds) - ranks[place]))
    if problems:
        return Outcome(value=None, problems=tuple(problems))
    network = Network(
        tasks=tuple(tasks),
        gaps=tuple(gaps),
        holds=tuple(holds),
        resources=tuple(resources[name] for name in sorted(resources)),
        hours=_hours(start, [network.hours for _, network in builds]),
        dues=tuple(dues),
        since=max((n.since + (n.hours.start - start).days * DAY for _, n in builds if n.since), default=0),
    )
    return Outcome(value=network)


def part_of(plan: Plan, name: str, network: Network) -> Plan:
    """A joint plan as the plan of one of its builds, whose own `network` was joined under `name`: its minutes
    count from its own first day; hours, people and closings are those that hold for all the builds. No chain
    and no bound are told of it: what sets its finish may stand in another build."""
    later = (network.hours.start - plan.network.hours.start).days * DAY
    prefix = f"{name}/"
    placed = tuple(
        replace(
            p,
            task=p.task.removeprefix(prefix),
            start=p.start - later,
            end=p.end - later,
            spells=tuple((begin - later, end - later) for begin, end in p.spells),
            latest=p.latest - later,
        )
        for p in plan.placed
        if p.task.startswith(prefix)
    )
    tasks = {task.name: task for task in plan.network.tasks}
    elsewhere = tuple(
        (tasks[p.task], tuple((begin - later, end - later) for begin, end in p.spells))
        for p in plan.placed
        if not p.task.startswith(prefix) and tasks[p.task].crew and tasks[p.task].done is None
    )
    shared = {resource.name: resource for resource in plan.network.resources}
    own = replace(
        network,
        resources=tuple(_moved(shared[resource.name], -later) for resource in network.resources),
        hours=_from(plan.network.hours, network.hours.start),
        since=max(0, plan.network.since - later),
    )
    finish = max((p.end for p in placed), default=0)
    return Plan(
        network=own,
        placed=placed,
        critical=(),
        finish=finish,
        bound=0,
        made=plan.made,
        elsewhere=elsewhere,
    )


def _from(hours: Hours, start: date) -> Hours:
    """The same hours, counted from a later first day."""
    later = (start - hours.start).days
    return replace(
        hours,
        start=start,
        closed=frozenset(day - later for day in hours.closed if day >= later),
        away={day - later: gone for day, gone in hours.away.items() if day >= later},
    )


def _ranks(networks: Sequence[Network]) -> dict[int, int]:
    """The rank of each build by its place, 0 first: by priority, then those without one as they stand."""
    told = [(n.priority is None, n.priority or 0, place) for place, n in enumerate(networks)]
    return {place: rank for rank, (_, _, place) in enumerate(sorted(told))}


def _differing(one: str, first: Hours, other: str, hours: Hours) -> list[Problem]:
    found = []
    if hours.week != first.week:
        found.append(_problem(f"{one} and {other} tell different hours"))
    if sorted(hours.crew, key=str) != sorted(first.crew, key=str):
        found.append(_problem(f"{one} and {other} tell different crews"))
    return found


def _problem(message: str) -> Problem:
    return Problem(finding=SHOPS_DIFFER, message=message, span=NOWHERE)


def _moved(resource: Resource, later: int) -> Resource:
    return replace(resource, closed=tuple((shuts + later, opens + later) for shuts, opens in resource.closed))


def _task(build: str, task: Task, later: int) -> Task:
    """A task under its build's name, not before that build's start."""
    return replace(
        task,
        name=f"{build}/{task.name}",
        owner=f"{build}/{task.owner}",
        earliest=(task.earliest or 0) + later,
        latest=None if task.latest is None else task.latest + later,
        done=None if task.done is None else (task.done[0] + later, task.done[1] + later),
    )


def _gap(build: str, gap: GapEdge, later: int, ageings: dict[Ageing, Ageing]) -> GapEdge:
    """A gap between tasks under their build's name; each of the shop's climates is moved once."""

    def moved(stretches: tuple[Stretch, ...]) -> tuple[Stretch, ...]:
        for part in stretches:
            if part.ageing is not None and part.ageing not in ageings:
                ageings[part.ageing] = begun_later(part.ageing, later)
        return tuple(
            part if part.ageing is None else replace(part, ageing=ageings[part.ageing]) for part in stretches
        )

    return replace(
        gap,
        before=f"{build}/{gap.before}",
        after=f"{build}/{gap.after}",
        stretches=moved(gap.stretches),
        tended=tuple(
            replace(one, before=moved(one.before), through=moved(one.through)) for one in gap.tended
        ),
    )


def _hours(start: date, told: Sequence[Hours]) -> Hours:
    """The shop's hours from `start` on: closed when one of the builds says so, and of the absences of a day
    the most people of each role that one of them tells."""
    closed: set[int] = set()
    away: dict[int, dict[str | None, int]] = {}
    for hours in told:
        later = (hours.start - start).days
        closed |= {day + later for day in hours.closed}
        for day, gone in hours.away.items():
            missing: dict[str | None, int] = {}
            for role, people in gone:
                missing[role] = missing.get(role, 0) + people
            most = away.setdefault(day + later, {})
            for role, people in missing.items():
                most[role] = max(most.get(role, 0), people)
    return Hours(
        start=start,
        week=told[0].week,
        closed=frozenset(closed),
        crew=told[0].crew,
        away={day: tuple(sorted(away[day].items(), key=lambda item: item[0] or "")) for day in sorted(away)},
    )
