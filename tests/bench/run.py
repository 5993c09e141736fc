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
from itertools import pairwise
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from builds import assembled_build, in_letters, large_build, lines_of_length, refused_build  # noqa: E402

from castlang.cli.main import few_collections  # noqa: E402

RUNS = 7
CASTLANG = [sys.executable, "-m", "castlang.cli"]


def spent_by(command: list[str]) -> tuple[float, float]:
    """Processor seconds and the greatest MiB of one run of a command, which ends with 0 or 1."""
    quiet = subprocess.DEVNULL
    made = subprocess.Popen(command, stdout=quiet, stderr=quiet, cwd=ROOT)
    _, status, used = os.wait4(made.pid, 0)
    made.returncode = os.waitstatus_to_exitcode(status)
    if made.returncode not in (0, 1):
        raise SystemExit(f"{' '.join(command)} ended with {made.returncode}")
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def child(command: list[str]) -> float:
    """Processor seconds of one run of a command."""
    return spent_by(command)[0]


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
    floor = whole([sys.executable, "-c", "pass"])
    hundred = folder / "hundred.pour"
    hundred.write_text(lines_of_length(100), encoding="utf-8")
    desk = ROOT / "examples" / "desk" / "desk.pour"
    rows = [
        ("`--help`", [*CASTLANG, "--help"], "4"),
        ("`check` of a 100-line build", [*CASTLANG, "check", str(hundred)], "22"),
        (
            "`binder` of the first example",
            [*CASTLANG, "binder", str(desk), "--out", str(folder / "out")],
            "60",
        ),
    ]
    found = [("`python -c pass` (floor)", f"1 ({floor * 1000:.0f} ms)", "")]
    for name, command, target in rows:
        found.append((name, f"{whole(command) / floor:.1f}", f"at most {target}"))
    return found


def reading() -> list[tuple[str, str, str]]:
    """Parsing, resolving and measuring, lines a second, and how it grows."""
    rows = []
    each = {}
    for count, runs in ((1_000, 5), (10_000, 3), (100_000, 1)):
        # Other pieces each time: a line that was read before is not read again.
        texts = [lines_of_length(count, 1 + (run + 1) * 1_000_000 + count) for run in range(runs)]
        lines = texts[0].count("\n")
        floor = statistics.median(split_up(text) for text in texts)
        parsed, resolved, measured = map(statistics.median, zip(*map(stages_of, texts), strict=True))
        each[count] = (parsed + resolved + measured) / lines
        told = [
            (f"parse, {lines:,} lines", parsed, ""),
            ("parse and resolve", parsed + resolved, ""),
            ("parse, resolve and take off", parsed + resolved + measured, "25,000 lines/s"),
        ]
        for name, spent, goal in told:
            reached = f"{lines / spent:,.0f} lines/s, {spent / floor:.0f} x splitting the lines"
            rows.append((name, reached, goal))
    apart = in_letters(lines_of_length(10_000, 9_000_000))
    rate = apart.count("\n") / stages_of(apart)[0]
    rows.append(("parse, 9,997 lines that differ in more than digits", f"{rate:,.0f} lines/s", ""))
    for count in (10_000, 100_000):
        grown = f"{each[count] / each[1_000]:.2f} x linear"
        rows.append((f"growth from 1,000 to {count:,} lines, all three", grown, "at most 1.15"))
    return rows


def holding(folder: Path) -> list[tuple[str, str, str]]:
    """What a long build takes of the memory while it is read and measured."""
    long = folder / "long.pour"
    long.write_text(refused_build(100_000), encoding="utf-8")
    spent, memory = spent_by([*CASTLANG, "check", str(long)])
    size = long.stat().st_size / 2**20
    held = f"{memory:.0f} MiB, {memory / size:.0f} x the text; {spent:.1f} s"
    return [("`check` of 100,000 lines that the take-off refuses", held, "at most 60 x the text")]


def split_up(text: str) -> float:
    """Processor seconds of the floor of reading: a text cut into its words."""
    return inside(lambda: [row.split() for row in text.split("\n")])


def stages_of(text: str) -> tuple[float, float, float]:
    """Processor seconds of parsing, resolving and measuring one build."""
    from castlang.source.model import SourceFile
    from castlang.spec.from_syntax import spec_of
    from castlang.syntax.from_source import document_of
    from castlang.takeoff.from_spec import takeoff_of

    times = [time.process_time()]
    document = document_of(SourceFile(name="long.pour", text=text)).value
    times.append(time.process_time())
    spec = spec_of([document], lambda name, beside: b"").value if document is not None else None
    times.append(time.process_time())
    if spec is None or takeoff_of(spec).value is None:
        raise SystemExit("a build of the bench cannot be read")
    times.append(time.process_time())
    parsed, resolved, measured = (b - a for a, b in pairwise(times))
    return parsed, resolved, measured


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


