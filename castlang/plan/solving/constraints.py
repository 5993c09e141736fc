"""The door to the constraint solver: a network told to it as it stands, with a plan to begin from.

Loaded only when the solver is asked, since the package is large and an extra.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import gcd

from ortools.sat.python import cp_model

from castlang.plan.clock import DAY
from castlang.plan.gaps.windows import times_of_ties
from castlang.plan.hours import people_away, people_wanted
from castlang.plan.model import GapEdge, Task
from castlang.plan.placement.floor import Claim
from castlang.plan.placement.placing import Setting, Standing
from castlang.plan.placement.profile import Line
from castlang.plan.searches.trials import due_tasks
from castlang.plan.solving.pauses import Paused, alike
from castlang.plan.solving.solver import Solved
from castlang.plan.ties import Arc
from castlang.source.model import Span


@dataclass(slots=True, kw_only=True)
class _Line:
    """What is taken of one line."""

    intervals: list[cp_model.IntervalVar] = field(default_factory=list)
    demands: list[int] = field(default_factory=list)
    fixed: bool = True

    def take(self, interval: cp_model.IntervalVar, demand: int, fixed: bool = True) -> None:
        self.intervals.append(interval)
        self.demands.append(demand)
        self.fixed = self.fixed and fixed


class Constraints:
    """A network as a model of the solver, all minutes in grains of their greatest common divisor.

    bound: a minute before which no plan can finish; None where any plan will do, however late it ends. loose:
    windows, latest dates and lines hold only where their literals are true. soft: windows, and tasks with
    latest dates, that may be overrun, by as little as can be; those of one line of text by the same slack."""

    def __init__(
        self,
        setting: Setting,
        horizon: int,
        bound: int | None,
        loose: bool = False,
        soft: frozenset[GapEdge | Task] = frozenset(),
    ) -> None:
        self.soft = soft
        self.slack: dict[GapEdge | Task | Span, cp_model.IntVar] = {}
        self.loose = loose
        self.literals: dict[GapEdge | Task | Line, cp_model.IntVar] = {}
        self.setting = setting
        tasks = setting.floor.ties.tasks
        # Windows raise the soonest starts too: without them tasks may start sooner.
        self.soonest = [task.earliest or 0 for task in tasks] if loose else setting.soonest
        self.horizon = horizon
        self.latest = [horizon] * len(tasks) if loose or soft else _latest_ends(setting, horizon)
        self.grain = _grain(setting)
        self.model = cp_model.CpModel()
        self.lines: dict[Line, _Line] = {}
        self.crews: dict[Line, list[tuple[int, cp_model.IntervalVar, int]]] = {}
        self.paused: dict[int, Paused] = {}
        self.start: list[cp_model.IntVar] = []
        self.end: list[cp_model.LinearExprT] = []
        for k in range(len(setting.soonest)):
            self._task(k)
        for arc in setting.floor.ties.arcs:
            self._arc(arc)
        self._people()
        self._holds()
        self._capacities()
        if bound is not None:
            self._aim(bound)
        elif self.slack:
            self.model.minimize(cp_model.LinearExpr.sum(list(self.slack.values())))

    def _aim(self, bound: int) -> None:
        """The least weighed minutes past the due dates, then the least finish."""
        far = self.horizon // self.grain
        # Rounded up: a plan's ends all lie on the grain.
        self.finish = self.model.new_int_var(-(-bound // self.grain), far, "finish")
        for end in self.end:
            self.model.add(self.finish >= end)
        aim: list[cp_model.LinearExpr] = [self.finish + 0]
        for n, (due, own) in enumerate(due_tasks(self.setting.floor.ties)):
            past = self.model.new_int_var(0, far, f"late{n}")
            for k in own:
                self.model.add(past >= self.end[k] - due.minute // self.grain)
            aim.append(past * (due.weight * (far + 1)))
        self.model.minimize(cp_model.LinearExpr.sum(aim))

    # ------------------------------------------------------------ tasks

    def _task(self, k: int) -> None:
        claim = self.setting.floor.claims[k]
        task = self.setting.floor.ties.tasks[k]
        low = self.soonest[k]
        high = self.latest[k]
        if claim.spells is None:
            starts = [(low, high - claim.minutes)]
        else:
            spells = claim.spells.between(max(low - 1, 0), high + 1)
            piece = claim.piece
            starts = [(max(a, low), min(b - piece, high - claim.minutes)) for a, b in spells]
        g = self.grain
        domain = [(-(-a // g), b // g) for a, b in starts if -(-a // g) <= b // g]
        start = self.model.new_int_var_from_domain(cp_model.Domain.from_intervals(domain), f"s{k}")
        self.start.append(start)
        if claim.pauses:
            worked = claim.spells.between(low, high) if claim.spells is not None else ()
            pieces = [(a // g, b // g) for a, b in worked]
            self.paused[k] = Paused(self.model, start, pieces, claim.minutes // g)
            self.end.append(self.paused[k].end)
        else:
            self.end.append(start + claim.minutes // g)
        if task.latest is not None and self.loose:
            self.model.add(self.end[k] <= task.latest // g).only_enforce_if(self._literal(task))
        if task.latest is not None and task in self.soft:
            self.model.add(self.end[k] <= task.latest // g + self._slack(task))
        self._needs(k, claim)

    def _slack(self, key: GapEdge | Task) -> cp_model.IntVar:
        line = key.span if key.span.file else key
        if line not in self.slack:
            self.slack[line] = self.model.new_int_var(0, self.horizon // self.grain, f"z{len(self.slack)}")
        return self.slack[line]

    def _literal(self, key: GapEdge | Task | Line) -> cp_model.IntVar:
        if key not in self.literals:
            self.literals[key] = self.model.new_bool_var(f"l{len(self.literals)}")
        return self.literals[key]

    # ------------------------------------------------------------ what tasks take

    def _needs(self, k: int, claim: Claim) -> None:
        task = self.setting.floor.ties.tasks[k]
        people = people_wanted(task)
        if not task.minutes or not (people or task.needs):
            return
        fixed = not claim.pauses
        if fixed:
            whole = self.model.new_fixed_size_interval_var(self.start[k], task.minutes // self.grain, f"i{k}")
        else:
            size = self.model.new_int_var(task.minutes // self.grain, self.horizon // self.grain, f"d{k}")
            whole = self.model.new_interval_var(self.start[k], size, self.end[k], f"i{k}")
        for need in task.needs:
            self._line(("place", need.resource)).take(whole, need.amount, fixed)
        for role, amount in people:
            self.crews.setdefault(("crew", role or ""), []).append((k, whole, amount))

    def _people(self) -> None:
        """What tasks take of the crew: one interval each, and of those that pause where that tells the same,
        else one for each spell in which they may be worked."""
        spells: dict[int, list[cp_model.IntervalVar]] = {}
        for line, taken in self.crews.items():
            whole = self._alike([k for k, _, _ in taken])
            for k, interval, amount in taken:
                pauses = k in self.paused
                if pauses and not whole:
                    if k not in spells:
                        spells[k] = self.paused[k].intervals(self.model)
                    for spell in spells[k]:
                        self._line(line).take(spell, amount, False)
                else:
                    self._line(line).take(interval, amount, not pauses)

    def _alike(self, tasks: Sequence[int]) -> bool:
        since = min(self.soonest[k] for k in tasks)
        claims = [self.setting.floor.claims[k] for k in tasks]
        return alike(claims, since, self.horizon)

    def _line(self, line: Line) -> _Line:
        return self.lines.setdefault(line, _Line())

    def _arc(self, arc: Arc) -> None:
        tail = self.end[arc.tail] if arc.tail_end else self.start[arc.tail]
        head = self.end[arc.head] if arc.head_end else self.start[arc.head]
        weight = arc.weight // self.grain
        if arc.longest and arc.gap is not None and arc.gap in self.soft:
            over = cp_model.LinearExpr.sum([head, self._slack(arc.gap)])
            self.model.add(over >= tail + weight)
            return
        bound = self.model.add(head >= tail + weight)
        if self.loose and arc.longest and arc.gap is not None:
            bound.only_enforce_if(self._literal(arc.gap))

    def _holds(self) -> None:
        holds = self.setting.floor.ties.network.holds
        index = self.setting.floor.ties.index
        far = self.horizon // self.grain + 1
        lasting = {kept.hold: kept.least for kept in self.setting.floor.kept if kept.last is not None}
        for n, hold in enumerate(sorted(holds, key=lambda h: (h.resource, h.first, h.last or "", h.amount))):
            start = self.start[index[hold.first]]
            end = far if hold.last is None else self.end[index[hold.last]]
            least = 0 if self.loose else lasting.get(hold, 0) // self.grain
            size = self.model.new_int_var(least, far, f"h{n}")
            interval = self.model.new_interval_var(start, size, end, f"k{n}")
            self._line(("place", hold.resource)).take(interval, hold.amount, False)

    def _capacities(self) -> None:
        floor = self.setting.floor
        hours = floor.ties.network.hours
        for day in sorted(hours.away):
            for role, people in people_away(hours, day).items():
                line = ("crew", role or "")
                if people and line in self.lines and day * DAY < self.horizon and self._worked(line, day):
                    whole = self.model.new_fixed_size_interval_var(
                        day * DAY // self.grain, DAY // self.grain, f"away{day}{role}"
                    )
                    self.lines[line].take(whole, people)
        for line in sorted(self.lines.keys() & floor.capacity.keys()):
            taken, room = self.lines[line], floor.capacity[line]
            if sum(taken.demands) <= room:
                continue
            if taken.fixed and all(2 * demand > room for demand in taken.demands):
                kept = self.model.add_no_overlap(taken.intervals)
            else:
                kept = self.model.add_cumulative(taken.intervals, taken.demands, room)
            if self.loose:
                kept.only_enforce_if(self._literal(line))

    def _worked(self, line: Line, day: int) -> bool:
        """Whether anybody of a line may be at work on a day: else pauses would count against those away."""
        claims = [self.setting.floor.claims[k] for k, _, _ in self.crews[line]]
        spells = [claim.spells for claim in claims if claim.spells is not None]
        return any(own.between(day * DAY, (day + 1) * DAY) for own in dict.fromkeys(spells))

    # ------------------------------------------------------------ asking and hearing

    def hint(self, known: Standing) -> None:
        """A complete plan to begin from."""
        g = self.grain
        self.model.add_hint(self.finish, known.finish // g)
        for k, start in enumerate(known.start):
            self.model.add_hint(self.start[k], start // g)
        for k, paused in self.paused.items():
            paused.hint(self.model, known.start[k] // g, known.end[k] // g)

    def solve(self, limit: float, harder: bool = False) -> Solved:
        """The best plan that the solver finds within the limit, and what it proves. harder: it thinks longer
        about what is taken at once, and tries less."""
        solver = solver_of(limit)
        solver.parameters.use_timetable_edge_finding_in_cumulative = harder
        status = solver.solve(self.model)
        used = solver.response_proto.deterministic_time
        if status == cp_model.INFEASIBLE:
            return Solved(standing=None, bound=self.horizon, impossible=True, used=used)
        aimed = not self.model.has_objective() or self.setting.floor.ties.network.dues
        least = 0 if status == cp_model.UNKNOWN or aimed else int(solver.best_objective_bound)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return Solved(standing=None, bound=least * self.grain, used=used)
        start = tuple(solver.value(var) * self.grain for var in self.start)
        end = tuple(self.setting.floor.ends(k, minute) for k, minute in enumerate(start))
        standing = Standing(start=start, end=end, found=start, finish=max(end))
        return Solved(standing=standing, bound=least * self.grain, used=used)


def solver_of(limit: float) -> cp_model.CpSolver:
    """The solver, set to answer the same on every run. limit: its deterministic units."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.linearization_level = 0
    solver.parameters.max_deterministic_time = limit
    return solver


