"""The verifier finds each kind of fault that a plan can have."""

from dataclasses import replace
from datetime import date

import pytest

from castlang.plan.from_network import plan_of
from castlang.plan.model import GapEdge, Hold, Hours, Need, Network, Placed, Point, Resource, Task
from castlang.plan.verify import verify

ONE = ((None, 1),)
HOURS = Hours(
    start=date(2027, 3, 1),
    week=(((480, 720), (750, 990)),) * 5 + ((), ()),
    crew=((None, 1), ("finisher", 1)),
    away={3: (("finisher", 1),)},
)
NETWORK = Network(
    tasks=(
        Task(name="take", minutes=0),
        Task(name="body", minutes=60, crew=ONE, needs=(Need(resource="mixer"),)),
        Task(name="demold", minutes=30, crew=ONE, latest=5000),
        Task(name="hone", minutes=300, crew=(("finisher", 1),), may_pause=True, earliest=1440),
        Task(name="other", minutes=60, crew=ONE, needs=(Need(resource="mixer"),)),
        Task(name="tick", minutes=0, crew=ONE),
    ),
    gaps=(
        GapEdge(before="take", after="body", least=0),
        GapEdge(before="body", after="demold", least=1440, longest=2880),
        GapEdge(before="take", after="other", least=0, before_point=Point.START, after_point=Point.END),
    ),
    holds=(
        Hold(resource="mold", first="take", last="demold"),
        Hold(resource="rack", first="hone", last=None),
    ),
    resources=(
        Resource(name="mixer", capacity=1, closed=((480, 500),)),
        Resource(name="mold", capacity=1, kind="mold"),
        Resource(name="rack", capacity=1),
    ),
    hours=HOURS,
)


def good():
    return plan_of(NETWORK).value


def moved(start, spells=None, end=None, **tasks):
    """The good plan with one task elsewhere, its figures still in order."""
    (name,) = tasks
    return changed(good(), name, start, tasks[name] if spells is None else spells, end)


def changed(plan, name, start, spells, end=None):
    ends = end if end is not None else (spells[-1][1] if spells else start)
    placed = [
        Placed(task=name, start=start, end=ends, spells=spells, latest=start, slack=0)
        if p.task == name
        else p
        for p in plan.placed
    ]
    placed.sort(key=lambda p: p.start)
    finish = max(p.end for p in placed)
    return replace(plan, placed=tuple(placed), finish=finish, bound=min(plan.bound, finish))


def test_a_good_plan_has_no_fault():
    assert verify(good()) == ()


@pytest.mark.parametrize(
    ("name", "start", "spells", "fault"),
    [
        ("body", 400, ((400, 460),), "body is worked from 400 to 460, not all of it in hours"),
        ("body", 700, ((700, 760),), "body is worked from 700 to 760, not all of it in hours"),
        ("body", 490, ((490, 550),), "body is worked from 490 to 550, not all of it in hours"),
        ("body", 600, ((600, 640),), "body is worked 40 min of 60"),
        ("body", 690, ((690, 720), (750, 780)), "body pauses, but may not"),
        ("other", 520, ((520, 580),), "2 of mixer are wanted at 520, there is room for 1"),
        ("demold", 1500, ((1500, 1530),), "demold is worked from 1500 to 1530, not all of it in hours"),
        ("demold", 1920, ((1920, 1950),), "demold comes 1360 min after body, not 1440 or more"),
        ("demold", 4800, ((4800, 4830),), "demold comes 4240 min after body, not 2880 or less"),
        ("demold", 6300, ((6300, 6330),), "demold ends at 6330, later than 5000"),
        ("take", 600, (), "body comes -100 min after take, not 0 or more"),
        ("take", -1, (), "take starts at -1, sooner than it may"),
        ("tick", 100, (), "tick happens at 100, when it may not"),
        ("hone", 480, ((480, 720), (750, 810)), "hone starts at 480, sooner than it may"),
        (
            "hone",
            1920,
            ((1920, 2000), (2010, 2160), (2190, 2260)),
            "hone pauses from 2000 to 2010, though it could be worked",
        ),
        (
            "hone",
            4800,
            ((4800, 5040), (5070, 5130)),
            "hone is worked from 4800 to 5040, not all of it in hours",
        ),
        ("hone", 2160, ((2160, 2160), (2190, 2490)), "hone is worked in spells that are not in order"),
    ],
)
def test_a_task_in_the_wrong_place_is_found(name, start, spells, fault):
    assert fault in verify(changed(good(), name, start, spells))


