"""Parts of a network that have no plan by themselves, crowds in a mold, and horizons far enough."""

from dataclasses import replace
from datetime import date

import pytest

from castlang.plan.bounds.bound import hold_lengths
from castlang.plan.from_network import plan_of
from castlang.plan.hours import Shop
from castlang.plan.model import GapEdge, Hold, Hours, Network, Resource, Task
from castlang.plan.placement.blocks import blocks_of
from castlang.plan.placement.placing import Standing, setting_of
from castlang.plan.placement.soonest import soonest_of
from castlang.plan.solving.horizons import horizons_of
from castlang.plan.solving.parts import in_a_row, parts_of
from castlang.plan.ties import ties_of

ALWAYS = Hours(start=date(2027, 3, 1), week=(((0, 1440),),) * 7, crew=((None, 1),))
DAYS = replace(ALWAYS, week=(((480, 960),),) * 5 + ((), ()))
CREW = ((None, 1),)


def setting(network):
    ties, shop = ties_of(network), Shop(network.hours, network.resources)
    return setting_of(ties, shop, soonest_of(ties, shop), hold_lengths(ties, blocks_of(ties)))


def pairs(hours, *, crew=CREW, latest=None):
    """Three pieces of two coats each, the second inside a window of the first, and a crate for all."""
    tasks, gaps = [], []
    for n in (1, 2, 3):
        tasks += [
            Task(name=f"{n}.first", minutes=60, crew=crew),
            Task(name=f"{n}.second", minutes=60, crew=crew),
        ]
        gaps.append(GapEdge(before=f"{n}.first", after=f"{n}.second", least=0, longest=30))
        gaps.append(GapEdge(before=f"{n}.second", after="crate", least=600))
    tasks.append(Task(name="crate", minutes=60, crew=crew, latest=latest))
    return Network(tasks=tuple(tasks), gaps=tuple(gaps), holds=(), resources=(), hours=hours)


def names(part):
    return [task.name for task in part.floor.ties.tasks]


def test_each_block_of_several_steps_is_a_part_by_itself():
    parts = parts_of(setting(pairs(ALWAYS)))

    assert [names(part) for part in parts] == [[f"{n}.first", f"{n}.second"] for n in (1, 2, 3)]


def test_what_comes_before_a_latest_date_stands_in_one_part_with_it():
    whole = setting(pairs(ALWAYS, latest=5000))

    assert [whole] == list(parts_of(whole))


@pytest.mark.parametrize(
    ("network", "starts"),
    [
        (pairs(DAYS), (480, 540, 10560, 10620, 20640, 20700, 22080)),
        (pairs(ALWAYS, crew=()), (0, 60, 120, 180, 240, 300, 960)),
    ],
)
def test_plans_of_the_parts_in_a_row_make_a_plan_of_the_whole(network, starts):
    """Own arithmetic, no outside source: in the shop of days each piece begins a week of 10,080 min after the
    one before it, and the crate, by itself on Tuesday at 8:00, in the third week; by the clock each piece
    begins when the last has ended, and the crate 600 min after the third."""
    whole = setting(network)
    plans = []
    for part in parts_of(whole):
        start = part.soonest
        end = tuple(part.floor.ends(k, minute) for k, minute in enumerate(start))
        plans.append((part, Standing(start=start, end=end, found=start, finish=max(end))))
    row = in_a_row(whole, plans)

    assert starts == row.start
    assert row.finish == starts[-1] + 60


def test_a_far_horizon_has_room_for_every_piece_in_a_week_of_its_own():
    near, far = horizons_of(setting(pairs(DAYS)))

    assert near <= far
    assert far >= 4 * 7 * 1440


def test_the_finding_names_the_part_without_a_plan_and_no_other():
    """Own arithmetic, no outside source: two faces of 40 min come before two backers, each 39 min at most
    after its face; the other pieces have nothing to do with it."""
    pytest.importorskip("ortools")
    easy = pairs(ALWAYS)
    tasks = [
        Task(name=f"tray.{n}.{step}", minutes=40, crew=CREW) for n in (1, 2) for step in ("face", "back")
    ]
    gaps = [
        GapEdge(before=f"tray.{a}.face", after=f"tray.{b}.back", least=0, longest=39 if a == b else None)
        for a in (1, 2)
        for b in (1, 2)
    ]
    network = replace(easy, tasks=(*easy.tasks, *tasks), gaps=(*easy.gaps, *gaps))
    (told,) = plan_of(network, search="thorough").problems

    assert told.finding.name == "no-room"
    assert "tray.1.face" in told.message
    assert "first" not in told.message
    assert told == plan_of(network, search="thorough").problems[0]


def row_of(pieces, forms, *, hold="back"):
    """Pieces in forms of their own, all faces before any backer."""
    tasks = [
        Task(name=f"tray.{n}.{step}", minutes=20, crew=CREW)
        for n in range(1, pieces + 1)
        for step in ("face", "back")
    ]
    gaps = [
        GapEdge(before=f"tray.{a}.face", after=f"tray.{b}.back", least=0)
        for a in range(1, pieces + 1)
        for b in range(1, pieces + 1)
    ]
    holds = [
        Hold(resource="form", first=f"tray.{n}.face", last=f"tray.{n}.{hold}") for n in range(1, pieces + 1)
    ]
    form = Resource(name="form", capacity=forms, kind="mold")
    return Network(tasks=tuple(tasks), gaps=tuple(gaps), holds=tuple(holds), resources=(form,), hours=ALWAYS)


@pytest.mark.parametrize("search", ["quick", "normal"])
def test_forms_held_at_once_in_every_order_are_told_without_the_solver(search):
    (told,) = plan_of(row_of(3, 2), search=search).problems

    assert told.finding.name == "places-short"
    assert told.message == (
        "in every order form is held from tray.1.face to the end of tray.1.back, from tray.2.face to the end "
        "of tray.2.back, from tray.3.face to the end of tray.3.back at once, which wants 3, but there is "
        "room for 2"
    )
    assert told.remedy == "have 3 of form, or let some be freed before the others begin"


def test_forms_that_suffice_or_are_freed_in_time_are_not_told():
    assert plan_of(row_of(3, 3)).value is not None
    assert plan_of(row_of(3, 1, hold="face")).value is not None
