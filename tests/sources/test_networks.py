"""Networks and constraint systems with published answers, through the functions that plan a build."""

import os
import zipfile
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from castlang.plan.from_network import plan_of
from castlang.plan.gaps.circles import circles_of
from castlang.plan.gaps.limits import circle_problems
from castlang.plan.gaps.windows import Times, gap_between, times_of
from castlang.plan.model import GapEdge, Hold, Hours, Need, Network, Point, Resource, Task
from castlang.plan.ties import ties_of
from castlang.plan.verify import verify

ROUND_THE_CLOCK = Hours(start=date(2027, 3, 1), week=(((0, 1440),),) * 7, crew=((None, 1),))


def network(tasks, gaps=(), resources=(), holds=(), hours=ROUND_THE_CLOCK):
    return Network(
        tasks=tuple(tasks), gaps=tuple(gaps), holds=tuple(holds), resources=tuple(resources), hours=hours
    )


def arcs_as_tasks(arcs):
    """A network of arcs between events: each arc a task, behind all arcs that end where it begins."""
    tasks = [Task(name=f"{a}-{b}", minutes=minutes) for a, b, minutes in arcs]
    gaps = [
        GapEdge(before=f"{a}-{b}", after=f"{c}-{d}", least=0)
        for a, b, _ in arcs
        for c, d, _ in arcs
        if b == c
    ]
    return network(tasks, gaps)


def points(count, bounds):
    """Points 1 to `count` in time and bounds `x_j - x_i <= w`, each told as (j, i, w)."""
    tasks = [Task(name=f"x{k}", minutes=0) for k in range(1, count + 1)]
    gaps = [
        GapEdge(before=f"x{j}", after=f"x{i}", least=-w, before_point=Point.START, after_point=Point.START)
        for j, i, w in bounds
    ]
    return network(tasks, gaps)


def test_seven_activities_have_the_published_times_and_slacks():
    """B. W. Taylor, Introduction to Management Science, chapter 8 (solutions): ES, EF, LS, LF, slack."""
    build = arcs_as_tasks([(1, 2, 7), (1, 3, 10), (2, 4, 6), (3, 4, 5), (3, 5, 4), (4, 5, 3), (5, 6, 2)])
    times = times_of(build)
    found = {n: (r.earliest, r.earliest_end, r.latest, r.latest_end, r.slack) for n, r in times.rows.items()}

    assert found == {
        "1-2": (0, 7, 2, 9, 2),
        "1-3": (0, 10, 0, 10, 0),
        "2-4": (7, 13, 9, 15, 2),
        "3-4": (10, 15, 10, 15, 0),
        "3-5": (10, 14, 14, 18, 4),
        "4-5": (15, 18, 15, 18, 0),
        "5-6": (18, 20, 18, 20, 0),
    }
    assert times.finish == 20


def test_the_plan_of_seven_activities_has_the_published_path_and_slacks():
    """B. W. Taylor, Introduction to Management Science, chapter 8 (solutions): path 1-3-4-5-6, 20, slacks."""
    plan = plan_of(
        arcs_as_tasks([(1, 2, 7), (1, 3, 10), (2, 4, 6), (3, 4, 5), (3, 5, 4), (4, 5, 3), (5, 6, 2)])
    ).value

    assert [link.task for link in plan.critical] == ["1-3", "3-4", "4-5", "5-6"]
    assert plan.finish == plan.bound == 20
    assert {p.task: p.slack for p in plan.placed} == {
        "1-2": 2,
        "1-3": 0,
        "2-4": 2,
        "3-4": 0,
        "3-5": 4,
        "4-5": 0,
        "5-6": 0,
    }


def test_thirteen_activities_with_a_dummy_have_the_published_slacks_and_path():
    """B. W. Taylor, Introduction to Management Science, chapter 8 (solutions): slacks, 1-3-5-7-8-9, 38."""
    arcs = [
        *((1, 2, 8), (1, 3, 10), (1, 4, 9), (2, 5, 6), (2, 6, 4), (3, 5, 5), (4, 5, 0)),
        *((4, 7, 7), (5, 7, 12), (5, 8, 15), (6, 9, 18), (7, 8, 4), (8, 9, 7)),
    ]
    build = arcs_as_tasks(arcs)
    times = times_of(build)
    plan = plan_of(build).value
    slacks = [1, 0, 6, 1, 8, 0, 6, 11, 0, 1, 8, 0, 0]

    assert [times.rows[f"{a}-{b}"].slack for a, b, _ in arcs] == slacks
    assert times.finish == 38
    assert [{p.task: p.slack for p in plan.placed}[f"{a}-{b}"] for a, b, _ in arcs] == slacks
    assert [link.task for link in plan.critical] == ["1-3", "3-5", "5-7", "7-8", "8-9"]


