"""Circles of gaps that cannot be met: each told once, with as few gaps as there can be."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from castlang.pipeline import compile_build
from castlang.plan.gaps.circles import ROUNDS, Kind, circles_of
from castlang.plan.gaps.windows import times_of
from castlang.plan.model import GapEdge, Hours, Network, Point, Task
from castlang.plan.ties import ties_of
from castlang.source.files import Texts
from castlang.source.model import Span

HOURS = Hours(start=date(2027, 3, 1), week=(((0, 1440),),) * 7)
GAPS = frozenset({Kind.LEAST, Kind.LONGEST})


def network(tasks, gaps):
    return Network(tasks=tuple(tasks), gaps=tuple(gaps), holds=(), resources=(), hours=HOURS)


def line(number):
    return Span(file="desk.pour", line=number, column=5, end=20)


def pieces(count, *, window, least=20, own_lines):
    """Pieces of three steps of 10 min, `least` apart, the third within `window` of the first."""
    tasks, gaps = [], []
    for k in range(1, count + 1):
        names = [f"slab.{k}.{step}" for step in ("pour", "press", "trowel")]
        tasks += [Task(name=name, minutes=10) for name in names]
        place = line(10 + k if own_lines else 10)
        gaps += [GapEdge(before=a, after=b, least=least) for a, b in pairwise(names)]
        gaps.append(GapEdge(before=names[0], after=names[2], least=0, longest=window, span=place))
    return network(tasks, gaps)


@st.composite
def tightened(draw):
    """A network, and the place of a gap in it whose longest time is shortened."""
    count = draw(st.integers(3, 9))
    minutes = st.sampled_from((0, 10, 25, 60))
    tasks = [Task(name=f"t.{k}", minutes=draw(minutes)) for k in range(count)]
    gaps = []
    for _ in range(draw(st.integers(count, 3 * count))):
        before = draw(st.integers(0, count - 2))
        after = draw(st.integers(before + 1, count - 1))
        least = draw(st.sampled_from((0, 0, 15, 40, -10)))
        room = draw(st.sampled_from((None, None, 60, 200, 400)))
        gaps.append(
            GapEdge(
                before=f"t.{before}",
                after=f"t.{after}",
                least=least,
                longest=None if room is None else max(least, 0) + room,
                before_point=draw(st.sampled_from(Point)),
                after_point=draw(st.sampled_from(Point)),
            )
        )
    place = draw(st.integers(0, len(gaps) - 1))
    gap = gaps[place]
    short = draw(st.integers(0, 30)) + max(gap.least, 0)
    gaps[place] = replace(gap, longest=short if gap.longest is None else min(short, gap.longest))
    return network(tasks, gaps), place


def late_windows(build):
    """The gaps that take longer than they may where each step begins as soon as the least times let it."""
    bare = tuple(replace(gap, longest=None) for gap in build.gaps)
    found = times_of(replace(build, gaps=bare))
    if isinstance(found, tuple):
        return build.gaps
    late = []
    for gap in build.gaps:
        before, after = found.rows[gap.before], found.rows[gap.after]
        begun = before.earliest_end if gap.before_point is Point.END else before.earliest
        over = after.earliest_end if gap.after_point is Point.END else after.earliest
        late += [gap] if gap.longest is not None and over - begun > gap.longest else []
    return late


def fewest_bounds(build):
    """The fewest bounds of a closed walk that adds up to more than 0, by sums of walks of each length."""
    index = {task.name: k for k, task in enumerate(build.tasks)}
    length = [task.minutes for task in build.tasks]
    bounds = []
    for gap in build.gaps:
        before, after = index[gap.before], index[gap.after]
        between = length[before] * (gap.before_point is Point.END) - length[after] * (
            gap.after_point is Point.END
        )
        bounds.append((before, after, gap.least + between))
        if gap.longest is not None:
            bounds.append((after, before, -gap.longest - between))
    best = {(k, k): 0 for k in range(len(length))}
    for count in range(1, len(length) + 1):
        longer = {}
        for (home, tail), total in best.items():
            for at, head, weight in bounds:
                if at == tail:
                    longer[home, head] = max(longer.get((home, head), total + weight), total + weight)
        best = longer
        if any(best.get((k, k), 0) > 0 for k in range(len(length))):
            return count
    return None


@settings(deadline=None, max_examples=400)
@given(tightened())
def test_a_circle_that_one_late_window_brings_has_the_fewest_gaps_that_any_has(drawn):
    """All other windows are kept where each step begins as soon as the least times let it."""
    build, place = drawn
    freed = replace(build.gaps[place], longest=None)
    without = (*build.gaps[:place], freed, *build.gaps[place + 1 :])
    assume(not late_windows(replace(build, gaps=without)))
    circles = circles_of(ties_of(build))
    told = [sum(leg.kind in GAPS for leg in circle.legs) for circle in circles if circle.over > 0]

    assert told == [n for n in [fewest_bounds(build)] if n is not None]


def test_a_long_way_round_is_left_for_a_short_one():
    names = [f"t.{k}" for k in range(30)]
    tasks = [Task(name=name, minutes=10) for name in names]
    gaps = [GapEdge(before=a, after=b, least=5) for a, b in pairwise(names)]
    gaps.append(GapEdge(before=names[0], after=names[20], least=150))
    gaps.append(GapEdge(before=names[20], after=names[29], least=10))
    gaps.append(GapEdge(before=names[0], after=names[29], least=0, longest=100))
    circles = circles_of(ties_of(network(tasks, gaps)))

    assert [[leg.minutes for leg in circle.legs if leg.kind in GAPS] for circle in circles] == [
        [150, 10, -100]
    ]


def test_windows_of_lines_of_their_own_are_told_one_by_one():
    circles = circles_of(ties_of(pieces(3, window=30, own_lines=True)))

    assert [circle.tasks[0].name for circle in circles] == ["slab.1.pour", "slab.2.pour", "slab.3.pour"]
    assert [circle.over for circle in circles] == [20, 20, 20]


def test_copies_of_one_line_are_told_once_and_by_the_first():
    circles = circles_of(ties_of(pieces(3, window=30, own_lines=False)))

    assert [circle.tasks[0].name for circle in circles] == ["slab.1.pour"]


def test_no_more_circles_are_told_than_anybody_mends_in_one_go():
    assert len(circles_of(ties_of(pieces(ROUNDS + 5, window=30, own_lines=True)))) == ROUNDS


def test_a_piece_whose_windows_can_be_kept_is_not_told_beside_one_whose_cannot():
    good = pieces(3, window=60, own_lines=True)
    bad = replace(good.gaps[2], longest=30)
    circles = circles_of(ties_of(replace(good, gaps=(*good.gaps[:2], bad, *good.gaps[3:]))))

    assert [circle.tasks[0].name for circle in circles] == ["slab.1.pour"]


def test_a_late_last_step_draws_a_chain_of_windows_after_it():
    """Own arithmetic, no outside source: each step may end 5 min before the next begins, no sooner."""
    tasks = [Task(name=f"t.{k}", minutes=10) for k in range(1, 5)]
    tasks.append(Task(name="t.5", minutes=10, earliest=1000))
    gaps = [GapEdge(before=f"t.{k}", after=f"t.{k + 1}", least=0, longest=5) for k in range(1, 5)]
    times = times_of(network(tasks, gaps))

    assert [times.rows[f"t.{k}"].earliest for k in range(1, 6)] == [940, 955, 970, 985, 1000]


def test_pieces_that_follow_one_another_are_drawn_each_by_its_own_window():
    """Own arithmetic, no outside source: the press waits 60 min for the sifting, and the pour 5 min before it
    at the most; the next piece begins behind the pour."""
    tasks, gaps = [], []
    for k in range(3):
        tasks += [Task(name=f"{step}.{k}", minutes=10) for step in ("pour", "press")]
        tasks.append(Task(name=f"sift.{k}", minutes=60))
        gaps.append(GapEdge(before=f"pour.{k}", after=f"press.{k}", least=0, longest=5))
        gaps.append(GapEdge(before=f"sift.{k}", after=f"press.{k}", least=0))
        if k:
            gaps += [
                GapEdge(before=f"pour.{k - 1}", after=f"{step}.{k}", least=0) for step in ("pour", "sift")
            ]
    times = times_of(network(tasks, gaps))

    assert [times.rows[f"pour.{k}"].earliest for k in range(3)] == [45, 100, 155]


def test_what_stands_behind_steps_that_begin_together_waits_for_all_of_it():
    """Own arithmetic, no outside source: a and b begin together; z follows b, and c follows z."""
    tasks = [Task(name=name, minutes=10) for name in ("a", "b", "c", "z")]
    together = {"least": 0, "before_point": Point.START, "after_point": Point.START}
    gaps = [GapEdge(before="a", after="b", **together), GapEdge(before="b", after="a", **together)]
    gaps += [GapEdge(before="b", after="z", least=30), GapEdge(before="z", after="c", least=5)]
    times = times_of(network(tasks, gaps))

    assert [times.rows[name].earliest for name in ("a", "b", "c", "z")] == [0, 0, 55, 40]


def test_a_circle_of_few_gaps_is_told_though_more_gaps_reach_its_points_with_more_minutes():
    """Own arithmetic, no outside source: over b the third step comes 40 min after the first, over c and d
    70 min, and both are past its window of 20 min."""
    tasks = [Task(name=name, minutes=0) for name in ("a", "b", "c", "d", "e", "f")]
    told = [("a", "b", 20), ("b", "f", 20), ("a", "c", 10), ("c", "d", 30), ("d", "b", 10), ("a", "e", 1)]
    gaps = [GapEdge(before=before, after=after, least=least) for before, after, least in told]
    gaps.append(GapEdge(before="a", after="f", least=0, longest=20))
    circles = circles_of(ties_of(network(tasks, gaps)))

    assert [[leg.minutes for leg in circle.legs if leg.kind in GAPS] for circle in circles] == [[20, 20, -20]]


PIECE = """\
piece slab-{n} "Slab {n}"
    shape     slab 600 mm long, 400 mm wide, 60 mm thick
    work      cut takes 60 min by 1
{more}    work      hone takes 30 min by 1
"""
SHOP = """\
build slabs "Slabs"
    start     2027-03-01
    hours     mon to fri 08:00 to 17:00
    air       20 degC
    crew      2
