"""Lifts of resin with a recoat window over a closed weekend: moved so that all fit, or told why not."""

from datetime import datetime, timedelta

import pytest

from castlang.pipeline import Compiled, compile_build
from castlang.plan.verify import verify
from castlang.plan.warmth.ageing import closes_at, over_at
from castlang.problems.as_text import problem_text
from castlang.rules.examples import BASE, CAST
from castlang.source.files import Texts

SHOP = BASE.replace("recoat    8 h to 24 h", "recoat    16 h to 28 h").replace("20 degC\n", "22 degC\n", 1)
"""One lift a working day, and none over a day off: 18:00 to 08:00 is 14 h, a weekend 62 h."""


def compiled(lifts: int, hours: str = "mon to fri 08:00 to 18:00", more: str = "") -> Compiled:
    cast = CAST.replace("15 mm deep", f"{10 * lifts} mm deep").replace("40 mm thick", "120 mm thick")
    glow = (
        "    dry       2 days\n"
        "    pour      glow full of clear into slot takes 20 min by 1\n"
        "    cure      48 h at 22 degC open\n"
    )
    shop = SHOP.replace("mon to fri 08:00 to 18:00", hours)
    return compile_build("a.pour", (shop + cast + glow + more).encode(), Texts())


def lifts_of(build: Compiled) -> list[str]:
    """The weekday and time of each lift, in order."""
    if build.plan is None:
        raise AssertionError([p.message for p in build.problems])
    start = datetime.combine(build.plan.network.hours.start, datetime.min.time())
    return [
        f"{start + timedelta(minutes=p.start):%a %d %H:%M}" for p in build.plan.placed if ".lift-" in p.task
    ]


def test_lifts_that_would_fall_on_a_weekend_wait_for_the_next_week_all_together() -> None:
    build = compiled(3)
    assert build.plan is not None
    placed = {p.task: p for p in build.plan.placed}
    windows = [g for g in build.plan.network.gaps if g.why == "recoat"]

    # The slab is dry on Thursday 4 March at 09:08: lifts on Thursday, Friday and Saturday would be next.
    assert lifts_of(build) == ["Mon 08 08:00", "Tue 09 08:00", "Wed 10 08:00"]
    assert len(windows) == 2
    for gap in windows:
        begin, then = placed[gap.before].end, placed[gap.after].start
        assert over_at(gap, begin) <= then <= (closes_at(gap, begin) or 0)
    assert verify(build.plan) == ()


def test_the_critical_chain_says_for_what_the_first_lift_waits() -> None:
    build = compiled(3)
    assert build.plan is not None
    says = {link.task: link.says for link in build.plan.critical}

    assert says["slab.glow.lift-1"] == "so that slab.glow.lift-2 keeps its window"


def test_two_lifts_fit_before_the_weekend_and_are_not_moved() -> None:
    assert lifts_of(compiled(2)) == ["Thu 04 09:08", "Fri 05 08:00"]


def test_days_off_at_both_ends_of_a_weekend_move_all_lifts_behind_them() -> None:
    off = "mon to fri 08:00 to 18:00\n    closed    2027-03-05\n    closed    2027-03-08"

    assert lifts_of(compiled(3, off)) == ["Tue 09 08:00", "Wed 10 08:00", "Thu 11 08:00"]


def test_lifts_that_have_begun_and_cannot_go_on_in_time_are_told_and_planned() -> None:
    begun = "done slab.glow.lift-1 2027-03-05 09:00 to 09:20\n"
    build = compiled(3, more=begun)
    [problem] = [p for p in build.problems if p.finding.name == "window-passed"]

    assert problem.message.startswith(
        "the start of slab.glow.lift-2 was due by Sat 2027-03-06 13:20 (recoat of"
    )
    assert problem.message.endswith("; the shop is not open for it before Mon 2027-03-08 08:00")
    assert lifts_of(build) == ["Fri 05 09:00", "Mon 08 08:00", "Tue 09 08:00"]


def test_five_lifts_take_the_whole_week() -> None:
    assert lifts_of(compiled(5)) == [
        f"{day} 08:00" for day in ("Mon 08", "Tue 09", "Wed 10", "Thu 11", "Fri 12")
    ]


@pytest.mark.parametrize(
    ("lifts", "hours"),
    [(6, "mon to fri 08:00 to 18:00"), (3, "mon to tue 08:00 to 18:00\n    hours thu to fri 08:00 to 18:00")],
)
def test_lifts_that_no_week_holds_are_refused_with_the_windows_their_line_and_what_helps(
    lifts: int, hours: str
) -> None:
    build = compiled(lifts, hours)
    [problem] = [p for p in build.problems if p.finding.severity == "error"]
    text = problem_text(problem, build.texts)

    assert build.plan is None
    assert problem.finding.name == "window-shut"
    assert problem.message.startswith(
        "the shop's hours never leave room for this: the start of slab.glow.lift-2 "
    )
    for number in range(2, lifts + 1):
        assert f"the start of slab.glow.lift-{number} comes 16 h to 28 h" in problem.message
        assert f"after the end of slab.glow.lift-{number - 1} (a.pour:" in problem.message
    assert "pour      glow full of clear into slot" in text
    assert "next: open longer, let a step pause or run through breaks, or widen the window" in text


def test_one_open_saturday_makes_room_for_six() -> None:
    hours = "mon to fri 08:00 to 18:00\n    hours sat 08:00 to 12:00"

    assert [text[:3] for text in lifts_of(compiled(6, hours))] == ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat"]