def test_nine_activities_have_the_published_duration_and_path():
    """C. Hendrickson, Project Management for Construction, chapter 10, nine activities: 30 days, A-C-F-I."""
    told = {
        "A": (4, ""),
        "B": (3, ""),
        "C": (8, "A"),
        "D": (7, "A"),
        "E": (9, "BC"),
        "F": (12, "BC"),
        "G": (2, "DE"),
        "H": (5, "DE"),
        "I": (6, "FG"),
    }
    tasks = [Task(name=name, minutes=days) for name, (days, _) in told.items()]
    gaps = [GapEdge(before=b, after=name, least=0) for name, (_, before) in told.items() for b in before]
    plan = plan_of(network(tasks, gaps)).value

    assert plan.finish == 30
    assert [link.task for link in plan.critical] == ["A", "C", "F", "I"]


def test_a_system_of_difference_constraints_has_the_published_solution():
    """Cormen, Leiserson, Rivest & Stein, Introduction to Algorithms, section 24.4: (-5, -3, 0, -1, -4)."""
    bounds = [(1, 2, 0), (1, 5, -1), (2, 5, 1), (3, 1, 5), (4, 1, 4), (4, 3, -1), (5, 3, -3), (5, 4, -3)]
    times = times_of(points(5, bounds), finish=0)

    assert [times.rows[f"x{k}"].latest for k in range(1, 6)] == [-5, -3, 0, -1, -4]


def test_two_points_that_must_each_lie_before_the_other_are_refused():
    """Cormen, Leiserson, Rivest & Stein, Introduction to Algorithms, section 24.4: no solution."""
    found = plan_of(points(2, [(1, 2, -1), (2, 1, -1)]))

    assert found.value is None
    assert [p.finding.name for p in found.problems] == ["circle"]
    assert found.problems[0].about == ("x1", "x2")


def test_a_system_whose_bounds_add_up_below_nought_has_no_solution():
    """Cormen, Leiserson, Rivest & Stein, Introduction to Algorithms, exercise 24.4-2, from memory: no
    solution; the circle adds up to -1."""
    bounds = [
        *((1, 2, 4), (1, 5, 5), (2, 4, -6), (3, 2, 1), (4, 1, 3)),
        *((4, 3, 5), (4, 5, 10), (5, 3, -4), (5, 4, -8)),
    ]
    found = plan_of(points(5, bounds))

    assert found.value is None
    assert [p.finding.name for p in found.problems] == ["circle"]
    assert [circle.over for circle in circles_of(ties_of(points(5, bounds)))] == [1]


def test_a_temporal_network_has_the_published_minimal_network():
    """Dechter, Meiri & Pearl, "Temporal constraint networks", Artificial Intelligence 49, 1991: the table."""
    told = [(0, 1, 10, 20), (1, 2, 30, 40), (3, 2, 10, 20), (3, 4, 40, 50), (0, 4, 60, 70)]
    start = Point.START
    build = network(
        [Task(name=f"x{k}", minutes=0) for k in range(5)],
        [
            GapEdge(
                before=f"x{a}",
                after=f"x{b}",
                least=least,
                longest=longest,
                before_point=start,
                after_point=start,
            )
            for a, b, least, longest in told
        ],
    )
    most = [[gap_between(build, (f"x{i}", start), (f"x{j}", start))[1] for j in range(5)] for i in range(5)]

    assert most == [
        [0, 20, 50, 30, 70],
        [-10, 0, 40, 20, 60],
        [-40, -30, 0, -10, 30],
        [-20, -10, 20, 0, 50],
        [-60, -50, -20, -40, 0],
    ]


def faces_and_backers(pieces, ordered):
    """One crew: faces of 15 min back to back, then backers of 30 min, each 20 to 90 min after its face."""
    tasks = [Task(name=f"face.{k}", minutes=15, crew=((None, 1),)) for k in range(1, pieces + 1)]
    tasks += [Task(name=f"backer.{k}", minutes=30, crew=((None, 1),)) for k in range(1, pieces + 1)]
    gaps = [GapEdge(before=f"face.{k}", after=f"face.{k + 1}", least=0, longest=0) for k in range(1, pieces)]
    for k in range(1, pieces + 1):
        gaps.append(GapEdge(before=f"face.{k}", after=f"backer.{k}", least=20, longest=90))
        gaps.append(GapEdge(before=f"face.{pieces}", after=f"backer.{k}", least=0))
    if ordered:
        gaps += [GapEdge(before=f"backer.{k}", after=f"backer.{k + 1}", least=0) for k in range(1, pieces)]
    return network(tasks, gaps)


@settings(deadline=None)
@given(pieces=st.integers(1, 8), ordered=st.booleans())
def test_backers_of_up_to_four_pieces_fit_behind_their_faces_and_of_more_never_do(pieces, ordered):
    """Own arithmetic, no outside source: backer k of n starts 15 n + 30 (k - 1) min after the first face or
    later, which is 15 n + 15 k - 30 after its own face; at most 90 for each k up to n means n <= 4."""
    found = plan_of(faces_and_backers(pieces, ordered))

    assert (found.value is not None) == (pieces <= 4)


