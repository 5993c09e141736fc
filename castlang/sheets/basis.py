"""What every sheet is made from: the stages' results, and how to find things in them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from castlang.costing.model import Costing
from castlang.plan.hours import Shop
from castlang.plan.model import GapEdge, Placed, Plan, Point, Task
from castlang.problems.model import Problem
from castlang.sheets import amounts, times
from castlang.sheets.dated_text import DatedText
from castlang.spec.model import Gap, Job, Mold, Piece, Role, Spec, Step
from castlang.takeoff.model import Lift, Takeoff

Owner = Piece | Job | Mold


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """units: "metric" or "us". steps go by (owner, step name), everything else by task name.
    gaps_above: the waits written directly above a step; gaps_last: those below the last step of an owner.
    run: the tasks in the plan's order; tasks: the same by name. critical: names of the tasks of the critical
    chain; links: what holds which of them back, as (before, task). lifts: by owner.step. first_parts:
    names of the tasks that begin a step of a copy (its first coat, lift or grit). shop: when a task can be
    worked."""

    spec: Spec
    takeoff: Takeoff
    plan: Plan
    costing: Costing
    problems: tuple[Problem, ...]
    units: str
    steps: Mapping[tuple[str, str], Step] = field(repr=False)
    gaps_above: Mapping[tuple[str, str], tuple[Gap, ...]] = field(repr=False)
    gaps_last: Mapping[str, tuple[Gap, ...]] = field(repr=False)
    run: tuple[Task, ...] = field(repr=False)
    tasks: Mapping[str, Task] = field(repr=False)
    placed: Mapping[str, Placed] = field(repr=False)
    into: Mapping[str, tuple[GapEdge, ...]] = field(repr=False)
    out_of: Mapping[str, tuple[GapEdge, ...]] = field(repr=False)
    critical: frozenset[str] = field(repr=False)
    links: frozenset[tuple[str | None, str]] = field(repr=False)
    lifts: Mapping[str, tuple[Lift, ...]] = field(repr=False)
    first_parts: frozenset[str] = field(repr=False)
    shop: Shop = field(repr=False)

    def moment(self, minute: int) -> DatedText:
        """`Mon 1 Feb 07:30`."""
        return times.moment(self.plan.network.hours.start, minute, self.units)

    def moment_after(self, first: int, second: int) -> DatedText:
        """`second`, without its day when it lies on the day of `first`."""
        return times.moment_after(self.plan.network.hours.start, first, second, self.units)

    def iso(self, minute: int) -> str:
        """`2027-02-01T07:30`, for programs."""
        return times.iso(self.plan.network.hours.start, minute)

    def worked(self, task: str, minutes: int) -> int:
        """When so many minutes of a task are done, by the spells in which it is worked."""
        placed = self.placed[task]
        for begin, end in placed.spells:
            if minutes < end - begin:
                return begin + minutes
            minutes -= end - begin
        return placed.end if placed.spells else placed.start

    def minutes(self, task: Task) -> int:
        """How long a task is worked; of one that is told done, how long that is told to have taken."""
        if task.done is None or task.taken:
            return task.minutes
        return task.done[1] - task.done[0]

    def last_chance(self, task: Task, point: Point, minute: int) -> int:
        """The last minute up to `minute` at which a task can start, or end, in the hours that the shop works
        on it; `minute` itself where there is none."""
        return self.shop.last_chance(task, point, minute)

    @property
    def first_work(self) -> int:
        """The minute in which the first work begins; the coming of a stock is no work, and when work was done
        that is only taken as done nobody has told."""
        return min((self.placed[t.name].start for t in self.run if t.crew and not t.taken), default=0)

    def time_of(self, task: str, point: Point) -> int:
        placed = self.placed[task]
        return placed.start if point is Point.START else placed.end


def basis_of(
    spec: Spec, takeoff: Takeoff, plan: Plan, costing: Costing, problems: tuple[Problem, ...], units: str
) -> Basis:
    """What the sheets are made from: the results of all stages, with their look-ups."""
    tasks = {task.name: task for task in plan.network.tasks}
    into: dict[str, list[GapEdge]] = {name: [] for name in tasks}
    out_of: dict[str, list[GapEdge]] = {name: [] for name in tasks}
    for edge in plan.network.gaps:
        into[edge.after].append(edge)
        out_of[edge.before].append(edge)
    gaps_above, gaps_last = _waits(spec)
    # A task without minutes (taking a mold) comes before what starts at the same minute and lasts.
    run = tuple(tasks[p.task] for p in sorted(plan.placed, key=lambda p: (p.start, p.end)))
    first_parts: dict[tuple[str, str, str], str] = {}
    for task in run:
        first_parts.setdefault((task.owner, task.copy, task.step), task.name)
    return Basis(
        spec=spec,
        takeoff=takeoff,
        plan=plan,
        costing=costing,
        problems=problems,
        units=units,
        steps={(step.owner, step.name): step for step in _steps(spec)},
        gaps_above=gaps_above,
        gaps_last=gaps_last,
        run=run,
        tasks=tasks,
        placed={placed.task: placed for placed in plan.placed},
        into={name: tuple(edges) for name, edges in into.items()},
        out_of={name: tuple(edges) for name, edges in out_of.items()},
        critical=frozenset(link.task for link in plan.critical),
        links=frozenset((link.before, link.task) for link in plan.critical),
        lifts=_lifts(takeoff),
        first_parts=frozenset(first_parts.values()),
        shop=Shop(plan.network.hours, plan.network.resources),
    )


def _lifts(takeoff: Takeoff) -> dict[str, tuple[Lift, ...]]:
    found: dict[str, list[Lift]] = {}
    for lift in takeoff.lifts:
        found.setdefault(lift.step, []).append(lift)
    return {step: tuple(lifts) for step, lifts in found.items()}


def _steps(spec: Spec) -> Iterable[Step]:
    for owner in spec.owners():
        for item in owner.sequence:
            if isinstance(item, Step):
                yield item


def _waits(spec: Spec) -> tuple[dict[tuple[str, str], tuple[Gap, ...]], dict[str, tuple[Gap, ...]]]:
    above: dict[tuple[str, str], tuple[Gap, ...]] = {}
    last: dict[str, tuple[Gap, ...]] = {}
    for owner in spec.owners():
        pending: list[Gap] = []
        for item in owner.sequence:
            if isinstance(item, Gap):
                pending.append(item)
            elif isinstance(item, Step):
                if pending:
                    above[(item.owner, item.name)] = tuple(pending)
                pending = []
        if pending:
            last[owner.name] = tuple(pending)
    return above, last


# ---------------------------------------------------------------- names and copies


def is_arrival(task: Task) -> bool:
    """Whether a task is the point in time at which a stock or fitting is there: no work, on no traveller."""
    return task.kind == "arrival"


def is_ready(task: Task) -> bool:
    """Whether a task is the point in time at which the waits below an owner's last step are over."""
    return task.kind == "ready"


