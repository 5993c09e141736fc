"""Networks drawn from a seed: pieces cast with windows, molds, stations and people, in all sorts of shops,
and tasks tied at random. Many can be met, some cannot."""

import random
from datetime import date

from castlang.plan.model import GapEdge, Hold, Hours, Need, Network, Point, Resource, Task

WEEKS = (
    (((480, 720), (750, 990)),) * 5 + ((), ()),
    (((480, 1020),),) * 5 + (((540, 720),), ()),
    (((420, 690), (720, 1050)),) * 4 + (((480, 720),), (), ()),
    (((0, 1440),),) * 7,
    ((), ((600, 640), (650, 700)), (), ((1300, 1440),), ((0, 300),), (), ()),
)
CREWS = (
    ((None, 1),),
    ((None, 2),),
    ((None, 3),),
    ((None, 1), ("caster", 1)),
    (("caster", 2), ("finisher", 1)),
)


def network_of(seed: int) -> Network:
    """The network of a seed: two of three are castings, one is tied at random."""
    chance = random.Random(seed)
    return _tied(chance) if seed % 3 == 2 else _castings(chance)


def _hours(chance: random.Random) -> Hours:
    away = {
        day: tuple(
            (chance.choice((None, "caster")), chance.randint(1, 2)) for _ in range(chance.randint(1, 2))
        )
        for day in sorted(chance.sample(range(10), chance.choice((0, 0, 0, 1, 2))))
    }
    return Hours(
        start=date(2027, 3, 1),
        week=chance.choice(WEEKS),
        closed=frozenset(chance.sample(range(9), chance.choice((0, 0, 1, 2)))),
        crew=chance.choice(CREWS),
        away=away,
    )


def _resources(chance: random.Random, **most: int) -> tuple[Resource, ...]:
    closings = ((), (), (), ((0, 700),), ((1440, 2880), (3000, 3100)))
    return tuple(
        Resource(
            name=name,
            capacity=chance.randint(1, room),
            kind="mold" if name == "form" else "station",
            closed=chance.choice(closings),
        )
        for name, room in most.items()
    )


def _castings(chance: random.Random) -> Network:
    """A few alike pieces: a form oiled, a face, a backer inside its window, a cure, a demold, finishing."""
    grid = chance.choice((1, 5, 15))
    hours = _hours(chance)
    roles = [role for role, _ in hours.crew]

    def minutes(least: int, most: int) -> int:
        return max(1, chance.randint(least, most) // grid) * grid

    face, back, window = minutes(10, 60), minutes(10, 90), minutes(20, 180)
    least = minutes(0, 40)
    cure, cure_most = minutes(600, 1500), chance.choice((None, 2880, 4320))
    hone = minutes(60, 700)
    recoat, recoat_most = minutes(30, 300), chance.choice((None, 480, 1440))
    gang = chance.choice((1, 1, 2))
    row = chance.random() < 0.4  # all faces before any backer
    tasks: list[Task] = []
    gaps: list[GapEdge] = []
    holds: list[Hold] = []
    pieces = chance.randint(1, 4)
    for n in range(1, pieces + 1):
        name = f"tray.{n}"
        lines: list[tuple[str, int, int, str, bool, int, int | None]] = [
            ("take", 0, 0, "", False, 0, None),
            ("face", face, gang, "mixer", False, 0, None),
            ("backer", back, gang, "mixer", False, least, max(window, least)),
            ("demold", minutes(10, 30), gang, "", False, cure, cure_most and max(cure, cure_most)),
            ("hone", hone, 1, chance.choice(("", "table")), chance.random() < 0.7, 0, None),
            ("coat-1", minutes(10, 30), 1, "", False, 0, None),
            ("coat-2", minutes(10, 30), 1, "", False, recoat, recoat_most and max(recoat, recoat_most)),
        ]
        for k, (step, work, people, station, pauses, lag, longest) in enumerate(
            lines[: chance.randint(3, 7)]
        ):
            tasks.append(
                Task(
                    name=f"{name}.{step}",
                    minutes=work,
                    crew=((chance.choice((None, roles[0])), people),) if people else (),
                    needs=(Need(resource=station),) if station else (),
                    may_pause=pauses,
                    through_breaks=step == "face" and grid == 5,
                    earliest=chance.choice((None,) * 8 + (900, 5000)),
                    latest=chance.choice((None,) * 20 + (8000, 20000)),
                    owner="tray",
                    step=step,
                    copy=str(n),
                )
            )
            if k:
                before = f"{name}.{lines[k - 1][0]}"
                gaps.append(GapEdge(before=before, after=f"{name}.{step}", least=lag, longest=longest))
        last = f"{name}.demold" if tasks[-1].step not in ("face", "backer") else tasks[-1].name
        ends = None if chance.random() < 0.05 else last
        holds.append(Hold(resource="form", first=f"{name}.take", last=ends))
    if row:
        gaps += [
            GapEdge(before=f"tray.{a}.face", after=f"tray.{b}.backer", least=0)
            for a in range(1, pieces + 1)
            for b in range(1, pieces + 1)
            if a != b
        ]
    resources = _resources(chance, form=4, mixer=1, table=1)
    return Network(tasks=tuple(tasks), gaps=tuple(gaps), holds=tuple(holds), resources=resources, hours=hours)


def _tied(chance: random.Random) -> Network:
    """Up to eight tasks of every kind, tied by gaps of every kind."""
    hours = _hours(chance)
    roles = [role for role, _ in hours.crew]
    count = chance.randint(2, 8)
    tasks = tuple(
        Task(
            name=f"t.{k}",
            minutes=chance.choice((0, 10, 30, 60, 150, 600)),
            crew=chance.choice(
                ((), ((None, 1),), ((None, 2),), ((roles[-1], 1),), ((None, 1), (roles[-1], 1)))
            ),
            needs=chance.choice(((), (), (Need(resource="mixer"),), (Need(resource="form"),))),
            may_pause=chance.random() < 0.6,
            through_breaks=chance.random() < 0.3,
            earliest=chance.choice((None,) * 6 + (900, 5000)),
            latest=chance.choice((None,) * 12 + (4000, 20000)),
        )
        for k in range(count)
    )
    gaps = []
    for b in range(count):
        for a in range(b):
            if chance.random() < 0.35:
                least = chance.choice((0, 0, 0, 30, 600, -30))
                longest = chance.choice((None, None, None, 0, 60, 1200))
                gaps.append(
                    GapEdge(
                        before=f"t.{a}",
                        after=f"t.{b}",
                        least=least,
                        longest=None if longest is None else max(longest, least),
                        before_point=chance.choice(list(Point)),
                        after_point=chance.choice(list(Point)),
                    )
                )
    holds = []
    for _ in range(chance.randint(0, 3)):
        first = chance.randrange(count)
        last = chance.choice([None, *[f"t.{k}" for k in range(first, count)] * 3])
        holds.append(Hold(resource="form", first=f"t.{first}", last=last))
    resources = _resources(chance, form=3, mixer=2)
    return Network(tasks=tasks, gaps=tuple(gaps), holds=tuple(holds), resources=resources, hours=hours)
