"""Random networks: what the planner says of each is true, by a general-purpose solver on the raw constraints.

`python tests/bench/claims.py 10000` does the same for more of them, and counts.
"""

from collections import Counter
from dataclasses import replace
from datetime import date

import pytest

pytest.importorskip("ortools")

from judged_claims import judged
from random_networks import network_of
from raw_constraints import far_minute, plan_ends_by

from castlang.plan.from_network import plan_of
from castlang.plan.model import GapEdge, Hold, Hours, Network, Point, Resource, Task

SEEDS = range(40)
SHOP = Hours(start=date(2027, 3, 1), week=(((480, 720), (750, 990)),) * 5 + ((), ()), crew=((None, 1),))


def test_no_plan_and_no_impossibility_that_the_planner_tells_is_wrong():
    found = {seed: judged(network_of(seed)) for seed in SEEDS}
    count = Counter(claim.says for claim in found.values())

    assert [seed for seed, claim in found.items() if claim.right is False] == []
    assert count["plan"] >= len(SEEDS) / 4
    assert count["impossible"] >= len(SEEDS) / 4
    assert count["undecided"] <= len(SEEDS) / 20


def test_the_outside_judge_is_strict_to_the_minute():
    """Own arithmetic, no outside source: two tasks of one person, 300 min that pauses and 100 min that does
    not, from Monday 8:00 with 240 min before and 240 min after a break of 30 min. The long one first ends at
    8:00 + 300 + 30 min and the short one 100 min later, 910; the other way round at 8:00 + 430 min, 910."""
    tasks = (
        Task(name="a", minutes=300, crew=((None, 1),), may_pause=True),
        Task(name="b", minutes=100, crew=((None, 1),)),
    )
    network = Network(tasks=tasks, gaps=(), holds=(), resources=(), hours=SHOP)

    assert [plan_ends_by(network, minute) for minute in (909, 910)] == [False, True]
    assert plan_of(network).value.finish == 910


def test_a_mold_given_back_when_it_is_taken_is_not_held():
    """The judge's find: a hold from the start of a step to the end of one that is over by then takes no room,
    so three of a form with room for three suffice, and the planner must not say that there is none."""
    tasks = (Task(name="a", minutes=30), Task(name="b", minutes=600))
    gap = GapEdge(before="a", after="b", least=-30, longest=60, before_point=Point.END, after_point=Point.END)
    holds = (*(Hold(resource="form", first="a", last="a"),) * 3, Hold(resource="form", first="a", last="b"))
    form = Resource(name="form", capacity=3, kind="mold")
    network = Network(
        tasks=tasks,
        gaps=(gap,),
        holds=holds,
        resources=(form,),
        hours=replace(SHOP, week=(((0, 1440),),) * 7),
    )
    names = {problem.finding.name for problem in plan_of(network).problems}

    assert plan_ends_by(network, far_minute(network)) is True
    assert "places-short" not in names
