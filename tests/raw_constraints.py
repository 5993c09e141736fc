"""The constraints of a network, told to a general-purpose solver as they stand: an outside judge of what the
planner says. Shares no code with the planner but the model; wants the package ortools.

Time is in whole minutes on the calendar. The hours of a task are minutes marked open one by one; for a task
that pauses there is one literal for each pair of open stretches in which it could start and end.
"""

from collections.abc import Iterator

from ortools.sat.python import cp_model

from castlang.plan.model import Hours, Network, Point, Task

DAY = 1440
WEEK = 7 * DAY
LIMIT = 5.0  # deterministic units, past which the answer is open


def far_minute(network: Network) -> int:
    """A minute by which a network that has a plan has one that ends: three weeks a task behind the last
    exception in the calendar and the last date. Of a longer plan a week in which nothing begins or ends and
    nothing is worked could be taken out."""
    days = [*network.hours.closed, *network.hours.away]
    closings = [end for resource in network.resources for _, end in resource.closed]
    dates = [
        minute for task in network.tasks for minute in (task.earliest, task.latest) if minute is not None
    ]
    last = max([0, *((day + 1) * DAY for day in days), *closings, *dates])
    return last + 3 * WEEK * (len(network.tasks) + 1)


def plan_ends_by(network: Network, horizon: int) -> bool | None:
    """Whether any plan ends by `horizon`; None where the solver does not know."""
    if horizon < 0:
        return not network.tasks
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = LIMIT
    status = solver.solve(_Raw(network, horizon).model)
    known = {cp_model.INFEASIBLE: False, cp_model.OPTIMAL: True, cp_model.FEASIBLE: True}
    if status == cp_model.MODEL_INVALID:
        raise AssertionError("the raw model is not valid")
    return known.get(status)


class _Raw:
    """A network as a model of the solver."""

    def __init__(self, network: Network, horizon: int) -> None:
        self.network = network
        self.horizon = horizon
        self.model = cp_model.CpModel()
        self.start: dict[str, cp_model.IntVar] = {}
        self.end: dict[str, cp_model.IntVar] = {}
        self.crew: dict[str, list[tuple[cp_model.IntervalVar, int]]] = {}
        self.places: dict[str, list[tuple[cp_model.IntervalVar, int]]] = {}
        for task in network.tasks:
            self._task(task)
        for gap in network.gaps:
            before = (self.end if gap.before_point is Point.END else self.start)[gap.before]
            after = (self.end if gap.after_point is Point.END else self.start)[gap.after]
            self.model.add(after - before >= gap.least)
            if gap.longest is not None:
                self.model.add(after - before <= gap.longest)
        self._holds()
        self._room()

    def _task(self, task: Task) -> None:
        model, far = self.model, self.horizon
        start = model.new_int_var(task.earliest or 0, max(far, task.earliest or 0), f"{task.name} start")
        end = model.new_int_var(0, far if task.latest is None else min(far, task.latest), f"{task.name} end")
        self.start[task.name], self.end[task.name] = start, end
        stretches = list(_stretches(_open_minutes(self.network, task, far)))
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
        for role, people in _people(task).items():
            self.crew.setdefault(role, []).extend((spell, people) for spell in spells)

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
                if i == j:
                    yield model.new_optional_fixed_size_interval_var(start, task.minutes, way, "")
                    continue
                first = model.new_int_var(1, b - a, "")
                last = model.new_int_var(1, stretches[j][1] - stretches[j][0], "")
                yield model.new_optional_interval_var(start, first, b, way, "")
                for c, d in stretches[i + 1 : j]:
                    yield model.new_optional_fixed_size_interval_var(c, d - c, way, "")
                yield model.new_optional_interval_var(stretches[j][0], last, end, way, "")
        model.add_exactly_one(ways)

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
        full = _there(hours, -1)
        for role, taken in self.crew.items():
            room = full.get(role, 0)
            for day in hours.away:
                gone = room - _there(hours, day).get(role, 0)
                if gone > 0 and day * DAY <= self.horizon:
                    taken.append((self.model.new_fixed_size_interval_var(day * DAY, DAY, ""), gone))
            self.model.add_cumulative([i for i, _ in taken], [people for _, people in taken], room)


def _people(task: Task) -> dict[str, int]:
    """People by role; under "" all of them together."""
    wanted: dict[str, int] = {}
    for role, people in task.crew:
        for key in {"", role or ""} if people else ():
            wanted[key] = wanted.get(key, 0) + people
    return wanted


def _there(hours: Hours, day: int) -> dict[str, int]:
    there: dict[str, int] = {}
    for role, people in hours.crew:
        for key in {"", role or ""}:
            there[key] = there.get(key, 0) + people
    for role, people in hours.away.get(day, ()):
        for key in {"", role or ""} & set(there):
            there[key] = max(0, there[key] - people)
    return there


def _open_minutes(network: Network, task: Task, horizon: int) -> bytearray:
    """For each minute up to the horizon whether the task may be worked then."""
    people = _people(task)
    minutes = bytearray(horizon)
    if not people:
        minutes = bytearray(b"\1") * horizon
    for day in range(-(-horizon // DAY)) if people else ():
        there = _there(network.hours, day)
        if day in network.hours.closed or any(n > there.get(role, 0) for role, n in people.items()):
            continue
        spells = network.hours.week[(network.hours.start.weekday() + day) % 7]
        if task.through_breaks and spells:
            spells = ((spells[0][0], spells[-1][1]),)
        for begin, end in spells:
            minutes[day * DAY + begin : min(day * DAY + end, horizon)] = b"\1" * max(
                0, min(day * DAY + end, horizon) - day * DAY - begin
            )
    for resource in network.resources:
        if any(need.resource == resource.name for need in task.needs):
            for begin, end in resource.closed:
                last = min(end, horizon)
                minutes[begin:last] = bytes(max(0, last - begin))
    return minutes


def _stretches(minutes: bytearray) -> Iterator[tuple[int, int]]:
    """Each stretch of minutes that are open, from its first to behind its last."""
    at = minutes.find(1)
    while at >= 0:
        end = minutes.find(0, at)
        end = len(minutes) if end < 0 else end
        yield at, end
        at = minutes.find(1, end)
