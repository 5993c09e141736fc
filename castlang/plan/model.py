"""The network of a build and a plan for it. Time is whole minutes from midnight of the build's start day."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from fractions import Fraction

from castlang.problems.model import Assumption
from castlang.source.model import Span
from castlang.spec.model import NOWHERE


class Point(StrEnum):
    """An end of a task."""

    START = "start"
    END = "end"


class Why(StrEnum):
    """What makes a gap or holds a start back."""

    SEQUENCE = "sequence"  # the line above comes first
    AFTER = "after"  # an `after` line
    WAIT = "wait"  # wait, within
    CURE = "cure"
    DRY = "dry"
    RECOAT = "recoat"  # between coats or lifts
    WINDOW = "window"  # wet on wet, at the last spot
    COVER = "cover"  # covering follows at once
    DATE = "date"  # earliest, latest, start of the build
    ARRIVAL = "arrival"  # a fitting or stock on its way
    CREW = "crew"  # plan only: waits for people
    STATION = "station"  # plan only
    MOLD = "mold"  # plan only: waits for a mold or temporary work
    HOURS = "hours"  # plan only: waits for the shop to open


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What a task takes of a capacity while it runs."""

    resource: str
    amount: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One step of one copy: `stool.3.hone.grit-120`.

    minutes of work. crew: (role or None for anybody, people). needs: stations. A task with no crew and no
    minutes is a point in time. earliest and latest bound start and end. unattended tasks (no crew) run by
    the clock; others run in the shop's hours. owner, step: where it comes from; copy "3", "m1" or "".
    done: when it really ran, (start, end); there it stands, with its people and stations left out; taken: it
    is only taken as done, since what comes after it is, and its times are no more than the latest possible.
    """

    name: str
    minutes: int
    crew: tuple[tuple[str | None, int], ...] = ()
    needs: tuple[Need, ...] = ()
    may_pause: bool = False
    through_breaks: bool = False
    earliest: int | None = None
    latest: int | None = None
    owner: str = ""
    step: str = ""
    copy: str = ""
    part: str = ""
    kind: str = ""
    done: tuple[int, int] | None = None
    taken: bool = False
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ageing:
    """How fast a wait passes as the shop is warm or cold.

    rule: "nurse-saul", "arrhenius" or "doubling"; constant: its datum, Q or step; told_at: the temperature at
    which a minute is a minute; all in K. spells: (from minute, thousandths of K, rate in millionths), the
    first from minute 0, reaching a week past `settled`, from which on each week is like the one before.
    """

    rule: str
    constant: Fraction
    told_at: Fraction
    settled: int
    spells: tuple[tuple[int, int, int], ...] = field(repr=False, hash=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tend:
    """Who looks after a cure, and every how many minutes."""

    every: Fraction
    crew: tuple[tuple[str | None, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One of the waits that a gap is made of, in minutes as told. ageing None: it passes by the clock. tend:
    who looks after it, told while gaps are made, and afterwards by the gap."""

    least: int
    longest: int | None = None
    ageing: Ageing | None = None
    tend: Tend | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tended:
    """A wait of a gap that is looked after. before: the waits that pass first; through: these and itself;
    on: it is looked after until the task behind the gap begins, since nothing else follows."""

    tend: Tend
    before: tuple[Stretch, ...]
    through: tuple[Stretch, ...]
    on: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class GapEdge:
    """`least <= point(after) - point(before) <= longest`, in minutes; longest None is no limit.
    says: the reason in shop words ("cure of stool.3.body").

    stretches: where some of it passes by the shop's warmth, the waits one after another that least and
    longest are the sums of, as told. Each is over at the first whole minute by which it has aged enough, and
    too old behind the last by which it has not aged too much; the next one begins there.

    turn: nothing but the planner's own order (copies by number); work that is done need not have kept it.
    tended: those of its waits that somebody looks after.
    """

    before: str
    after: str
    least: int
    longest: int | None = None
    before_point: Point = Point.END
    after_point: Point = Point.START
    why: Why = Why.SEQUENCE
    says: str = ""
    stretches: tuple[Stretch, ...] = ()
    turn: bool = False
    tended: tuple[Tended, ...] = ()
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A capacity held from the start of one task to the end of another (or to the end of the plan)."""

    resource: str
    first: str
    last: str | None
    amount: int = 1
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Resource:
    """Something with a number of places. kind: "station", "mold", "temp". closed: (from, to) minutes in
    which nothing may run on it (what it holds may stay)."""

    name: str
    capacity: int
    kind: str = "station"
    closed: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """The shop's open hours and people.

    week: for Monday to Sunday the open spells of the day as (from, to) minutes of the day, sorted, with
    breaks between them. closed: days (counted from the start day, 0) on which nothing is open.
    start: the first day's date. crew: people by role (None: no role told). away: day -> people missing,
    by role (None: anybody).
    """

    start: date
    week: tuple[tuple[tuple[int, int], ...], ...]
    closed: frozenset[int] = frozenset()
    crew: tuple[tuple[str | None, int], ...] = ()
    away: Mapping[int, tuple[tuple[str | None, int], ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """When the tasks whose names begin with `prefix` are due, in minutes, and how much a minute past it
    weighs against others."""

    prefix: str
    minute: int
    weight: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Network:
    """Everything that a plan must keep. tasks, gaps, holds in a fixed order; due in minutes. dues: for
    several builds in one shop, when each of them is due. since: the minute before which nothing is planned
    that is not done. assumptions: what was taken where the build does not say how its waits pass. past: holds
    of done work, which bind nothing any more."""

    tasks: tuple[Task, ...]
    gaps: tuple[GapEdge, ...]
    holds: tuple[Hold, ...]
    resources: tuple[Resource, ...]
    hours: Hours
    due: int | None = None
    dues: tuple[Due, ...] = ()
    since: int = 0
    priority: int | None = None
    assumptions: tuple[Assumption, ...] = field(default=(), compare=False)
    past: tuple[Hold, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A task in the plan: when it runs. spells: the (from, to) minutes really worked; latest: the latest
    start that would not move the finish of the plan; slack = latest - start in clock minutes."""

    task: str
    start: int
    end: int
    spells: tuple[tuple[int, int], ...]
    latest: int
    slack: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One link of the critical chain: `task` could not start (or end) sooner because of `before`.
    gap: minutes between the end of `before` and the start of `task`."""

    task: str
    before: str | None
    why: Why
    gap: int
    says: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A plan for a network. placed goes by start, then name. critical: the chain that sets the finish, in
    order of time. finish: the last end, in minutes. bound: no plan can finish sooner than this. made: how
    the plan was found, in a sentence. beside: the other builds that it was planned together with; chain and
    bound are then those of all, and not told here. elsewhere: the work on those builds, with its spells."""

    network: Network
    placed: tuple[Placed, ...]
    critical: tuple[Link, ...]
    finish: int
    bound: int
    made: str
    beside: tuple[str, ...] = ()
    elsewhere: tuple[tuple[Task, tuple[tuple[int, int], ...]], ...] = ()
