"""The rules of the trade: each found where it is broken, none where all are kept."""

from itertools import pairwise

import pytest

from castlang.catalogue import FINDINGS, RULE_NAMES
from castlang.cli.main import main
from castlang.pipeline import Compiled, compile_build
from castlang.problems.model import Problem
from castlang.rules.catalogue import RULES
from castlang.rules.examples import BASE, CAST, SHELL, SLAB
from castlang.rules.grits import P_GRADES
from castlang.rules.model import Rule
from castlang.source.files import Texts


def compiled(text: str) -> Compiled:
    return compile_build("trial.pour", (BASE + text).encode(), Texts())


def names(build: Compiled) -> list[str]:
    return [problem.finding.name for problem in build.problems]


def only(build: Compiled, name: str) -> Problem:
    found = [problem for problem in build.problems if problem.finding.name == name]

    assert len(found) == 1
    return found[0]


def line_of(problem: Problem, text: str) -> str:
    """The words of the line that a problem points at, in the file or in another place of it."""
    return " ".join((BASE + text).splitlines()[problem.span.line - 1].split())


def by_name(rule: Rule) -> str:
    return rule.finding.name


# ---------------------------------------------------------------- every rule


@pytest.mark.parametrize("rule", RULES, ids=by_name)
def test_a_build_that_breaks_the_rule_is_found_to_break_it_and_no_other(rule: Rule) -> None:
    assert names(compiled(rule.breaks)) == [rule.finding.name]


@pytest.mark.parametrize("rule", RULES, ids=by_name)
def test_a_build_that_keeps_the_rule_keeps_them_all(rule: Rule) -> None:
    build = compiled(rule.keeps)

    assert names(build) == []
    assert build.plan is not None


@pytest.mark.parametrize("rule", RULES, ids=by_name)
def test_a_rule_says_all_that_a_builder_asks_of_it(rule: Rule) -> None:
    said = (rule.finding.says, rule.finding.why, rule.finding.remedy, rule.finding.source)

    assert all(text and text == text.strip() and not text.endswith(".") for text in said)
    assert FINDINGS[rule.finding.name] is rule.finding


@pytest.mark.parametrize("rule", RULES, ids=by_name)
def test_a_rule_stands_in_a_file_of_its_name(rule: Rule) -> None:
    assert rule.check.__module__ == f"castlang.rules.{rule.finding.name.replace('-', '_')}"


@pytest.mark.parametrize("rule", RULES, ids=by_name)
def test_why_explains_a_rule_with_a_build_that_breaks_it(
    rule: Rule, capsys: pytest.CaptureFixture[str]
) -> None:
    status = main(["why", rule.finding.name])
    told = capsys.readouterr().out

    assert status == 0
    assert rule.finding.why in told
    assert rule.breaks.splitlines()[-1].strip() in told


@pytest.mark.parametrize("rule", RULES, ids=by_name)
def test_a_message_is_a_phrase_and_names_the_piece_or_step_for_a_waiver(rule: Rule) -> None:
    problem = only(compiled(rule.breaks), rule.finding.name)

    assert not problem.message.endswith(".")
    assert problem.about
    assert problem.span.line > 0


def test_rules_have_names_of_their_own() -> None:
    assert len(set(RULE_NAMES)) == len(RULE_NAMES)


def test_the_shop_of_the_examples_is_clean_alone() -> None:
    assert names(compiled(CAST)) == []


# ---------------------------------------------------------------- grits


def hone(*grits: int, more: str = "") -> str:
    return CAST + f"    pass hone grit {', '.join(map(str, grits))} wet on show takes 30 min by 1\n" + more


# Limit 2.5: common practice, no source. Grain sizes: ISO 6344-2:2021 and ISO 6344-3:2021.
@pytest.mark.parametrize(
    ("grits", "expected"),
    [
        ((60, 120), []),  # 269 / 125 = 2.15
        ((60, 150), ["grit-step"]),  # 269 / 100 = 2.69
        ((120, 220), []),  # 125 / 68 = 1.84
        ((120, 320), ["grit-step"]),  # 125 / 46.2 = 2.71
        ((100, 200, 400, 800), []),  # 200 is no P grade: read as mesh, 2 times each
        ((50, 200), ["grit-step"]),  # mesh, 4 times
        ((400, 1500), ["grit-step"]),  # 35.0 / 12.6 = 2.78
        ((200, 100), ["grit-back"]),
    ],
)
def test_grits_run_from_coarse_to_fine_in_steps_that_the_next_one_makes_up_for(
    grits: tuple[int, ...], expected: list[str]
) -> None:
    assert names(compiled(hone(*grits))) == expected


