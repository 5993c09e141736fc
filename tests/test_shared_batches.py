"""Batches that serve several pieces cast together: their number, what of each goes where, and the plan."""

from fractions import Fraction
from itertools import pairwise
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sums_by_hand import sums

from castlang.pipeline import Compiled, compile_build
from castlang.plan.model import Point
from castlang.plan.verify import verify
from castlang.sheets.from_plan import binder_of
from castlang.sheets.model import Sheet, Table
from castlang.source.files import Texts
from castlang.takeoff.divisions import Limits
from castlang.takeoff.model import SharedRun
from castlang.takeoff.shared_batches import cuts_of, servings_of
from castlang.trace.figures import figure_of, ground_of, names_of

SHOP = """\
build trial "Stools and legs"
    start     2027-05-03
    hours     mon to fri 08:00 to 12:00, 13:00 to 17:00
    air       20 degC
    crew      2
    waste     5 %
stock cement
    density   3150 kg/m3
    sold      bag of 25 kg
stock sand
    density   2650 kg/m3
    sold      bag of 25 kg
stock oil
    covers    20 m2/L
    sold      can of 5 L
mix casting
    binder    cement 100 parts
    sand      sand 150 parts damp 0 %
    water     0.4 of binder total
    works     45 min at 20 degC
    mixing    4 min
    carry     2 min
station mixer
    holds     60 L
"""
STOOL = """\
mold stool-mold
    make      3
    fits      stool
    release   oil on stool.all takes 5 min by 1
piece stool "Stool"
    make      3
    shape     slab 400 mm long, 300 mm wide, 120 mm thick
    take      stool-mold
    pour      body full of casting into stool-mold using mixer takes 12 min by 2{}
    cure      20 h to 4 days at 20 degC open
    demold    takes 20 min by 2
"""
LEG = """\
mold leg-mold
    make      2
    fits      leg
    release   oil on leg.all takes 5 min by 1
piece leg "Leg"
    make      4
    shape     slab 300 mm long, 100 mm wide, 100 mm thick
    take      leg-mold
    pour      body full of casting into leg-mold takes 4 min by 2{}
    cure      20 h to 4 days at 20 degC open
    demold    takes 5 min by 2
"""
OWN = " batch-with stool.body"
BOTH = " batch-with stool.body, leg.body"
STOOL_LITRES = Fraction("14.4") * Fraction(105, 100)


def compiled(text: str) -> Compiled:
    return compile_build("trial.pour", text.encode(), Texts())


def told(text: str) -> list[tuple[str, str]]:
    return [(p.finding.name, p.message) for p in compiled(text).problems]


def sheet_of(made: Compiled, code: str) -> Sheet:
    assert made.spec is not None
    assert made.takeoff is not None
    assert made.plan is not None
    assert made.costing is not None
    binder = binder_of(made.spec, made.takeoff, made.plan, made.costing)
    return next(sheet for sheet in binder.sheets if sheet.code == code)


# ---------------------------------------------------------------- one load for all copies


def test_three_stools_are_cast_from_one_load_of_the_mixer():
    made = compiled(SHOP + STOOL.format(OWN))
    (shared,) = made.takeoff.shared
    (batch,) = shared.batches

    assert [run.task for run in shared.runs] == ["stool.1.body", "stool.2.body", "stool.3.body"]
    assert batch.name == "stool.body.batch-1"
    assert batch.volume * 1000 == 3 * STOOL_LITRES
    assert batch.minutes == 4 + 2 + 36


def test_without_the_line_each_stool_has_a_batch_of_its_own():
    made = compiled(SHOP + STOOL.format(""))
    (part,) = made.takeoff.steps["stool", "body"].parts

    assert made.takeoff.shared == ()
    assert [batch.volume * 1000 for batch in part.batches] == [STOOL_LITRES]


def test_sharing_batches_changes_nothing_of_what_is_bought():
    shared, alone = (compiled(SHOP + STOOL.format(clause) + LEG.format("")) for clause in (BOTH, ""))

    assert shared.takeoff.bill == alone.takeoff.bill
    bill = {(line.stock, line.dimension): line.gross for line in shared.takeoff.bill}
    assert bill == sums(shared.spec, shared.takeoff)


def test_a_mixer_too_small_for_all_makes_as_few_equal_batches_as_it_can():
    # 45.36 L in a mixer of 30 L: two of 22.68 L; the second stool gets half of its 15.12 L from each.
    made = compiled(SHOP.replace("holds     60 L", "holds     30 L") + STOOL.format(OWN))
    (shared,) = made.takeoff.shared

    assert [batch.limit for batch in shared.batches] == ["mixer", "mixer"]
    assert [[(shared.runs[s.run].task, s.volume * 1000) for s in served] for served in shared.servings] == [
        [("stool.1.body", STOOL_LITRES), ("stool.2.body", STOOL_LITRES / 2)],
        [("stool.2.body", STOOL_LITRES / 2), ("stool.3.body", STOOL_LITRES)],
    ]


