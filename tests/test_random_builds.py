"""What holds for every build, tried on random ones."""

import contextlib
import io
import re
import shutil
import sys
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from plan_by_hand import broken
from random_builds import METRIC, US, RandomBuild, builds
from random_shapes import mesh_files
from random_slips import slipped
from sums_by_hand import sums

from castlang.cli.main import REPORT, main
from castlang.cli.starter import STARTER
from castlang.pipeline import Compiled, compile_build
from castlang.plan.model import Placed
from castlang.plan.verify import verify
from castlang.source.files import Texts
from castlang.takeoff.batch_findings import BELOW_SCALE, ROUNDED_OFF
from castlang.takeoff.model import Batch, Takeoff

PLACE = re.compile(r"[\w-]+\.pour:\d+")
COMMANDS = (
    ("check", "-"),
    ("check", "-", "--json"),
    ("order", "-", "--csv"),
    ("batches", "-", "--units", "us"),
    ("plan", "-", "--json"),
    ("weights", "-"),
)


def tried(examples: int) -> settings:
    """The same builds on every run and every machine."""
    return settings(
        max_examples=examples,
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
        phases=[Phase.explicit, Phase.generate],  # a whole build shrinks for minutes, and is short as it is
    )


def compiled(build: RandomBuild, system: str = METRIC) -> Compiled:
    return compile_build("main.pour", build.text(system).encode(), Texts(texts=mesh_files()))


def said(made: Compiled) -> list[tuple[str, str, tuple[str, ...]]]:
    """What was found, without the places, which a move of a block does move."""
    return sorted((p.finding.name, PLACE.sub("here", p.message), p.about) for p in made.problems)


def assumed(made: Compiled) -> list[tuple[str, str]]:
    return sorted((a.subject, a.says) for a in made.assumptions)


@tried(30)
@given(builds())
def test_the_bill_is_exactly_the_sum_of_batches_coats_boards_and_fittings(build):
    made = compiled(build)
    if made.spec is None or made.takeoff is None:
        return
    bill = {(line.stock, line.dimension): line.gross for line in made.takeoff.bill}

    assert bill == sums(made.spec, made.takeoff)
    for line in made.takeoff.bill:
        assert sum(gross for _, gross in line.of) == line.gross
    for done in made.takeoff.steps.values():
        batches = [batch for part in done.parts for batch in part.batches]
        if batches and done.volume is not None:
            assert sum(b.volume for b in batches) == done.volume * (1 + done.waste)


def test_every_plan_passes_the_verifier_and_keeps_each_line_of_its_build():
    planned = []

    @tried(40)
    @given(builds(meshes=True))
    def each(build):
        made = compiled(build)
        planned.append(made.plan is not None)
        if made.plan is not None and made.spec is not None:
            assert verify(made.plan) == ()
            assert broken(made.spec, made.plan) == ()

    each()

    assert sum(planned) > len(planned) / 2


@pytest.mark.parametrize(
    ("task", "earlier"),
    [
        ("seat.body.uncover", 60),  # out of its cure
        ("seat.seal.coat-1", 1440),  # before it is dry
        ("delivery.load-up", 30),  # before the shop opens
        ("seat.take-seat-mold", 480),  # before the mold is made
    ],
)
def test_a_step_moved_sooner_by_hand_is_seen_to_break_a_line_of_the_build(task, earlier):
    made = compile_build("bench.pour", STARTER.encode(), Texts())
    assert made.spec is not None
    assert made.plan is not None
    placed = tuple(sooner(p, earlier) if p.task == task else p for p in made.plan.placed)

    assert broken(made.spec, made.plan) == ()
    assert broken(made.spec, replace(made.plan, placed=placed)) != ()


def sooner(placed: Placed, minutes: int) -> Placed:
    spells = tuple((a - minutes, b - minutes) for a, b in placed.spells)
    return replace(placed, start=placed.start - minutes, end=placed.end - minutes, spells=spells)


@tried(20)
@given(builds())
def test_the_same_sizes_in_metric_and_in_us_units_make_the_same_build(build):
    metric, us = compiled(build, METRIC), compiled(build, US)

    assert found(us) == found(metric)
    assert unrounded(us.takeoff) == unrounded(metric.takeoff)
    assert us.plan == metric.plan


def found(made: Compiled) -> list[tuple[str, tuple[str, ...]]]:
    """What was found about what, but for what a scale makes of it: a shop's own scale shows its own units."""
    scale = (BELOW_SCALE.name, ROUNDED_OFF.name)
    return sorted((p.finding.name, p.about) for p in made.problems if p.finding.name not in scale)


def unrounded(takeoff: Takeoff | None) -> Takeoff | None:
    """All quantities as they are before the scale rounds them."""
    if takeoff is None:
        return None
    steps = {
        key: replace(
            step, parts=tuple(replace(p, batches=tuple(map(unweighed, p.batches))) for p in step.parts)
        )
        for key, step in takeoff.steps.items()
    }
    shared = tuple(replace(one, batches=tuple(map(unweighed, one.batches))) for one in takeoff.shared)
    return replace(takeoff, steps=steps, shared=shared)


def unweighed(batch: Batch) -> Batch:
    nought = Fraction(0)
    lines = tuple(replace(line, shown=nought, running=nought) for line in batch.lines)
    return replace(batch, lines=lines, error=nought, error_in="")


@tried(20)
@given(builds(), st.randoms(use_true_random=False))
def test_order_of_blocks_and_of_files_changes_nothing(build, shuffle):
    order = list(range(len(build.blocks)))
    homes = [0, *(shuffle.randint(0, 3) for _ in order[1:])]
    shuffle.shuffle(order)
    files = build.files(METRIC, order, homes)
    straight = compiled(build)
    divided = compile_build("main.pour", files["main.pour"], Texts(texts=files))

    assert said(divided) == said(straight)
    assert assumed(divided) == assumed(straight)
    assert divided.takeoff == straight.takeoff
    assert divided.plan == straight.plan
    assert divided.costing == straight.costing


@tried(80)
@given(st.data())
def test_no_slip_of_the_pen_makes_a_traceback_or_counts_as_trouble(data):
    build = data.draw(builds(most=2))
    text = data.draw(slipped(build.text(data.draw(st.sampled_from((METRIC, US))))))
    words = data.draw(st.sampled_from(COMMANDS))

    status, _, errors = told(words, text)

    assert status in (0, 1), errors
    assert REPORT not in errors
    assert "Traceback" not in errors


@pytest.mark.parametrize(
    "form", [("--units", "us", "--paper", "a4"), ("--units", "metric", "--paper", "letter")]
)
def test_every_random_build_that_can_be_planned_gets_its_binder(form, tmp_path):
    @tried(4)
    @given(builds())
    def each(build):
        out = tmp_path / "binder"
        status, said_out, errors = told(("binder", "-", "--out", str(out), *form), build.text(US).encode())

        assert status in (0, 1), errors
        assert (out / "binder.pdf").is_file() == ("sheets" in said_out)
        shutil.rmtree(out, ignore_errors=True)

    each()


def told(words: tuple[str, ...], data: bytes) -> tuple[int, str, str]:
    """Run a command on `data` as standard input; its status and what it said."""
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding="ascii") for _ in range(2))
    before = sys.stdin
    sys.stdin = io.TextIOWrapper(io.BytesIO(data))
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            status = main(words)
    finally:
        sys.stdin = before
    texts = []
    for stream in (out, err):
        stream.flush()
        texts.append(stream.buffer.getvalue().decode("utf-8"))
    return status, texts[0], texts[1]