def making() -> list[tuple[str, str, str]]:
    """The stages of a build of many pieces, and pages a second."""
    rows = []
    sizes = {}
    for pieces in (10, 50, 360):
        code = (
            f"import sys; sys.path.insert(0, {str(Path(__file__).parent)!r}); import run; run.paper({pieces})"
        )
        done = subprocess.run(
            [sys.executable, "-c", code], check=True, capture_output=True, text=True, cwd=ROOT
        )
        steps, spent, pages, paper, held = (float(word) for word in done.stdout.split())
        sizes[pieces] = (pages, paper, held)
        rows.append((f"compile {pieces} pieces, {steps:.0f} steps, search quick", f"{spent:.2f} s", ""))
        rows.append((f"PDF of {pages:,.0f} pages", f"{pages / paper:.0f} pages/s", "100 pages/s"))
    (some, short, little), (many, long, much) = sizes[50], sizes[360]
    grown = (long / many) / (short / some)
    rows.append((f"growth from {some:,.0f} to {many:,.0f} pages", f"{grown:.2f} x linear", "linear"))
    held = (much - little) * 1024 / (many - some)
    rows.append(("memory of the PDF, each page more", f"{held:.0f} KiB", "at most 100 KiB"))
    return rows


def paper(pieces: int) -> None:
    """Print, for a build of that many pieces: its steps, s to compile it, its pages, s for their PDF, and the
    MiB by which the PDF raised what is held at most. In a process of its own, since that never falls."""
    from castlang.cli.main import few_collections
    from castlang.out.pdf import pdf_of
    from castlang.pipeline import compile_build
    from castlang.sheets.from_plan import binder_of
    from castlang.source.files import Texts

    few_collections()
    text = large_build(pieces).encode("utf-8")
    start = time.process_time()
    made = compile_build("large.pour", text, Texts(), search="quick")
    spent = time.process_time() - start
    if not (made.spec and made.takeoff and made.plan and made.costing):
        raise SystemExit("; ".join(p.message for p in made.problems))
    binder = binder_of(made.spec, made.takeoff, made.plan, made.costing, made.problems)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    start = time.process_time()
    pages = pdf_of(binder).count(b"/Type /Page\n") or len(binder.sheets)
    paper = time.process_time() - start
    held = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
    print(len(made.plan.network.tasks), spent, pages, paper, held)


def large(folder: Path) -> list[tuple[str, str, str]]:
    """Whole commands for 1,000 pieces, one run each, with the floor of the same run."""
    old, new, apart = (folder / f"{name}.pour" for name in ("old", "new", "apart"))
    old.write_text(large_build(1_000), encoding="utf-8")
    new.write_text(large_build(1_000).replace("60 mm thick", "70 mm thick"), encoding="utf-8")
    apart.write_text(assembled_build(1_000), encoding="utf-8")
    quick = ["--search", "quick"]
    commands = [
        ("`check`, search quick", ["check", str(old), *quick], "5 s"),
        ("`check`, search quick, each piece placed and moved too", ["check", str(apart), *quick], ""),
        ("`plan`", ["plan", str(old)], "60 s"),
        ("`binder`, search quick", ["binder", str(old), *quick, "--out", str(folder / "large")], "30 s"),
        ("`compare`, search quick, each piece thicker", ["compare", str(old), str(new), *quick], ""),
    ]
    floor = whole([sys.executable, "-c", "pass"])
    rows = []
    for name, words, goal in commands:
        spent, memory = spent_by([*CASTLANG, *words])
        told = f"{spent:.1f} s, {spent / floor:,.0f} x `python -c pass`, {memory:.0f} MiB"
        rows.append((name, told, f"{goal}, 2 GiB" if goal else "2 GiB"))
    return rows


def main() -> None:
    """Measure, print, write."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--dry", action="store_true", help="print only")
    told = words.parse_args()
    few_collections()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        # Other processes first: one that is begun by a large process is told to be as large.
        begun = processes(folder), holding(folder), making(), large(folder)
        parts = [
            ("Whole processes, in multiples of the floor", begun[0]),
            ("Reading", [*reading(), *begun[1]]),
            ("Comparing", comparing()),
            ("Making", begun[2]),
            ("Whole commands for 1,000 pieces", begun[3]),
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
