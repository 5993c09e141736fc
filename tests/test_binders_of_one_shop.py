"""The binders of several builds that are planned together: each has its part of the one plan."""

import csv
from pathlib import Path

import pytest

from castlang.cli.main import main
from castlang.rules.examples import BASE, CAST


def builds(folder: Path, *names: str) -> list[str]:
    made = []
    for name in names:
        file = folder / f"{name}.pour"
        file.write_text((BASE + CAST).replace("build trial", f"build {name}"))
        made.append(str(file))
    return made


def steps(folder: Path) -> dict[str, tuple[str, str]]:
    """Start and end by step, of the work that both people do."""
    with (folder / "csv" / "plan.csv").open(newline="") as file:
        return {
            row["step"]: (row["start"], row["end"]) for row in csv.DictReader(file) if row["people"] == "2"
        }


def test_no_two_binders_send_both_people_to_two_places(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["binder", *builds(tmp_path, "one", "two"), "--out", str(tmp_path / "shop")])
    told = capsys.readouterr().out.splitlines()
    one, two = steps(tmp_path / "shop" / "one"), steps(tmp_path / "shop" / "two")

    assert [line.partition(":")[0].rpartition("/")[2] for line in told] == ["one", "two"]
    assert one.keys() == two.keys()
    assert one
    assert all(a[1] <= b[0] or b[1] <= a[0] for a in one.values() for b in two.values())


def test_builds_that_cannot_be_planned_together_leave_no_folder_behind(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    one, two = builds(tmp_path, "one", "two")
    Path(two).write_text(Path(two).read_text().replace("crew      2", "crew      3"))
    status = main(["binder", one, two, "--out", str(tmp_path / "shop")])

    assert status == 1
    assert "[shops-differ]" in capsys.readouterr().err
    assert not (tmp_path / "shop").exists()


def test_what_is_for_one_build_is_refused_for_several(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    two = builds(tmp_path, "one", "two")

    assert [main(["plan", *two, "--one-more"]), main(["binder", *two, "--close-to", "old"])] == [2, 2]
    assert capsys.readouterr().err.count("is for one build") == 2