def test_grain_sizes_fall_from_grade_to_grade_by_at_most_the_ratio_of_the_standard() -> None:
    # ISO 6344-2:2021 and ISO 6344-3:2021: 28 grades; largest step 1.371, largest step over one grade 1.815
    sizes = list(P_GRADES.values())
    steps = [float(a / b) for a, b in pairwise(sizes)]
    skips = [float(a / b) for a, b in zip(sizes, sizes[2:], strict=False)]

    assert list(P_GRADES) == sorted(P_GRADES)
    assert len(sizes) == 28
    assert min(steps) > 1
    assert max(steps) == pytest.approx(1.371, abs=0.0005)
    assert max(skips) == pytest.approx(1.815, abs=0.0005)


def test_two_grinding_steps_on_one_face_are_read_as_one_run_of_grits() -> None:
    text = hone(100, 200, more="    pass again grit 120 wet on top takes 30 min by 1\n")
    problem = only(compiled(text), "grit-back")

    assert problem.message == "slab.again goes back from grit 200 to 120"


def test_grinding_of_two_faces_has_two_runs_of_grits() -> None:
    text = CAST + (
        "    pass above grit 100, 200 wet on top takes 30 min by 1\n"
        "    pass edges grit 100, 200 wet on sides takes 30 min by 1\n"
    )

    assert names(compiled(text)) == []


def test_a_coarse_grit_may_come_again_after_filling() -> None:
    more = (
        "    pass fill 0.15 kg/m2 of slurry on show takes 15 min by 1\n"
        "    cure 12 h at 20 degC open\n"
        "    pass again grit 100, 200, 400 wet on show takes 30 min by 1\n"
    )

    assert names(compiled(hone(100, 200, more=more))) == []


# ---------------------------------------------------------------- sealers, color, water

SEAL = "    pass seal 1 coat of varnish on show rolled takes 20 min by 1\n"
TINT = "    pass tint 1 coat of rust on show brushed takes 20 min by 1\n"
DRY = "    dry 2 days\n"
HONE = "    pass hone grit 100, 200 wet on show takes 30 min by 1\n"


def test_color_may_go_on_a_sealed_face_that_is_ground_again() -> None:
    sand = "    pass sand grit 200 dry on show takes 30 min by 1\n"

    assert names(compiled(CAST + DRY + SEAL + "    wait 24 h\n" + sand + TINT)) == []


def test_color_and_sealer_on_two_faces_do_not_meet() -> None:
    text = CAST + DRY + SEAL.replace("show", "top") + TINT.replace("show", "sides")

    assert names(compiled(text)) == []


def test_a_penetrating_sealer_wants_no_dry_face_and_still_keeps_color_out() -> None:
    stock = 'stock soak "Repellent"\n    covers 6 m2/L\n    acts penetrating\n'
    text = stock + CAST + HONE + SEAL.replace("varnish", "soak")

    assert names(compiled(text)) == []
    assert names(compiled(text + TINT)) == ["color-late"]


@pytest.mark.parametrize(
    ("gap", "expected"),
    [
        ("dry 2 days", []),
        ("cure 3 days at 20 degC open", []),
        ("cure 3 days at 20 degC covered", ["wet-under-film"]),
        ("wait 2 h", ["wet-under-film"]),
    ],
)
def test_only_dry_and_an_open_cure_let_water_out(gap: str, expected: list[str]) -> None:
    assert names(compiled(CAST + HONE + f"    {gap}\n" + SEAL)) == expected


def test_a_coat_that_acts_as_color_before_the_casting_goes_on_the_mold() -> None:
    text = SLAB + TINT + CAST.removeprefix(SLAB)

    assert names(compiled(text)) == []


def test_a_job_may_wait_for_the_drying_by_naming_the_step_above_it() -> None:
    text = CAST + HONE + DRY + "    work look takes 10 min by 1\njob finish\n    after slab.hone, slab.look\n"

    assert names(compiled(text + SEAL.replace("show", "slab.show"))) == []


def test_a_job_that_waits_for_the_end_of_the_work_alone_does_not_wait_for_the_drying() -> None:
    text = CAST + HONE + DRY + "job finish\n    after slab.hone.end\n" + SEAL.replace("show", "slab.show")

    assert names(compiled(text)) == ["wet-under-film"]


def test_a_job_that_waits_for_the_whole_piece_waits_for_its_drying() -> None:
    text = CAST + HONE + DRY + "job finish\n    after slab\n" + SEAL.replace("show", "slab.show")

    assert names(compiled(text)) == []


