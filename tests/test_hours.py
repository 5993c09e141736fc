"""The shop's time: where tasks fit, checked minute by minute against the plain words of the rules."""

from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from castlang.plan.clock import DAY
from castlang.plan.hours import Shop, people_there
from castlang.plan.model import Hours, Need, Resource, Task

WORKDAY = ((480, 720), (750, 990))
HOURS = Hours(
    start=date(2027, 3, 1),
    week=(WORKDAY,) * 5 + (((480, 720),), ()),
    closed=frozenset({2}),
    crew=((None, 1), ("finisher", 1)),
    away={1: (("finisher", 1),)},
)
ONE = ((None, 1),)
TABLE = Resource(name="table", capacity=1, closed=((500, 600),))


def shop(hours=HOURS, *resources):
    return Shop(hours, resources)


def task(minutes, crew=ONE, **words):
    return Task(name="a", minutes=minutes, crew=crew, **words)


def test_a_step_that_may_not_pause_starts_only_where_it_ends_before_the_break():
    assert shop().soonest(task(60), 480) == 480
    assert shop().soonest(task(60), 661) == 750
    assert shop().soonest(task(60), 660) == 660


def test_a_step_through_breaks_runs_over_the_break_but_not_over_closing():
    assert shop().soonest(task(60, through_breaks=True), 661) == 661
    assert shop().soonest(task(60, through_breaks=True), 931) == DAY + 480
    assert shop().worked(task(60, through_breaks=True), 700) == ((700, 760),)


def test_a_step_that_may_pause_stops_at_breaks_and_closing():
    long = task(500, may_pause=True)

    assert shop().worked(long, 480) == ((480, 720), (750, 990), (DAY + 480, DAY + 500))
    assert shop().end(long, 480) == DAY + 500


def test_a_step_that_pauses_and_goes_through_breaks_stops_at_closing_alone():
    long = task(520, may_pause=True, through_breaks=True)

    assert shop().worked(long, 480) == ((480, 990), (DAY + 480, DAY + 490))


def test_a_step_without_crew_runs_by_the_clock():
    assert shop().soonest(task(3000, crew=()), 7) == 7


def test_a_point_with_crew_happens_while_the_shop_is_open_or_just_closing():
    assert shop().soonest(task(0), 100) == 480
    assert shop().soonest(task(0), 720) == 720
    assert shop().soonest(task(0), 721) == 750


def test_a_closed_day_and_an_absence_are_skipped():
    polish = task(30, crew=(("finisher", 1),))

    assert shop().soonest(task(30), DAY + 985) == 3 * DAY + 480
    assert shop().soonest(polish, DAY) == 3 * DAY + 480
    assert people_there(HOURS, 1) == {None: 1, "finisher": 0}


def test_nothing_runs_on_a_station_while_it_is_closed():
    press = task(90, needs=(Need(resource="table"),))

    assert shop(HOURS, TABLE).soonest(press, 480) == 600
    assert shop(HOURS, TABLE).worked(task(90, needs=press.needs, may_pause=True), 480) == (
        (480, 500),
        (600, 670),
    )


def test_spells_that_touch_are_one_also_at_midnight():
    night = Hours(
        start=date(2027, 3, 1), week=(((1200, 1440),), ((0, 240), (240, 300))) + ((),) * 5, crew=ONE
    )

    assert shop(night).soonest(task(540), 0) == 1200
    assert shop(night).soonest(task(541), 0) is None


def test_a_step_too_long_for_any_spell_never_fits():
    assert shop().soonest(task(241), 0) is None
    assert shop().soonest(task(511, through_breaks=True), 0) is None
    assert shop().spells(task(241)).longest() == 240


def test_a_shop_that_is_never_open_fits_nothing():
    assert shop(Hours(start=date(2027, 3, 1), week=((),) * 7, crew=ONE)).soonest(task(1), 0) is None


def open_minutes(step, days):
    """Whether the step could be worked in each minute, told minute by minute."""
    found = []
    for day in range(days):
        week = HOURS.week[(HOURS.start.weekday() + day) % 7]
        there = 0 if day in HOURS.closed or not week else 2 - sum(n for _, n in HOURS.away.get(day, ()))
        for minute in range(DAY):
            spells = ((week[0][0], week[-1][1]),) if week and step.through_breaks else week
            found.append(
                any(a <= minute < b for a, b in spells) and sum(n for _, n in step.crew) <= there
                if step.crew
                else True
            )
    return found


STEPS = st.builds(
    task,
    minutes=st.integers(1, 300),
    crew=st.sampled_from([(), ONE, ((None, 2),)]),
    may_pause=st.booleans(),
    through_breaks=st.booleans(),
)


@settings(deadline=None, max_examples=60)
@given(step=STEPS, minute=st.integers(0, 6 * DAY))
def test_the_soonest_start_is_the_first_minute_from_which_the_step_can_be_worked(step, minute):
    if not step.may_pause and step.minutes > 240:
        return
    free = open_minutes(step, 14)
    piece = 1 if step.may_pause else step.minutes
    expected = next(m for m in range(minute, 12 * DAY) if all(free[m : m + piece]))

    assert shop().soonest(step, minute) == expected


@settings(deadline=None, max_examples=60)
@given(step=STEPS, minute=st.integers(0, 6 * DAY))
def test_the_latest_start_before_a_minute_is_found_from_both_sides(step, minute):
    if not step.may_pause and step.minutes > 240:
        return
    shop_ = shop()
    by = shop_.last(step, minute)
    start = shop_.last_start(step, minute)
    starts = [m for m in range(minute + 1) if shop_.soonest(step, m) == m] if minute < 2 * DAY else []
    done = [m for m in starts if shop_.end(step, m) <= minute]

    assert minute >= 2 * DAY or start == max(starts, default=None)
    assert minute >= 2 * DAY or by == max(done, default=None)
    assert by is None or shop_.end(step, by) <= minute


@settings(deadline=None, max_examples=60)
@given(step=STEPS, minute=st.integers(1, 2 * DAY))
def test_a_step_started_before_the_minute_that_its_end_asks_for_ends_too_soon(step, minute):
    if not step.may_pause and step.minutes > 240:
        return
    shop_ = shop()
    floor = shop_.start_ending(step, minute)
    ends = [shop_.end(step, m) for m in range(max(floor, 0)) if shop_.soonest(step, m) == m]
    found = shop_.soonest(step, max(floor, 0))

    assert [end for end in ends if end >= minute] == []
    assert shop_.end(step, found) >= minute
