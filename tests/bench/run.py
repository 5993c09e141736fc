"""Measures castlang as ratios to a floor in the same run, and writes docs/benchmarks.md.

    python tests/bench/run.py            # prints, and writes the table
    python tests/bench/run.py --dry      # prints only

Ratios move less than seconds between machines; each is the median of several runs, in processor time of the
child process, beside `python -c pass` or a plain loop over the same text in the same run.
"""

import argparse
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from builds import large_build, lines_of_length  # noqa: E402  (beside this file)

RUNS = 7


def child(command: list[str]) -> float:
    """Processor seconds of one run of a command."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    quiet = subprocess.DEVNULL
    subprocess.run(command, check=False, stdout=quiet, stderr=quiet, cwd=ROOT)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return (after.ru_utime - before.ru_utime) + (after.ru_stime - before.ru_stime)


def whole(command: list[str]) -> float:
    """The median over several runs, after one that warms the caches."""
    child(command)
    return statistics.median(child(command) for _ in range(RUNS))


def inside(work: Callable[[], object], runs: int = 3) -> float:
    """Median processor seconds of a call in this process."""
    spent = []
    for _ in range(runs):
        start = time.process_time()
        work()
        spent.append(time.process_time() - start)
    return statistics.median(spent)


def processes(folder: Path) -> list[tuple[str, str, str]]:
    """Whole processes, in multiples of `python -c pass`."""
    python = sys.executable
    castlang = [python, "-m", "castlang.cli"]
    floor = whole([python, "-c", "pass"])
    hundred = folder / "hundred.pour"
    hundred.write_text(lines_of_length(100), encoding="utf-8")
    desk = ROOT / "examples" / "desk" / "desk.pour"
    rows = [
        ("`--help`", [*castlang, "--help"], "4"),
        ("`check` of a 100-line build", [*castlang, "check", str(hundred)], "22"),
        (
            "`binder` of the first example",
            [*castlang, "binder", str(desk), "--out", str(folder / "out")],
            "60",
        ),
    ]
    found = [("`python -c pass` (floor)", f"1 ({floor * 1000:.0f} ms)", "")]
    for name, command, target in rows:
        found.append((name, f"{whole(command) / floor:.1f}", f"at most {target}"))
    return found


def reading() -> list[tuple[str, str, str]]:
    """Parsing and resolving, lines a second, and how it grows."""
    from castlang.source.model import SourceFile
    from castlang.spec.from_syntax import spec_of
    from castlang.syntax.from_source import document_of

    rows = []
    rates = []
    for count in (1_000, 10_000):
        floors, parsed, resolved = [], [], []
        for run in range(3):
            # Other pieces each time: a line that was read before is not read again.
            text = lines_of_length(count, 1 + (run + 1) * 1_000_000 + count)
            source = SourceFile(name="long.pour", text=text)
            lines = text.count("\n")
            floors.append(inside(lambda text=text: [line.split() for line in text.split("\n")]))
            parsed.append(inside(lambda source=source: document_of(source), runs=1))
            document = document_of(source).value
            assert document is not None
            resolved.append(
                inside(lambda document=document: spec_of([document], lambda name, beside: b""), runs=1)
            )
        floor, spent, meant = map(statistics.median, (floors, parsed, resolved))
        rates.append((spent + meant) / lines)
        rows.append(
            (
                f"parse, {lines:,} lines",
                f"{lines / spent:,.0f} lines/s, {spent / floor:.0f} x splitting the lines",
                "",
            )
        )
        rows.append(
            (
                f"parse and resolve, {lines:,} lines",
                f"{lines / (spent + meant):,.0f} lines/s",
                "25,000 lines/s",
            )
        )
    rows.append(("growth from 1,000 to 10,000 lines", f"{rates[1] / rates[0]:.2f} x linear", "at most 1.15"))
    return rows


def comparing() -> list[tuple[str, str, str]]:
    """Two builds of 1,000 pieces each: the step that compares, in multiples of reading both."""
    from castlang.compare.changes import changes_of
    from castlang.source.model import SourceFile
    from castlang.spec.from_syntax import spec_of
    from castlang.spec.model import Spec
    from castlang.syntax.from_source import document_of

    def read(text: str) -> Spec:
        document = document_of(SourceFile(name="large.pour", text=text)).value
        spec = spec_of([document], lambda name, beside: b"").value if document is not None else None
        if spec is None:
            raise SystemExit("a build of the bench cannot be read")
        return spec

    text = large_build(1_000)
    others = [
        ("no change", text),
        ("each piece thicker", text.replace("60 mm thick", "70 mm thick")),
        ("each piece renamed", text.replace("slab-", "plate-")),
    ]
    both = 2 * inside(lambda: read(text))
    old = read(text)
    rows = []
    for said, changed in others:
        new = read(changed)
        spent = inside(lambda new=new: changes_of(old, new))
        goal = "at most 2.5 with the reading"
        rows.append((f"compare 1,000 pieces, {said}", f"{spent / both:.2f} x reading both", goal))
    return rows


def making(folder: Path) -> list[tuple[str, str, str]]:
    """The stages of a build of many pieces, and pages a second."""
    from castlang.out.pdf import pdf_of
    from castlang.pipeline import compile_build
    from castlang.sheets.from_plan import binder_of
    from castlang.source.files import Texts

    rows = []
    for pieces in (10, 50):
        text = large_build(pieces).encode("utf-8")
        spent = inside(lambda text=text: compile_build("large.pour", text, Texts()), runs=1)
        made = compile_build("large.pour", text, Texts())
        if not (made.spec and made.takeoff and made.plan and made.costing):
            raise SystemExit("; ".join(p.message for p in made.problems))
        binder = binder_of(made.spec, made.takeoff, made.plan, made.costing, made.problems)
        paper = inside(lambda binder=binder: pdf_of(binder), runs=1)
        pages = pdf_of(binder).count(b"/Type /Page\n") or len(binder.sheets)
        steps = len(made.plan.network.tasks)
        rows.append((f"compile {pieces} pieces, {steps} steps", f"{spent:.2f} s", ""))
        rows.append((f"PDF of {pages} pages", f"{pages / paper:.0f} pages/s", "100 pages/s"))
    return rows


def main() -> None:
    """Measure, print, write."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--dry", action="store_true", help="print only")
    told = words.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        parts = [
            ("Whole processes, in multiples of the floor", processes(folder)),
            ("Reading", reading()),
            ("Comparing", comparing()),
            ("Making", making(folder)),
        ]
    lines = [
        "# Benchmarks",
        "",
        "Made by `python tests/bench/run.py`; medians of processor time, the floor measured in the same run.",
        f"Python {sys.version.split()[0]}, {os.cpu_count()} cores.",
    ]
    for title, rows in parts:
        lines += ["", f"## {title}", "", "| what | reached | goal |", "|---|---|---|"]
        lines += [f"| {' | '.join(row)} |" for row in rows]
    text = "\n".join(lines[2:]) + "\n"
    print(text)
    if not told.dry:
        keep(text)


def keep(text: str) -> None:
    """Write the text between its marks in docs/benchmarks.md; what other programs wrote there stays."""
    page = ROOT / "docs" / "benchmarks.md"
    old = page.read_text(encoding="utf-8") if page.exists() else "# Benchmarks\n"
    begin, end = "<!-- run.py -->", "<!-- end of run.py -->"
    block = f"{begin}\n{text}{end}\n"
    if begin in old and end in old:
        front, _, rest = old.partition(begin)
        new = front + block + rest.partition(end)[2].lstrip("\n")
    else:
        head, _, rest = old.partition("\n")
        new = f"{head}\n\n{block}{rest}"
    page.write_text(new, encoding="utf-8")


if __name__ == "__main__":
    main()
