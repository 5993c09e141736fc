"""Windows that clash with crew, stations or molds are told with steps, lines and times."""

from datetime import date

import pytest

from castlang.plan.bounds.bound import hold_lengths
from castlang.plan.from_network import plan_of
from castlang.plan.hours import Shop
from castlang.plan.model import GapEdge, Hold, Hours, Need, Network, Point, Resource, Task
from castlang.plan.placement.blocks import blocks_of
from castlang.plan.placement.placing import setting_of
from castlang.plan.placement.soonest import soonest_of
from castlang.plan.solving.horizons import horizons_of
from castlang.plan.ties import ties_of
from castlang.source.model import Span

ALWAYS = Hours(start=date(2027, 3, 1), week=(((0, 1440),),) * 7, crew=((None, 1),))


def line(number):
    return Span(file="desk.pour", line=number, column=5, end=20)


def told(network):
    (problem,) = plan_of(network, search="thorough").problems
    return problem.finding.name, problem.message, problem.span.line, problem.remedy


def two_faces_first(window):
    """Two faces of 40 min, then the two backers, one person for all; each backer inside its window."""
    crew = ((None, 1),)
    tasks = [Task(name=f"tray.{n}.face", minutes=40, crew=crew, span=line(12)) for n in (1, 2)]
    tasks += [Task(name=f"tray.{n}.back", minutes=20, crew=crew, span=line(14)) for n in (1, 2)]
    gaps = [
        GapEdge(
            before=f"tray.{a}.face",
            after=f"tray.{b}.back",
            least=0,
            longest=window if a == b else None,
            span=line(13),
        )
        for a in (1, 2)
        for b in (1, 2)
    ]
    return Network(tasks=tuple(tasks), gaps=tuple(gaps), holds=(), resources=(), hours=ALWAYS)


def test_a_crew_that_cannot_keep_two_windows_is_told_with_its_steps_and_their_lines():
    """Own arithmetic, no outside source: of the first face 40 min pass before the second is done, so that its
    own backer comes 40 min after it, or the other's 60 min after the first face; 39 min are too few."""
    pytest.importorskip("ortools")
    name, message, number, remedy = told(two_faces_first(39))

    assert (name, number) == ("no-room", 13)
    assert message.startswith(
        "with a crew of 1 these cannot all be kept: the start of tray.1.back comes within 39 min after the "
        "end of tray.1.face (desk.pour:13), the start of tray.2.back comes within 39 min after"
    )
    assert message.endswith(
        "; a crew of 1 has to do tray.1.back (20 min), tray.1.face (40 min), tray.2.back (20 min), "
        "tray.2.face (40 min)"
    )
    assert remedy == "widen the window of 39 min (desk.pour:13) to 40 min, or have more than a crew of 1"
    assert plan_of(two_faces_first(40), search="thorough").value is not None


def test_a_mold_that_is_held_too_long_is_told_with_what_holds_it():
    """Own arithmetic, no outside source: two castings share one form and each holds it for 100 min, but the
    second has to begin within 60 min of the first."""
    pytest.importorskip("ortools")
    tasks = tuple(Task(name=f"cast.{n}", minutes=100, span=line(n)) for n in (1, 2))
    pair = GapEdge(
        before="cast.1", after="cast.2", least=0, longest=60, before_point=Point.START, span=line(3)
    )
    network = Network(
        tasks=tasks,
        gaps=(pair,),
        holds=tuple(Hold(resource="form", first=f"cast.{n}", last=f"cast.{n}") for n in (1, 2)),
        resources=(Resource(name="form", capacity=1, kind="mold"), Resource(name="table", capacity=1)),
        hours=ALWAYS,
    )
    name, message, _, remedy = told(network)

    assert name == "no-room"
    assert "with 1 of form this cannot be kept: the start of cast.2 comes within" in message
    assert "1 of form is wanted by what is held from cast.1 to the end of cast.1" in message
    assert "table" not in message
    assert remedy == ("widen the window of 60 min (desk.pour:3) to 100 min, or have more than 1 of form")


def test_a_latest_date_that_a_station_cannot_keep_is_told_with_the_station():
    """Own arithmetic, no outside source: three steps of 60 min on one mixer end at 180 min, not by 170."""
    pytest.importorskip("ortools")
    tasks = tuple(
        Task(name=f"mix.{n}", minutes=60, needs=(Need(resource="mixer"),), latest=170, span=line(n))
        for n in (1, 2, 3)
    )
    mixer = Resource(name="mixer", capacity=1)
    network = Network(tasks=tasks, gaps=(), holds=(), resources=(mixer,), hours=ALWAYS)
    name, message, _, remedy = told(network)

    assert name == "no-room"
    assert remedy.endswith(" end by Mon 2027-03-01 03:00, or have more than room for 1 at mixer")
    assert message == (
        "with room for 1 at mixer these cannot all be kept: mix.1 ends by Mon 2027-03-01 02:50, mix.2 ends "
        "by Mon 2027-03-01 02:50, mix.3 ends by Mon 2027-03-01 02:50; room for 1 at mixer is wanted by mix.1 "
        "(60 min), mix.2 (60 min), mix.3 (60 min)"
    )


def test_days_off_far_behind_a_date_do_not_make_the_question_larger():
    """The solver is told of no spell behind a latest date, however far the calendar goes on."""
    pytest.importorskip("ortools")
    from castlang.plan.solving.constraints import Constraints

    crew = ((None, 1),)
    open_days = (((480, 960),),) * 5 + ((), ())
    tasks = (
        Task(name="cast", minutes=60, crew=crew, may_pause=True),
        Task(name="hone", minutes=300, crew=crew, may_pause=True, latest=3 * 1440),
    )
    gaps = (GapEdge(before="cast", after="hone", least=600),)

    def size(closed):
        hours = Hours(start=date(2027, 3, 1), week=open_days, closed=frozenset(closed), crew=crew)
        network = Network(tasks=tasks, gaps=gaps, holds=(), resources=(), hours=hours)
        ties, shop = ties_of(network), Shop(hours, ())
        setting = setting_of(ties, shop, soonest_of(ties, shop), hold_lengths(ties, blocks_of(ties)))
        return len(Constraints(setting, horizons_of(setting)[1], None).model.proto.variables)

    assert size({2}) == size({2, 1000}) < 100