def _latest_ends(setting: Setting, horizon: int) -> list[int]:
    """The last end of each task by gaps and latest dates alone, so that all ends by the horizon: what comes
    before a date is not looked for behind it."""
    times = times_of_ties(setting.floor.ties, horizon)
    if isinstance(times, tuple):
        raise AssertionError("gaps that cannot be met")
    return [times.rows[task.name].latest_end for task in setting.floor.ties.tasks]


def _grain(setting: Setting) -> int:
    """The greatest minutes of which everything told is a multiple, so that some best plan has all its times
    on them: rounded down, they keep what they kept. Not where the end of a task that pauses must not come too
    soon, since its end may then fall by a night."""
    ties = setting.floor.ties
    if any(setting.floor.odd):
        return 1
    grain = DAY
    for task in ties.tasks:
        grain = gcd(grain, task.minutes, task.earliest or 0, task.latest or 0)
    for arc in ties.arcs:
        grain = gcd(grain, arc.weight)
    for spells in _all_spells(setting):
        for begin, end in spells:
            grain = gcd(grain, begin, end)
    return grain if grain > 0 else 1


def _all_spells(setting: Setting) -> Sequence[Sequence[tuple[int, int]]]:
    hours = setting.floor.ties.network.hours
    closed = [resource.closed for resource in setting.floor.ties.network.resources]
    return [*hours.week, *closed]