def owner_of(spec: Spec, name: str) -> Owner | None:
    """The piece, job or mold of that name; None when there is none."""
    return spec.pieces.get(name) or spec.jobs.get(name) or spec.molds.get(name)


def called(spec: Spec, name: str) -> str:
    """How the shop calls a stock, mix, fitting, mold, station, piece or job: its label, else its name."""
    for kind in (
        spec.stocks,
        spec.mixes,
        spec.fittings,
        spec.molds,
        spec.stations,
        spec.pieces,
        spec.jobs,
    ):
        thing = kind.get(name)
        if thing is not None:
            return thing.label or name
    return name


def volume_text(spec: Spec, material: str | None, cubic_metres: Fraction, units: str) -> str:
    """A volume in the unit of its trade: what has a binder is told as concrete, all else as a liquid."""
    mix = spec.mixes.get(material or "")
    concrete = mix is not None and any(line.role is Role.BINDER for line in mix.ingredients)
    return (amounts.cast_volume if concrete else amounts.volume)(cubic_metres, units)


def copy_order(copy: str) -> tuple[bool, int, str]:
    """Plain copies by number, then mirrored ones by number."""
    digits = copy.removeprefix("m")
    return (copy.startswith("m"), int(digits) if digits.isdigit() else 0, copy)


def copies_of(basis: Basis, owner: str, step: str) -> tuple[str, ...]:
    """The copies of which the plan does a step; ("",) for a thing made once."""
    copies = {task.copy for task in basis.run if task.owner == owner and task.step == step}
    return tuple(sorted(copies, key=copy_order))


def with_copy(owner: str, copy: str) -> str:
    """The name of a step with its copy in it: `stool.3.hone`."""
    return f"{owner}.{copy}" if copy else owner


def copies_text(copies: tuple[str, ...]) -> str:
    """`1 to 12, m1 to m4`; empty for a thing made once. `copies` in the order of `copy_order`."""
    runs: list[list[str]] = []
    for copy in (c for c in copies if c):
        if runs and copy_order(copy)[:2] == _next(runs[-1][-1]):
            runs[-1].append(copy)
        else:
            runs.append([copy])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 1 else run[0] for run in runs)


def _next(copy: str) -> tuple[bool, int]:
    mirrored, number, _ = copy_order(copy)
    return (mirrored, number + 1)
