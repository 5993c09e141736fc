"""Makes the same binder over and over in fresh processes, with two hash seeds, in quiet and beside two
processes that keep the machine busy, with the solver installed and hidden, and writes its table into
docs/benchmarks.md.

    python tests/bench/sameness.py
    python tests/bench/sameness.py --runs 4 --dry
"""

import argparse
import hashlib
import os
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT)]

from builds import large_build  # noqa: E402  (beside this file)
from pages import renewed  # noqa: E402  (beside this file)

HASH_SEEDS = ("0", "12345")
BUSY = "while True: sum(range(10000))"
PROGRAM = "import sys; {hide}from castlang.cli.main import main; sys.exit(main(sys.argv[1:]))"
HIDE = "sys.modules['ortools'] = None; "
HEAD = ["build", "search", "runs", "files", "the same to the byte"]
TEXT = (
    "The whole binder (PDF, CSV, JSON, calendar), made in fresh processes: every other run with the hash "
    "seed 0, the others with 12345; half of the runs beside two processes that keep the machine busy. "
    "`quick` and `normal` are made with the solver hidden too, and have to be the same. Made by `python "
    "tests/bench/sameness.py`."
)


def digest(build: Path, search: str, seed: str, *, solver: bool) -> tuple[int, str]:
    """How many files a binder has, and one digest of their names and bytes."""
    program = PROGRAM.format(hide="" if solver else HIDE)
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run(
            [sys.executable, "-c", program, "binder", str(build), "--out", folder, "--search", search],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            check=False,
            capture_output=True,
        )
        files = sorted(file for file in Path(folder).rglob("*") if file.is_file())
        told = hashlib.sha256()
        for file in files:
            told.update(f"{file.relative_to(folder)} {file.stat().st_size}\n".encode() + file.read_bytes())
    return len(files), told.hexdigest()


@contextmanager
def busy(processes: int):
    """That many processes that count without end, until the block is left."""
    others = [subprocess.Popen([sys.executable, "-c", BUSY]) for _ in range(processes)]
    try:
        yield
    finally:
        for other in others:
            other.kill()
            other.wait()


def digests(build: Path, search: str, runs: int, *, solver: bool) -> list[tuple[int, str]]:
    """What each run gave; the second half of them beside two busy processes."""
    found = [digest(build, search, HASH_SEEDS[n % 2], solver=solver) for n in range(runs // 2)]
    with busy(2):
        return found + [
            digest(build, search, HASH_SEEDS[n % 2], solver=solver) for n in range(runs // 2, runs)
        ]


def main() -> None:
    """Make, compare, print, write."""
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--runs", type=int, default=10)
    words.add_argument("--dry", action="store_true", help="print only")
    told = words.parse_args()
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        made = Path(folder) / "large.pour"
        made.write_text(large_build(20), encoding="utf-8")
        builds = {"stools": ROOT / "examples" / "stools" / "stools.pour", "20 slabs": made}
        for name, build in builds.items():
            for search in ("quick", "normal", "thorough"):
                known: list[tuple[int, str]] = []
                for solver in (True, False) if search != "thorough" else (True,):
                    if solver and find_spec("ortools") is None:
                        continue
                    known += digests(build, search, told.runs, solver=solver)
                    same = len(set(known)) == 1 and known[0][0] > 0
                    told_as = f"{search}, solver {'installed' if solver else 'hidden'}"
                    told_same = "yes" if same else f"no, {len(set(known))} kinds"
                    rows.append([name, told_as, str(told.runs), str(known[0][0]), told_same])
                    print(" | ".join(rows[-1]), flush=True)
    if not told.dry:
        renewed(ROOT / "docs" / "benchmarks.md", "sameness.py", "The same every time", TEXT, HEAD, rows)
    if any(row[-1] != "yes" for row in rows):
        sys.exit("not the same every time")


if __name__ == "__main__":
    main()
