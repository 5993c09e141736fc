"""Small builds drawn from a seed: few people, few molds, short windows, dates and days off, so that many of
them cannot be built. Each comes with what its lines ask of a plan, worked out by hand beside the text."""

import random
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import pairwise

DAY = 1440
END, START = "end", "start"

Spell = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Asked:
    """What a line asks of one task: minutes, people by role, stations, whether it pauses or runs through
    breaks, dates in minutes."""

    minutes: int
    crew: tuple[tuple[str | None, int], ...] = ()
    stations: tuple[str, ...] = ()
    pauses: bool = False
    through: bool = False
    earliest: int | None = None
    latest: int | None = None


@dataclass(frozen=True, slots=True)
class Waited:
    """One wait as told: minutes, and whether it passes by the warmth of the shop."""

    least: int
    longest: int | None
    warm: bool = False


Ends = tuple[str, str, str, str]
"""Task, its point, the task that waits, its point."""


@dataclass(slots=True)
class Facts:
    """What all lines of a build ask, by task. gaps: least and longest; warm: those made of waits of which
    one at least passes by warmth; held: thing, first task, last; there: how many of each thing."""

    tasks: dict[str, Asked] = field(default_factory=dict)
    gaps: dict[Ends, tuple[int, int | None]] = field(default_factory=dict)
    warm: set[tuple[Ends, tuple[Waited, ...]]] = field(default_factory=set)
    held: set[tuple[str, str, str]] = field(default_factory=set)
    there: dict[str, tuple[int, tuple[Spell, ...]]] = field(default_factory=dict)
    crew: tuple[tuple[str | None, int], ...] = ()
    week: tuple[tuple[Spell, ...], ...] = ()
    closed: frozenset[int] = frozenset()
    away: dict[int, tuple[tuple[str | None, int], ...]] = field(default_factory=dict)

    def gap(self, before: str, after: str, *waits: Waited, points: tuple[str, str] = (END, START)) -> None:
        """Waits one behind another, between two points."""
        ends = (before, points[0], after, points[1])
        if any(wait.warm for wait in waits):
            self.warm.add((ends, waits))
            return
        longest = [wait.longest for wait in waits]
        most = sum(m for m in longest if m is not None) if longest and None not in longest else None
        least = sum(wait.least for wait in waits)
        known = self.gaps.get(ends)
        if known is not None:
            least = max(least, known[0])
            most = min((m for m in (most, known[1]) if m is not None), default=None)
        self.gaps[ends] = least, most


@dataclass(frozen=True, slots=True)
class TightBuild:
    """The text of a build, and what it asks."""

    text: str
    facts: Facts


STORES = """
stock grey "Cement"
    density  3100 kg/m3
stock sand "Sand"
    density  2650 kg/m3
stock oil "Mold oil"
    covers   20 m2/L
stock wax "Sealer"
    covers   10 m2/L
    acts     penetrating
mix casting
    binder   grey 100 parts
    sand     sand 200 parts
    water    0.4 of binder total
    works    600 min at 20 degC
    thick    3 mm to 30 mm
"""
WEEKS = (
    (("mon to fri 08:00 to 12:00, 12:30 to 16:30",), (((480, 720), (750, 990)),) * 5 + ((), ())),
    (
        ("mon to thu 07:00 to 11:30, 12:00 to 17:30", "sat 08:00 to 13:00"),
        (((420, 690), (720, 1050)),) * 4 + ((), ((480, 780),), ()),
    ),
    (("mon to fri 08:00 to 17:00",), (((480, 1020),),) * 5 + ((), ())),
    (("mon to sun 00:00 to 24:00",), (((0, 1440),),) * 7),
    (("tue to thu 09:00 to 11:30, 12:00 to 14:00",), ((), *(((540, 690), (720, 840)),) * 3, (), (), ())),
)
CREWS = (
    ("1", ((None, 1),)),
    ("2", ((None, 2),)),
    ("3", ((None, 3),)),
    ("1, 1 caster", ((None, 1), ("caster", 1))),
    ("1 caster, 1 finisher", (("caster", 1), ("finisher", 1))),
    ("2 caster, 1 finisher", (("caster", 2), ("finisher", 1))),
)


