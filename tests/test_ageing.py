"""Waits that pass by the shop's warmth: their clock, plans with them, and builds in cold weeks."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from plan_by_hand import broken
from test_plan_properties import networks

from castlang.pipeline import compile_build
from castlang.plan.clock import DAY, WEEK
from castlang.plan.from_network import plan_of, plan_within
from castlang.plan.gaps.circles import circles_of
from castlang.plan.model import Ageing, GapEdge, Hours, Network, Stretch, Task
from castlang.plan.network.several import joined
from castlang.plan.searches.search import Effort
from castlang.plan.shop_hours import hours_of
from castlang.plan.ties import ties_of
from castlang.plan.verify import verify
from castlang.plan.warmth.ageing import Clock, Passing, backwards, begun_later, closes_at, over_at
from castlang.plan.warmth.climate import warmth_of
from castlang.plan.warmth.warm_runs import run_problems, runs_of
from castlang.sheets.warmth import came_to
from castlang.source.files import Texts
from castlang.takeoff.maturity import MILLION
from castlang.trace.figures import figure_of, ground_of

UNPAUSED = settings(deadline=None, max_examples=150, suppress_health_check=list(HealthCheck))
ROUND_THE_CLOCK = Hours(start=date(2027, 3, 1), week=(((0, DAY),),) * 7, crew=((None, 2),))


def ageing(*spells, settled=0):
    """Spells as (from minute, degC, rate)."""
    return Ageing(
        rule="arrhenius",
        constant=Fraction(4000),
        told_at=Fraction("293.15"),
        settled=settled,
        spells=tuple(
            (minute, round((t + 273.15) * 1000), round(rate * MILLION)) for minute, t, rate in spells
        ),
    )


@st.composite
def ageings(draw):
    """Rates from none at all to thrice as told; each week brings some age."""
    settled = draw(st.sampled_from([0, 700, 1440, 9000]))
    turns = draw(st.sets(st.integers(1, settled + WEEK - 1), max_size=9)) | {0}
    rates = [draw(st.sampled_from([0, 0.37, 0.5, 1, 1.1, 3])) for _ in turns]
    last = settled + WEEK - 60
    spells = [
        (minute, 10.0, rate) for minute, rate in zip(sorted(turns), rates, strict=True) if minute < last
    ]
    return ageing(*spells, (last, 20.0, 0.9), settled=settled)


# ---------------------------------------------------------------- the clock


@UNPAUSED
@given(ageings(), st.integers(-500, 40_000), st.integers(0, 9_000))
def test_a_wait_is_over_at_the_first_minute_by_which_it_has_aged_enough(made, begin, least):
    gap = GapEdge(before="a", after="b", least=least, stretches=(Stretch(least=least, ageing=made),))
    age = Clock(made).age
    over = over_at(gap, begin)

    assert over >= begin
    assert age(over) - age(begin) >= least * MILLION
    assert over == begin or age(over - 1) - age(begin) < least * MILLION


@UNPAUSED
@given(ageings(), st.integers(-500, 40_000), st.integers(0, 9_000))
def test_a_window_closes_after_the_last_minute_by_which_it_has_not_aged_too_much(made, begin, longest):
    part = Stretch(least=0, longest=longest, ageing=made)
    gap = GapEdge(before="a", after="b", least=0, longest=longest, stretches=(part,))
    age = Clock(made).age
    closes = closes_at(gap, begin)

    assert age(closes) - age(begin) <= longest * MILLION < age(closes + 1) - age(begin)


@UNPAUSED
@given(ageings(), st.integers(0, 40_000), st.integers(0, 3_000))
def test_the_age_is_the_sum_of_the_rates_of_all_minutes(made, begin, minutes):
    age = Clock(made).age
    table = {minute: rate for minute, _, rate in made.spells}

    def rate(minute):
        while minute >= made.settled + WEEK:
            minute -= WEEK
        return table[max(turn for turn in table if turn <= minute)]

    assert age(begin + minutes) - age(begin) == sum(rate(minute) for minute in range(begin, begin + minutes))


@st.composite
def passings(draw):
    """A bound of a gap of up to three waits, some by the clock."""
    parts = []
    for _ in range(draw(st.integers(1, 3))):
        made = draw(st.one_of(st.none(), ageings()))
        least = draw(st.integers(0, 4000))
        parts.append(Stretch(least=least, longest=least + draw(st.integers(0, 3000)), ageing=made))
    return Passing(tuple(parts), 0, longest=draw(st.booleans()))


@UNPAUSED
@given(passings(), st.integers(0, 60_000), st.integers(0, 60_000))
def test_a_bound_never_falls_and_ahead_and_back_are_inverse(bound, one, other):
    low, high = sorted((one, other))

    assert bound.ahead(low) <= bound.ahead(high)
    assert (bound.ahead(low) <= high) == (low <= bound.back(high))
    assert bound.ahead(bound.back(high)) <= high < bound.ahead(bound.back(high) + 1)


@UNPAUSED
@given(passings(), st.integers(0, 60_000))
def test_a_bound_never_comes_to_less_than_the_planner_takes_for_certain(bound, begin):
    found = bound.ahead(begin) - begin
    aside = min(bound.ahead(begin), begin) < 0  # what would begin before the build is counted as told

    assert aside or bound.shortest <= found <= bound.greatest


def test_a_bound_knows_of_a_wait_that_just_misses_the_end_of_a_week_seven_weeks_on():
    # 54 minutes pass a week; what begins at minute 1 lacks a little of them, and waits a week for it
    made = ageing((0, 10, 0.37), (6, 10, 0), (10720, 20, 0.9), settled=700)
    bound = Passing((Stretch(least=380, ageing=made),), 0, longest=False)
    found = [bound.ahead(begin) - begin for begin in range(60_000)]

    assert bound.shortest <= min(found)
    assert max(found) <= bound.greatest


@UNPAUSED
@given(ageings(), st.integers(0, 20_000), st.integers(0, 20_000))
def test_time_that_runs_backwards_and_a_later_start_age_alike(made, one, other):
    low, high = sorted((one, other))
    age = Clock(made).age
    end = 3 * WEEK
    back, later = Clock(backwards(made, end)).age, Clock(begun_later(made, 2 * DAY)).age

    assert back(end - low) - back(end - high) == age(high) - age(low)
    assert later(high + 2 * DAY) - later(low + 2 * DAY) == age(high) - age(low)


# ---------------------------------------------------------------- plans


@st.composite
def warm_networks(draw):
    """Networks of which some gaps pass by warmth."""
    network = draw(networks())
    climates = [draw(ageings()) for _ in range(2)]
    gaps = []
    for gap in network.gaps:
        if gap.least < 0 or not draw(st.booleans()):
            gaps.append(gap)
            continue
        parts = [Stretch(least=gap.least, longest=gap.longest, ageing=draw(st.sampled_from(climates)))]
        if draw(st.booleans()):
            more = draw(st.sampled_from([0, 20, 300]))
            parts.insert(draw(st.integers(0, 1)), Stretch(least=more, longest=more))
        longest = None if gap.longest is None else sum(part.longest for part in parts)
        least = sum(part.least for part in parts)
        gaps.append(replace(gap, least=least, longest=longest, stretches=tuple(parts)))
    return replace(network, gaps=tuple(gaps))


@settings(UNPAUSED, max_examples=400)
@given(warm_networks(), st.sampled_from(["quick", "normal"]))
def test_every_plan_with_waits_by_warmth_passes_the_verifier(network, search):
    found = plan_of(network, search=search)

    assert (found.value is None) == found.failed
    assert found.value is None or verify(found.value) == ()


@settings(UNPAUSED, max_examples=40)
@given(warm_networks())
def test_what_the_solver_proves_and_finds_holds_for_waits_by_warmth(network):
    pytest.importorskip("ortools")
    normal = plan_of(network)
    thorough = plan_within(network, Effort(placings=0, fewest=0, most=0, patience=0, units=0.5), {})

    assert thorough.value is None or verify(thorough.value) == ()
    assert normal.value is None or thorough.value is not None
    assert normal.value is None or thorough.value.bound <= normal.value.finish


@UNPAUSED
@given(warm_networks())
def test_no_circle_is_told_where_there_is_a_plan_with_people_and_places_without_end(network):
    free = replace(
        network,
        tasks=tuple(replace(task, crew=(), needs=(), may_pause=False) for task in network.tasks),
        holds=(),
    )
    told = circles_of(ties_of(free))
    found = plan_of(free)

    assert not told or found.value is None


@UNPAUSED
@given(warm_networks())
def test_the_latest_starts_of_a_plan_keep_its_waits_by_warmth(network):
    plan = plan_of(network, search="quick").value
    if plan is None:
        return
    late = {p.task: p.latest for p in plan.placed}
    lengths = {task.name: task.minutes for task in network.tasks if not task.may_pause}

    for gap in network.gaps:
        if gap.stretches and gap.before in lengths and gap.after in lengths:
            begin = late[gap.before] + (lengths[gap.before] if gap.before_point == "end" else 0)
            then = late[gap.after] + (lengths[gap.after] if gap.after_point == "end" else 0)
            assert then >= over_at(gap, begin)


def cured(made, least=600, longest=None):
    """Two tasks of an hour with a cure between them."""
    part = Stretch(least=least, longest=longest, ageing=made)
    gap = GapEdge(before="a", after="b", least=least, longest=longest, stretches=(part,), says="cure of a")
    tasks = tuple(Task(name=name, minutes=60, crew=((None, 1),), owner=name, step=name) for name in "ab")
    return Network(tasks=tasks, gaps=(gap,), holds=(), resources=(), hours=ROUND_THE_CLOCK)


def starts(plan):
    return {p.task: p.start for p in plan.placed}


def test_at_a_steady_temperature_a_wait_is_its_time_over_its_rate():
    assert starts(plan_of(cured(ageing((0, 10, 0.5)))).value) == {"a": 0, "b": 60 + 1200}


def test_a_wait_runs_slower_through_cold_hours_and_faster_through_warm_ones():
    made = ageing((0, 20, 1), (360, 5, 0.25), (1080, 30, 2))

    # 300 min as told by minute 360, 180 more by minute 1080, the last 120 in 60.
    assert starts(plan_of(cured(made)).value)["b"] == 1140


def test_a_wait_stands_still_below_the_datum_and_goes_on_afterwards():
    made = ageing((0, 20, 1), (360, -12, 0), (5000, 20, 1))

    assert starts(plan_of(cured(made)).value)["b"] == 5000 + 300


def test_the_verifier_refuses_a_plan_that_a_cold_night_breaks():
    warm = plan_of(cured(ageing((0, 20, 1)))).value
    cold = replace(warm, network=cured(ageing((0, 20, 1), (200, 10, 0.5))))

    assert verify(warm) == ()
    assert verify(cold) == ("b comes 600 min after a, not 1060 or more",)


def test_the_verifier_refuses_a_window_that_a_hot_day_closes():
    plan = plan_of(cured(ageing((0, 20, 1)), least=600, longest=600)).value
    hot = replace(plan, network=cured(ageing((0, 40, 2)), least=0, longest=600))

    assert verify(hot) == ("b comes 600 min after a, not 300 or less",)


def test_the_plan_of_several_builds_keeps_the_climate_of_each():
    cold, warm = ageing((0, 10, 0.5)), ageing((0, 30, 2), (600, 20, 1))
    later = replace(cured(warm), hours=replace(ROUND_THE_CLOCK, start=date(2027, 3, 3)))
    plan = plan_of(joined([("one", cured(cold)), ("two", later)]).value).value

    assert starts(plan) == {
        "one/a": 0,
        "one/b": 60 + 1200,
        "two/a": 2 * DAY,
        "two/b": 2 * DAY + 60 + 300,
    }
    assert verify(plan) == ()


# ---------------------------------------------------------------- builds


BENCH = """\
build bench "Bench"
    start     2027-01-25
    hours     mon to fri 07:30 to 12:00, 12:30 to 16:30
    air       18 degC
    {night}
    crew      2
