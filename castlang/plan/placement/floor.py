"""The shop floor: what each task of a network takes, worked out once for every board that is filled.

All lines (kinds of people, stations, molds, temporary works) stand side by side in one whole number, each in
a field of its own with one bit above it, the guard. `(room - demand) & guards == guards` is true just where
every line has room enough, since a field that falls short borrows its guard bit.
"""

from dataclasses import dataclass, replace

from castlang.plan.clock import DAY
from castlang.plan.gaps.paths import NEVER
from castlang.plan.hours import Shop, Spells, people_away, people_wanted
from castlang.plan.model import Hold, Task
from castlang.plan.placement.fields import Fields, added, capacities_of
from castlang.plan.placement.profile import FOREVER, Line
from castlang.plan.ties import Arc, Ties


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """What a task takes, demands packed.

    spells: when it may be worked (None: by the clock). piece: minutes that have to fit into one spell at its
    start. run: demand from start to end; crew: demand in the spells worked, of a task that pauses (else it
    is part of `run`). checks: (from, to, demand) counted from the start, latest first: run and what is held
    from this task on for as long as it lasts at the least. never: it wants more than there ever is.
    shape: tasks of one shape find the same places. core: place in `Floor.cores` of what all tasks that begin
    the same hold have in common, None for a task that begins none.
    """

    minutes: int
    spells: Spells | None
    piece: int
    pauses: bool
    run: int
    crew: int
    checks: tuple[tuple[int, int, int], ...]
    never: Line | None
    shape: int
    core: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A hold by the places of its tasks; last None: to the end of the plan. least: minutes for which it lasts
    at the least."""

    hold: Hold
    first: int
    last: int | None
    demand: int
    least: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """A network made ready for boards.

    before[k]: (task, weight, whether its end counts) for the bounds on the start of task k; odd[k]: the arcs
    into it for which that has to be worked out each time. times, room: the room of an empty board, from each
    minute to the next. capacity: of the lines that can be short. kept: all holds; holds[k]: those on such
    lines that task k begins or ends; begun[k]: all that it begins.
    """

    ties: Ties
    shop: Shop
    capacity: dict[Line, int]
    guards: int
    times: tuple[int, ...]
    room: tuple[int, ...]
    claims: tuple[Claim, ...]
    cores: tuple[Claim, ...]
    before: tuple[tuple[tuple[int, int, bool], ...], ...]
    odd: tuple[tuple[Arc, ...], ...]
    kept: tuple[Kept, ...]
    holds: tuple[tuple[int, ...], ...]
    begun: tuple[tuple[int, ...], ...]

    def opens(self, k: int, minute: int) -> int | None:
        """The first start of task k at or after `minute` by hours alone; None when it never fits."""
        claim = self.claims[k]
        return minute if claim.spells is None else claim.spells.first(minute, claim.piece)

    def ends(self, k: int, start: int) -> int:
        """When task k ends, started at `start`, which must be one of its starts."""
        claim = self.claims[k]
        if claim.pauses and claim.spells is not None:
            return claim.spells.worked(start, claim.minutes)[-1][1]
        return start + claim.minutes

    def last_start(self, k: int, minute: int) -> int | None:
        """The last start of task k by hours alone at or before `minute`; None when there is none."""
        claim = self.claims[k]
        if claim.spells is None:
            return minute if minute >= 0 else None
        return claim.spells.last(minute + claim.piece, claim.piece)

    def last(self, k: int, minute: int) -> int | None:
        """The last start of task k by hours alone that has it ended by `minute`; None when there is none."""
        claim = self.claims[k]
        if claim.spells is None:
            return minute - claim.minutes if minute >= claim.minutes else None
        if claim.pauses:
            return claim.spells.back(minute, claim.minutes)
        return claim.spells.last(minute, claim.minutes)

    def line_short(self, room: int, demand: int) -> Line:
        """The first line that has too little room for `demand`."""
        short = ~(room - demand) & self.guards
        guard = (short & -short).bit_length()
        fields = self.guards
        for line in self.capacity:
            top = (fields & -fields).bit_length()
            if top == guard:
                return line
            fields &= fields - 1
        raise ValueError("no line is short")


def floor_of(ties: Ties, shop: Shop, least: dict[Hold, int]) -> Floor:
    """The floor of a network. least: the least length of each hold that ends, in minutes."""
    network = ties.network
    fields = Fields(capacities_of(ties))
    holds = sorted(network.holds, key=lambda h: (h.resource, h.first, h.last or "", h.amount))
    index = ties.index
    count = len(ties.tasks)
    both: list[list[int]] = [[] for _ in range(count)]
    begun: list[list[int]] = [[] for _ in range(count)]
    for n, hold in enumerate(holds):
        begun[index[hold.first]].append(n)
        if fields.place_of(hold.resource, hold.amount):
            for k in sorted({index[hold.first], index[hold.last or hold.first]}):
                both[k].append(n)
    shapes: dict[tuple[object, ...], int] = {}
    drawn = []
    for k, task in enumerate(ties.tasks):
        held = [(least.get(holds[n], FOREVER), holds[n]) for n in begun[k]]
        drawn.append(_claim(task, shop, fields, held, shapes))
    claims, cores = _with_cores(drawn, len(shapes))
    before, odd = _bounds(ties)
    times, room = _empty(ties, fields)
    return Floor(
        ties=ties,
        shop=shop,
        capacity=fields.capacity,
        guards=fields.guards,
        times=times,
        room=room,
        claims=claims,
        cores=cores,
        before=before,
        odd=odd,
        kept=tuple(
            Kept(
                hold=h,
                first=index[h.first],
                last=None if h.last is None else index[h.last],
                demand=fields.pack(fields.place_of(h.resource, h.amount)),
                least=least.get(h, FOREVER),
            )
            for h in holds
        ),
        holds=tuple(map(tuple, both)),
        begun=tuple(map(tuple, begun)),
    )


def _claim(
    task: Task,
    shop: Shop,
    fields: Fields,
    held: list[tuple[int, Hold]],
    shapes: dict[tuple[object, ...], int],
) -> Claim:
    people: dict[Line, int] = {}
    places: dict[Line, int] = {}
    if task.minutes:
        people = {("crew", role or ""): amount for role, amount in people_wanted(task)}
        places = added([fields.place_of(need.resource, need.amount) for need in task.needs])
    clock = not people_wanted(task) and not shop.closings(task)
    pauses = task.may_pause and task.minutes > 0 and not clock
    run = places if pauses else added([people, places])
    kept = [
        (until, taken)
        for until, hold in held
        if until > 0 and (taken := fields.place_of(hold.resource, hold.amount))
    ]
    asks = kept if pauses or not run else [(task.minutes, run), *kept]
    checks: list[tuple[int, int, int]] = []
    never = fields.beyond(added([people, places, *(asked for _, asked in kept)]))
    begin = 0
    for end in sorted({until for until, _ in asks}):
        demand = added([asked for until, asked in asks if until >= end])
        checks.append((begin, end, fields.pack(demand)))
        begin = end
    spells = None if clock else shop.spells(task)
    key = (id(spells), task.minutes, pauses, tuple(sorted(run.items())), tuple(checks))
    return Claim(
        minutes=task.minutes,
        spells=spells,
        piece=min(task.minutes, 1) if task.may_pause else task.minutes,
        pauses=pauses,
        run=fields.pack(run),
        crew=fields.pack(people) if pauses else 0,
        checks=tuple(reversed(checks)),
        never=never,
        shape=shapes.setdefault(key, len(shapes)),
    )


def _with_cores(claims: list[Claim], shapes: int) -> tuple[tuple[Claim, ...], tuple[Claim, ...]]:
    """The claims with their cores: what the longest part of a claim takes, for as long as the shortest one of
    that kind lasts. Where no core fits, none of its tasks does."""
    least: dict[int, int] = {}
    for claim in claims:
        if len(claim.checks) > 1 or (claim.checks and not claim.minutes):
            _, reach, demand = claim.checks[0]
            least[demand] = min(least.get(demand, reach), reach)
    place = {demand: n for n, demand in enumerate(least)}
    cores = tuple(
        Claim(
            minutes=0,
            spells=None,
            piece=0,
            pauses=False,
            run=0,
            crew=0,
            checks=((0, reach, demand),),
            never=None,
            shape=shapes + n,
        )
        for n, (demand, reach) in enumerate(least.items())
    )
    return tuple(replace(c, core=place.get(c.checks[0][2]) if c.checks else None) for c in claims), cores


def _bounds(
    ties: Ties,
) -> tuple[tuple[tuple[tuple[int, int, bool], ...], ...], tuple[tuple[Arc, ...], ...]]:
    """The arcs into each task: plain ones as bounds on its start, and those that hold the end of a task that
    pauses, or that pass by warmth; of the last also the least that they come to."""
    before: list[dict[tuple[int, bool], int]] = [{} for _ in ties.tasks]
    odd: list[list[Arc]] = [[] for _ in ties.tasks]
    for arc in ties.arcs:
        head = ties.tasks[arc.head]
        if arc.passing is not None:
            odd[arc.head].append(arc)
        if arc.head_end and head.may_pause and head.minutes:
            if arc.passing is None:
                odd[arc.head].append(arc)
            continue
        weight = arc.weight - head.minutes if arc.head_end else arc.weight
        key = (arc.tail, arc.tail_end)
        before[arc.head][key] = max(before[arc.head].get(key, weight), weight)
    plain = tuple(tuple((tail, weight, at_end) for (tail, at_end), weight in b.items()) for b in before)
    return plain, tuple(map(tuple, odd))


def _empty(ties: Ties, fields: Fields) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The times and rooms of an empty board: people who are away are taken."""
    hours = ties.network.hours
    change: dict[int, int] = {NEVER: 0, FOREVER: 0}
    for day in sorted(hours.away):
        gone = {("crew", role or ""): people for role, people in people_away(hours, day).items()}
        packed = fields.pack({line: people for line, people in gone.items() if line in fields.capacity})
        change[day * DAY] = change.get(day * DAY, 0) - packed
        change[(day + 1) * DAY] = change.get((day + 1) * DAY, 0) + packed
    times = tuple(sorted(change))
    rooms: list[int] = []
    room = fields.room()
    for minute in times:
        room += change[minute]
        rooms.append(room)
    return times, tuple(rooms)
