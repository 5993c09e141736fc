"""What a builder reads when a network cannot be planned, and what a good one gives."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

from castlang.plan.clock import clock, duration_text, moment_text
from castlang.plan.findings import FINDINGS
from castlang.plan.from_network import plan_of
from castlang.plan.gaps.windows import times_of
from castlang.plan.model import GapEdge, Hold, Hours, Need, Network, Point, Resource, Task, Why
from castlang.source.model import Span

DAYS = (((480, 720), (750, 990)),) * 5 + ((), ())
SHOP = Hours(start=date(2027, 3, 1), week=DAYS, crew=((None, 2), ("finisher", 1)))


def line(number):
    return Span(file="desk.pour", line=number, column=5, end=20)


def people(count):
    return ((None, count),)


def network(*tasks, gaps=(), holds=(), resources=(), hours=SHOP, due=None):
    return Network(
        tasks=tasks, gaps=tuple(gaps), holds=tuple(holds), resources=tuple(resources), hours=hours, due=due
    )


def wet(face, backer, between=(), window=(30, 75)):
    """A face coat under a backer, with what stands between them: the three gaps of a window between wet
    layers."""
    tasks = [
        Task(name="shell.face", minutes=face, crew=people(2), span=line(12)),
        *between,
        Task(name="shell.back-1", minutes=backer, crew=people(2), span=line(14)),
    ]
    ties = {"before": "shell.face", "after": "shell.back-1", "span": line(13)}
    start, end = Point.START, Point.END
    gaps = [GapEdge(before=a.name, after=b.name, least=0) for a, b in pairwise(tasks)]
    gaps += [
        GapEdge(
            **ties, least=window[0], longest=window[1], before_point=start, after_point=start, why=Why.WAIT
        ),
        GapEdge(**ties, least=0, longest=window[1], before_point=end, after_point=end, why=Why.WINDOW),
    ]
    return network(*tasks, gaps=gaps)


def told(build):
    return [(p.finding.name, p.message, p.span.line, p.about) for p in plan_of(build).problems]


def test_a_backer_of_90_min_on_a_face_of_40_min_is_told_with_both_ages():
    assert told(wet(40, 90)) == [
        (
            "window-missed",
            (
                "shell.back-1 (desk.pour:14) goes on shell.face (desk.pour:12) when that is 40 min old at "
                "the first spot and 90 min at the last: 15 min past the window of 75 min (desk.pour:13)"
            ),
            14,
            ("shell.face", "shell.back-1"),
        )
    ]


def test_the_remedy_says_in_how_many_minutes_the_backer_must_be_done():
    assert plan_of(wet(40, 90)).problems[0].remedy == (
        "get shell.back-1 done in 75 min with a faster gang, cut the field smaller, "
        "or hold a second batch of shell.face back"
    )


def test_a_backer_of_60_min_on_a_face_of_40_min_is_accepted():
    assert told(wet(40, 60)) == []


def test_a_face_that_is_too_old_at_its_first_spot_is_told_with_both_ages():
    found = plan_of(wet(80, 60)).problems

    assert [p.message for p in found] == [
        (
            "shell.back-1 (desk.pour:14) goes on shell.face (desk.pour:12) when that is 80 min old at the "
            "first spot and 60 min at the last: 5 min past the window of 75 min (desk.pour:13)"
        )
    ]
    assert found[0].remedy == "get shell.face done in 75 min with a faster gang, or cut the field smaller"


def test_what_is_done_between_two_wet_layers_is_named():
    scrim = Task(name="shell.scrim", minutes=25, crew=people(1), span=line(16))

    assert [p.message for p in plan_of(wet(40, 60, between=[scrim])).problems] == [
        (
            "shell.back-1 (desk.pour:14) goes on shell.face (desk.pour:12), behind shell.scrim "
            "(desk.pour:16) when that is 65 min old at the first spot and 85 min at the last: 10 min past "
            "the window of 75 min (desk.pour:13)"
        )
    ]


def test_copies_with_the_same_window_are_told_once():
    one = wet(40, 90)
    copies = []
    for number in ("1", "2", "3"):
        names = {task.name: task.name.replace("shell", f"shell.{number}") for task in one.tasks}
        copies.append(
            (
                tuple(replace(task, name=names[task.name]) for task in one.tasks),
                tuple(replace(gap, before=names[gap.before], after=names[gap.after]) for gap in one.gaps),
            )
        )
    build = network(*(t for tasks, _ in copies for t in tasks), gaps=[g for _, gaps in copies for g in gaps])

    assert [p.about for p in plan_of(build).problems] == [("shell.1.face", "shell.1.back-1")]


def test_a_far_window_is_told_with_every_step_and_line():
    tasks = (
        Task(name="shell.back-1", minutes=40, crew=people(2), span=line(14)),
        Task(name="shell.scrim", minutes=10, crew=people(1), span=line(16)),
    )
    gaps = (
        GapEdge(before="shell.back-1", after="shell.scrim", least=20, why=Why.WAIT, span=line(15)),
        GapEdge(
            before="shell.back-1",
            after="shell.scrim",
            least=0,
            longest=45,
            before_point=Point.START,
            why=Why.WAIT,
            span=line(17),
        ),
    )

    assert told(network(*tasks, gaps=gaps)) == [
        (
            "window-missed",
            (
                "from the start of shell.back-1 (desk.pour:14) to the start of shell.scrim (desk.pour:16): "
                "shell.back-1 takes 40 min, wait 20 min (desk.pour:15); these need 60 min, but the window of "
                "45 min (wait, desk.pour:17) from the start of shell.back-1 to the start of shell.scrim "
                "allows 45 min: 15 min too long"
            ),
            16,
            ("shell.back-1", "shell.scrim"),
        )
    ]


def test_steps_that_wait_for_one_another_are_told_as_a_circle():
    tasks = tuple(
        Task(name=f"{name}.glue", minutes=30, span=line(k)) for k, name in enumerate("abc", start=1)
    )
    gaps = [
        GapEdge(before=f"{a}.glue", after=f"{b}.glue", least=0, why=Why.AFTER, span=line(10 + k))
        for k, (a, b) in enumerate((("a", "b"), ("b", "c"), ("c", "a")))
    ]

    assert [(name, message) for name, message, _, _ in told(network(*tasks, gaps=gaps))] == [
        (
            "circle",
            (
                "a.glue (desk.pour:1) waits for c.glue (desk.pour:3) (desk.pour:12), "
                "c.glue waits for b.glue (desk.pour:2) (desk.pour:11), b.glue waits for a.glue "
                "(desk.pour:10): a circle in which no step can be the first"
            ),
        )
    ]


def test_a_circle_of_steps_without_length_is_told_too():
    tasks = (Task(name="a.take", minutes=0), Task(name="b.take", minutes=0))
    gaps = (
        GapEdge(before="a.take", after="b.take", least=0, why=Why.AFTER),
        GapEdge(before="b.take", after="a.take", least=0, why=Why.AFTER),
    )

    assert [name for name, *_ in told(network(*tasks, gaps=gaps))] == ["circle"]


def test_two_mistakes_are_both_told_in_one_run():
    late = wet(40, 90)
    long = Task(name="shell.hone", minutes=310, crew=people(1), span=line(30))

    assert [name for name, *_ in told(replace(late, tasks=(*late.tasks, long)))] == [
        "window-missed",
        "never-fits",
    ]


def test_a_step_longer_than_any_spell_is_told_with_both_figures():
    task = Task(name="shell.back-1", minutes=310, crew=people(2), span=line(14))
    found = plan_of(network(task)).problems

    assert [(p.message, p.remedy) for p in found] == [
        (
            "shell.back-1 takes 5 h 10 min and may not pause, but the longest spell of the shop is 4 h",
            "say may-pause or through-breaks, or make it shorter with more people or a better rate",
        )
    ]


def test_a_step_longer_than_the_day_is_not_sent_through_breaks():
    task = Task(name="shell.back-1", minutes=600, crew=people(2))

    assert plan_of(network(task)).problems[0].remedy == (
        "say may-pause, or make it shorter with more people or a better rate"
    )


def test_a_step_for_more_people_than_the_crew_is_told():
    tasks = (
        Task(name="a.lift", minutes=30, crew=people(4), span=line(4)),
        Task(name="b.polish", minutes=30, crew=(("finisher", 2),), span=line(5)),
        Task(name="c.weld", minutes=30, crew=(("welder", 1),), span=line(6)),
    )

    assert [message for _, message, _, _ in told(network(*tasks))] == [
        "a.lift wants 4 people, but the crew has 3",
        "b.polish wants 2 finisher, but the crew has 1",
        "c.weld wants 1 welder, but the crew has 0",
    ]


def test_a_step_for_more_places_than_a_station_has_is_told():
    task = Task(name="a.lay", minutes=30, needs=(Need(resource="table", amount=2),), span=line(4))

    assert told(network(task, resources=[Resource(name="table", capacity=1)])) == [
        ("places-short", "a.lay wants 2 of table, but there is room for 1", 4, ("a.lay",))
    ]


def test_a_latest_date_that_gaps_alone_overrun_is_told_with_both_dates():
    tasks = (
        Task(name="a.cast", minutes=60, crew=people(1), span=line(4)),
        Task(name="a.crate", minutes=30, crew=people(1), latest=2 * 1440 + 600, span=line(6)),
    )
    gaps = [
        GapEdge(
            before="a.cast",
            after="a.crate",
            least=3 * 1440,
            why=Why.CURE,
            says="cure of a.cast",
            span=line(5),
        )
    ]

    assert told(network(*tasks, gaps=gaps)) == [
        (
            "date-missed",
            (
                "from the start of the build to the end of a.crate (desk.pour:6): a.cast (desk.pour:4) takes "
                "60 min, cure of a.cast 3 days (desk.pour:5), a.crate takes 30 min; that is over on "
                "Thu 2027-03-04 01:30 at the soonest, but a.crate must end by Wed 2027-03-03 10:00: "
                "15 h 30 min too late"
            ),
            6,
            ("a.cast", "a.crate"),
        )
    ]


def test_a_latest_date_that_only_the_hours_overrun_is_told_with_both_dates():
    task = Task(name="a.crate", minutes=30, crew=people(1), latest=490, span=line(6))

    assert [message for _, message, _, _ in told(network(task))] == [
        (
            "a.crate ends on Mon 2027-03-01 08:30 at the soonest, even with people and places without end, "
            "but must end by Mon 2027-03-01 08:10"
        )
    ]


def test_a_window_that_the_hours_never_leave_room_for_is_told():
    tasks = (
        Task(name="a.first", minutes=240, crew=people(1), span=line(4)),
        Task(name="a.second", minutes=240, crew=people(1), span=line(6)),
    )
    gaps = [GapEdge(before="a.first", after="a.second", least=60, longest=90, why=Why.WAIT, span=line(5))]

    assert told(network(*tasks, gaps=gaps)) == [
        (
            "window-shut",
            (
                "the shop's hours never leave room for this: the start of a.second comes 60 min to 90 min "
                "after the end of a.first (desk.pour:5); a.first takes 4 h, and the longest spell of "
                "the shop is 4 h"
            ),
            5,
            ("a.first", "a.second"),
        )
    ]


def test_a_search_that_finds_nothing_says_so_and_claims_no_more():
    """Three coats that one person cannot both lay and back in time, in no told order: nothing proves it."""
    hours = replace(SHOP, crew=((None, 1),))
    tasks, gaps = [], []
    for k in range(1, 6):
        tasks.append(Task(name=f"face.{k}", minutes=15, crew=people(1), span=line(k)))
        tasks.append(Task(name=f"backer.{k}", minutes=30, crew=people(1), span=line(10 + k)))
        gaps.append(GapEdge(before=f"face.{k}", after=f"backer.{k}", least=20, longest=90, span=line(20)))
        gaps.append(GapEdge(before="face.5", after=f"backer.{k}", least=0))
        if k > 1:
            gaps.append(GapEdge(before=f"face.{k - 1}", after=f"face.{k}", least=0, longest=0))
    found = plan_of(network(*tasks, gaps=gaps, hours=hours)).problems

    assert [p.finding.name for p in found] == ["no-plan-found"]
    assert found[0].message.startswith("no place was found for backer.")
    assert "within 90 min (desk.pour:20)" in found[0].message
    assert found[0].message.endswith("which does not prove that there is no plan")


def test_a_plan_past_its_due_date_is_a_warning_and_still_a_plan():
    found = plan_of(network(Task(name="a.crate", minutes=30, crew=people(1)), due=480))

    assert found.value is not None
    assert not found.failed
    assert [(p.finding.name, p.message) for p in found.problems] == [
        (
            "due-missed",
            "the plan ends on Mon 2027-03-01 08:30, 30 min after the due date Mon 2027-03-01 08:00",
        )
    ]


def test_a_plan_waits_for_the_mold_and_its_chain_says_so():
    """Own arithmetic, no outside source: one mold, 24 h of cure in it, so that the second casting follows on
    the day after."""
    tasks, gaps, holds = [], [], []
    for k in (1, 2):
        tasks += [
            Task(name=f"seat.{k}.take", minutes=0),
            Task(name=f"seat.{k}.body", minutes=60, crew=people(2)),
            Task(name=f"seat.{k}.demold", minutes=30, crew=people(2)),
        ]
        gaps += [
            GapEdge(before=f"seat.{k}.take", after=f"seat.{k}.body", least=0),
            GapEdge(before=f"seat.{k}.body", after=f"seat.{k}.demold", least=1440, why=Why.CURE, says="cure"),
        ]
        holds.append(Hold(resource="seat-mold", first=f"seat.{k}.take", last=f"seat.{k}.demold"))
    molds = [Resource(name="seat-mold", capacity=1, kind="mold")]
    plan = plan_of(network(*tasks, gaps=gaps, holds=holds, resources=molds)).value

    assert [(link.task, link.why.value, link.gap) for link in plan.critical] == [
        ("seat.1.body", "hours", 0),
        ("seat.1.demold", "cure", 1440),
        ("seat.2.take", "mold", 0),
        ("seat.2.body", "sequence", 0),
        ("seat.2.demold", "cure", 1440),
    ]
    assert plan.finish == 2 * 1440 + 480 + 60 + 30 + 60 + 30
    assert plan.bound == plan.finish


def test_a_mold_is_taken_no_sooner_than_it_is_needed():
    tasks = (Task(name="a.take", minutes=0), Task(name="a.body", minutes=60, crew=people(1)))
    gaps = [GapEdge(before="a.take", after="a.body", least=0)]
    holds = [Hold(resource="m", first="a.take", last="a.body")]
    plan = plan_of(network(*tasks, gaps=gaps, holds=holds, resources=[Resource(name="m", capacity=1)])).value

    assert [(p.task, p.start) for p in plan.placed] == [("a.body", 480), ("a.take", 480)]


def test_a_paused_step_frees_the_crew_and_holds_its_station():
    """Own arithmetic, no outside source: while the long step pauses at noon, the crew of the step that runs
    through the break may be at work, but nobody else has the table."""
    hours = replace(SHOP, crew=((None, 1),))
    table = (Need(resource="table"),)
    tasks = (
        Task(name="a.long", minutes=300, crew=people(1), needs=table, may_pause=True),
        Task(name="b.short", minutes=20, crew=people(1), through_breaks=True),
        Task(name="c.table", minutes=30, needs=table),
    )
    plan = plan_of(network(*tasks, resources=[Resource(name="table", capacity=1)], hours=hours)).value
    placed = {p.task: p for p in plan.placed}

    assert len(placed["a.long"].spells) == 2
    assert placed["c.table"].end <= placed["a.long"].start or placed["c.table"].start >= placed["a.long"].end


def test_times_tell_a_task_that_pauses_no_sooner_than_its_work():
    tasks = (Task(name="a", minutes=100, may_pause=True), Task(name="b", minutes=5))
    times = times_of(network(*tasks, gaps=[GapEdge(before="a", after="b", least=10)]))

    assert (times.rows["b"].earliest, times.finish) == (110, 115)


def test_minutes_become_dates_and_words_of_the_shop():
    build = network()

    assert clock(build, 1440 + 61).isoformat() == "2027-03-02T01:01:00"
    assert moment_text(date(2027, 3, 1), 1440 + 61) == "Tue 2027-03-02 01:01"
    assert [duration_text(m) for m in (0, 95, 119, 120, 310, 2879, 2880, 4380)] == [
        "0 min",
        "95 min",
        "119 min",
        "2 h",
        "5 h 10 min",
        "47 h 59 min",
        "2 days",
        "3 days 1 h",
    ]


def test_an_empty_network_has_an_empty_plan():
    plan = plan_of(network()).value

    assert (plan.placed, plan.critical, plan.finish) == ((), (), 0)


def test_names_of_findings_are_short_words_and_each_is_used_once():
    names = [finding.name for finding in FINDINGS]

    assert len(set(names)) == len(names)
    assert [name for name in names if name != name.lower() or " " in name] == []


def test_a_missed_date_names_what_its_chain_waits_for_longest_and_the_date_as_it_is_written():
    always = Hours(start=date(2027, 3, 1), week=(((0, 1440),),) * 7, crew=((None, 1),))
    tasks = (
        Task(name="cast", minutes=60, crew=((None, 1),)),
        Task(name="demold", minutes=30, crew=((None, 1),)),
        Task(name="seal", minutes=30, crew=((None, 1),)),
    )
    gaps = (
        GapEdge(before="cast", after="demold", least=1440, why=Why.CURE, says="cure"),
        GapEdge(before="demold", after="seal", least=7 * 1440, why=Why.DRY, says="dry"),
    )
    found = plan_of(network(*tasks, gaps=gaps, hours=always, due=1440))

    [told] = [p.message.partition("; ") for p in found.problems]

    assert told[0] == "the plan ends on Tue 2027-03-09 02:00, 7 days 2 h after the due date Mon 2027-03-01"
    assert told[2] == (
        "the longest wait in its chain is for seal on Tue 2027-03-09 01:30: 7 days, dry after demold"
    )