def test_five_backers_in_a_told_order_are_refused_with_the_circle_that_proves_it():
    """Own arithmetic, no outside source: backer 5 starts 4 * 30 = 120 min after face 5, 30 past its 90, and
    backer 4 starts 105 min after face 4, 15 past."""
    problems = plan_of(faces_and_backers(5, ordered=True)).problems

    assert {p.finding.name for p in problems} == {"window-missed"}
    assert sorted(p.message.split("; these ")[1] for p in problems) == [
        (
            "need 105 min, but the window of 90 min (wait) from the end of face.4 to the start of backer.4 "
            "allows 90 min: 15 min too long"
        ),
        (
            "need 2 h, but the window of 90 min (wait) from the end of face.5 to the start of backer.5 "
            "allows 90 min: 30 min too long"
        ),
    ]


def benchmark_texts(name):
    """The files of a benchmark set by name, from the folder that CASTLANG_BENCHMARKS names."""
    folder = os.environ.get("CASTLANG_BENCHMARKS")
    if not folder:
        pytest.skip("CASTLANG_BENCHMARKS names no folder with the PSPLIB files (open data, not shipped)")
    archives = sorted(Path(folder).rglob("j30.zip"))
    if not archives:
        pytest.skip(f"no j30.zip (PSPLIB) in {folder}")
    with zipfile.ZipFile(archives[0]) as archive:
        names = [n for n in sorted(archive.namelist()) if n.endswith(".sm") and name in n]
        return {Path(n).stem: archive.read(n).decode("ascii") for n in names}


def psplib(text):
    """The network of a PSPLIB single-mode file, and the MPM time and horizon that it tells."""
    lines = text.splitlines()

    def after(title, skip):
        return next(k for k, line in enumerate(lines) if line.startswith(title)) + skip

    def rows(first):
        for line in lines[first:]:
            if line.startswith("*"):
                return
            yield [int(word) for word in line.split()]

    follows = {row[0]: row[3:] for row in rows(after("PRECEDENCE", 2))}
    takes = {row[0]: row[2:] for row in rows(after("REQUESTS", 3))}
    capacity = next(rows(after("RESOURCEAVAIL", 2)))
    tasks = [
        Task(
            name=f"job {k}",
            minutes=row[0],
            needs=tuple(
                Need(resource=f"R{n}", amount=amount) for n, amount in enumerate(row[1:], 1) if amount
            ),
        )
        for k, row in takes.items()
    ]
    gaps = [
        GapEdge(before=f"job {k}", after=f"job {then}", least=0) for k, row in follows.items() for then in row
    ]
    resources = [Resource(name=f"R{n}", capacity=amount) for n, amount in enumerate(capacity, 1)]
    project = next(rows(after("PROJECT INFORMATION", 2)))
    horizon = next(int(line.split(":")[1]) for line in lines if line.startswith("horizon"))
    return network(tasks, gaps, resources), project[5], horizon


def test_the_psplib_instance_j301_1_has_its_published_mpm_time():
    """PSPLIB, instance j301_1 (Kolisch & Sprecher, European Journal of Operational Research 96, 1997)."""
    build, mpm, horizon = psplib(benchmark_texts("j301_1.")["j301_1"])
    times = times_of(build)

    assert isinstance(times, Times)
    assert (times.finish, mpm) == (38, 38)
    assert sum(task.minutes for task in build.tasks) == horizon == 158


def test_every_psplib_instance_of_30_jobs_has_its_published_mpm_time():
    """PSPLIB, set j30 (Kolisch & Sprecher 1997): the MPM time in each of the 480 files."""
    wrong = []
    for name, text in benchmark_texts("").items():
        build, mpm, _ = psplib(text)
        if times_of(build).finish != mpm:
            wrong.append(name)

    assert wrong == []


def test_plans_of_psplib_instances_pass_the_verifier_and_none_beats_the_published_optimum():
    """PSPLIB, set j30: published optima of j301_1 to j301_5 (43, 47, 47, 62, 39)."""
    optima = {"j301_1": 43, "j301_2": 47, "j301_3": 47, "j301_4": 62, "j301_5": 39}
    texts = benchmark_texts("j301_")
    plans = {name: plan_of(psplib(texts[name])[0]).value for name in optima}

    assert [name for name, plan in plans.items() if verify(plan)] == []
    assert [name for name, plan in plans.items() if not plan.bound <= optima[name] <= plan.finish] == []


def test_a_hold_is_part_of_what_a_network_must_keep():
    """Own arithmetic, no outside source: two castings of 60 min from one mold take 120 min."""
    tasks = [Task(name=f"cast.{k}", minutes=60) for k in (1, 2)]
    holds = [Hold(resource="mold", first=f"cast.{k}", last=f"cast.{k}") for k in (1, 2)]
    build = network(tasks, resources=[Resource(name="mold", capacity=1, kind="mold")], holds=holds)

    assert circle_problems(ties_of(build)) == ()
    assert plan_of(build).value.finish == 120
