"""What a command brings in: a check needs neither solver nor paper, nor the libraries that are asked once."""

import subprocess
import sys
from pathlib import Path

from told import BENCH

UNWANTED = ("pint", "reportlab", "ortools", "numpy", "icalendar")


def test_a_check_opens_no_library_that_it_can_do_without(tmp_path: Path) -> None:
    (tmp_path / "bench.pour").write_text(BENCH, encoding="utf-8")
    code = (
        "import sys; from castlang.cli.main import main; main(['check', 'bench.pour']); "
        f"print([name for name in {UNWANTED!r} if name in sys.modules])"
    )
    # The first run may have to ask pint what the units are worth, and keeps the answer.
    told = [
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=tmp_path)
        for _ in range(2)
    ]

    assert told[1].stdout.splitlines()[-1] == "[]"


def test_a_run_sets_how_seldom_python_looks_for_dead_circles(tmp_path: Path) -> None:
    code = (
        "import gc, sys; from castlang.cli.main import run; sys.argv = ['castlang', '--version']\n"
        "try:\n    run()\nexcept SystemExit:\n    print(gc.get_threshold())"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=tmp_path)

    assert told.stdout.splitlines()[-1] == "(100000, 10, 10)"
