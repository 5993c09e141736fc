"""A window between two wet layers holds at every spot, through the whole compiler, from text to plan."""

from castlang.pipeline import Compiled, compile_build
from castlang.problems.as_text import problem_text
from castlang.problems.model import Problem, Severity
from castlang.source.files import Texts

BUILD = """\
build wall "Wall panel"
    start     2027-02-01
    hours     mon to fri 08:00 to 17:00
    air       20 degC
    crew      3
stock cement
    density   3150 kg/m3
stock sand
    density   2650 kg/m3
stock oil
    density   900 kg/m3
    covers    20 m2/L
    acts      release
mix face
    binder    cement 100 parts
    sand      sand 100 parts damp 0 %
    water     0.35 of binder total
    works     2 h at 20 degC
    thick     2 mm to 20 mm
mix backer from face
mold bed
    fits      panel-a
    release   oil on panel-a.all takes 10 min by 1
    work      build-up takes 4 h by 2
piece panel-a
    shape     panel 2 m long, 1 m high
    take      bed
    layer     skin 3 mm of face on all sprayed takes 40 min by 2
    wait      30 min to 75 min
    layer     back 9 mm of backer on all laid takes 90 min by 3
    cure      24 h at 20 degC covered
    demold    takes 30 min by 3
"""


def compiled(text: str) -> Compiled:
    return compile_build("wall.pour", text.encode(), Texts())


def errors(text: str) -> list[Problem]:
    return [p for p in compiled(text).problems if p.finding.severity is Severity.ERROR]


def test_a_face_of_40_min_under_a_backer_of_90_min_is_past_its_window_of_75_min_at_the_last_spot() -> None:
    (problem,) = errors(BUILD)

    assert problem.finding.name == "window-missed"
    for figure in ("40 min", "90 min", "75 min", "15 min"):
        assert figure in problem.message
    assert {"panel-a.skin", "panel-a.back"} <= set(problem.about)


def test_the_lines_of_both_layers_and_of_the_window_stand_beside_it_with_what_would_mend_it() -> None:
    (problem,) = errors(BUILD)
    shown = "\n".join(problem_text(problem, {}).split("\n")[1:])

    assert shown == (
        "    wall.pour:28:5: panel-a.skin\n    wall.pour:29:5: the window of 75 min\n"
        "    next: get panel-a.back done in 75 min with a faster gang, cut the field smaller, "
        "or hold a second batch of panel-a.skin back"
    )


def test_the_same_face_under_a_backer_of_60_min_is_accepted_and_planned() -> None:
    build = compiled(BUILD.replace("takes 90 min", "takes 60 min"))
    assert build.plan is not None
    placed = {p.task: p for p in build.plan.placed}
    skin, back = placed["panel-a.skin"], placed["panel-a.back"]

    assert [p.message for p in build.problems if p.finding.severity is Severity.ERROR] == []
    assert 30 <= back.start - skin.start <= 75  # minutes, at the first spot
    assert 30 <= back.end - skin.end <= 75  # at the last


def test_a_backer_of_75_min_is_the_longest_that_the_window_allows() -> None:
    assert errors(BUILD.replace("takes 90 min", "takes 75 min")) == []
    assert len(errors(BUILD.replace("takes 90 min", "takes 76 min"))) == 1


def test_a_window_told_in_other_units_is_the_same_window() -> None:
    assert len(errors(BUILD.replace("30 min to 75 min", "1/2 h to 1 h 15 min"))) == 1