def test_the_working_time_counts_the_placing_of_all_that_a_batch_serves():
    # 36 min of placing; 30 min of working time leave 24 behind 6 of mixing and carrying.
    made = compiled(SHOP.replace("works     45 min", "works     30 min") + STOOL.format(OWN))
    (shared,) = made.takeoff.shared

    assert [batch.limit for batch in shared.batches] == ["working time", "working time"]
    assert all(batch.minutes <= 30 for batch in shared.batches)


def test_several_batches_meet_a_wet_edge():
    edge = "    carry     2 min\n    wet-edge  20 min\n"
    small = SHOP.replace("holds     60 L", "holds     30 L").replace("    carry     2 min\n", edge)
    (shared,) = compiled(small + STOOL.format(OWN)).takeoff.shared

    assert [batch.limit for batch in shared.batches] == ["wet edge"] * 3
    assert max(batch.minutes for batch in shared.batches) <= 20


# ---------------------------------------------------------------- several pieces, in rounds


def test_pieces_that_stand_in_molds_at_once_make_a_round():
    """Three stool molds and two leg molds: all three stools with two legs, then the other two legs."""
    made = compiled(SHOP + STOOL.format(BOTH) + LEG.format(""))

    assert [(shared.name, [run.task for run in shared.runs]) for shared in made.takeoff.shared] == [
        ("stool.body.round-1", ["stool.1.body", "stool.2.body", "stool.3.body", "leg.1.body", "leg.2.body"]),
        ("stool.body.round-2", ["leg.3.body", "leg.4.body"]),
    ]


def test_it_is_enough_that_one_of_the_steps_says_so():
    one = compiled(SHOP + STOOL.format(" batch-with leg.body") + LEG.format("")).takeoff.shared
    other = compiled(SHOP + STOOL.format("") + LEG.format(" batch-with stool.body")).takeoff.shared

    assert one[0].runs[0].task == "stool.1.body"
    assert other[0].runs[0].task == "leg.1.body"
    assert [{run.task for run in shared.runs} for shared in one] == [
        {run.task for run in shared.runs} for shared in other
    ]


def test_lifts_are_shared_lift_by_lift():
    lifts = SHOP.replace(
        "    works     45 min", "    lift      60 mm\n    recoat    10 min to 60 min\n    works     45 min"
    )
    made = compiled(lifts + STOOL.format(OWN))

    assert [(shared.name, shared.runs[0].task) for shared in made.takeoff.shared] == [
        ("stool.body.lift-1", "stool.1.body.lift-1"),
        ("stool.body.lift-2", "stool.1.body.lift-2"),
    ]
    assert verify(made.plan) == ()


# ---------------------------------------------------------------- the plan


def test_what_is_cast_together_follows_on_within_the_working_time():
    made = compiled(SHOP + STOOL.format(BOTH) + LEG.format(""))
    placed = {p.task: p for p in made.plan.placed}

    assert verify(made.plan) == ()
    for shared in made.takeoff.shared:
        runs = [placed[run.task] for run in shared.runs]
        assert all(a.end <= b.start for a, b in pairwise(runs))
        for batch, served in zip(shared.batches, shared.servings, strict=True):
            first, last = served[0], served[-1]
            began = placed[shared.runs[first.run].task].start * 60 + first.begin
            ended = placed[shared.runs[last.run].task].start * 60 + last.end
            assert ended - began + 6 * 60 <= 45 * 60, batch.name


def test_no_batch_waits_over_the_lunch_break():
    """The mold is built until 11:30, and what is left of the morning does not hold all three."""
    built = STOOL.format(OWN).replace(
        "fits      stool\n", "fits      stool\n    work build takes 3 h 30 min by 2\n"
    )
    made = compiled(SHOP + built.replace("    make      3\n    fits", "    make      3\n    fits"))
    starts = [p.start for p in made.plan.placed if p.task.endswith(".body")]

    assert max(starts) - min(starts) <= 27
    assert verify(made.plan) == ()


def test_the_network_holds_the_last_piece_of_a_batch_to_its_working_time():
    """45 min less 6 of mixing and carrying, less the 12 that the third takes: 27 min from start to start."""
    made = compiled(SHOP + STOOL.format(OWN))
    (edge,) = [e for e in made.network.gaps if (e.before, e.after) == ("stool.1.body", "stool.3.body")]

    assert (edge.before_point, edge.after_point, edge.longest) == (Point.START, Point.START, 27)


# ---------------------------------------------------------------- what cannot be shared


MAY_PAUSE = (
    "stool.body and leg.body cannot share batches: leg.body may pause, and its mix would set meanwhile"
)


@pytest.mark.parametrize(
    ("leg", "message"),
    [
        (
            LEG.format("").replace("of casting", "of other"),
            "stool.body and leg.body cannot share batches: one is of casting, the other of other",
        ),
        (
            LEG.format(" may-pause"),
            MAY_PAUSE,
        ),
    ],
)
def test_steps_that_cannot_share_are_told(leg, message):
    other = "mix other from casting\n    water     0.5 of binder total\n"

    assert told(SHOP + other + STOOL.format(BOTH) + leg) == [("batches-not-shared", message)]


