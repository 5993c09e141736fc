"""A plan that keeps to the one before it: a small change moves few steps, and never the finish."""

import json
import re
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from castlang.cli.main import main
from castlang.pipeline import Compiled, compile_build
from castlang.plan.verify import verify
from castlang.source.files import Disk

EXAMPLES = Path(__file__).parents[1] / "examples"
STAIR, STOOLS = EXAMPLES / "stair" / "stair.pour", EXAMPLES / "stools" / "stools.pour"
SWEEPING = '\njob sweeping "Sweep"\n    work floor takes 20 min by 1\n'


def compiled(path: Path, text: str, previous: dict[str, datetime] | None = None) -> Compiled:
    return compile_build(str(path), text.encode(), Disk(main=path), previous=previous)


def starts(build: Compiled) -> dict[str, datetime]:
    if build.plan is None:
        raise AssertionError([p.message for p in build.problems])
    first = datetime.combine(build.plan.network.hours.start, datetime.min.time())
    return {p.task: first + timedelta(minutes=p.start) for p in build.plan.placed}


def finish(build: Compiled) -> int:
    assert build.plan is not None
    return build.plan.finish


def moved(old: dict[str, datetime], new: dict[str, datetime]) -> int:
    return sum(old[task] != new[task] for task in old if task in new)


def shorter(text: str, place: int) -> str:
    """The text with one `takes` five minutes shorter."""
    found = list(re.finditer(r"takes (\d+) min", text))[place]
    return f"{text[: found.start(1)]}{int(found[1]) - 5}{text[found.end(1) :]}"


@pytest.mark.parametrize("path", [STAIR, STOOLS], ids=lambda path: path.stem)
def test_a_build_that_did_not_change_has_the_plan_that_it_had(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    old = starts(compiled(path, text))

    assert starts(compiled(path, text, old)) == old


def test_a_small_job_more_moves_nothing_else() -> None:
    text = STAIR.read_text(encoding="utf-8")
    old = starts(compiled(STAIR, text))
    without, close = compiled(STAIR, text + SWEEPING), compiled(STAIR, text + SWEEPING, old)

    assert moved(old, starts(without)) > 20
    assert moved(old, starts(close)) == 0
    assert close.plan is not None
    assert close.plan.made == ("the order of the plan before, with steps kept where the plan before had them")
    assert finish(close) == finish(without)
    assert close.plan is not None
    assert verify(close.plan) == ()


@pytest.mark.parametrize("place", [0, 3, 5])
def test_a_step_that_takes_less_leaves_the_rest_where_it_was(place: int) -> None:
    text = STOOLS.read_text(encoding="utf-8")
    old = starts(compiled(STOOLS, text))
    without, close = compiled(STOOLS, shorter(text, place)), compiled(STOOLS, shorter(text, place), old)

    assert moved(old, starts(without)) > 10
    assert moved(old, starts(close)) <= 3
    assert finish(close) <= finish(without)
    assert close.plan is not None
    assert close.plan.made.endswith("with steps kept where the plan before had them")


def test_a_sooner_finish_is_never_given_up_for_an_old_start() -> None:
    text = STOOLS.read_text(encoding="utf-8")
    late = {task: at + timedelta(days=30) for task, at in starts(compiled(STOOLS, text)).items()}

    assert finish(compiled(STOOLS, text, late)) == finish(compiled(STOOLS, text))


def test_steps_that_are_new_or_gone_are_no_trouble() -> None:
    text = STAIR.read_text(encoding="utf-8")
    more = starts(compiled(STAIR, text + SWEEPING))
    build = compiled(STAIR, text, more)

    assert moved(more, starts(build)) == 0


def test_the_binder_of_before_is_named_by_its_folder_or_its_json(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["binder", str(STOOLS), "--out", str(tmp_path / "old")])
    capsys.readouterr()
    printed = []
    for before in (tmp_path / "old", tmp_path / "old" / "binder.json"):
        main(["plan", str(STOOLS), "--csv", "--close-to", str(before)])
        printed.append(capsys.readouterr().out)
    main(["plan", str(STOOLS), "--csv"])

    assert printed == [capsys.readouterr().out] * 2


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (None, "cannot be read"),
        ("no json", "is not the JSON of a binder"),
        (json.dumps({"binder": {"sheets": []}}), "holds no plan"),
    ],
)
def test_what_is_no_binder_is_trouble(
    text: str | None, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "binder.json"
    if text is not None:
        file.write_text(text, encoding="utf-8")
    status = main(["plan", str(STOOLS), "--close-to", str(file)])

    assert status == 2
    assert says in capsys.readouterr().err
