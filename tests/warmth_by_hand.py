"""When a wait of a build is over, counted minute by minute in floating point from its lines alone. Shares no
code with the planner or its verifier."""

import math
from datetime import timedelta
from functools import lru_cache

from castlang.spec.model import Build, Gap, GapKind, Mix, Role, Spec, Step

FAR = 400 * 1440


def over(spec: Spec, gap: Gap, begin: int) -> int:
    """The first minute by which the gap's least time is over, begun at a minute of the plan."""
    least = math.ceil(gap.window.least / 60)
    rate = _rate_of(spec, gap)
    if rate is None:
        return begin + least
    aged, minute = 0.0, begin
    while aged < least - 1e-6 and minute < FAR:
        aged += rate(_warmth(spec, minute))
        minute += 1
    return minute


def closes(spec: Spec, gap: Gap, begin: int) -> int | None:
    """The last minute by which it has not gone on too long; None where it tells no longest time."""
    if gap.window.longest is None:
        return None
    longest = math.floor(gap.window.longest / 60)
    rate = _rate_of(spec, gap)
    if rate is None:
        return begin + longest
    aged, minute = 0.0, begin
    while minute < FAR:
        aged += rate(_warmth(spec, minute))
        if aged > longest + 1e-6:
            return minute
        minute += 1
    return minute


def _rate_of(spec: Spec, gap: Gap):
    """How fast the gap passes at a temperature in K; None where by the clock."""
    if gap.kind is not GapKind.CURE or gap.at is None:
        return None
    mix = spec.mixes.get(_put_on(spec, gap) or "")
    told = float(gap.told_at or gap.at)
    if mix is None:
        return None
    if mix.ages is not None:
        word, constant = mix.ages[0], float(mix.ages[1])
        if word == "nurse-saul":
            return lambda kelvin: max(kelvin - constant, 0) / (told - constant)
        return lambda kelvin: math.exp(-constant * (1 / kelvin - 1 / told))
    if mix.doubles is not None or mix.measure is not None:
        step = float(mix.doubles or 10)
        return lambda kelvin: 2 ** ((kelvin - told) / step)
    if _sets(mix):
        return lambda kelvin: math.exp(-4000 * (1 / kelvin - 1 / told))
    return None


def _sets(mix: Mix) -> bool:
    return any(line.role is Role.BINDER for line in mix.ingredients)


def _put_on(spec: Spec, gap: Gap) -> str | None:
    """The material of the last coat, layer or pour above the gap, or of the step that it counts from."""
    owners = {owner.name: owner for owner in spec.owners()}
    if gap.after is not None:
        for item in owners[gap.after.owner].sequence:
            if isinstance(item, Step) and item.name == gap.after.step:
                return item.material if str(item.kind) in ("layer", "press", "pour", "pass") else None
        return None
    found = None
    for item in owners[gap.owner].sequence:
        if item is gap or (isinstance(item, Gap) and item == gap and item.span == gap.span):
            return found
        if isinstance(item, Step) and str(item.kind) in ("layer", "press", "pour", "pass") and item.material:
            found = item.material
    return found


def _warmth(spec: Spec, minute: int) -> float:
    return _minute(_Key(spec.build), minute // 1440, minute % 1440)


class _Key:
    """A build by itself, so that its days are worked out once."""

    def __init__(self, build: Build) -> None:
        self.build = build

    def __hash__(self) -> int:
        return id(self.build)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and self.build is other.build


def _minute(key: _Key, day: int, minute: int) -> float:
    opens, shuts, air, night = _day(key, day)
    return air if opens <= minute < shuts else night


@lru_cache(maxsize=4096)
def _day(key: _Key, day: int) -> tuple[int, int, float, float]:
    build = key.build
    when = build.start + timedelta(days=day)

    def told(lines):
        dated = [c.value for c in lines if c.days is not None and c.days.first <= when <= c.days.last]
        plain = [c.value for c in lines if c.days is None]
        return (dated or plain or [None])[0]

    air = told(build.air)
    if air is None:
        air = min(c.value for c in build.air)
    night = told(build.night)
    closed = any(days.first <= when <= days.last for days in build.closed)
    shift = next((s for s in build.shifts if s.first <= when.weekday() <= s.last), None)
    opens, shuts = 0, 0
    if shift is not None and not closed:
        first, last = shift.spells[0][0], shift.spells[-1][1]
        opens = first.hour * 60 + first.minute
        shuts = 1440 if last.microsecond else last.hour * 60 + last.minute
    return opens, shuts, float(air), float(air if night is None else night)