def test_a_demold_shares_no_batches():
    found = told(SHOP + STOOL.format(" batch-with leg.demold") + LEG.format(""))

    assert found == [
        ("batches-not-shared", "stool.body and leg.demold cannot share batches: leg.demold mixes nothing")
    ]


@pytest.mark.parametrize("ref", ["stool.2.body", "leg", "stool.body.end"])
def test_batches_are_shared_with_whole_steps(ref):
    found = told(SHOP + STOOL.format(f" batch-with {ref}") + LEG.format(""))

    assert found == [("out-of-place", "batches are shared with a whole step, and with all copies of it")]


def test_a_single_piece_that_names_itself_shares_with_nobody():
    made = compiled(SHOP + STOOL.format(OWN).replace("make      3\n    shape", "make      1\n    shape"))

    assert made.takeoff.shared == ()
    assert made.problems == ()


# ---------------------------------------------------------------- sheets and trace


def test_the_batch_sheet_names_every_piece_that_it_serves_and_what_it_gets():
    made = compiled(SHOP + STOOL.format(BOTH) + LEG.format(""))
    sheet = sheet_of(made, "BATCH stool.body")
    table = next(b for b in sheet.blocks if isinstance(b, Table) and b.key == "batch-servings")

    assert sheet.title == "Batches of stool.body, leg.body"
    assert [(str(row.cells[0]), str(row.cells[1])) for row in table.rows][-3:] == [
        ("round-1.batch-2", "leg.2.body"),
        ("round-2.batch-1", "leg.3.body"),
        ("round-2.batch-1", "leg.4.body"),
    ]


def test_the_traveller_of_each_piece_points_to_the_sheet_of_the_shared_batches():
    made = compiled(SHOP + STOOL.format(OWN))
    text = str(sheet_of(made, "PIECE stool.2"))

    assert "from batch-1, cast together: sheet BATCH stool.body" in text


def test_every_figure_of_shared_batches_can_be_asked_for():
    made = compiled(SHOP + STOOL.format(BOTH) + LEG.format(""))
    ground = ground_of(made.spec, made.takeoff, made.plan, made.costing, made.texts)
    names = [name for name in names_of(ground) if "round-" in name]

    assert len(names) > 20
    assert [name for name in names if figure_of(ground, name) is None] == []
    into = figure_of(ground, "stool.body.round-1.batch-1.into.stool.1.body")
    assert into is not None
    assert into.value == STOOL_LITRES / 1000


# ---------------------------------------------------------------- no split with fewer batches

runs_of = st.lists(st.tuples(st.integers(1, 12), st.integers(1, 12)), min_size=1, max_size=4)


def made_runs(sizes: list[tuple[int, int]]) -> tuple[SharedRun, ...]:
    return tuple(
        SharedRun(owner="p", copy=str(n), step="s", suffix="", minutes=minutes, volume=Fraction(volume))
        for n, (volume, minutes) in enumerate(sizes, 1)
    )


@settings(max_examples=300, deadline=None, derandomize=True)
@given(runs_of, st.integers(2, 15), st.integers(3, 25))
def test_shared_batches_keep_their_limits_and_hand_out_all_there_is(sizes, most, minutes):
    runs = made_runs(sizes)
    limits = Limits(amounts=((Fraction(most), "mixer"),), placing=Fraction(minutes * 60))
    servings = list(servings_of(runs, cuts_of(runs, limits)))

    for served in servings:
        assert 0 < sum(one.volume for one in served) <= most
        assert sum(one.end - one.begin for one in served) <= minutes * 60
    for index, run in enumerate(runs):
        mine = [one for served in servings for one in served if one.run == index]
        assert sum(one.volume for one in mine) == run.volume
        assert [one.begin for one in mine] == [0, *(one.end for one in mine[:-1])]
        assert mine[-1].end == run.minutes * 60


@settings(max_examples=200, deadline=None, derandomize=True)
@given(runs_of, st.integers(2, 15), st.integers(3, 25))
def test_no_split_into_fewer_shared_batches_keeps_the_limits(sizes, most, minutes):
    """By brute force: from every point that so many batches can reach, on a grid, all next ones."""
    runs = made_runs(sizes)
    limits = Limits(amounts=((Fraction(most), "mixer"),), placing=Fraction(minutes * 60))
    number = len(cuts_of(runs, limits))
    grid = 12
    time = [Fraction(0)]
    for volume, takes in sizes:
        time += [time[-1] + Fraction(takes * k, grid * volume) for k in range(1, grid * volume + 1)]
    reached = {0}
    for _ in range(number - 1):
        reached = {
            end
            for begin in reached
            for end in range(begin + 1, len(time))
            if end - begin <= most * grid and time[end] - time[begin] <= minutes
        }

    assert len(time) - 1 not in reached


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.integers(1, 9), st.integers(1, 12), st.integers(2, 15))
def test_runs_of_one_speed_are_batched_equally(copies, volume, most):
    runs = made_runs([(volume, 4)] * copies)
    cuts = cuts_of(runs, Limits(amounts=((Fraction(most), "mixer"),)))

    assert len(cuts) == ceil(Fraction(copies * volume, most))
    assert cuts == tuple(Fraction(copies * volume * k, len(cuts)) for k in range(1, len(cuts) + 1))
