"""Batches: within the mixer and the working time, as few as that allows, exact in sum."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from castlang.source.model import Span
from castlang.spec.model import Mix, Station, Window
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff.batches import Fill, Vessel, batches_of, number_of_batches, vessel_of
from castlang.takeoff.model import Recipe, RecipeLine
from castlang.takeoff.scales import Scales

SPAN = Span(file="", line=0, column=0, end=0)
NO_SCALE = Scales()
LITRE = Fraction(1, 1000)
MINUTE = 60


def recipe(*masses):
    lines = tuple(
        RecipeLine(stock=f"stock-{n}", role="sand", mass=Fraction(m), volume=Fraction(1, len(masses)))
        for n, m in enumerate(masses)
    )
    return Recipe(
        mix="face",
        density=Fraction(sum(masses)),
        density_from="recipe",
        lines=lines,
        air=Fraction(0),
        binder=Fraction(0),
        water_total=Fraction(0),
        solids=Fraction(0),
    )


FACE = recipe(900, 700, 300, Fraction(7, 2))


def mix(works=None, mixing=0, carry=0, measure=None):
    return Mix(
        name="face",
        works=None if works is None else Window(least=Fraction(works * MINUTE)),
        mixing=Fraction(mixing * MINUTE),
        carry=Fraction(carry * MINUTE),
        measure=measure,
    )


def fill(litres, minutes=0):
    return Fill(name="shell.skin", volume=litres * LITRE, minutes=minutes, span=SPAN)


@st.composite
def jobs(draw):
    works = draw(st.integers(10, 90))
    mixing = draw(st.integers(0, 5))
    carry = draw(st.integers(0, 4))
    litres = draw(st.fractions(min_value=Fraction(1, 2), max_value=400, max_denominator=50))
    placing = draw(st.integers(0, 600))
    volume = draw(st.none() | st.fractions(min_value=3, max_value=60, max_denominator=10))
    mass = draw(st.none() | st.fractions(min_value=5, max_value=120, max_denominator=10))
    vessel = Vessel(volume=None if volume is None else volume * LITRE, mass=mass)
    return mix(works, mixing, carry), fill(litres, placing), vessel


@given(jobs())
def test_every_batch_is_within_the_mixer_and_the_working_time(job):
    told, whole, vessel = job
    batches = batches_of(told, FACE, whole, vessel, NO_SCALE).value or ()

    for batch in batches:
        assert vessel.volume is None or batch.volume <= vessel.volume
        assert vessel.mass is None or batch.mass <= vessel.mass
        assert batch.minutes * MINUTE <= told.works.least


@given(jobs())
def test_one_batch_fewer_would_break_a_limit(job):
    told, whole, vessel = job
    count = number_of_batches(told, FACE, whole, vessel).value
    fewer = count - 1
    too_big = fewer and vessel.volume is not None and whole.volume / fewer > vessel.volume
    too_heavy = fewer and vessel.mass is not None and whole.volume * FACE.density / fewer > vessel.mass
    time = told.mixing + told.carry + (Fraction(whole.minutes * MINUTE, fewer) if fewer else 0)
    too_long = fewer and time > told.works.least

    assert fewer == 0 or too_big or too_heavy or too_long


@given(jobs())
def test_the_batches_are_equal_and_sum_to_the_whole_exactly(job):
    told, whole, vessel = job
    batches = batches_of(told, FACE, whole, vessel, NO_SCALE).value or ()

    assert len({batch.volume for batch in batches}) == 1
    assert sum(batch.volume for batch in batches) == whole.volume
    for index, line in enumerate(FACE.lines):
        assert sum(batch.lines[index].exact for batch in batches) == whole.volume * line.mass


@given(jobs())
def test_what_the_scale_shows_is_within_half_a_step_and_the_running_total_adds_up(job):
    told, whole, vessel = job
    batches = batches_of(told, FACE, whole, vessel, NO_SCALE).value or ()

    for batch in batches:
        running = 0
        for line in batch.lines:
            running += line.shown
            assert abs(line.shown - line.exact) <= NO_SCALE.step(line.exact) / 2
            assert line.running == running


def test_the_mixer_divides_what_it_cannot_hold():
    batches = batches_of(mix(), FACE, fill(70), Vessel(volume=30 * LITRE), NO_SCALE).value

    assert [batch.name for batch in batches] == [
        "shell.skin.batch-1",
        "shell.skin.batch-2",
        "shell.skin.batch-3",
    ]
    assert batches[0].volume == Fraction(70, 3) * LITRE


def test_the_working_time_divides_what_takes_too_long_to_place():
    # 40 min less 5 for mixing leave 35 for placing: 90 min of work are three batches of 30 and 5.
    batches = batches_of(mix(40, mixing=5), FACE, fill(20, minutes=90), Vessel(), NO_SCALE).value

    assert [batch.minutes for batch in batches] == [35, 35, 35]


def test_a_working_time_used_up_before_placing_is_a_finding():
    outcome = batches_of(mix(8, mixing=5, carry=3), FACE, fill(20, minutes=10), Vessel(), NO_SCALE)

    assert outcome.value is None
    assert [p.finding.name for p in outcome.problems] == ["works-too-short"]


def test_a_batch_below_the_least_charge_of_the_mixer_is_a_finding():
    station = Station(
        name="pan",
        holds=Quantity(si=30 * LITRE, dimension=Dimension.VOLUME),
        least=Quantity(si=6 * LITRE, dimension=Dimension.VOLUME),
    )
    outcome = batches_of(mix(), FACE, fill(2), vessel_of([station]), NO_SCALE)

    assert [p.message for p in outcome.problems] == [
        "a batch of shell.skin is 2 L; pan mixes no less than 6 L well"
    ]


def test_a_table_that_holds_pieces_does_not_limit_a_batch():
    table = Station(name="table", holds=Quantity(si=Fraction(2), dimension=Dimension.COUNT, word="pieces"))

    assert vessel_of([table]) == Vessel()


def test_the_narrowest_of_two_mixers_counts():
    pan = Station(name="pan", holds=Quantity(si=30 * LITRE, dimension=Dimension.VOLUME))
    bucket = Station(name="bucket", holds=Quantity(si=12 * LITRE, dimension=Dimension.VOLUME))

    assert vessel_of([pan, bucket]).volume == 12 * LITRE


def test_a_line_that_the_scale_cannot_show_is_a_finding():
    outcome = batches_of(mix(), FACE, fill(Fraction(1, 10)), Vessel(), NO_SCALE)

    assert [p.finding.name for p in outcome.problems] == ["below-scale"]


def test_the_finest_scale_that_bears_the_amount_is_used():
    grams = (Fraction(0), Fraction(2), Fraction(1, 1000))
    platform = (Fraction(1), Fraction(60), Fraction(20, 1000))
    scales = Scales(ranges=(platform, grams))

    assert scales.step(Fraction(1)) == Fraction(1, 1000)
    assert scales.step(Fraction(10)) == Fraction(20, 1000)


def test_a_mix_by_volume_is_measured_to_the_millilitre():
    batches = batches_of(mix(measure="volume"), FACE, fill(Fraction(1, 3)), Vessel(), NO_SCALE).value
    lines = batches[0].lines

    assert lines[0].exact == Fraction(1, 12) * LITRE
    assert lines[0].shown == Fraction(83, 1_000_000)


def test_more_than_999_batches_are_refused():
    outcome = batches_of(mix(), FACE, fill(2000), Vessel(volume=LITRE), NO_SCALE)

    assert outcome.value is None
    assert [p.finding.name for p in outcome.problems] == ["too-many-batches"]
