"""The constraints of a network, told to a general-purpose solver as they stand: an outside judge of what the
planner says. Shares no code with the planner but the model; wants the package ortools.

Time is in whole minutes on the calendar. The hours of a task are minutes marked open one by one; for a task
that pauses there is one literal for each pair of open stretches in which it could start and end. A wait that
passes by warmth is a difference of ages, where age is a line from one change of the shop's warmth to the
next; the lines are told as far as a plan is found that breaks them.
"""

from bisect import bisect_right
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model
from raw_horizons import MILLION, blocks_of, far_minute, rooms_of
from raw_hours import DAY, WEEK, open_minutes, people_of, stretches_of, there_on

from castlang.plan.model import Ageing, GapEdge, Network, Point, Task

LIMIT = 5.0  # deterministic units, past which the answer is open
ROUNDS = 400  # plans found that break a warm wait, past which the answer is open


def plan_ends_by(
    network: Network, horizon: int, *, crowded: bool = True, limit: float = LIMIT
) -> bool | None:
    """Whether any plan ends by `horizon`; None where the solver does not know. crowded: with no more people
    and places than there are; else as many as are wanted, in the same hours. limit: deterministic units."""
    if horizon < 0:
        return not network.tasks
    raw = _Raw(network, horizon, crowded)
    left = limit
    for _ in range(ROUNDS):
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.max_deterministic_time = left
        status = solver.solve(raw.model)
        if status == cp_model.MODEL_INVALID:
            raise AssertionError("the raw model is not valid")
        if status == cp_model.INFEASIBLE:
            return False
        if status == cp_model.UNKNOWN:
            return None
        broken = [aged for aged in raw.aged if not aged.kept(solver)]
        if not broken:
            return True
        for aged in broken:
            raw.line(aged, solver)
        left -= solver.response_proto.deterministic_time
        if left <= 0:
            return None
    return None


def there_is_a_plan(network: Network, about: Collection[str]) -> bool | None:
    """Whether there is any plan at all; None where the solver does not know. about: tasks that are said to
    clash.

    A part of a network with no plan has none with the rest of it, and is sooner refuted: these tasks are
    looked at alone, then with what lies between them, then with all of their copies and all that those wait
    for, then the whole.
    """
    tasks = {task.name: task for task in network.tasks}
    copies = {(tasks[name].owner, tasks[name].copy) for name in about}
    beside = {name for name, task in tasks.items() if (task.owner, task.copy) in copies}
    between = set(about) | _behind(network, set(about)) & _ahead(network, set(about))
    blocks = blocks_of(network)
    bound = {name for name, block in blocks.items() if block in {blocks[other] for other in about}}
    parts = [
        set(about),
        bound & between,
        between,
        _behind(network, set(about)),
        _behind(network, beside),
        set(tasks),
    ]
    left = [_part(network, part) for n, part in enumerate(parts) if part and part not in parts[:n]]
    for limit in (LIMIT / 10, LIMIT):  # a little for each before much for any
        for part in tuple(left):
            horizon = far_minute(part)
            found = plan_ends_by(part, horizon, limit=limit)
            if found is None and plan_ends_by(part, horizon, limit=limit, crowded=False) is False:
                found = False
            if found is False:
                return False
            if found:
                left.remove(part)
    return None if left else True


def _behind(network: Network, names: set[str]) -> set[str]:
    """These tasks, and all that any of them waits for."""
    found = set(names)
    size = 0
    while size != len(found):
        size = len(found)
        found |= {gap.before for gap in network.gaps if gap.after in found}
    return found


def _ahead(network: Network, names: set[str]) -> set[str]:
    """These tasks, and all that wait for any of them."""
    found = set(names)
    size = 0
    while size != len(found):
        size = len(found)
        found |= {gap.after for gap in network.gaps if gap.before in found}
    return found


def _part(network: Network, names: set[str]) -> Network:
    """Some of the tasks with what ties them to one another and what they take."""
    return replace(
        network,
        tasks=tuple(task for task in network.tasks if task.name in names),
        gaps=tuple(gap for gap in network.gaps if {gap.before, gap.after} <= names),
        holds=tuple(hold for hold in network.holds if {hold.first, hold.last or hold.first} <= names),
    )


@dataclass(frozen=True, slots=True)
class _Age:
    """How old a thing is at each minute, in millionths of a minute: from each of `since` on it gains
    `rate`."""

    since: tuple[int, ...]
    ages: tuple[int, ...]
    rates: tuple[int, ...]

    def at(self, minute: int) -> int:
        n = self.zone(minute)
        return self.ages[n] + self.rates[n] * (minute - self.since[n])

    def zone(self, minute: int) -> int:
        return bisect_right(self.since, minute) - 1


