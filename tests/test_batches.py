"""Batches: within the mixer and the working time, as few as that allows, exact in sum."""

from fractions import Fraction

from hypothesis import assume, given
from hypothesis import strategies as st

from castlang.source.model import Span
from castlang.spec.model import Mix, Station, Window
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff.batches import batches_of, rounding_error, weighed_out
from castlang.takeoff.divisions import Fill, division_of
from castlang.takeoff.model import Recipe, RecipeLine, WeighLine
from castlang.takeoff.scales import Scales
from castlang.takeoff.vessels import Vessel, vessel_of

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


def mix(works=None, mixing=0, carry=0, measure=None, wet_edge=None):
    return Mix(
        name="face",
        works=None if works is None else Window(least=Fraction(works * MINUTE)),
        mixing=Fraction(mixing * MINUTE),
        carry=Fraction(carry * MINUTE),
        measure=measure,
        wet_edge=None if wet_edge is None else Fraction(wet_edge * MINUTE),
    )


def fill(litres, minutes=0):
    return Fill(name="shell.skin", volume=litres * LITRE, minutes=minutes, span=SPAN)


@st.composite
def jobs(draw):
    """A mix, what is to be placed, a mixer and a scale; small: every number of batches can be tried."""
    works = draw(st.integers(10, 90))
    mixing = draw(st.integers(0, 5))
    carry = draw(st.integers(0, 4))
    wet_edge = draw(st.none() | st.integers(10, 60))
    litres = draw(st.fractions(min_value=Fraction(1, 2), max_value=400, max_denominator=50))
    placing = draw(st.integers(0, 600))
    volume = draw(st.none() | st.fractions(min_value=3, max_value=60, max_denominator=10))
    mass = draw(st.none() | st.fractions(min_value=5, max_value=120, max_denominator=10))
    bears = draw(st.none() | st.integers(4, 60))
    vessel = Vessel(volume=None if volume is None else volume * LITRE, mass=mass)
    scales = Scales(ranges=() if bears is None else ((Fraction(0), Fraction(bears), Fraction(1, 1000)),))
    return mix(works, mixing, carry, wet_edge=wet_edge), fill(litres, placing), vessel, scales


def keeps_all_limits(count, told, whole, vessel, scales):
    """Whether `count` equal batches keep every limit; worked out beside the compiler, limit by limit."""
    volume, placing = whole.volume / count, Fraction(whole.minutes * MINUTE, count)
    time = told.mixing + told.carry + placing
    heaviest = max(volume * line.mass for line in FACE.lines)
    return (
        (vessel.volume is None or volume <= vessel.volume)
        and (vessel.mass is None or volume * FACE.density <= vessel.mass)
        and time <= told.works.least
        and (count == 1 or told.wet_edge is None or time <= told.wet_edge)
        and (not scales.ranges or heaviest <= scales.greatest)
    )


@given(jobs())
def test_the_batches_keep_every_limit_and_no_smaller_number_would(job):
    told, whole, vessel, scales = job
    division = division_of(told, FACE, whole, vessel, scales).value
    assume(division is not None)  # a working time or wet edge that mixing uses up is a finding of its own

    assert keeps_all_limits(division.count, *job)
    assert not any(keeps_all_limits(fewer, *job) for fewer in range(1, division.count))


@given(jobs())
def test_every_batch_is_in_place_within_the_working_time(job):
    told, whole, vessel, scales = job
    batches = batches_of(told, FACE, whole, vessel, scales).value or ()

    for batch in batches:
        assert batch.minutes * MINUTE <= told.works.least


@given(jobs())
def test_the_batches_are_equal_and_sum_to_the_whole_exactly(job):
    told, whole, vessel, scales = job
    batches = batches_of(told, FACE, whole, vessel, scales).value or ()

    assert len({batch.volume for batch in batches}) == 1
    assert sum(batch.volume for batch in batches) == whole.volume
    for index, line in enumerate(FACE.lines):
        assert sum(batch.lines[index].exact for batch in batches) == whole.volume * line.mass


@given(jobs())
def test_what_the_scale_shows_is_within_half_a_step_and_the_running_total_adds_up(job):
    told, whole, vessel, scales = job
    batches = batches_of(told, FACE, whole, vessel, scales).value or ()

    for batch in batches:
        running = 0
        for line in batch.lines:
            running += line.shown
            assert abs(line.shown - line.exact) <= scales.step(line.exact) / 2
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
    outcome = batches_of(mix(), FACE, fill(Fraction(1, 100)), Vessel(), NO_SCALE)

    assert [p.message for p in outcome.problems] == [
        "a batch of shell.skin takes 0.035 g of stock-3, which rounds to nothing"
    ]


def test_a_line_below_the_least_load_of_every_scale_is_a_finding():
    bench = Scales(ranges=((Fraction(5, 1000), Fraction(30), Fraction(1, 1000)),))
    outcome = batches_of(mix(), FACE, fill(1), Vessel(), bench)

    assert [p.message for p in outcome.problems] == [
        "a batch of shell.skin takes 3.5 g of stock-3, and no scale of the shop shows less than 5 g"
    ]


