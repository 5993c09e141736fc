"""Casting shops made up for measuring: eleven steps a piece, as many pieces as wanted.

Steps on a grid of 15 minutes; three people, one mixer, one table, two molds of the first kind and one each of
two others; open Monday to Friday from 8 to 17.
"""

import random
from datetime import date

from castlang.plan.model import GapEdge, Hold, Hours, Need, Network, Resource, Task

STEPS = 11
HOURS = Hours(start=date(2027, 3, 1), week=(((480, 1020),),) * 5 + ((), ()), crew=((None, 3),))
MOLDS = {"a": 2, "b": 1, "c": 1}


def casting_shop(steps: int, seed: int) -> Network:
    """A shop with about that many steps, drawn from `seed`."""
    chance = random.Random(seed)
    tasks: list[Task] = []
    gaps: list[GapEdge] = []
    holds: list[Hold] = []
    for piece in range(1, max(1, round(steps / STEPS)) + 1):
        _piece(f"piece.{piece}", chance, tasks, gaps, holds)
    resources = (
        Resource(name="mixer", capacity=1),
        Resource(name="table", capacity=1),
        *(Resource(name=f"mold {kind}", capacity=count, kind="mold") for kind, count in MOLDS.items()),
    )
    return Network(tasks=tuple(tasks), gaps=tuple(gaps), holds=tuple(holds), resources=resources, hours=HOURS)


def _piece(
    name: str, chance: random.Random, tasks: list[Task], gaps: list[GapEdge], holds: list[Hold]
) -> None:
    kind = chance.choice("aabc")

    def quarters(least: int, most: int) -> int:
        return 15 * chance.randint(least, most)

    # (step, minutes, people, stations, may pause, least and longest minutes to the next step)
    lines: list[tuple[str, int, int, tuple[str, ...], bool, int, int | None]] = [
        ("oil", 30, 1, (), False, 0, 600),
        ("pour", quarters(2, 4), 2, ("mixer", "table"), False, quarters(60, 80), 5 * 1440),
        ("demold", 30, 2, (), False, 0, None),
        ("fill", quarters(1, 3), 1, (), False, 720, None),
        ("hone-1", quarters(4, 8), 1, (), True, 0, None),
        ("hone-2", quarters(3, 6), 1, (), True, 1440, None),
        ("seal-1", 15, 1, (), False, 120, 360),
        ("seal-2", 15, 1, (), False, 2880, None),
        ("fit", quarters(1, 4), 1, (), False, 0, None),
        ("look", 15, 1, (), False, 0, None),
        ("crate", 30, 2, (), False, 0, None),
    ]
    for k, (step, minutes, people, stations, pauses, least, longest) in enumerate(lines):
        tasks.append(
            Task(
                name=f"{name}.{step}",
                minutes=minutes,
                crew=((None, people),),
                needs=tuple(Need(resource=station) for station in stations),
                may_pause=pauses,
                owner="piece",
                step=step,
                copy=name.rsplit(".", 1)[1],
            )
        )
        if k + 1 < len(lines):
            gaps.append(
                GapEdge(
                    before=f"{name}.{step}", after=f"{name}.{lines[k + 1][0]}", least=least, longest=longest
                )
            )
    holds.append(Hold(resource=f"mold {kind}", first=f"{name}.oil", last=f"{name}.demold"))
