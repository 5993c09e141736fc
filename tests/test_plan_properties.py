"""Plans of random networks: each one passes the verifier, each refusal is true, and order does not matter."""

import random
from dataclasses import replace
from datetime import date

import networkx as nx
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from castlang.plan.from_network import plan_of
from castlang.plan.gaps.circles import circles_of
from castlang.plan.graph import order_of
from castlang.plan.hours import Shop
from castlang.plan.model import (
    GapEdge,
    Hold,
    Hours,
    Need,
    Network,
    Placed,
    Plan,
    Point,
    Resource,
    Task,
    Why,
)
from castlang.plan.searches.levelling import RULES
from castlang.plan.ties import ties_of
from castlang.plan.told.slack import latest_starts
from castlang.plan.told.uses import hands_of, uses_of
from castlang.plan.verify import verify

WEEKS = (
    (((480, 720), (750, 990)),) * 5 + ((), ()),
    (((420, 690), (720, 1050)),) * 4 + (((480, 720),), (), ()),
    (((0, 1440),),) * 7,
    ((), ((600, 640), (650, 700)), (), ((1300, 1440),), ((0, 300),), (), ()),
)
UNPAUSED = settings(deadline=None, max_examples=150, suppress_health_check=list(HealthCheck))


@st.composite
def networks(draw, windows=True):
    """Networks of a few tasks with all that a plan must keep; many can be met, some cannot."""
    resources = tuple(
        Resource(
            name=name,
            capacity=draw(st.integers(1, 3)),
            kind=kind,
            closed=tuple(draw(st.sampled_from([(), ((0, 700),), ((1440, 2880), (3000, 3100))]))),
        )
        for name, kind in (("mixer", "station"), ("form", "mold"))
    )
    crew = draw(st.sampled_from([((None, 2),), ((None, 1), ("caster", 1)), (("caster", 2), ("finisher", 1))]))
    away = draw(
        st.dictionaries(
            st.integers(0, 9),
            st.lists(st.tuples(st.sampled_from([None, "caster"]), st.integers(1, 2)), max_size=2).map(tuple),
            max_size=3,
        )
    )
    hours = Hours(
        start=date(2027, 3, 1),
        week=draw(st.sampled_from(WEEKS)),
        closed=frozenset(draw(st.sets(st.integers(0, 8), max_size=2))),
        crew=crew,
        away=away,
    )
    count = draw(st.integers(1, 8))
    tasks = tuple(draw(_tasks(k)) for k in range(count))
    gaps = tuple(
        draw(_gaps(a, b, windows)) for b in range(count) for a in range(b) if draw(st.integers(0, 2)) == 0
    )
    holds = []
    for _ in range(draw(st.integers(0, 3))):
        first = draw(st.integers(0, count - 1))
        last = draw(st.integers(first, count - 1))
        holds.append(Hold(resource="form", first=f"t.{first}", last=f"t.{last}"))
    due = draw(st.sampled_from([None, 2000]))
    return Network(tasks=tasks, gaps=gaps, holds=tuple(holds), resources=resources, hours=hours, due=due)


@st.composite
def _tasks(draw, number):
    crew = draw(
        st.sampled_from([(), ((None, 1),), ((None, 2),), (("caster", 1),), ((None, 1), ("caster", 1))])
    )
    return Task(
        name=f"t.{number}",
        minutes=draw(st.sampled_from([0, 0, 10, 30, 60, 150, 600])),
        crew=crew,
        needs=draw(st.sampled_from([(), (), (Need(resource="mixer"),), (Need(resource="form"),)])),
        may_pause=draw(st.booleans()),
        through_breaks=draw(st.booleans()),
        earliest=draw(st.sampled_from([None, None, None, 900, 5000])),
        latest=draw(st.sampled_from([None] * 5 + [4000, 20000])),
    )


@st.composite
def _gaps(draw, before, after, windows):
    least = draw(st.sampled_from([0, 0, 0, 30, 600, -30]))
    longest = draw(st.sampled_from([None, None, 0, 60, 1200])) if windows else None
    return GapEdge(
        before=f"t.{before}",
        after=f"t.{after}",
        least=least,
        longest=None if longest is None else max(longest, least),
        before_point=draw(st.sampled_from(list(Point))),
        after_point=draw(st.sampled_from(list(Point))),
        why=draw(st.sampled_from([Why.WAIT, Why.AFTER])),
    )


