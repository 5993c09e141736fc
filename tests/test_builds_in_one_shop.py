"""Several builds planned in one shop: they share what there is, and the dates are kept in the told order."""

import random
from dataclasses import replace
from datetime import date
from itertools import pairwise

from test_search import DAYS, small_shop

from castlang.plan.from_network import plan_of
from castlang.plan.model import GapEdge, Hold, Hours, Network, Resource, Task
from castlang.plan.network.several import joined
from castlang.plan.verify import verify


def day_of_work(due: int | None, start: date = DAYS.start) -> Network:
    """A build of one step of 4 h for both people."""
    hours = replace(DAYS, start=start)
    task = Task(name="cast", minutes=240, crew=((None, 2),), owner="cast")
    return Network(tasks=(task,), gaps=(), holds=(), resources=(), hours=hours, due=due)


def starts(builds: list[tuple[str, Network]]) -> dict[str, int]:
    plan = plan_of(joined(builds).value).value

    return {p.task: p.start for p in plan.placed}


def test_the_build_that_is_due_first_goes_first_whatever_its_place() -> None:
    builds = [("slow", day_of_work(3 * 1440)), ("fast", day_of_work(1440 // 2))]

    assert starts(builds) == {"fast/cast": 480, "slow/cast": 780}


def test_of_builds_that_cannot_both_be_in_time_the_one_told_first_is() -> None:
    noon = 720

    assert starts([("b", day_of_work(noon)), ("a", day_of_work(noon))]) == {"a/cast": 780, "b/cast": 480}
    assert starts([("a", day_of_work(noon)), ("b", day_of_work(noon))]) == {"a/cast": 480, "b/cast": 780}


def test_a_priority_goes_before_the_place_on_the_line() -> None:
    noon = 720
    first = replace(day_of_work(noon), priority=1)
    second = replace(day_of_work(noon), priority=2)

    assert starts([("b", day_of_work(noon)), ("a", first)]) == {"a/cast": 480, "b/cast": 780}
    assert starts([("b", second), ("a", first)]) == {"a/cast": 480, "b/cast": 780}
    assert starts([("b", first), ("a", second)]) == {"a/cast": 780, "b/cast": 480}


def test_a_missed_date_is_told_with_the_build_that_misses_it() -> None:
    found = plan_of(joined([("b", day_of_work(720)), ("a", day_of_work(720))]).value)

    assert [(p.finding.name, p.message) for p in found.problems] == [
        ("due-missed", "a ends on Mon 2027-03-01 17:00, 5 h after the due date Mon 2027-03-01 12:00")
    ]


def test_a_build_that_starts_later_begins_on_its_own_first_day() -> None:
    builds = [("now", day_of_work(None)), ("later", day_of_work(None, date(2027, 3, 3)))]

    assert starts(builds) == {"now/cast": 480, "later/cast": 2 * 1440 + 480}


def test_two_builds_never_use_more_of_the_shop_than_there_is() -> None:
    joint = joined([("one", small_shop(1)), ("two", small_shop(2))]).value
    plan = plan_of(joint).value

    assert verify(plan) == ()
    assert len(plan.placed) == 50


def test_the_solver_keeps_the_same_order_of_aims() -> None:
    joint = joined(
        [("one", replace(small_shop(1), due=3000)), ("two", replace(small_shop(2), due=3000))]
    ).value
    normal, thorough = (plan_of(joint, search=search) for search in ("normal", "thorough"))

    def late(found: object) -> int:
        return sum(
            due.weight
            * max(0, max(p.end for p in found.value.placed if p.task.startswith(due.prefix)) - due.minute)
            for due in joint.dues
        )

    assert verify(thorough.value) == ()
    assert (late(thorough), thorough.value.finish) <= (late(normal), normal.value.finish)


def test_builds_that_tell_the_shop_differently_are_not_planned_together() -> None:
    other = replace(
        small_shop(1),
        hours=Hours(start=DAYS.start, week=DAYS.week, crew=((None, 3),)),
        resources=tuple(replace(r, capacity=r.capacity + 1) for r in small_shop(1).resources),
    )
    found = joined([("one", small_shop(1)), ("two", other)])

    assert found.value is None
    assert [problem.message for problem in found.problems] == [
        "one and two tell different crews",
        "there are 1 of mixer in one build, and 2 in two",
        "there are 2 of mold in one build, and 3 in two",
    ]


def test_days_off_and_absences_of_all_builds_count() -> None:
    one = replace(small_shop(1), hours=replace(DAYS, closed=frozenset({1}), away={2: ((None, 1),)}))
    two = replace(small_shop(2), hours=replace(DAYS, start=date(2027, 3, 2), away={1: ((None, 2),)}))
    hours = joined([("one", one), ("two", two)]).value.hours

    assert (hours.start, hours.closed, hours.away) == (date(2027, 3, 1), frozenset({1}), {2: ((None, 2),)})


def test_the_order_of_the_tasks_of_each_build_does_not_matter() -> None:
    chance = random.Random(3)
    one = small_shop(1)
    told = replace(one, tasks=tuple(chance.sample(one.tasks, len(one.tasks))))

    assert starts([("one", one), ("two", small_shop(2))]) == starts([("one", told), ("two", small_shop(2))])


def castings(due: int | None) -> Network:
    """Three castings one after another, each a day in the one mold."""
    steps = [f"cast-{n}" for n in (1, 2, 3)]
    tasks = [Task(name=step, minutes=60, crew=((None, 1),), owner=step) for step in steps]
    demolds = [Task(name=f"{step}.demold", minutes=30, crew=((None, 1),), owner=step) for step in steps]
    gaps = [GapEdge(before=step, after=f"{step}.demold", least=1200) for step in steps]
    gaps += [GapEdge(before=f"{a}.demold", after=b, least=0) for a, b in pairwise(steps)]
    holds = tuple(Hold(resource="mold", first=step, last=f"{step}.demold") for step in steps)
    return Network(
        tasks=(*tasks, *demolds),
        gaps=tuple(gaps),
        holds=holds,
        resources=(Resource(name="mold", capacity=1, kind="mold"),),
        hours=DAYS,
        due=due,
    )


def test_a_build_that_can_keep_its_date_is_not_late_for_one_that_has_none() -> None:
    alone = plan_of(castings(None), search="quick").value.finish
    due = alone + 1440
    # Of tasks that rank alike the plain rules take the first by name: here the one without a date.
    told = [("loose", castings(None)), ("timed", castings(due))]
    for builds in (told, told[::-1]):
        plan = plan_of(joined(builds).value, search="quick").value

        assert max(p.end for p in plan.placed if p.task.startswith("timed/")) <= due