def tight_build(seed: int) -> TightBuild:
    """The build of a seed."""
    return _Drawn(random.Random(seed)).build()


class _Drawn:
    """A build while it is drawn."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.facts = Facts()
        self.lines: list[str] = []
        self.start = date(2027, 3, chance.choice((1, 3, 5)))
        self.warm = chance.random() < 0.4  # nights cooler than the cures are told at
        crew, self.facts.crew = chance.choice(CREWS)
        self.roles = [role for role, _ in self.facts.crew if role is not None]
        self.head(crew)
        self.copies: dict[str, tuple[str, ...]] = {}
        self.last: dict[tuple[str, str], tuple[str, ...]] = {}  # what ends each copy of a piece
        self.under: dict[str, list[Waited]] = {}  # the least waits right under the demold of a piece
        self.rush = chance.choice((0.0, 0.0, 0.5))  # how many pieces have a date by which they are out
        self.longest = chance.choice((40, 90, 240))  # min, of a step

    def likely(self, share: float) -> bool:
        return self.chance.random() < share

    def minutes(self, least: int, most: int) -> int:
        return max(5, self.chance.randint(least, most) // 5 * 5)

    def build(self) -> TightBuild:
        self.stations()
        names = [f"tile-{letter}" for letter in "abc"[: self.chance.choice((1, 1, 1, 2, 2, 3))]]
        for name in names:
            self.piece(name)
        if self.likely(0.6):
            self.job(names)
        return TightBuild(text="\n".join(self.lines) + STORES, facts=self.facts)

    # ------------------------------------------------------------ the shop

    def head(self, crew: str) -> None:
        chance, facts = self.chance, self.facts
        hours, facts.week = chance.choice(WEEKS)
        self.lines += ["build yard", f"    start {self.start}", *(f"    hours {text}" for text in hours)]
        self.lines += ["    air 20 degC", f"    crew {crew}"]
        if self.warm:
            self.lines.append(f"    night {chance.choice((10, 14, 26))} degC")
        closed = sorted(chance.sample(range(12), chance.choice((0, 0, 0, 1, 2))))
        for day in closed:
            self.lines.append(f"    closed {self.day(day)}")
        facts.closed = frozenset(closed)
        if self.likely(0.25):
            first = chance.randrange(8)
            last = first + chance.randrange(3)
            role = chance.choice([None, *self.roles])
            self.lines.append(f"    away 1 {role or ''} on {self.day(first)} to {self.day(last)}")
            facts.away = dict.fromkeys(range(first, last + 1), ((role, 1),))

    def day(self, number: int) -> date:
        return self.start + timedelta(days=number)

    def stations(self) -> None:
        chance = self.chance
        have = chance.choice((1, 1, 2))
        self.lines += ["station table", f"    have {have}"]
        spells: tuple[Spell, ...] = ()
        if self.likely(0.2):
            first = chance.randrange(6)
            last = first + chance.randrange(2)
            self.lines.append(f"    closed {self.day(first)} to {self.day(last)}")
            spells = ((first * DAY, (last + 1) * DAY),)
        self.facts.there["table"] = have, spells
        room = chance.choice((1, 1, 2, 3))
        self.lines += ["station rack", f"    holds {room} pieces"]
        self.facts.there["rack"] = room, ()

    # ------------------------------------------------------------ steps

    def gang(self) -> tuple[str, tuple[tuple[str | None, int], ...]]:
        """Who does a step; now and then one more than there are."""
        role = self.chance.choice([None, None, *self.roles])
        there = sum(n for r, n in self.facts.crew if role is None or r == role)
        people = min(self.chance.choice((1, 1, 1, 2)), there + (self.chance.random() < 0.03))
        return f"by {people} {role or ''}".rstrip(), ((role, people),)

    def asked(
        self, least: int = 5, most: int = 0, *, dated: float = 0.02, stations: bool = False
    ) -> tuple[str, Asked]:
        """The tail of a step."""
        minutes = self.minutes(least, most or self.longest)
        who, crew = self.gang()
        text = f"takes {minutes} min {who}"
        used: tuple[str, ...] = ()
        if stations and self.likely(0.6):
            used = ("table",)
            text += " using table"
        pauses, through = self.likely(0.3), self.likely(0.15)
        text += (" may-pause" if pauses else "") + (" through-breaks" if through else "")
        earliest = latest = None
        if self.likely(min(dated, 0.02)):
            day, hour = self.chance.randrange(8), self.chance.choice((9, 15))
            text += f" earliest {self.day(day)} {hour:02d}:00"
            earliest = day * DAY + hour * 60
        if self.likely(dated):
            day, hour = self.chance.randrange(2, 12 if dated > 0.1 else 30), self.chance.choice((10, 16))
            text += f" latest {self.day(day)} {hour:02d}:00"
            latest = day * DAY + hour * 60
        return text, Asked(minutes, crew, used, pauses, through, earliest, latest)

    def span(self, least: int, most: int, room: int) -> tuple[str, Waited]:
        """A wait, most of them with a longest time not far behind."""
        low = self.minutes(least, most)
        if self.likely(0.35):
            return f"{low} min", Waited(low, None)
        high = low + self.minutes(0, room)
        return f"{low} min to {high} min", Waited(low, high)

    # ------------------------------------------------------------ pieces

    def piece(self, name: str) -> None:
        made = self.chance.choice((1, 2, 2, 3, 4))
        molds = self.chance.choice((1, 1, 2))
        self.copies[name] = ("",) if made == 1 else tuple(str(n) for n in range(1, made + 1))
        works, work = self.asked(30, 200, dated=0.0)
        released = self.likely(0.5)
        self.lines += [f"mold {name}-mold", f"    fits {name}", f"    make {molds}"]
        self.lines += [f"    release oil on {name}.all takes 5 min by 1"] * released
        self.lines += [f"    work build-up {works}"]
        numbers = ("",) if molds == 1 else tuple(str(n) for n in range(1, molds + 1))
        forms = [_named(f"{name}-mold", number) for number in numbers]
        for form in forms:
            self.facts.there[form] = 1, ()
            self.facts.tasks[f"{form}.build-up"] = work
        self.lines += [f"piece {name}", f"    make {made}"]
        self.lines.append("    shape slab 400 mm long, 300 mm wide, 40 mm thick")
        walk = _Walk(self, name)
        if self.likely(0.3) and len(self.copies) > 1:
            walk.after(self.chance.choice(list(self.copies)[:-1]))
        walk.step("take", f"take {name}-mold", Asked(0), f"take-{name}-mold")
        if released:
            walk.step("release", "", Asked(5, ((None, 1),)), "release")
        self.cast(walk, name)
        self.cure(walk)
        walk.step("demold", *self.said("demold", "demold", 5, 40, dated=self.rush), "demold")
        self.finish(walk)
        walk.end()
        emptied: dict[str, str] = {}
        for turn, copy in enumerate(self.copies[name]):
            form, own = forms[turn % molds], _named(name, copy)
            first, last = f"{own}.take-{name}-mold", f"{own}.demold"
            self.facts.held.add((form, first, last))
            self.facts.gap(f"{form}.build-up", first)
            if form in emptied:
                self.facts.gap(emptied[form], first)
            emptied[form] = last

    def said(
        self, keyword: str, what: str, least: int = 5, most: int = 0, *, dated: float = 0.02
    ) -> tuple[str, Asked]:
        tail, asked = self.asked(least, most, dated=dated, stations=keyword in ("pour", "work"))
        return f"{what} {tail}", asked

    def cast(self, walk: "_Walk", name: str) -> None:
        pour = f"pour body full of casting into {name}-mold"
        if self.likely(0.7):
            walk.step("layer", *self.said("layer", "layer face 5 mm of casting on top sprayed", 10), "face")
            text, waited = self.span(10, 60, 60 + 2 * self.longest)
            if self.likely(0.3):
                waited = Waited(0, self.minutes(30, 60 + 2 * self.longest))
                walk.wait(f"within {waited.longest} min", waited)
            else:
                walk.wait(f"wait {text}", waited)
        walk.step("pour", *self.said("pour", pour, 10), "body")

    def cure(self, walk: "_Walk") -> None:
        hours = self.chance.choice((16, 18, 24, 30))
        longest = self.chance.choice((None, None, hours + 8, hours + 24, 96))
        text = f"cure {hours} h" + (f" to {longest} h" if longest else "") + " at 20 degC"
        waited = Waited(hours * 60, longest and longest * 60, self.warm)
        if self.likely(0.5):
            walk.covered(f"{text} covered", waited)
        else:
            walk.wait(f"{text} open", waited)

    def finish(self, walk: "_Walk") -> None:
        if self.likely(0.5):
            if self.likely(0.6):
                soon = Waited(0, self.minutes(10, 120))
                walk.wait(f"within {soon.longest} min", soon)
            walk.step("take", "take rack", Asked(0), "take-rack")
            text, waited = self.span(600, 2900, 900)
            walk.wait(f"wait {text}", waited)
            walk.step("free", "free rack", Asked(0), "free-rack")
            walk.holds("rack", "take-rack", "free-rack")
        if self.likely(0.5):
            grits = self.chance.choice(((100,), (100, 200), (60, 120, 200)))
            text = f"pass hone grit {', '.join(map(str, grits))} wet on top"
            parts = tuple(f"grit-{grit}" for grit in grits) if len(grits) > 1 else ("",)
            walk.step("pass", *self.said("pass", text), "hone", parts)
            text, waited = self.span(300, 1800, 1500)
            walk.wait(f"dry {text}", waited)
        if self.likely(0.5):
            coats = self.chance.choice((1, 2, 2, 3))
            text = f"pass seal {coats} {'coat' if coats == 1 else 'coats'} of wax on top rolled"
            window = Waited(60 * self.chance.randint(1, 4), 60 * self.chance.randint(4, 24))
            if coats > 1:
                text += f" between {window.least} min to {window.longest} min"
            parts = tuple(f"coat-{n}" for n in range(1, coats + 1)) if coats > 1 else ("",)
            walk.step("pass", *self.said("pass", text), "seal", parts, window)
        if len(self.copies) > 1 and self.likely(0.35):
            other = self.chance.choice(list(self.copies)[:-1])
            text, waited = self.span(30, 600, self.chance.choice((400, 1500, 8000)))
            walk.wait_for(f"wait {text}", other, waited)
        if self.likely(0.5):
            walk.step("work", *self.said("work", "work inspect", dated=self.rush), "inspect")
        elif self.likely(0.3):
            text, waited = self.span(60, 600, 600)
            walk.wait(f"wait {text}", waited)

    def job(self, names: list[str]) -> None:
        """Something done once to all pieces, and a second thing behind it."""
        self.lines.append("job hand-over")
        self.copies["hand-over"] = ("",)
        walk = _Walk(self, "hand-over")
        walk.step("move", *self.said("move", f"move load-up of {', '.join(names)}"), "load-up")
        for name in names:
            for copy in self.copies[name]:
                for task in self.last[name, copy]:
                    self.facts.gap(task, "hand-over.load-up")
        if self.likely(0.5):
            text, waited = self.span(10, 200, 120)
            walk.wait(f"wait {text}", waited)
            walk.step("work", *self.said("work", "work wash"), "wash")


def _named(*words: str) -> str:
    return ".".join(word for word in words if word)


class _Walk:
    """The lines of a piece or job, one after another, and what they ask of each copy."""

    def __init__(self, drawn: _Drawn, owner: str) -> None:
        self.drawn = drawn
        self.facts = drawn.facts
        self.owner = owner
        self.above: tuple[str, tuple[str, ...]] | None = None  # the step above, and its parts
        self.kind = ""
        self.waits: list[Waited] = []
        self.wet_wait = True
        self.cover: Waited | None = None
        self.afters: list[str] = []
        self.far: list[tuple[str, Waited]] = []

    def names(self, copy: str, step: str, parts: tuple[str, ...]) -> list[str]:
        return [_named(self.owner, copy, step, part) for part in parts]

    def step(
        self,
        kind: str,
        line: str,
        asked: Asked,
        step: str,
        parts: tuple[str, ...] = ("",),
        between: Waited | None = None,
    ) -> None:
        if line:
            self.drawn.lines.append(f"    {line}")
        for copy in self.drawn.copies[self.owner]:
            tasks = self.names(copy, step, parts)
            for task in tasks:
                self.facts.tasks[task] = asked
            for one, other in pairwise(tasks):
                self.facts.gap(one, other, *([between] if between else []))
            self.follows(copy, tasks, {kind, self.kind} <= {"layer", "pour"})
        self.settle()
        self.above, self.kind = (step, parts), kind
        self.waits, self.cover, self.afters, self.far = [], None, [], []

    def follows(self, copy: str, tasks: list[str], wet: bool) -> None:
        facts, first, last = self.facts, tasks[0], tasks[-1]
        for other in self.afters:
            for own in self.drawn.copies[other]:
                facts.gap(_named(other, own, "demold"), first, *self.drawn.under[other])
        for other, waited in self.far:
            for own in self.drawn.copies[other]:
                facts.gap(_named(other, own, "demold"), first, waited, points=(START, START))
        if self.above is None:
            return
        before = self.names(copy, *self.above)
        facts.gap(before[-1], first)
        if self.cover is not None:
            uncover = f"{before[-1]}.uncover"
            facts.gap(uncover, first, *self.waits)
            if self.cover.longest is not None:
                facts.gap(before[-1], first, Waited(0, self.cover.longest, self.cover.warm))
        elif self.waits and wet:
            facts.gap(before[0], first, *self.waits, points=(START, START))
            facts.gap(before[-1], last, *self.waits, points=(END, END))
        elif self.waits:
            facts.gap(before[-1], first, *self.waits)

    def settle(self) -> None:
        """Waits right under a step belong to it where others come after it."""
        if self.above is not None and self.above[0] == "demold":
            self.drawn.under[self.owner] = [Waited(wait.least, None, wait.warm) for wait in self.waits]

    def wait(self, line: str, waited: Waited) -> None:
        self.drawn.lines.append(f"    {line}")
        self.waits.append(waited)

    def covered(self, line: str, waited: Waited) -> None:
        """A cure that somebody covers and uncovers, each 10 min by 1, covered within the hour."""
        self.drawn.lines.append(f"    {line}")
        assert self.above is not None
        for copy in self.drawn.copies[self.owner]:
            before = self.names(copy, *self.above)[-1]
            for name in ("cover", "uncover"):
                self.facts.tasks[f"{before}.{name}"] = Asked(10, ((None, 1),))
            self.facts.gap(before, f"{before}.cover", Waited(0, 60))
            self.facts.gap(f"{before}.cover", f"{before}.uncover")
            self.facts.gap(before, f"{before}.uncover", Waited(waited.least, None, waited.warm))
        self.cover = waited

    def after(self, other: str) -> None:
        self.drawn.lines.append(f"    after {other}.demold")
        self.afters.append(other)

    def wait_for(self, line: str, other: str, waited: Waited) -> None:
        self.drawn.lines.append(f"    {line} after {other}.demold.start")
        self.far.append((other, waited))

    def holds(self, thing: str, first: str, last: str) -> None:
        for copy in self.drawn.copies[self.owner]:
            self.facts.held.add((thing, _named(self.owner, copy, first), _named(self.owner, copy, last)))

    def end(self) -> None:
        """A wait at the foot of the lines ends at a point in time."""
        assert self.above is not None
        self.settle()
        open_end = bool(self.waits or self.far or self.cover)
        for copy in self.drawn.copies[self.owner]:
            last = self.names(copy, *self.above)[-1]
            if not open_end:
                self.drawn.last[self.owner, copy] = (last,)
                continue
            ready = _named(self.owner, copy, "ready")
            self.facts.tasks[ready] = Asked(0)
            waits, self.waits = self.waits, [Waited(wait.least, None, wait.warm) for wait in self.waits]
            self.follows(copy, [ready], False)
            self.waits = waits
            self.drawn.last[self.owner, copy] = (ready,)