@UNPAUSED
@given(networks())
def test_every_plan_passes_the_verifier(network):
    found = plan_of(network)

    assert (found.value is None) == found.failed
    assert found.value is None or verify(found.value) == ()


@UNPAUSED
@given(networks(), st.randoms(use_true_random=False))
def test_the_order_in_which_a_network_is_told_does_not_matter(network, chance):
    def shuffled(items):
        return tuple(chance.sample(items, len(items)))

    told = replace(
        network,
        tasks=shuffled(network.tasks),
        gaps=shuffled(network.gaps),
        holds=shuffled(network.holds),
        resources=shuffled(network.resources),
    )
    one, other = plan_of(network), plan_of(told)

    assert one.problems == other.problems
    assert one.value is None or one.value == replace(other.value, network=network)


def raw_bounds(network):
    """The bounds of a network as a graph whose shortest paths are its tightest bounds: `x_j - x_i <= w`."""
    graph = nx.DiGraph()

    def bound(tail, head, weight):
        if not graph.has_edge(tail, head) or graph.edges[tail, head]["weight"] > weight:
            graph.add_edge(tail, head, weight=weight)

    for task in network.tasks:
        start, end = (task.name, Point.START), (task.name, Point.END)
        bound(end, start, -task.minutes)
        if not (task.may_pause and task.minutes):
            bound(start, end, task.minutes)
        bound(start, "origin", -(task.earliest or 0))
        if task.latest is not None:
            bound("origin", end, task.latest)
    for gap in network.gaps:
        before, after = (gap.before, gap.before_point), (gap.after, gap.after_point)
        bound(after, before, -gap.least)
        if gap.longest is not None:
            bound(before, after, gap.longest)
    for hold in network.holds:
        if hold.last is not None and hold.last != hold.first:
            bound((hold.last, Point.END), (hold.first, Point.START), 0)
    return graph


@UNPAUSED
@given(networks())
def test_circles_are_told_where_a_general_solver_finds_one_and_nowhere_else(network):
    """Bellman-Ford of networkx on the raw bounds; circles of tasks without length add up to 0 and are ours
    alone, since `comes after` is more than `not before`."""
    circles = [circle for circle in circles_of(ties_of(network)) if circle.over > 0]
    graph = raw_bounds(network)

    assert bool(circles) == nx.negative_edge_cycle(graph)


@UNPAUSED
@given(networks())
def test_every_circle_is_closed_and_its_legs_are_bounds_of_the_network(network):
    circles = circles_of(ties_of(network))
    told = set(network.gaps)
    broken = [
        circle
        for circle in circles
        for leg, then in zip(circle.legs, circle.legs[1:] + circle.legs[:1], strict=True)
        if (leg.head, leg.head_point if leg.head else None)
        != (then.tail, then.tail_point if then.tail else None)
        or (leg.gap is not None and leg.gap not in told)
    ]

    assert broken == []


@UNPAUSED
@given(networks())
def test_all_latest_starts_together_are_a_plan_too(network):
    plan = plan_of(network).value
    if plan is None:
        return
    shop = Shop(network.hours, network.resources)
    tasks = {task.name: task for task in network.tasks}
    late = sorted(
        (
            Placed(
                task=p.task,
                start=p.latest,
                end=shop.end(tasks[p.task], p.latest),
                spells=shop.worked(tasks[p.task], p.latest),
                latest=p.latest,
                slack=0,
            )
            for p in plan.placed
        ),
        key=lambda p: p.start,
    )
    finish = max(p.end for p in late)

    assert finish == plan.finish
    assert verify(replace(plan, placed=tuple(late), finish=finish)) == ()


@UNPAUSED
@given(networks())
def test_the_critical_chain_adds_up_to_the_finish(network):
    plan = plan_of(network).value
    if plan is None:
        return
    placed = {p.task: p for p in plan.placed}
    minute = placed[plan.critical[0].task].start
    for link in plan.critical:
        minute += link.gap + placed[link.task].end - placed[link.task].start

    assert minute == plan.finish
    assert [link.before for link in plan.critical] == [None, *(link.task for link in plan.critical[:-1])]


@UNPAUSED
@given(networks(windows=False))
def test_without_windows_dates_or_closings_for_ever_every_network_with_people_enough_gets_a_plan(network):
    free = tuple(replace(task, latest=None, may_pause=True) for task in network.tasks)
    found = plan_of(replace(network, tasks=free, holds=()))
    names = {problem.finding.name for problem in found.problems}

    assert names <= {"circle", "crew-short", "due-missed", "never-fits", "window-missed", "window-shut"}