def test_a_dry_line_in_the_job_counts() -> None:
    text = CAST + HONE + "job finish\n    dry 2 days after slab.hone\n" + SEAL.replace("show", "slab.show")

    assert names(compiled(text)) == []


def test_an_unknown_word_behind_acts_is_told_with_the_word_that_is_meant() -> None:
    build = compiled('stock gloss "Gloss"\n    acts sealer\n' + CAST)

    assert names(build) == ["bad-value"]
    assert build.problems[0].remedy == "write `film` or `penetrating`"


def test_a_variant_acts_as_its_base_until_it_says_otherwise() -> None:
    mixes = "mix thin from slurry\nmix tone from slurry\n    acts color\n"
    build = compiled(mixes + CAST)

    assert build.spec is not None
    assert [build.spec.mixes[name].acts for name in ("thin", "tone")] == ["filler", "color"]


# ---------------------------------------------------------------- copies, jobs, order


def test_a_rule_broken_by_every_copy_is_told_once() -> None:
    text = hone(60, 220).replace("piece slab\n", "piece slab\n    make 4\n")
    build = compiled(text)

    assert names(build) == ["grit-step"]
    assert line_of(build.problems[0], text) == "pass hone grit 60, 220 wet on show takes 30 min by 1"


def test_work_of_two_jobs_on_one_piece_that_nothing_orders_is_found_at_the_second() -> None:
    text = CAST + (
        "job finish\n    after slab\n    work wipe of slab takes 10 min by 1\n"
        "job photo\n    after slab\n    work shoot of slab takes 10 min by 1\n"
    )
    problem = only(compiled(text), "unordered-work")

    assert problem.about == ("photo.shoot", "slab", "finish.wipe")


def test_jobs_on_different_copies_need_no_order() -> None:
    text = CAST.replace("piece slab\n", "piece slab\n    make 2\n") + (
        "job first\n    move lot-1 of slab.1 takes 10 min by 2\n"
        "job second\n    move lot-2 of slab.2 takes 10 min by 2\n"
    )

    assert names(compiled(text)) == []


def test_a_job_step_for_each_copy_is_ordered_copy_by_copy() -> None:
    text = CAST.replace("piece slab\n", "piece slab\n    make 2\n") + (
        "job finish\n    after slab.each\n    work wipe each slab on slab.show takes 10 min by 1\n"
    )

    assert "unordered-work" not in names(compiled(text))


def test_a_job_after_one_copy_is_not_ordered_against_the_others() -> None:
    text = CAST.replace("piece slab\n", "piece slab\n    make 2\n") + (
        "job finish\n    after slab.1\n    work wipe on slab.show takes 10 min by 1\n"
    )

    assert names(compiled(text)) == ["unordered-work"]


def test_two_lines_of_one_block_are_in_order() -> None:
    text = CAST + (
        "job finish\n    after slab\n    work wipe of slab takes 10 min by 1\n"
        "    work shoot of slab takes 10 min by 1\n"
    )

    assert names(compiled(text)) == []


def test_a_piece_may_be_turned_over_among_its_own_lines_and_then_ground() -> None:
    text = CAST + "    move turn of slab takes 10 min by 2\n" + HONE

    assert names(compiled(text)) == []


def test_a_piece_that_is_moved_again_may_be_worked_on_between_the_moves() -> None:
    text = CAST + (
        "job finish\n    after slab\n    move over of slab takes 10 min by 2\n"
        + HONE.replace("show", "slab.show")
        + "    move load-up of slab takes 10 min by 2\n"
    )

    assert names(compiled(text)) == []


# ---------------------------------------------------------------- casting


def test_the_cure_of_a_later_step_counts_for_the_layers_under_it() -> None:
    text = SHELL + (
        "    layer skin 3 mm of face on show sprayed takes 20 min by 2\n"
        "    wait 20 min to 60 min\n"
        "    layer back 8 mm of backer on show laid takes 30 min by 2\n"
        "    work tamp takes 10 min by 1\n"
        "    cure 24 h at 20 degC covered\n"
        "    demold takes 20 min by 2\n"
    )

    assert names(compiled(text)) == []


def test_resin_that_a_job_pours_has_to_cure_before_the_job_carries_the_piece() -> None:
    glow = "job strip\n    after slab\n    pour glow full of clear into slab.slot takes 10 min by 1\n"
    move = "    move load-up of slab takes 10 min by 2\n"

    assert names(compiled(CAST + DRY + glow + move)) == ["lifted-uncured"]
    assert names(compiled(CAST + DRY + glow + "    cure 48 h at 22 degC open\n" + move)) == []