def test_more_people_than_there_are_is_found():
    tasks = tuple(Task(name=name, minutes=30, crew=ONE) for name in "abc")
    plan = plan_of(replace(NETWORK, tasks=tasks, gaps=(), holds=())).value
    for name in "abc":
        plan = changed(plan, name, 480, ((480, 510),))

    assert verify(plan) == ("3 people are wanted at 480, 2 are there",)


def test_more_people_of_a_role_than_there_are_is_found():
    tasks = tuple(Task(name=name, minutes=30, crew=(("finisher", 1),)) for name in "ab")
    plan = plan_of(replace(NETWORK, tasks=tasks, gaps=(), holds=())).value
    for name in "ab":
        plan = changed(plan, name, 480, ((480, 510),))

    assert verify(plan) == ("2 finisher are wanted at 480, 1 are there",)


def test_two_people_on_a_day_when_one_is_away_are_found():
    tasks = tuple(Task(name=name, minutes=30, crew=ONE) for name in "ab")
    plan = plan_of(replace(NETWORK, tasks=tasks, gaps=(), holds=())).value
    for name in "ab":
        plan = changed(plan, name, 4800, ((4800, 4830),))

    assert verify(plan) == ("2 people are wanted at 4800, 1 are there",)


def test_a_mold_that_is_held_twice_is_found():
    holds = (*NETWORK.holds, Hold(resource="mold", first="hone", last="hone"))
    plan = replace(good(), network=replace(NETWORK, holds=holds))
    start = next(p.start for p in plan.placed if p.task == "hone")

    assert verify(plan) == (f"2 of mold are wanted at {start}, there is room for 1",)


def test_something_held_to_the_end_is_found_when_it_is_used_afterwards():
    holds = (*NETWORK.holds, Hold(resource="rack", first="demold", last="demold"))
    plan = changed(replace(good(), network=replace(NETWORK, holds=holds)), "demold", 3360, ((3360, 3390),))

    assert "2 of rack are wanted at 3360, there is room for 1" in verify(plan)


def test_something_given_back_before_it_is_taken_is_found():
    holds = (Hold(resource="mold", first="demold", last="take"),)
    found = verify(replace(good(), network=replace(NETWORK, holds=holds)))

    assert [fault for fault in found if "before it is taken" in fault] != []


def test_a_task_left_out_or_placed_twice_is_found():
    plan = good()

    assert verify(replace(plan, placed=plan.placed[1:])) == (f"{plan.placed[0].task} is placed 0 times",)
    assert verify(replace(plan, placed=(*plan.placed, plan.placed[-1]))) == (
        f"{plan.placed[-1].task} is placed 2 times",
    )


def test_wrong_figures_are_found():
    plan = good()
    first = plan.placed[0]
    late = replace(first, latest=first.start - 1, slack=-1)

    assert verify(replace(plan, finish=plan.finish + 1)) == (
        f"the finish is told as {plan.finish + 1}, but the last end is {plan.finish}",
    )
    assert verify(replace(plan, bound=plan.finish + 1)) == (
        f"the plan finishes at {plan.finish}, before its bound {plan.finish + 1}",
    )
    assert verify(replace(plan, placed=(late, *plan.placed[1:]))) == (
        f"{first.task} starts at {first.start}, latest {first.start - 1}, with a slack of -1",
    )
    assert verify(replace(plan, placed=tuple(reversed(plan.placed)))) == (
        "the tasks are not in the order of their starts",
    )
