"""The door to the constraint solver: a network told to it as it stands, with a plan to begin from.

Loaded only when the solver is asked, since the package is large and an extra.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import gcd

from ortools.sat.python import cp_model

from castlang.plan.clock import DAY
from castlang.plan.floor import Claim
from castlang.plan.hours import people_away, people_wanted
from castlang.plan.model import GapEdge, Task
from castlang.plan.placing import Setting, Standing
from castlang.plan.profile import Line
from castlang.plan.solver import Solved
from castlang.plan.ties import Arc
from castlang.plan.trials import due_tasks


@dataclass(slots=True, kw_only=True)
class _Paused:
    """A task that pauses: literals for the spell in which it starts and the one in which it ends."""

    spells: tuple[tuple[int, int], ...]
    starts: list[cp_model.IntVar]
    ends: list[cp_model.IntVar]
    place: cp_model.IntVar
    end: cp_model.IntVar


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

    without: windows that are left out, and tasks whose latest dates are; free: lines with room for all."""

    def __init__(
        self,
        setting: Setting,
        horizon: int,
        bound: int,
        without: frozenset[GapEdge | Task] = frozenset(),
        free: frozenset[Line] = frozenset(),
    ) -> None:
        self.without = without
        self.free = free
        self.setting = setting
        self.horizon = horizon
        self.grain = _grain(setting)
        self.model = cp_model.CpModel()
        self.lines: dict[Line, _Line] = {}
        self.paused: dict[int, _Paused] = {}
        self.start: list[cp_model.IntVar] = []
        self.end: list[cp_model.LinearExprT] = []
        # Rounded up: a plan's ends all lie on the grain.
        self.finish = self.model.new_int_var(-(-bound // self.grain), horizon // self.grain, "finish")
        for k in range(len(setting.soonest)):
            self._task(k)
        for arc in setting.floor.ties.arcs:
            self._arc(arc)
        self._holds()
        self._capacities()
        for end in self.end:
            self.model.add(self.finish >= end)
        self._aim()

    def _aim(self) -> None:
        """The least weighed minutes past the due dates, then the least finish."""
        far = self.horizon // self.grain
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
        low = self.setting.soonest[k]
        dated = task.latest is not None and task not in self.without
        high = min(self.horizon, task.latest or 0) if dated else self.horizon
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
            self._pausing(k, claim, start, high)
        else:
            self.end.append(start + claim.minutes // g)
        self._needs(k, claim)

    def _pausing(self, k: int, claim: Claim, start: cp_model.IntVar, high: int) -> None:
        """The end of a task that pauses: its start and end as minutes worked since the first spell."""
        if claim.spells is None:
            raise ValueError("a task by the clock does not pause")
        g, model = self.grain, self.model
        spells = tuple((a // g, b // g) for a, b in claim.spells.between(self.setting.soonest[k], high))
        total = sum(b - a for a, b in spells)
        end = model.new_int_var(0, high // g, f"e{k}")
        place = model.new_int_var(0, total, f"w{k}")
        starts = [model.new_bool_var(f"p{k}.{n}") for n in range(len(spells))]
        ends = [model.new_bool_var(f"q{k}.{n}") for n in range(len(spells))]
        model.add_exactly_one(starts)
        model.add_exactly_one(ends)
        done = 0
        for (a, b), begins, finishes in zip(spells, starts, ends, strict=True):
            model.add_linear_constraint(start, a, b - 1).only_enforce_if(begins)
            model.add(place == start - a + done).only_enforce_if(begins)
            model.add_linear_constraint(end, a + 1, b).only_enforce_if(finishes)
            model.add(place + claim.minutes // g == end - a + done).only_enforce_if(finishes)
            done += b - a
        self.end.append(end)
        self.paused[k] = _Paused(spells=spells, starts=starts, ends=ends, place=place, end=end)

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
            size = self.model.new_int_var(0, self.horizon // self.grain, f"d{k}")
            whole = self.model.new_interval_var(self.start[k], size, self.end[k], f"i{k}")
        for need in task.needs:
            self._line(("place", need.resource)).take(whole, need.amount, fixed)
        if fixed:
            for role, amount in people:
                self._line(("crew", role or "")).take(whole, amount)
        elif people:
            for spell in self._spells(k):
                for role, amount in people:
                    self._line(("crew", role or "")).take(spell, amount, False)

    def _spells(self, k: int) -> Iterable[cp_model.IntervalVar]:
        """For a task that pauses an interval in each spell in which it is worked."""
        model, paused = self.model, self.paused[k]
        for n, (a, b) in enumerate(paused.spells):
            begins, finishes = paused.starts[n], paused.ends[n]
            there = model.new_bool_var(f"t{k}.{n}")
            model.add(there == sum(paused.starts[: n + 1]) + sum(paused.ends[n:]) - 1)
            start = model.new_int_var(a, b, f"a{k}.{n}")
            end = model.new_int_var(a, b, f"b{k}.{n}")
            size = model.new_int_var(0, b - a, f"c{k}.{n}")
            model.add(start == self.start[k]).only_enforce_if(begins)
            model.add(start == a).only_enforce_if(begins.negated())
            model.add(end == paused.end).only_enforce_if(finishes)
            model.add(end == b).only_enforce_if(finishes.negated())
            yield model.new_optional_interval_var(start, size, end, there, f"o{k}.{n}")

    def _line(self, line: Line) -> _Line:
        return self.lines.setdefault(line, _Line())

    def _arc(self, arc: Arc) -> None:
        if arc.longest and arc.gap in self.without:
            return
        tail = self.end[arc.tail] if arc.tail_end else self.start[arc.tail]
        head = self.end[arc.head] if arc.head_end else self.start[arc.head]
        self.model.add(head >= tail + arc.weight // self.grain)

    def _holds(self) -> None:
        holds = self.setting.floor.ties.network.holds
        index = self.setting.floor.ties.index
        far = self.horizon // self.grain + 1
        for n, hold in enumerate(sorted(holds, key=lambda h: (h.resource, h.first, h.last or "", h.amount))):
            start = self.start[index[hold.first]]
            end = far if hold.last is None else self.end[index[hold.last]]
            size = self.model.new_int_var(0, far, f"h{n}")
            interval = self.model.new_interval_var(start, size, end, f"k{n}")
            self._line(("place", hold.resource)).take(interval, hold.amount, False)

    def _capacities(self) -> None:
        floor = self.setting.floor
        hours = floor.ties.network.hours
        for day in sorted(hours.away):
            for role, people in people_away(hours, day).items():
                line = ("crew", role or "")
                if people and line in self.lines and day * DAY < self.horizon:
                    whole = self.model.new_fixed_size_interval_var(
                        day * DAY // self.grain, DAY // self.grain, f"away{day}{role}"
                    )
                    self.lines[line].take(whole, people)
        for line in sorted(self.lines.keys() & floor.capacity.keys()):
            taken, room = self.lines[line], floor.capacity[line]
            if line in self.free or sum(taken.demands) <= room:
                continue
            if taken.fixed and all(2 * demand > room for demand in taken.demands):
                self.model.add_no_overlap(taken.intervals)
            else:
                self.model.add_cumulative(taken.intervals, taken.demands, room)

    # ------------------------------------------------------------ asking and hearing

    def hint(self, known: Standing) -> None:
        """A complete plan to begin from."""
        g = self.grain
        self.model.add_hint(self.finish, known.finish // g)
        for k, start in enumerate(known.start):
            self.model.add_hint(self.start[k], start // g)
        for k, paused in self.paused.items():
            start, end = known.start[k] // g, known.end[k] // g
            done = 0
            self.model.add_hint(paused.end, end)
            for n, (a, b) in enumerate(paused.spells):
                self.model.add_hint(paused.starts[n], a <= start < b)
                self.model.add_hint(paused.ends[n], a < end <= b)
                if a <= start < b:
                    self.model.add_hint(paused.place, start - a + done)
                done += b - a

    def solve(self, limit: float) -> Solved:
        """The best plan that the solver finds within the limit, and what it proves."""
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        solver.parameters.linearization_level = 0
        solver.parameters.max_deterministic_time = limit
        status = solver.solve(self.model)
        if status == cp_model.INFEASIBLE:
            return Solved(standing=None, bound=self.horizon, impossible=True)
        aimed = self.setting.floor.ties.network.dues
        least = 0 if status == cp_model.UNKNOWN or aimed else int(solver.best_objective_bound)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return Solved(standing=None, bound=least * self.grain)
        start = tuple(solver.value(var) * self.grain for var in self.start)
        end = tuple(self.setting.floor.ends(k, minute) for k, minute in enumerate(start))
        standing = Standing(start=start, end=end, found=start, finish=max(end))
        return Solved(standing=standing, bound=least * self.grain)


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
