"""For which hour batches are cut, and what says so."""

from datetime import date
from fractions import Fraction

from castlang.spec.model import Build, Climate, Days, Mix, Step, StepKind, Window
from castlang.takeoff.working_times import as_worked, working_time

ICE = Fraction("273.15")
STEP = Step(kind=StepKind.POUR, owner="strip", name="glow", material="clear")
MARCH = Days(first=date(2027, 3, 8), last=date(2027, 3, 9))
MAY = Days(first=date(2027, 5, 1), last=date(2027, 5, 9))


def clear(works=40, at=22, measure="mass", doubles=None):
    return Mix(
        name="clear",
        measure=measure,
        works=Window(least=Fraction(works * 60)),
        works_at=None if at is None else ICE + at,
        doubles=None if doubles is None else Fraction(doubles),
    )


def build(*air, due=None, units="metric"):
    told = tuple(
        Climate(value=ICE + value, days=days)
        for value, days in (pair if isinstance(pair, tuple) else (pair, None) for pair in air)
    )
    return Build(name="desk", start=date(2027, 3, 1), due=due, air=told, units=units)


def minutes(mix, shop, step=STEP):
    return working_time(mix, step, shop).value.seconds / 60


def test_parts_that_react_work_half_as_long_ten_degrees_warmer():
    assert minutes(clear(), build(32)) == 20


def test_the_warmest_day_within_the_build_counts():
    assert minutes(clear(), build(22, (32, MARCH))) == 20
    assert minutes(clear(), build(22, (32, MAY), due=date(2027, 4, 1))) == 40


def test_a_warm_day_after_the_start_counts_where_no_due_day_is_told():
    assert minutes(clear(), build(22, (32, MAY))) == 20


def test_a_step_that_is_kept_at_a_temperature_is_cut_for_that():
    kept = Step(kind=StepKind.POUR, owner="strip", name="glow", material="clear", at=ICE + 12)

    assert minutes(clear(), build(32), kept) == 80


def test_the_mix_may_tell_its_own_step():
    assert minutes(clear(doubles=5), build(32)) == 10


def test_what_sets_by_water_keeps_its_time_unless_it_says_otherwise():
    assert minutes(clear(measure=None), build(32)) == 40
    assert minutes(clear(measure=None, doubles=10), build(32)) == 20


def test_a_measured_time_is_taken_as_measured():
    assert minutes(clear(at=None), build(32)) == 40


def test_the_rule_of_thumb_is_listed_and_a_told_step_is_not():
    assumed = working_time(clear(), STEP, build(27)).assumptions
    says = (
        "works 28.28 min at 27 degC, the warmest hour that the build's dates can bring: "
        "half as long for each 10 K warmer"
    )

    assert [a.says for a in assumed] == [says]
    assert [a.line for a in assumed] == ["doubles 10 K"]
    assert working_time(clear(doubles=12), STEP, build(27)).assumptions == ()
    assert working_time(clear(), STEP, build(22)).assumptions == ()


def test_the_same_is_listed_in_degrees_fahrenheit_for_an_american_shop():
    assumed = working_time(clear(works=40, at=20), STEP, build(25, units="us")).assumptions

    assert "28.28 min at 77 degF" in assumed[0].says
    assert assumed[0].says.endswith("half as long for each 18 degF warmer")


def test_more_than_15_degrees_from_the_data_sheet_is_a_finding():
    problems = working_time(clear(), STEP, build(38)).problems

    assert [p.message for p in problems] == [
        "the working time of mix clear is told at 22 degC, and it is used at 38 degC"
    ]
    assert working_time(clear(), STEP, build(37)).problems == ()


def test_batches_are_cut_for_the_time_that_was_found():
    found = working_time(clear(), STEP, build(32)).value

    assert as_worked(clear(), found).works == Window(least=Fraction(1200))