def test_a_window_between_two_layers_may_stand_on_a_line_that_names_the_first() -> None:
    text = SHELL + (
        "    layer skin 3 mm of face on show sprayed takes 10 min by 2\n"
        "    work look takes 5 min by 1\n"
        "    within 45 min after skin.start\n"
        "    layer back 8 mm of backer on show laid takes 30 min by 2\n"
        "    cure 24 h at 20 degC covered\n"
        "    demold takes 20 min by 2\n"
    )

    assert names(compiled(text)) == []


def test_an_open_face_may_be_colored_in_the_mold() -> None:
    text = CAST.replace("    demold", TINT.replace("show", "foot") + "    demold")

    assert names(compiled(text)) == []


def test_release_may_be_a_pass_of_what_acts_as_release() -> None:
    bare = 'mold bare "Bare"\n    fits slab\n    lasts 10 castings\n    work plane takes 1 h by 1\n'
    oil = "    pass oil-it 1 coat of oil on show brushed takes 10 min by 1\n"
    text = bare + SLAB.replace("bed", "bare") + oil + CAST.removeprefix(SLAB).replace("bed", "bare")

    assert names(compiled(text)) == []


def test_a_brace_that_a_piece_takes_may_be_freed_by_a_job() -> None:
    text = (
        'temp brace "Brace"\n    work cut takes 1 h by 1\n'
        + CAST
        + "    take brace takes 20 min by 1\njob finish\n    after slab\n    free brace takes 10 min by 1\n"
    )

    assert names(compiled(text)) == []


# ---------------------------------------------------------------- waivers

WAIVED = 'waive grit-step on {} "this sand shows best so"\n'


@pytest.mark.parametrize("on", ["slab.hone", "slab"])
def test_a_waiver_takes_a_finding_away_and_keeps_its_reason(on: str) -> None:
    build = compiled(hone(60, 220) + WAIVED.format(on))

    assert names(build) == []
    assert [(w.reason, p.finding.name) for w, p in build.waived] == [("this sand shows best so", "grit-step")]


def test_a_waived_error_lets_the_plan_be_made() -> None:
    build = compiled(hone(200, 100) + WAIVED.format("slab.hone").replace("grit-step", "grit-back"))

    assert names(build) == []
    assert build.plan is not None


def test_a_waiver_on_another_step_takes_nothing_away_and_is_found_idle() -> None:
    text = hone(60, 220, more="    work look takes 10 min by 1\n") + WAIVED.format("slab.look")

    assert sorted(names(compiled(text))) == ["grit-step", "waiver-idle"]


def test_a_waiver_of_a_rule_that_there_is_none_of_is_found() -> None:
    assert names(compiled(CAST + WAIVED.format("slab").replace("grit-step", "grid-step"))) == ["unknown-rule"]


def test_what_is_no_rule_of_the_trade_cannot_be_waived() -> None:
    assert names(compiled(CAST + WAIVED.format("slab").replace("grit-step", "window-missed"))) == [
        "not-waived"
    ]


# ---------------------------------------------------------------- odd builds

ODD = {
    "a job without a piece": "job tidy-up\n    work sweep takes 10 min by 1\n",
    "a piece without a step": SLAB.removesuffix("    take      bed\n"),
    "mirrored copies alone": (
        "mold left\n    make 1 mirrored\n    fits slab\n    lasts 9 castings\n    release oil on slab.show\n"
        + CAST.replace("piece slab\n", "piece slab\n    make 2 mirrored\n").replace("bed", "left")
    ),
    "a job that only waits": CAST + "job rest\n    after slab\n    wait 2 h\n",
    "a wait for a fitting": 'fitting lamp "Lamp"\n    buy 1\n'
    + CAST
    + "job light\n    after slab, lamp\n    place it of lamp on slab takes 10 min by 1\n",
    "work on all faces of two pieces": CAST
    + CAST.replace("piece slab", "piece twin").replace("bed", "second")
    + "mold second\n    fits twin\n    lasts 9 castings\n    release oil on twin.all\n"
    + "job both\n    after slab, twin\n    work wipe on slab, twin takes 10 min by 1\n",
}


@pytest.mark.parametrize("text", ODD.values(), ids=ODD.keys())
def test_an_odd_build_breaks_no_rule(text: str) -> None:
    assert [name for name in names(compiled(text)) if name in RULE_NAMES] == []


def test_steps_that_wait_for_one_another_in_a_circle_are_told_as_that() -> None:
    text = CAST + (
        "job finish\n    after slab, photo.shoot\n    work wipe of slab takes 10 min by 1\n"
        "job photo\n    after slab, finish.wipe\n    work shoot of slab takes 10 min by 1\n"
    )

    assert "circle" in names(compiled(text))
