"""Each link of the critical chain names a true cause: set a task a little sooner, everything else as it was,
and the independent check complains; take the cause away, and it complains less."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest
from random_networks import network_of
from test_records_that_clash import PAIR, SHOP, compiled

from castlang.plan.from_network import plan_of
from castlang.plan.hours import Shop
from castlang.plan.model import GapEdge, Hours, Link, Need, Network, Placed, Plan, Point, Resource, Task, Why
from castlang.plan.told.chain import SHUT
from castlang.plan.verify import verify
from castlang.sheets.basis import basis_of
from castlang.sheets.schedule import reason

KEEPS = re.compile(r"so that (\S+) keeps its window")
RULE = "placed by the rule"  # nothing kept the task: it and what is tied to it were placed as one


def moved(plan: Plan, starts: dict[str, int]) -> tuple[Placed, ...]:
    """The plan with some tasks elsewhere, in hours."""
    shop = Shop(plan.network.hours, plan.network.resources)
    tasks = {task.name: task for task in plan.network.tasks}
    placed = []
    for p in plan.placed:
        start = starts.get(p.task, p.start)
        task = tasks[p.task]
        end, spells = shop.end(task, start), shop.worked(task, start)
        placed.append(replace(p, start=start, end=end, spells=spells, latest=start, slack=0))
    return tuple(sorted(placed, key=lambda p: p.start))


def wrong(network: Network, placed: tuple[Placed, ...]) -> set[str]:
    finish = max(p.end for p in placed)
    return set(verify(Plan(network=network, placed=placed, critical=(), finish=finish, bound=0, made="")))


def without(network: Network, held: str, link: Link) -> Network:
    """The network without what the link names as the cause that keeps the task `held` back."""
    by = link.before
    says = link.says.split(": ", 1)[-1] if KEEPS.match(link.says) else link.says
    crew = [role for role, _ in network.hours.crew]
    gaps = tuple(g for g in network.gaps if not (g.before == by and g.after == held and g.longest is None))
    gaps = tuple(replace(g, least=-(10**6)) if (g.before, g.after) == (by, held) else g for g in gaps)
    tasks = tuple(replace(t, earliest=None) if t.name == held and by is None else t for t in network.tasks)
    places = tuple(
        replace(r, capacity=r.capacity + 9) if re.search(rf"\b{r.name}\b", says) else r
        for r in network.resources
    )
    holds = tuple(h for h in network.holds if (h.first, h.last) != (by, held))
    people = "crew" in says or "people" in says or any(role and role in says for role in crew)
    hours = network.hours
    if people:
        hours = replace(hours, crew=tuple((role, count + 9) for role, count in hours.crew))
    return replace(network, gaps=gaps, holds=holds, tasks=tasks, resources=places, hours=hours)


def plans() -> Iterator[tuple[int, Plan]]:
    for seed in range(400):
        plan = plan_of(network_of(seed), search="quick").value
        if plan is not None:
            yield seed, plan


@pytest.fixture(scope="module")
def links() -> list[tuple[int, Plan, Link]]:
    return [(seed, plan, link) for seed, plan in plans() for link in plan.critical]


def sooner(plan: Plan, name: str) -> int | None:
    task = next(t for t in plan.network.tasks if t.name == name)
    start = next(p.start for p in plan.placed if p.task == name)
    return Shop(plan.network.hours, plan.network.resources).last_start(task, start - 1) if start else None


def is_point(plan: Plan, name: str) -> bool:
    """What has no length and begins a hold is moved back once its cause is known."""
    task = next(t for t in plan.network.tasks if t.name == name)
    return not task.minutes


def test_each_named_cause_keeps_its_task_from_a_sooner_start(links) -> None:
    held, untrue = 0, []
    for seed, plan, link in links:
        start = sooner(plan, link.task)
        if link.before is None or start is None or is_point(plan, link.task):
            continue
        if KEEPS.match(link.says) or link.says == RULE:
            continue
        placed = moved(plan, {link.task: start})
        with_it = wrong(plan.network, placed)
        if not with_it - wrong(without(plan.network, link.task, link), placed):
            untrue.append((seed, link))
        held += 1

    assert untrue == []
    assert held > 500
    assert sum(link.says == RULE for _, _, link in links) < held / 100


def test_a_task_held_back_for_a_window_names_what_holds_the_other_end(links) -> None:
    held, untrue = 0, []
    for seed, plan, link in links:
        told, start = KEEPS.match(link.says), sooner(plan, link.task)
        if told is None or start is None or is_point(plan, link.task) or ": " not in link.says:
            continue
        if link.says.endswith(SHUT):
            continue  # the hours keep it from the next start sooner, its cause from those before
        other = told[1]
        first = moved(plan, {link.task: start})
        window = [text for text in wrong(plan.network, first) if text.startswith(f"{other} comes")]
        then = latest_within(plan, link.task, other, first)
        if not window or then is None:
            untrue.append((seed, link, "no window"))
            continue
        placed = moved(plan, {link.task: start, other: then})
        if not wrong(plan.network, placed) - wrong(without(plan.network, other, link), placed):
            untrue.append((seed, link, "no cause"))
        held += 1

    assert untrue == []
    assert held >= 3


@pytest.mark.parametrize(
    ("kind", "because"),
    [
        ("station", "mixer busy with before"),
        ("crew", "caster busy with before"),
        ("gap", "cure of before"),
        ("date", "not before its date"),
    ],
)
def test_a_step_pulled_late_by_a_window_tells_the_cause(kind: str, because: str) -> None:
    """`over` must follow `laid` within 30 min and waits for `before`; `after` makes `laid` critical."""
    mixer, caster = (Need(resource="mixer"),), (("caster", 1),)
    anybody = ((None, 1),)
    crew = caster if kind == "crew" else anybody
    needs = mixer if kind == "station" else ()
    tasks = (
        Task(name="before", minutes=240, crew=crew, needs=needs, latest=720),
        Task(name="laid", minutes=60, crew=anybody),
        Task(name="over", minutes=30, crew=crew, needs=needs, earliest=720 if kind == "date" else None),
        Task(name="after", minutes=600, crew=anybody),
    )
    gaps = [
        GapEdge(before="laid", after="over", least=0, longest=30, says="within after laid"),
        GapEdge(before="laid", after="after", least=0),
    ]
    if kind == "gap":
        gaps.append(GapEdge(before="before", after="over", least=0, why=Why.CURE, says="cure of before"))
    network = Network(
        tasks=tasks,
        gaps=tuple(gaps),
        holds=(),
        resources=(Resource(name="mixer", capacity=1),),
        hours=Hours(start=date(2027, 3, 1), week=(((480, 1440),),) * 7, crew=(("caster", 1), ("helper", 3))),
    )
    plan = plan_of(network).value
    assert plan is not None
    chain = {link.task: link for link in plan.critical}

    assert list(chain)[-2:] == ["laid", "after"]
    assert chain["laid"].says == f"so that over keeps its window: {because}"
    assert chain["laid"].before == (None if kind == "date" else "before")


def test_the_sheet_names_the_copy_of_a_mold_that_a_step_waits_for() -> None:
    shop = (SHOP + PAIR).replace('face down"\n', 'face down"\n    make      2\n')
    build = compiled(shop=shop.replace("piece plate\n", "piece plate\n    make      3\n"))
    assert build.spec is not None
    assert build.takeoff is not None
    assert build.plan is not None
    assert build.costing is not None
    basis = basis_of(build.spec, build.takeoff, build.plan, build.costing, (), "metric")
    window = Link(
        task="plate.2.body",
        before="tile.body",
        why=Why.HOURS,
        gap=0,
        says="so that plate.2.demold keeps its window: mixer busy with tile.body",
    )

    assert "Flat mold, face down, 2, is held by tile.demold" in [
        reason(basis, link) for link in build.plan.critical
    ]
    assert reason(basis, window) == (
        "so that plate.2.demold keeps its window: Pan mixer is held by tile.body"
    )


def latest_within(plan: Plan, name: str, other: str, placed: tuple[Placed, ...]) -> int | None:
    """The last start of `other` in its windows from `name`, which stands in `placed`."""
    shop = Shop(plan.network.hours, plan.network.resources)
    task = next(t for t in plan.network.tasks if t.name == other)
    stands = next(p for p in placed if p.task == name)
    found = []
    for gap in plan.network.gaps:
        if (gap.before, gap.after) == (name, other) and gap.longest is not None:
            by = (stands.start if gap.before_point is Point.START else stands.end) + gap.longest
            found.append(shop.last_start(task, by) if gap.after_point is Point.START else shop.last(task, by))
    return None if not found or None in found else min(found)
