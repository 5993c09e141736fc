"""Shops of many alike pieces: how soon work can begin, what one block has shown, and searches that go on."""

import random
from dataclasses import replace
from datetime import date

import pytest

from castlang.plan.from_network import plan_of, plan_within
from castlang.plan.model import GapEdge, Hold, Hours, Network, Resource, Task
from castlang.plan.placement.patterns import Shown
from castlang.plan.searches.search import EFFORTS, Effort
from castlang.plan.verify import verify

ALWAYS = Hours(start=date(2027, 3, 1), week=(((0, 1440),),) * 7, crew=((None, 1),))
DAYS = replace(ALWAYS, week=(((480, 720), (750, 990)),) * 5 + ((), ()), crew=((None, 2),))


def _held(pieces: int) -> tuple[Hold, ...]:
    names = [f"piece.{n}" for n in range(1, pieces + 1)]
    return tuple(Hold(resource="mold", first=f"{name}.pour", last=f"{name}.demold") for name in names)


def castings(seed: int, pieces: int, hours: Hours) -> Network:
    """Pieces cast in one mold, honed, and sealed twice within a window; drawn from `seed`."""
    chance = random.Random(seed)
    tasks: list[Task] = []
    gaps: list[GapEdge] = []
    for piece in range(1, pieces + 1):
        lines = (
            ("pour", 60, 240, None),
            ("demold", 60, 0, None),
            ("hone", 60 * chance.randint(1, 4), 0, None),
            ("seal-1", 30, 60, 180),
            ("seal-2", 30, 0, None),
        )
        for k, (step, minutes, least, longest) in enumerate(lines):
            name = f"piece.{piece}.{step}"
            owner = {"owner": "piece", "step": step, "copy": str(piece)}
            tasks.append(Task(name=name, minutes=minutes, crew=((None, 1),), **owner))
            if k + 1 < len(lines):
                then = f"piece.{piece}.{lines[k + 1][0]}"
                gaps.append(GapEdge(before=name, after=then, least=least, longest=longest))
    mold = Resource(name="mold", capacity=1, kind="mold")
    return Network(tasks=tuple(tasks), gaps=tuple(gaps), holds=_held(pieces), resources=(mold,), hours=hours)


def test_what_waits_for_a_mold_cannot_be_done_before_its_turn():
    """Own arithmetic, no outside source: one person; three pieces of 60 min to pour, 240 min to set, 60 min
    to demold, 240 min to hone and 60 min to seal, one mold. Until the mold is free at minute 360 only one
    piece can be poured and demolded, 120 of 1260 min of work: the other 1140 end at minute 1500 or later. The
    mold alone asks for 3 * 360 + 300 = 1380."""
    tasks: list[Task] = []
    gaps: list[GapEdge] = []
    for n in (1, 2, 3):
        for step, minutes in (("pour", 60), ("demold", 60), ("hone", 240), ("seal", 60)):
            tasks.append(Task(name=f"piece.{n}.{step}", minutes=minutes, crew=((None, 1),)))
        gaps.append(GapEdge(before=f"piece.{n}.pour", after=f"piece.{n}.demold", least=240))
        gaps.append(GapEdge(before=f"piece.{n}.demold", after=f"piece.{n}.hone", least=0))
        gaps.append(GapEdge(before=f"piece.{n}.hone", after=f"piece.{n}.seal", least=0))
    network = Network(
        tasks=tuple(tasks),
        gaps=tuple(gaps),
        holds=tuple(
            Hold(resource="mold", first=f"piece.{n}.pour", last=f"piece.{n}.demold") for n in (1, 2, 3)
        ),
        resources=(Resource(name="mold", capacity=1, kind="mold"),),
        hours=ALWAYS,
    )
    plan = plan_of(network).value

    assert plan.bound == 1500
    assert plan.finish == 1500


@pytest.mark.parametrize("seed", range(6))
def test_what_a_block_has_shown_only_saves_looking_again(seed: int, monkeypatch: pytest.MonkeyPatch):
    network = castings(seed, 12, DAYS)
    with_it = plan_of(network, search="quick").value
    monkeypatch.setattr(Shown, "ahead", lambda self, since: since)
    without = plan_of(network, search="quick").value

    assert verify(with_it) == ()
    assert with_it.placed == without.placed


@pytest.mark.parametrize("seed", range(4))
def test_a_search_that_goes_on_from_another_never_ends_later(seed: int):
    network = castings(seed, 8, DAYS)
    short = Effort(placings=0, fewest=30, most=30, patience=30)
    further = replace(short, fewest=10, most=10, first=short)
    ends = [plan_within(network, effort, {}).value.finish for effort in (EFFORTS["quick"], short, further)]

    assert ends == sorted(ends, reverse=True)
    assert EFFORTS["normal"] in EFFORTS["thorough"].stages