@UNPAUSED
@given(networks())
def test_what_networkx_orders_our_order_orders_too(network):
    order = order_of(network)
    plain = nx.DiGraph()
    plain.add_nodes_from(task.name for task in network.tasks)
    for gap in network.gaps:
        if gap.before_point is Point.END and gap.after_point is Point.START and gap.least >= 0:
            plain.add_edge(gap.before, gap.after)
    missing = [(a, b) for a in plain for b in nx.descendants(plain, a) if not order.precedes(a, b)]

    assert missing == []


def test_a_thousand_tasks_get_a_plan_that_passes_the_verifier():
    plan = plan_of(casting_shop(pieces=90), search="quick").value

    assert len(plan.placed) == 990
    assert verify(plan) == ()
    assert plan.bound <= plan.finish
    assert any(rule.says in plan.made for rule in RULES)


def casting_shop(pieces):
    """An invented shop: eleven steps a piece, four molds of three kinds, one mixer, a crew of three."""
    chance = random.Random(7)
    tasks, gaps, holds = [], [], []
    kinds = ["a", "a", "b", "c"]
    for n in range(1, pieces + 1):
        kind = chance.choice(kinds)
        steps = [
            ("take", 0, 0, None, 0, None),
            ("release", 20, 1, None, 0, None),
            ("face", 30, 2, "mixer", 0, 240),
            ("backer", 45, 2, "mixer", 30, 75),
            ("cover", 10, 1, None, 0, 0),
            ("uncover", 10, 1, None, 1080, 4320),
            ("demold", 30, 2, None, 0, None),
            ("fill", 40, 1, None, 60, None),
            ("hone", 90, 1, None, 720, None),
            ("seal", 30, 1, None, 1440, None),
            ("crate", 30, 2, None, 720, None),
        ]
        for k, (step, minutes, people, station, least, longest) in enumerate(steps):
            tasks.append(
                Task(
                    name=f"piece.{n}.{step}",
                    minutes=minutes,
                    crew=((None, people),) if people else (),
                    needs=(Need(resource=station),) if station else (),
                    may_pause=step == "hone",
                )
            )
            if k:
                gaps.append(
                    GapEdge(
                        before=f"piece.{n}.{steps[k - 1][0]}",
                        after=f"piece.{n}.{step}",
                        least=least,
                        longest=longest,
                    )
                )
        holds.append(Hold(resource=f"mold {kind}", first=f"piece.{n}.take", last=f"piece.{n}.demold"))
    resources = (
        Resource(name="mixer", capacity=1),
        Resource(name="mold a", capacity=2, kind="mold"),
        Resource(name="mold b", capacity=1, kind="mold"),
        Resource(name="mold c", capacity=1, kind="mold"),
    )
    hours = Hours(start=date(2027, 3, 1), week=(((480, 720), (750, 1020)),) * 5 + ((), ()), crew=((None, 3),))
    return Network(tasks=tuple(tasks), gaps=tuple(gaps), holds=tuple(holds), resources=resources, hours=hours)


def test_slack_is_counted_in_the_order_in_which_the_crew_goes_round():
    """Own arithmetic, no outside source: the one person does a, then b; c waits for neither. The finish is
    set by d of 100 min by the clock, so a and b can wait 40 min together, c 70 min."""
    hours = Hours(start=date(2027, 3, 1), week=(((0, 1440),),) * 7, crew=((None, 1),))
    tasks = (
        Task(name="a", minutes=30, crew=((None, 1),)),
        Task(name="b", minutes=30, crew=((None, 1),)),
        Task(name="c", minutes=30),
        Task(name="d", minutes=100),
    )
    gaps = (GapEdge(before="a", after="b", least=0),)
    network = Network(tasks=tasks, gaps=gaps, holds=(), resources=(), hours=hours)
    plan = plan_of(network).value

    assert {p.task: p.slack for p in plan.placed} == {"a": 40, "b": 40, "c": 70, "d": 0}


def test_latest_starts_never_lie_before_the_starts_of_the_plan():
    network = casting_shop(pieces=6)
    plan: Plan = plan_of(network).value
    ties = ties_of(network)
    shop = Shop(network.hours, network.resources)
    start = [next(p.start for p in plan.placed if p.task == task.name) for task in ties.tasks]
    hands = hands_of(ties, uses_of(ties, shop, start), [0] * len(start))
    latest = latest_starts(ties, shop, start, hands, plan.finish)

    assert [k for k, minute in enumerate(latest) if minute < start[k]] == []
