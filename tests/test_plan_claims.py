"""Random networks and random builds: what the planner says of each is true, by a general-purpose solver on
the raw constraints; and the network of a build asks what its lines ask.

`python tests/bench/claims.py 10000` does the same for more of them, and counts.
"""

from collections import Counter
from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

pytest.importorskip("ortools")

from judged_claims import judged_build, judged_network
from network_by_hand import misread
from raw_constraints import plan_ends_by, there_is_a_plan
from raw_horizons import far_minute
from tight_builds import tight_build

from castlang.pipeline import compile_build
from castlang.plan.from_network import plan_of
from castlang.plan.model import Ageing, GapEdge, Hold, Hours, Network, Point, Resource, Stretch, Task
from castlang.source.files import Texts

SEEDS = range(40)
SHOP = Hours(start=date(2027, 3, 1), week=(((480, 720), (750, 990)),) * 5 + ((), ()), crew=((None, 1),))


@pytest.mark.parametrize("judge", [judged_network, judged_build])
def test_no_plan_and_no_impossibility_that_the_planner_tells_is_wrong(judge):
    found = {seed: judge(seed) for seed in SEEDS}
    count = Counter(claim.says for claim in found.values())

    assert [(seed, claim.wrong) for seed, claim in found.items() if claim.right is False] == []
    assert count["plan"] >= len(SEEDS) / 4
    assert count["impossible"] >= len(SEEDS) / 4
    assert count["undecided"] <= len(SEEDS) / 20


def test_a_wait_a_mold_or_a_person_that_the_network_has_otherwise_than_the_text_is_seen():
    build = tight_build(3)
    made = compile_build("main.pour", build.text.encode(), Texts())
    network = made.network
    assert network is not None
    waiting = next(gap for gap in network.gaps if gap.longest is not None)
    worked = next(task for task in network.tasks if task.crew)
    others = tuple(gap for gap in network.gaps if gap != waiting)

    assert misread(build.facts, network) == ()
    for spoilt in (
        replace(network, gaps=(*others, replace(waiting, longest=waiting.longest + 1))),
        replace(network, gaps=others),
        replace(network, holds=network.holds[1:]),
        replace(network, resources=network.resources[1:]),
        replace(network, tasks=tuple(t for t in network.tasks if t != worked)),
        replace(network, tasks=tuple(replace(t, crew=()) if t == worked else t for t in network.tasks)),
        replace(network, hours=replace(network.hours, closed=frozenset())),
    ):
        assert misread(build.facts, spoilt) != ()


def test_the_outside_judge_counts_a_wait_by_the_warmth_of_its_hours():
    """Own arithmetic, no outside source: a wait of 60 min as told, from minute 0, half as fast until minute
    100 and as fast as told behind it, has aged 50 min by minute 100 and is over at minute 110; no more than
    70 min may pass, which is up to minute 120."""
    slow = Ageing(
        rule="doubling", constant=Fraction(10), told_at=Fraction(293), settled=200,
        spells=((0, 283000, 500_000), (100, 293000, 1_000_000)),
    )  # fmt: skip
    gap = GapEdge(
        before="a", after="b", least=60, longest=70, stretches=(Stretch(least=60, longest=70, ageing=slow),)
    )
    tasks = (Task(name="a", minutes=0, latest=0), Task(name="b", minutes=10))
    whole = replace(SHOP, week=(((0, 1440),),) * 7)
    network = Network(tasks=tasks, gaps=(gap,), holds=(), resources=(), hours=whole)
    late = replace(network, tasks=(tasks[0], replace(tasks[1], earliest=120)))
    later = replace(network, tasks=(tasks[0], replace(tasks[1], earliest=121)))

    assert [plan_ends_by(network, minute) for minute in (119, 120)] == [False, True]
    assert [there_is_a_plan(told, {"b"}) for told in (late, later)] == [True, False]
    assert plan_of(network).value.finish == 120


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
