"""What waits for a step that a job does for each copy of a piece: for all of them, or for its own copy's."""

from castlang.pipeline import compile_build
from castlang.source.files import Texts

BUILD = """\
build bench "Seats on a bench"
    start     2027-03-01
    hours     mon to fri 08:00 to 17:00
    air       20 degC
    crew      2
stock cement
    density   3150 kg/m3
    sold      bag of 25 kg
stock sand
    density   2650 kg/m3
    sold      bag of 25 kg
mix casting
    binder    cement 100 parts
    sand      sand 180 parts damp 0 %
    water     0.36 of binder total
    works     45 min at 20 degC
    thick     20 mm to 150 mm
mold seat-mold
    fits      seat
piece seat "Seat"
    make      12
    shape     slab 600 mm long, 400 mm wide, 60 mm thick
    take      seat-mold
    pour      body full of casting into seat-mold takes 30 min by 2
    cure      24 h to 6 days at 20 degC open
    demold    takes 20 min by 2
job fit
    after     seat
    work      plug each seat takes 10 min by 1
    work      look takes 10 min by 1
"""


def waited_for(more: str, task: str) -> list[str]:
    """The tasks that one waits for by an `after` line."""
    build = compile_build("a.pour", (BUILD + more).encode(), Texts())
    if build.network is None:
        raise AssertionError([p.message for p in build.problems])
    return [gap.before for gap in build.network.gaps if gap.after == task and gap.why == "after"]


def test_what_comes_after_a_step_for_each_copy_waits_for_every_copy() -> None:
    more = "job pack\n    after     fit.plug\n    work      wrap takes 5 min by 1\n"

    assert waited_for(more, "pack.wrap") == [f"fit.{copy}.plug" for copy in range(1, 13)]


def test_a_step_for_each_copy_after_another_of_its_job_waits_for_that_of_its_copy() -> None:
    more = "    after     plug\n    work      paint each seat takes 5 min by 1\n"

    assert waited_for(more, "fit.2.paint") == ["fit.2.plug"]


def test_a_step_for_each_copy_after_one_of_another_job_waits_for_every_copy() -> None:
    more = "job pack\n    after     fit.plug\n    work      wrap each seat takes 5 min by 1\n"

    assert waited_for(more, "pack.2.wrap") == [f"fit.{copy}.plug" for copy in range(1, 13)]


def test_each_of_another_jobs_step_is_that_of_the_same_copy() -> None:
    more = "job pack\n    after     fit.each.plug\n    work      wrap each seat takes 5 min by 1\n"

    assert waited_for(more, "pack.2.wrap") == ["fit.2.plug"]


def test_each_of_a_step_that_a_job_does_once_is_that_step() -> None:
    more = "job pack\n    after     fit.each.look\n    work      wrap each seat takes 5 min by 1\n"

    assert waited_for(more, "pack.2.wrap") == ["fit.look"]


def test_a_part_that_a_step_lacks_is_told_once_for_all_copies() -> None:
    more = "job pack\n    after     fit.plug.grit-80\n    work      wrap each seat takes 5 min by 1\n"
    build = compile_build("a.pour", (BUILD + more).encode(), Texts())

    assert [p.finding.name for p in build.problems if p.finding.name == "no-such-part"] == ["no-such-part"]


def test_each_copy_of_a_piece_is_every_copy_for_a_step_that_is_done_once() -> None:
    for ref, last in (("seat.each.demold", "demold"), ("seat.each", "demold")):
        more = f"job pack\n    after     {ref}\n    work      wrap takes 5 min by 1\n"

        assert waited_for(more, "pack.wrap") == [f"seat.{copy}.{last}" for copy in range(1, 13)]
