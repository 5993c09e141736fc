"""The same build gives the same bytes, whatever the machine's hash seed, language, time zone and clock."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from castlang.cli.starter import STARTER

EXAMPLES = Path(__file__).parent.parent / "examples"
HERE = {"PYTHONHASHSEED": "1", "LC_ALL": "C", "LANG": "C", "TZ": "Pacific/Auckland", "COLUMNS": "60"}
THERE = {
    "PYTHONHASHSEED": "4294967295",
    "LC_ALL": "de_DE.UTF-8",
    "LANG": "de_DE.UTF-8",
    "TZ": "America/Los_Angeles",
    "COLUMNS": "200",
    "NO_COLOR": "1",
}


def written(build: Path, out: Path, environment: dict[str, str]) -> dict[str, bytes]:
    """Every file of the binder of `build`, by its name in the folder."""
    subprocess.run(
        [sys.executable, "-m", "castlang.cli", "binder", str(build), "--out", str(out)],
        env={**os.environ, **environment},
        check=False,
        capture_output=True,
    )
    return {str(f.relative_to(out)): f.read_bytes() for f in sorted(out.rglob("*")) if f.is_file()}


@pytest.mark.parametrize("name", ["starter", "desk/desk.pour"])
def test_two_runs_in_different_surroundings_write_the_same_bytes(name, tmp_path):
    build = EXAMPLES / name
    if name == "starter":
        build = tmp_path / "bench.pour"
        build.write_text(STARTER, encoding="utf-8", newline="\n")
    here = written(build, tmp_path / "here", HERE)
    there = written(build, tmp_path / "there", THERE)

    assert {Path(file).suffix for file in here} >= {".pdf", ".csv", ".json"}
    assert list(there) == list(here)
    assert [file for file in here if there[file] != here[file]] == []


@pytest.mark.parametrize("name", ["unpourable.pour", "names.pour"])
def test_what_is_wrong_with_a_build_is_said_in_the_same_bytes(name):
    runs = [
        subprocess.run(
            [sys.executable, "-m", "castlang.cli", "check", str(EXAMPLES / "broken" / name)],
            env={**os.environ, **environment},
            check=False,
            capture_output=True,
        )
        for environment in (HERE, THERE)
    ]

    assert [run.returncode for run in runs] == [1, 1]
    assert runs[0].stderr == runs[1].stderr != b""


def planned(search: str, environment: dict[str, str], solver: bool) -> bytes:
    """What the plan of the first example says as JSON; `solver`: whether its package can be imported."""
    hidden = "" if solver else "sys.modules['ortools'] = None; "
    words = ["plan", str(EXAMPLES / "desk" / "desk.pour"), "--search", search, "--json"]
    program = f"import sys; {hidden}from castlang.cli.main import main; sys.exit(main({words!r}))"
    done = subprocess.run(
        [sys.executable, "-c", program], env={**os.environ, **environment}, check=True, capture_output=True
    )
    return done.stdout


@pytest.mark.parametrize("search", ["quick", "normal"])
def test_a_plan_is_the_same_bytes_on_each_run_and_with_or_without_the_solver(search):
    runs = [planned(search, place, solver) for place in (HERE, THERE) for solver in (True, False)]

    assert b"desk" in runs[0]
    assert runs == [runs[0]] * 4
