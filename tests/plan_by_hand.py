"""A plan held against the lines of its build: waits, windows, people, hours, molds. Shares no code with the
planner, its network or its verifier; reads only the spec and when each task was placed."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from warmth_by_hand import closes, over

from castlang.plan.model import Plan
from castlang.spec.model import After, Build, Gap, Job, Mold, Piece, Spec, Step, StepKind, StepRef

DAY = 1440
SLIP = 1  # min: the wait is counted by hand in floating point
WET = (StepKind.LAYER, StepKind.PRESS, StepKind.POUR)
COVERS = (StepKind.COVER, StepKind.UNCOVER)
Owner = Piece | Job | Mold


@dataclass(frozen=True, slots=True)
class Ran:
    """When a step of one copy ran, all its coats, lifts and grits together."""

    start: int
    end: int


class Times:
    """When every step ran, by owner, copy and step."""

    def __init__(self, plan: Plan) -> None:
        placed = {p.task: p for p in plan.placed}
        self.ran: dict[tuple[str, str, str], Ran] = {}
        self.done: set[tuple[str, str, str]] = set()
        for task in plan.network.tasks:
            key = (task.owner, task.copy, task.step)
            if task.done is not None:
                self.done.add(key)
            p = placed[task.name]
            known = self.ran.get(key, Ran(p.start, p.end))
            self.ran[key] = Ran(min(known.start, p.start), max(known.end, p.end))

    def copies(self, owner: str, step: str) -> dict[str, Ran]:
        return {copy: ran for (o, copy, s), ran in sorted(self.ran.items()) if (o, s) == (owner, step)}

    def wholes(self, owner: str) -> dict[str, Ran]:
        """Each copy from its first start to its last end."""
        found: dict[str, Ran] = {}
        for (o, copy, _), ran in sorted(self.ran.items()):
            if o == owner:
                known = found.get(copy, ran)
                found[copy] = Ran(min(known.start, ran.start), max(known.end, ran.end))
        return found


def broken(spec: Spec, plan: Plan) -> tuple[str, ...]:
    """Every line of the build that the plan does not keep, in words. What was done stands where it was, and
    is not held against the lines; nor are the places that it took."""
    times = Times(plan)
    return (
        *_waits(spec, times),
        *_people(spec.build, plan),
        *(() if times.done else _places(spec, plan, times)),
        *_arrivals(spec, times),
    )


# ---------------------------------------------------------------- waits and windows


def _waits(spec: Spec, times: Times) -> Iterator[str]:
    for owner in spec.owners():
        for before, between, after in _neighbours(owner):
            for copy, then in times.copies(owner.name, after.name).items():
                if (owner.name, copy, after.name) in times.done:
                    continue
                yield from _follows(spec, times, before, between, after, copy, then)
                yield from _dated(spec.build, after, then)
        yield from _covered(spec, owner, times)


def _covered(spec: Spec, owner: Owner, times: Times) -> Iterator[str]:
    """Covered behind the step above, and uncovered no sooner than its cure is over."""
    above: Step | None = None
    cure: Gap | None = None
    for item in owner.sequence:
        if isinstance(item, Gap) and item.covered:
            cure = item
        if isinstance(item, Step) and item.kind in COVERS and above is not None:
            for copy, ran in times.copies(owner.name, item.name).items():
                if (owner.name, copy, item.name) in times.done:
                    continue
                begin = times.copies(owner.name, above.name)[copy].end
                cures = item.kind is StepKind.UNCOVER and cure is not None
                if ran.start < (over(spec, cure, begin) - SLIP if cures else begin):
                    yield f"{owner.name}.{copy}.{item.name} comes too soon after {above.name}"
        elif isinstance(item, Step):
            above = item


def _neighbours(owner: Owner) -> Iterator[tuple[Step | None, list[Gap | After | Step], Step]]:
    """Each line of work with the line of work above it and what stands between them."""
    above: Step | None = None
    between: list[Gap | After | Step] = []
    for item in owner.sequence:
        if isinstance(item, Step) and item.kind not in COVERS:
            yield above, between, item
            above, between = item, []
        else:
            between.append(item)


def _follows(
    spec: Spec,
    times: Times,
    before: Step | None,
    between: Sequence[Gap | After | Step],
    after: Step,
    copy: str,
    then: Ran,
) -> Iterator[str]:
    name = f"{after.owner}.{copy}.{after.name}"
    near = [g for g in between if isinstance(g, Gap) and g.after is None]
    firsts = [] if before is None else _same_copy(times.copies(before.owner, before.name), copy)
    for first in firsts:
        early = timedelta(seconds=float(after.overlap or 0)) // timedelta(minutes=1)
        if then.start < first.end - early:
            yield f"{name} starts before the line above has ended"
        wet = before is not None and {before.kind, after.kind} <= set(WET)
        spots = (
            ((first.start, then.start), (first.end, then.end)) if wet and near else ((first.end, then.start),)
        )
        for begin, moment in spots:
            soonest, latest = (begin, begin) if near else (begin - early, None)
            for gap in near:
                soonest = over(spec, gap, soonest)
                latest = None if latest is None else closes(spec, gap, latest)
            if times.done:
                latest = None  # it may have closed on what was done too late
            if moment < soonest - SLIP or (latest is not None and moment > latest + SLIP):
                yield f"{name} comes at {moment}, not at {soonest} to {latest}"
    for item in between:
        if isinstance(item, After):
            for ref in item.refs:
                if any(then.start < moment for moment in _moments(times, ref, copy, after.owner)):
                    yield f"{name} does not come after {ref.owner}.{ref.step}"
        elif isinstance(item, Gap) and item.after is not None:
            for moment in _moments(times, item.after, copy, after.owner):
                latest = None if times.done else closes(spec, item, moment)
                late = latest is not None and then.start > latest + SLIP
                if late or then.start < over(spec, item, moment) - SLIP:
                    yield f"{name} comes at {then.start}, told from {item.after.owner}.{item.after.step}"


def _dated(build: Build, step: Step, ran: Ran) -> Iterator[str]:
    midnight = datetime.combine(build.start, time())
    if step.earliest is not None and midnight + timedelta(minutes=ran.start) < step.earliest:
        yield f"{step.owner}.{step.name} starts before {step.earliest}"
    if step.latest is not None and midnight + timedelta(minutes=ran.end) > step.latest + timedelta(seconds=1):
        yield f"{step.owner}.{step.name} ends after {step.latest}"


def _same_copy(ran: dict[str, Ran], copy: str) -> list[Ran]:
    return [ran[copy]] if copy in ran else list(ran.values())


def _moments(times: Times, ref: StepRef, copy: str, own: str) -> list[int]:
    if ref.fitting:
        return []
    every = times.wholes(ref.owner) if ref.step is None else times.copies(ref.owner, ref.step)
    ran = _meant(every, ref, copy, own)
    return [r.start if ref.point == "start" else r.end for r in ran]


def _meant(ran: dict[str, Ran], ref: StepRef, copy: str, own: str) -> list[Ran]:
    """The copies that a reference means: a numbered one, the one with my number, my own, else all."""
    if ref.copies.first is not None and len(ran) > 1:
        numbers = range(ref.copies.first, (ref.copies.last or ref.copies.first) + 1)
        return [ran[f"{'m' if ref.copies.mirrored else ''}{n}"] for n in numbers]
    if ref.copies.each:
        return [ran[copy]] if copy in ran else []
    return _same_copy(ran, copy) if ref.owner == own else list(ran.values())


# ---------------------------------------------------------------- people and hours


def _people(build: Build, plan: Plan) -> Iterator[str]:
    placed = {p.task: p for p in plan.placed}
    work: list[tuple[int, int, str | None, int]] = []
    for task in plan.network.tasks:
        if not task.crew or task.done is not None:
            continue
        spells = placed[task.name].spells
        if sum(b - a for a, b in spells) != task.minutes:
            yield f"{task.name} is not worked {task.minutes} min"
        if len(spells) > 1 and not task.may_pause:
            yield f"{task.name} pauses"
        for a, b in spells:
            if not all(_open(build, minute, task.through_breaks) for minute in range(a, b)):
                yield f"{task.name} is worked out of hours between {a} and {b}"
            work += [(a, b, role, people) for role, people in task.crew]
    for moment in sorted({a for a, _, _, _ in work}):
        now = [(role, people) for a, b, role, people in work if a <= moment < b]
        day = build.start + timedelta(days=moment // DAY)
        for role in (None, *dict.fromkeys(gang.role for gang in build.crew if gang.role)):
            wanted = sum(people for r, people in now if role is None or r == role)
            there = _there(build, day, role)
            if wanted > there:
                yield f"{wanted} {role or 'people'} are at work at {moment}, {there} are there"


def _open(build: Build, minute: int, breaks: bool) -> bool:
    """Whether the shop is open; with `breaks`, from the first opening of the day to its last closing."""
    day = build.start + timedelta(days=minute // DAY)
    if any(days.first <= day <= days.last for days in build.closed):
        return False
    for shift in build.shifts:
        if shift.first <= day.weekday() <= shift.last:
            spells = ((shift.spells[0][0], shift.spells[-1][1]),) if breaks else shift.spells
            for begin, end in spells:
                last = DAY if end.microsecond else end.hour * 60 + end.minute
                if begin.hour * 60 + begin.minute <= minute % DAY < last:
                    return True
    return False


def _there(build: Build, day: date, role: str | None) -> int:
    away = [a for a in build.away if a.days.first <= day <= a.days.last]
    there = sum(g.count for g in build.crew if role is None or g.role == role)
    return there - sum(a.count for a in away if role is None or a.role == role)


# ---------------------------------------------------------------- molds, stations, temporary works


def _places(spec: Spec, plan: Plan, times: Times) -> Iterator[str]:
    for mold in spec.molds.values():
        yield from _made(mold, spec, times)
        for mirrored in (False, True):
            held = [
                ran for copy, ran in _held(spec, times, mold.name, demolded=not mold.temporary)
                if mold.temporary or copy.startswith("m") == mirrored
            ]  # fmt: skip
            room = mold.count if mold.temporary or not mirrored else mold.mirrored
            if _most(held) > room:
                yield f"{_most(held)} hold {mold.name}, of which there are {room}"
    placed = {p.task: p for p in plan.placed}
    for station in spec.stations.values():
        pieces = station.holds is not None and station.holds.written.endswith("pieces")
        room = station.have * (int(station.holds.si) if station.holds is not None and pieces else 1)
        used = [ran for _, ran in _held(spec, times, station.name, demolded=False)]
        for task in plan.network.tasks:
            if any(need.resource == station.name for need in task.needs):
                used.append(Ran(placed[task.name].start, placed[task.name].end))
        if _most(used) > room:
            yield f"{_most(used)} are on {station.name}, which has room for {room}"


def _made(mold: Mold, spec: Spec, times: Times) -> Iterator[str]:
    """All of a temporary work, one copy of a mold at the least, is made before it is first taken."""
    ends: dict[str, int] = {}
    for (owner, copy, _), ran in times.ran.items():
        if owner == mold.name:
            ends[copy] = max(ends.get(copy, 0), ran.end)
    taken = [ran.start for _, ran in _held(spec, times, mold.name, demolded=not mold.temporary)]
    made = (max if mold.temporary else min)(ends.values(), default=0)
    if taken and min(taken) < made:
        yield f"{mold.name} is taken before it is made"


def _held(spec: Spec, times: Times, name: str, *, demolded: bool) -> Iterator[tuple[str, Ran]]:
    """From each taking of `name` to what gives it back, in the same block."""
    for owner in spec.owners():
        for copy, taken in times.copies(owner.name, f"take-{name}").items():
            back = times.copies(owner.name, "demold" if demolded else f"free-{name}")
            yield copy, Ran(taken.start, back[copy].end)


def _most(held: Iterable[Ran]) -> int:
    """The most at one time; what ends as another begins leaves it the room."""
    spans = list(held)
    return max((sum(o.start <= r.start < o.end for o in spans) for r in spans), default=0)


def _arrivals(spec: Spec, times: Times) -> Iterator[str]:
    for owner in spec.owners():
        for step in owner.sequence:
            fitting = spec.fittings.get((isinstance(step, Step) and step.material) or "")
            if fitting is None or not isinstance(step, Step):
                continue
            days = ((fitting.ordered or spec.build.start) - spec.build.start).days
            for copy, ran in times.copies(step.owner, step.name).items():
                if (
                    step.owner,
                    copy,
                    step.name,
                ) not in times.done and ran.start * 60 < days * DAY * 60 + fitting.lead:
                    yield f"{step.owner}.{step.name} uses {fitting.name} before it can be there"