"""


def told(*more):
    """What is told of slabs with these lines between cutting and honing."""
    text = SHOP + "".join(PIECE.format(n=n, more=lines) for n, lines in enumerate(more, start=1))
    found = compile_build("a.pour", text.encode(), Texts())
    return [(p.finding.name, p.message, p.span.line) for p in found.problems if p.finding.severity == "error"]


def test_a_circle_over_three_pieces_is_told_with_the_line_of_each_step_and_gap():
    after = [f"    after     slab-{n}.hone\n" for n in (2, 3, 1)]

    assert told(*after) == [
        (
            "circle",
            (
                "slab-1.hone (a.pour:10) waits for slab-2.hone (a.pour:15) (a.pour:9), slab-2.hone waits for "
                "slab-3.hone (a.pour:20) (a.pour:14), slab-3.hone waits for slab-1.hone (a.pour:19): a "
                "circle in which no step can be the first"
            ),
            15,
        )
    ]


def test_a_window_over_two_pieces_is_told_with_all_that_lies_between():
    wait = "    wait      2 h\n"
    window = "    after     slab-1.hone\n    within    90 min after slab-1.cut\n"

    assert told(wait, window) == [
        (
            "window-missed",
            (
                "from the end of slab-1.cut (a.pour:8) to the start of slab-2.hone (a.pour:16): wait after "
                "slab-1.cut 2 h (a.pour:9), slab-1.hone (a.pour:10) takes 30 min, then slab-2.hone "
                "(a.pour:14); these need 2 h 30 min, but the window of 90 min (within after slab-1.cut, "
                "a.pour:15) from the end of slab-1.cut to the start of slab-2.hone allows 90 min: 60 min too "
                "long"
            ),
            16,
        )
    ]