def test_a_scale_that_bears_less_than_one_line_makes_more_batches():
    bench = Scales(ranges=((Fraction(0), Fraction(30), Fraction(5, 1000)),))
    batches = batches_of(mix(), FACE, fill(70), Vessel(), bench).value

    # 70 L hold 63 kg of the heaviest: three batches of 21 kg, where two would put 31.5 kg on the scale.
    assert len(batches) == 3
    assert batches[0].limit == "scale"


def test_several_batches_meet_a_wet_edge():
    # 60 L in 60 min: two batches for the mixer, 35 min each with the mixing; four meet an edge of 20 min.
    told, pan = mix(40, mixing=5, wet_edge=20), Vessel(volume=30 * LITRE)
    batches = batches_of(told, FACE, fill(60, minutes=60), pan, NO_SCALE).value

    assert [(b.minutes, b.limit) for b in batches] == [(20, "wet edge")] * 4


def test_one_batch_has_no_edge_to_keep_wet():
    batches = batches_of(mix(40, mixing=5, wet_edge=10), FACE, fill(20, minutes=30), Vessel(), NO_SCALE).value

    assert [(b.minutes, b.limit) for b in batches] == [(35, "")]


def test_an_edge_that_dries_while_the_next_batch_is_mixed_is_a_finding():
    outcome = batches_of(mix(40, mixing=12, wet_edge=10), FACE, fill(60), Vessel(volume=30 * LITRE), NO_SCALE)

    wanted = (
        "shell.skin takes several batches of face, whose edge stays wet 10 min; "
        "mixing and carrying the next take 12 min"
    )

    assert outcome.value is None
    assert [p.message for p in outcome.problems] == [wanted]


def weighed(*pairs):
    return tuple(
        WeighLine(stock=stock, exact=Fraction(exact), shown=Fraction(shown), running=Fraction(0))
        for stock, exact, shown in pairs
    )


def test_the_error_of_a_ratio_counts_both_roundings():
    # 10.4 to 3.12 shown as 10 to 3: 3/10 is 0.3, and so is the ratio; nothing is off.
    lines = weighed(("a", "10.4", 10), ("b", "3.12", 3))

    assert rounding_error(mix(measure="mass"), lines)[0] == 0


def test_the_error_of_a_dose_is_its_own():
    lines = weighed(("cement", 20, 20), ("ochre", "0.105", "0.1"))

    assert rounding_error(mix(), lines) == (Fraction(1, 21), "ochre")


def test_a_ratio_that_the_scale_moves_too_far_is_a_finding():
    kitchen = Scales(ranges=((Fraction(0), Fraction(5), Fraction(1, 1000)),))
    two = recipe(1000, 300)
    outcome = batches_of(mix(30, measure="mass"), two, fill(Fraction(18, 1000)), Vessel(), kitchen)
    wanted = (
        "a batch of shell.skin takes 5.4 g of stock-1, shown as 5 g: "
        "the ratio is off by 7.407 %, wanted 2 % at most"
    )

    assert [p.message for p in outcome.problems] == [wanted]


@given(jobs())
def test_the_error_printed_is_the_greatest_there_is(job):
    told, whole, vessel, scales = job
    for batch in batches_of(told, FACE, whole, vessel, scales).value or ():
        for line in batch.lines:
            assert abs(line.shown - line.exact) <= batch.error * line.exact


def test_what_no_scale_bears_at_once_is_weighed_in_goes_on_the_strongest():
    grams = (Fraction(0), Fraction(2), Fraction(1, 1000))
    bench = (Fraction(0), Fraction(30), Fraction(5, 1000))

    assert Scales(ranges=(grams, bench)).step(Fraction(45)) == Fraction(5, 1000)


def test_the_finest_scale_that_bears_the_amount_is_used():
    grams = (Fraction(0), Fraction(2), Fraction(1, 1000))
    platform = (Fraction(1), Fraction(60), Fraction(20, 1000))
    scales = Scales(ranges=(platform, grams))

    assert scales.step(Fraction(1)) == Fraction(1, 1000)
    assert scales.step(Fraction(10)) == Fraction(20, 1000)


def test_a_mix_by_volume_is_measured_to_the_millilitre_and_a_little_of_it_with_a_syringe():
    batches = batches_of(mix(measure="volume"), FACE, fill(Fraction(1, 3)), Vessel(), NO_SCALE).value
    lines = batches[0].lines

    assert lines[0].exact == Fraction(1, 12) * LITRE
    assert lines[0].shown == Fraction(83, 1_000_000)
    assert weighed_out(mix(measure="volume"), FACE, 40 * LITRE / 1000, NO_SCALE)[0].shown == Fraction(
        1, 100_000
    )


def test_an_american_shop_weighs_in_ounces():
    ounce = Fraction("0.45359237") / 16

    assert [
        Scales(units="us").step(ounces * ounce) / ounce for ounces in (Fraction(1, 2), 3, 30, 400, 2000)
    ] == [
        Fraction(1, 1000),
        Fraction(1, 100),
        Fraction(1, 20),
        Fraction(1, 5),
        Fraction(16, 10),
    ]


def test_more_than_999_batches_are_refused():
    outcome = batches_of(mix(), FACE, fill(2000), Vessel(volume=LITRE), NO_SCALE)

    assert outcome.value is None
    assert [p.finding.name for p in outcome.problems] == ["too-many-batches"]