stock cement
    density   3150 kg/m3
stock sand
    density   2650 kg/m3
stock resin-a
    density   1100 kg/m3
stock resin-b
    density   1000 kg/m3
mix casting
    binder    cement 100 parts
    sand      sand 150 parts damp 0 %
    water     0.4 of binder total
    works     45 min at 20 degC
    {ages}
mix clear
    measure   volume
    part      resin-a 2 parts
    part      resin-b 1 part
    works     40 min at 20 degC
    recoat    4 h to 30 h
    lift      10 mm
    density   1080 kg/m3
station mixer
    holds     40 L
mold seat-mold
    fits      seat
piece seat
    shape     slab 1200 mm long, 400 mm wide, 60 mm thick
    less      box slot 300 mm long, 40 mm wide, 20 mm deep on top
    take      seat-mold
    pour      body full of casting into seat-mold using mixer takes 40 min by 2
    cure      {cure}
    demold    takes 30 min by 2 using hoist
    pour      glow full of clear into slot takes 20 min by 1
    cure      12 h at 20 degC open
station hoist
    holds     200 kg
"""


def bench(night="", ages="", cure="24 h to 6 days at 20 degC open", files=None):
    """The bench compiled, planned."""
    text = BENCH.format(night=night, ages=ages, cure=cure)
    made = compile_build("bench.pour", text.encode(), Texts(texts=files or {}))
    assert made.plan is not None, made.problems
    return made


def begun(made, task):
    return next(p.start for p in made.plan.placed if p.task == task)


def cure_of(made, before="seat.body", after="seat.demold"):
    """The runs of the wait between two steps of the plan."""
    edge = next(g for g in made.network.gaps if (g.before, g.after) == (before, after) and g.stretches)
    return runs_of(edge, next(p.end for p in made.plan.placed if p.task == before))


def test_a_cold_week_moves_the_demold():
    plain, cold = bench(), bench("night 4 degC on 2027-01-25 to 2027-01-29")

    # Poured by 08:10. exp(-4000 (1/T - 1/293.15)) is 0.9105 at 18 degC, 0.4549 at 4 degC: 1440 min as told
    # take 1582 min, or 500 + 540 warm ones and 900 + 184 cold ones, to 19:34 on the day
    # after, when the shop is shut.
    assert begun(plain, "seat.demold") == 490 + 1582
    assert begun(cold, "seat.demold") == 2 * DAY + 7 * 60 + 30
    assert cure_of(cold)[0].over == 490 + 500 + 900 + 540 + 184
    assert verify(cold.plan) == ()


def warmth(night, day):
    """The spells of one day of the bench, from minute of the day, in degC."""
    build = bench(night).spec.build
    spells, settled = warmth_of(build, hours_of(build))
    begin = day * DAY
    before = [w for minute, w in spells if minute <= begin][-1]
    inside = [(minute - begin, w) for minute, w in spells if begin < minute < begin + DAY]
    assert spells[-1][0] < settled + WEEK
    return [(minute, round(w / 1000 - 273.15, 2)) for minute, w in ((0, before), *inside)]


def test_the_air_holds_from_the_first_start_to_the_last_end_and_the_night_else():
    assert warmth("night 11 degC", 0) == [(0, 11), (450, 18), (990, 11)]
    assert warmth("night 11 degC", 5) == [(0, 11)]  # a Saturday
    assert warmth("night 11 degC\n    closed 2027-01-26", 1) == [(0, 11)]
    assert warmth("", 5) == [(0, 18)]


def test_a_dated_line_beats_the_plain_one_on_its_days_alone():
    night = "night 11 degC\n    night 4 degC on 2027-01-26 to 2027-01-27\n    air 9 degC on 2027-01-27"

    assert warmth(night, 0) == [(0, 11), (450, 18), (990, 11)]
    assert warmth(night, 1) == [(0, 4), (450, 18), (990, 4)]
    assert warmth(night, 2) == [(0, 4), (450, 9), (990, 4)]
    assert warmth("air 9 degC on 2027-01-27", 2) == [(0, 9)]


def test_where_no_air_is_told_for_a_day_it_is_as_cold_as_the_coldest_that_is_and_that_is_listed():
    text = BENCH.format(night="air 12 degC on 2027-02-08", ages="", cure="24 h at 20 degC open")
    text = text.replace("air       18 degC", "air 18 degC on 2027-01-25")
    made = compile_build("bench.pour", text.encode(), Texts())
    spells, _ = warmth_of(made.spec.build, hours_of(made.spec.build))

    assert spells[:2] == ((0, 291150), (DAY, 285150))
    assert [a.line for a in made.assumptions if "no `air` line" in a.says] == ["air 20 degC"]


def test_each_rule_stretches_a_cure_in_its_own_way():
    night = "night 4 degC"
    # At 18 and 4 degC; by the datum of -10 degC: 28/30 and 14/30, so 1040 min warm and 1006 min cold.
    hours = {
        rule: (run := cure_of(bench(night, rule))[0]).over - run.begin
        for rule in (
            "",
            "ages arrhenius 5000 K",
            "ages nurse-saul -10 degC",
            "ages nurse-saul 2 degC",
            "doubles 10 K",
        )
    }

    assert hours == {
        "": 2124,
        "ages arrhenius 5000 K": 2419,
        "ages nurse-saul -10 degC": 2046,
        "ages nurse-saul 2 degC": 3196,
        "doubles 10 K": 2661,
    }


def test_a_wait_told_at_the_shops_own_temperature_is_plain():
    made = bench("night 18 degC", cure="24 h at 18 degC open")

    assert {g.stretches for g in made.network.gaps if g.after == "seat.demold"} == {()}


def test_a_cure_by_strength_takes_the_age_of_the_mix_and_is_stretched():
    made = bench("night 4 degC", "reaches 12 MPa after 30 h at 23 degC", "until 12 MPa at 20 degC open")
    run = cure_of(made)[0]

    assert (run.told.least, run.ageing.told_at) == (1800, Fraction("296.15"))
    assert run.over - run.begin > 1800


def test_the_recoat_of_a_resin_is_stretched_and_its_window_with_it():
    made = bench("night 4 degC")
    edge = next(g for g in made.network.gaps if g.why == "recoat")
    begin = begun(made, "seat.glow.lift-1") + 20

    assert (edge.least, edge.longest) == (240, 1800)
    assert over_at(edge, begin) - begin > 240
    assert closes_at(edge, begin) - begin > 1800


def test_a_cold_run_is_told_with_its_hours_and_may_be_waived():
    made = bench("night 4 degC on 2027-01-25 to 2027-01-29")

    assert [p.message for p in made.problems if p.finding.name == "cure-cold"] == [
        "cure after seat.body runs below 10 degC for 18 h 4 min of 35 h 24 min, down to 4 degC",
        "cure after seat.glow.lift-2 runs below 10 degC for 15 h of 23 h 7 min, down to 4 degC",
    ]
    text = BENCH.format(
        night="night 4 degC on 2027-01-25 to 2027-01-29", ages="", cure="24 h at 20 degC open"
    )
    waived = compile_build(
        "bench.pour", f'{text}waive cure-cold on seat.body "Under a heated cover."\n'.encode(), Texts()
    )
    left = [p.about for p in waived.problems if p.finding.name == "cure-cold"]
    assert left == [("seat.glow", "seat.ready")]
    assert waived.plan is not None


def test_a_window_that_no_hours_and_no_warmth_leave_room_for_is_told():
    made = ageing((0, 20, 1), (360, 5, 0.25))
    network = cured(made, least=600)
    task = replace(network.tasks[0], name="c")
    part = Stretch(least=0, longest=605, ageing=made)
    longest = GapEdge(before="a", after="c", least=0, longest=605, stretches=(part,))
    shut = plan_of(
        replace(
            network,
            tasks=(*network.tasks, task),
            gaps=(*network.gaps, longest, GapEdge(before="b", after="c", least=10)),
        )
    )

    (problem,) = shut.problems
    assert problem.finding.name == "window-shut"
    assert problem.message.partition(";")[0] == (
        "the shop's hours and warmth never leave room for this: "
        "the start of c comes within 10 h 5 min, as told, after the end of a"
    )


def test_the_trace_of_a_wait_adds_up_its_hours():
    made = bench("night 4 degC")
    ground = ground_of(made.spec, made.takeoff, made.plan, made.costing, made.texts)
    figure = figure_of(ground, "wait.seat.demold")

    assert (figure.text, figure.inputs[0].figure.text) == ("35 h 24 min", "35 h 24 min")
    assert [(i.figure.name, i.figure.text) for i in figure.inputs[0].figure.inputs] == [
        ("at 4 degC", "18 h 4 min, r 0.4549"),
        ("at 18 degC", "17 h 20 min, r 0.9105"),
    ]


def test_a_hot_run_and_one_far_from_its_temperature_are_told():
    made = bench("night 38 degC", cure="24 h at 60 degC open")

    assert sorted({p.finding.name for p in made.problems if p.finding.name.startswith("cure")}) == [
        "cure-far-off",
        "cure-hot",
    ]


def test_a_cure_that_never_ends_is_refused():
    text = BENCH.format(night="", ages="ages nurse-saul 19 degC", cure="24 h at 20 degC open")
    made = compile_build("bench.pour", text.encode(), Texts())

    assert [p.message for p in made.problems if p.finding.severity == "error"] == [
        "mix casting does not age at 19 degC and below, and the shop is no warmer in any ordinary week"
    ]
    text = BENCH.format(night="", ages="ages nurse-saul 20 degC", cure="24 h at 20 degC open")
    made = compile_build("bench.pour", text.encode(), Texts())

    assert [p.message for p in made.problems if p.finding.severity == "error"] == [
        "the cure is told at 20 degC, and mix casting does not age at 20 degC and below"
    ]


def test_the_rule_is_assumed_where_the_mix_tells_none_and_only_there():
    def assumed(made):
        return sorted((a.subject, a.line) for a in made.assumptions if "pass" in a.says)

    clear = ("mix clear", "doubles 10 K, under the mix")
    assert assumed(bench("night 4 degC")) == [("mix casting", "ages arrhenius 4000 K, under the mix"), clear]
    assert assumed(bench("night 4 degC", "ages nurse-saul -10 degC")) == [clear]


def test_the_sheet_says_what_was_told_by_which_rule_and_what_it_comes_to():
    made = bench("night 4 degC")
    edge = next(g for g in made.network.gaps if g.after == "seat.demold" and g.stretches)
    begin = next(p.end for p in made.plan.placed if p.task == "seat.body")

    assert came_to(edge, begin, "metric") == (
        "told 24 h at 20 degC; here 35 h 24 min at 4 degC to 18 degC, by Arrhenius, Q 4000 K",
    )
    assert came_to(edge, begin, "us") == (
        "told 24 h at 68 degF; here 35 h 24 min at 39 degF to 64 degF, by Arrhenius, Q 4000 K",
    )


@pytest.mark.parametrize("ages", ["", "ages nurse-saul -5 degC", "ages arrhenius 5500 K", "doubles 12 K"])
@pytest.mark.parametrize("night", ["night 4 degC", "night 26 degC", "air 9 degC on 2027-01-26 to 2027-02-02"])
def test_a_plan_keeps_the_lines_of_its_build_counted_by_hand(night, ages):
    made = bench(night, ages)

    assert broken(made.spec, made.plan) == ()


def test_us_units_give_the_same_plan():
    metric = bench("night 5 degC")
    us = bench("night 41 degF", cure="24 h to 6 days at 68 degF open")

    assert starts(metric.plan) == starts(us.plan)


def test_the_runs_of_a_plan_add_up():
    made = bench("night 4 degC")

    for gap in made.network.gaps:
        begin = next(p.end for p in made.plan.placed if p.task == gap.before)
        for run in runs_of(gap, begin):
            assert sum(minutes for _, minutes in run.warmth) == run.over - run.begin


@UNPAUSED
@given(ageings(), st.integers(0, 40_000), st.integers(1, 9_000))
def test_a_run_tells_every_minute_of_a_wait(made, begin, least):
    gap = GapEdge(before="a", after="b", least=least, stretches=(Stretch(least=least, ageing=made),))
    run = runs_of(gap, begin)[0]

    assert run.over == over_at(gap, begin)
    assert sum(minutes for _, minutes in run.warmth) == run.over - run.begin


def test_waits_by_the_clock_have_no_findings_of_warmth():
    made = bench()
    plain = replace(made.plan, network=replace(made.network, gaps=()))

    assert run_problems(plain, "metric") == ()