def _age_of(ageing: Ageing, horizon: int) -> _Age:
    since, rates = [], []
    week = [spell for spell in ageing.spells if spell[0] < ageing.settled + WEEK]
    turn = [
        (max(a, ageing.settled), rate)
        for a, b, rate in _spells(week, ageing.settled + WEEK)
        if b > ageing.settled
    ]
    for begin, _, rate in week:
        if begin < ageing.settled:
            since.append(begin)
            rates.append(rate)
    weeks = range(max(0, horizon - ageing.settled) // WEEK + 1)
    for begin, rate in ((begin + n * WEEK, rate) for n in weeks for begin, rate in turn):
        if not rates or rates[-1] != rate:
            since.append(begin)
            rates.append(rate)
    ages = [0]
    for n in range(1, len(since)):
        ages.append(ages[-1] + rates[n - 1] * (since[n] - since[n - 1]))
    return _Age(tuple(since), tuple(ages), tuple(rates))


def _spells(spells: list[tuple[int, int, int]], end: int) -> Iterator[tuple[int, int, int]]:
    """Each spell as (from, to, rate)."""
    for n, (begin, _, rate) in enumerate(spells):
        yield begin, spells[n + 1][0] if n + 1 < len(spells) else end, rate


@dataclass(frozen=True, slots=True)
class _Aged:
    """From `start` to `end` a thing grows by `age` or more, or where `most` by that or less."""

    age_of: _Age
    start: cp_model.LinearExprT
    end: cp_model.IntVar
    age: int
    most: bool

    def kept(self, solver: cp_model.CpSolver) -> bool:
        gained = self.age_of.at(solver.value(self.end)) - self.age_of.at(solver.value(self.start))
        return gained <= self.age if self.most else gained >= self.age


class _Raw:
    """A network as a model of the solver."""

    def __init__(self, network: Network, horizon: int, crowded: bool) -> None:
        self.network = network
        self.crowded = crowded
        self.horizon = horizon
        self.model = cp_model.CpModel()
        self.start: dict[str, cp_model.IntVar] = {}
        self.end: dict[str, cp_model.IntVar] = {}
        self.crew: dict[str, list[tuple[cp_model.IntervalVar, int]]] = {}
        self.places: dict[str, list[tuple[cp_model.IntervalVar, int]]] = {}
        self.aged: list[_Aged] = []
        self.ages: dict[Ageing, _Age] = {}
        self.literals: dict[tuple[int, int, bool], cp_model.IntVar] = {}
        self.room = rooms_of(network, horizon)
        for task in network.tasks:
            self._task(task)
        for gap in network.gaps:
            self._gap(gap)
        self._holds()
        if crowded:
            self._room()

    def _task(self, task: Task) -> None:
        model, far = self.model, self.horizon
        low, high = self.room[task.name]
        start = model.new_int_var(low, high, f"{task.name} start")
        end = model.new_int_var(low, high, f"{task.name} end")
        model.add(end <= (far if task.latest is None else min(far, task.latest)))
        self.start[task.name], self.end[task.name] = start, end
        stretches = list(stretches_of(open_minutes(self.network, task, high), low))
        if not task.minutes:
            model.add(start == end)
            if task.crew or task.needs:
                self._one_of(start, [(a, b) for a, b in stretches])
            return
        if not task.may_pause or len(stretches) == 1:
            model.add(end == start + task.minutes)
            self._one_of(start, [(a, b - task.minutes) for a, b in stretches if b - task.minutes >= a])
            spells = [model.new_fixed_size_interval_var(start, task.minutes, task.name)]
        else:
            spells = list(self._pausing(task, stretches))
        whole = model.new_interval_var(
            start, model.new_int_var(task.minutes, far + 1, ""), end, f"{task.name} whole"
        )
        for need in task.needs:
            self.places.setdefault(need.resource, []).append((whole, need.amount))
        for role, people in people_of(task).items():
            self.crew.setdefault(role, []).extend((spell, people) for spell in spells)

    def _gap(self, gap: GapEdge) -> None:
        before = (self.end if gap.before_point is Point.END else self.start)[gap.before]
        after = (self.end if gap.after_point is Point.END else self.start)[gap.after]
        if not gap.stretches:
            self.model.add(after - before >= gap.least)
            if gap.longest is not None:
                self.model.add(after - before <= gap.longest)
            return
        over: cp_model.LinearExprT = before
        closes: cp_model.LinearExprT = before
        for part in gap.stretches:
            over = self._waited(over, part.ageing, part.least, most=False)
            if gap.longest is not None:
                closes = self._waited(closes, part.ageing, part.longest or 0, most=True)
        self.model.add(after >= over)
        if gap.longest is not None:
            self.model.add(after <= closes)

    def _waited(
        self, start: cp_model.LinearExprT, ageing: Ageing | None, minutes: int, *, most: bool
    ) -> cp_model.LinearExprT:
        """A minute behind `start` at which a wait is over, or not yet over where `most`."""
        if ageing is None:
            return start + minutes
        if ageing not in self.ages:
            self.ages[ageing] = _age_of(ageing, self.horizon)
        age_of = self.ages[ageing]
        end = self.model.new_int_var(0, self.horizon, "")
        age = minutes * MILLION
        if most and min(age_of.rates):
            self.model.add(end - start <= age // min(age_of.rates))
        if not most:
            self.model.add(end - start >= -(-age // max(age_of.rates)))
        self.aged.append(_Aged(age_of, start, end, age, most))
        return end

    def line(self, aged: _Aged, solver: cp_model.CpSolver) -> None:
        """Tell what an aged wait asks while the warmth at its start and that at its end are as in a plan
        found."""
        age_of, model = aged.age_of, self.model
        within = []
        grown: list[cp_model.LinearExprT] = []
        for point in (aged.start, aged.end):
            n = age_of.zone(solver.value(point))
            begin = age_of.since[n]
            within += [self._told(point, begin, behind=True)]
            if n + 1 < len(age_of.since):
                within += [self._told(point, age_of.since[n + 1], behind=False)]
            grown.append(age_of.ages[n] - age_of.rates[n] * begin + age_of.rates[n] * point)
        gained = grown[1] - grown[0]
        told = gained <= aged.age if aged.most else gained >= aged.age
        model.add(told).only_enforce_if(within)

    def _told(self, point: cp_model.LinearExprT, minute: int, *, behind: bool) -> cp_model.IntVar:
        """A literal that is true at least where a point lies at a minute or behind it, or before it."""
        key = (id(point), minute, behind)
        if key not in self.literals:
            literal = self.model.new_bool_var("")
            other = point <= minute - 1 if behind else point >= minute + 1
            self.model.add(other).only_enforce_if(literal.negated())
            self.literals[key] = literal
        return self.literals[key]

    def _one_of(self, variable: cp_model.IntVar, ranges: list[tuple[int, int]]) -> None:
        domain = cp_model.Domain.from_intervals([list(r) for r in ranges])
        self.model.add_linear_expression_in_domain(variable, domain)

    def _pausing(self, task: Task, stretches: list[tuple[int, int]]) -> Iterator[cp_model.IntervalVar]:
        """One literal for each stretch to start in and to end in, and the spells worked in between."""
        model, start, end = self.model, self.start[task.name], self.end[task.name]
        before = [0]  # minutes open before each stretch
        for a, b in stretches:
            before.append(before[-1] + b - a)
        ways = []
        pieces: list[
            tuple[cp_model.IntVar, cp_model.IntVar, list[cp_model.IntVar]]
        ] = []  # of the work: from, to
        for i, (a, b) in enumerate(stretches):
            for j in range(i, len(stretches)):
                shift = stretches[j][0] - before[j] - a + before[i] + task.minutes
                # The work ends in stretch j, later than its first minute and no later than its last.
                low = max(a, stretches[j][0] + 1 - shift)
                high = min(b - 1, stretches[j][1] - shift)
                if low > high:
                    if stretches[j][0] + 1 - shift > b - 1:
                        break
                    continue
                way = model.new_bool_var("")
                ways.append(way)
                model.add_linear_constraint(start, low, high).only_enforce_if(way)
                model.add(end == start + shift).only_enforce_if(way)
                for n, (c, d) in enumerate(stretches[i : j + 1] if self.crowded else ()):
                    if n == len(pieces):
                        points = [model.new_int_var(0, self.horizon, "") for _ in range(2)]
                        pieces.append((points[0], points[1], []))
                    first, last, here = pieces[n]
                    here.append(way)
                    model.add(first == (start if n == 0 else c)).only_enforce_if(way)
                    model.add(last == (end if n == j - i else d)).only_enforce_if(way)
        model.add_exactly_one(ways)
        if not self.crowded:
            return
        for first, last, here in pieces:
            there = model.new_bool_var("")
            model.add(sum(here) == there)
            size = model.new_int_var(0, task.minutes, "")
            yield model.new_optional_interval_var(first, size, last, there, "")

    def _holds(self) -> None:
        for hold in self.network.holds:
            start = self.start[hold.first]
            end: cp_model.IntVar | int = self.horizon + 1 if hold.last is None else self.end[hold.last]
            self.model.add(end >= start)
            lasts = self.model.new_bool_var("")
            size = self.model.new_int_var(0, self.horizon + 1, "")
            self.model.add(size == end - start)
            self.model.add(size == 0).only_enforce_if(lasts.negated())
            held = self.model.new_optional_interval_var(start, size, end, lasts, "")
            self.places.setdefault(hold.resource, []).append((held, hold.amount))

    def _room(self) -> None:
        capacity = {resource.name: resource.capacity for resource in self.network.resources}
        for name, taken in self.places.items():
            self.model.add_cumulative([i for i, _ in taken], [amount for _, amount in taken], capacity[name])
        hours = self.network.hours
        full = there_on(hours, -1)
        for role, taken in self.crew.items():
            room = full.get(role, 0)
            for day in hours.away:
                gone = room - there_on(hours, day).get(role, 0)
                if gone > 0 and day * DAY <= self.horizon:
                    taken.append((self.model.new_fixed_size_interval_var(day * DAY, DAY, ""), gone))
            self.model.add_cumulative([i for i, _ in taken], [people for _, people in taken], room)
