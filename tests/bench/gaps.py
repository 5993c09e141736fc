"""Measures how soon a circle is found among many gaps, and writes its table into docs/benchmarks.md.

    python tests/bench/gaps.py
    python tests/bench/gaps.py --gaps 20000 --dry

Chains of steps like those of castings, with gaps of a least and a longest time; in some of them one longest
time is a minute too short, over a few steps or over 200; or the last step of each has a date, so that its
windows draw all others after it. The floor is a plain loop over the same gaps.
"""

import argparse
import random
import statistics
import sys
import time
from collections.abc import Callable
from datetime import date
from itertools import pairwise
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from pages import renewed  # noqa: E402  (beside this file)

from castlang.plan.gaps.circles import circles_of  # noqa: E402
from castlang.plan.model import GapEdge, Hours, Network, Task  # noqa: E402
from castlang.plan.ties import Ties, ties_of  # noqa: E402

CHAIN = 250  # steps a chain
HEAD = ["gaps", "circles", "named", "CPU", "times the floor"]
TEXT = (
    "Gaps checked, and each circle that cannot be met named with its fewest lines; tasks and gaps are made "
    "ready before. Processor seconds of one core, the median of five. Made by `python tests/bench/gaps.py`."
)


def chains(gaps: int, over: int, broken: int, dated: bool) -> Ties:
    """A network of about so many gaps, where in `broken` chains a longest one over `over` steps is too short;
    dated: whether the last steps have a date."""
    chance = random.Random(11)
    tasks: list[Task] = []
    edges: list[GapEdge] = []
    while len(edges) < gaps:
        chain = len(tasks) // CHAIN
        names = [f"c{chain}.{n}" for n in range(CHAIN)]
        least = [chance.randint(0, 60) for _ in names[1:]]
        tasks += [Task(name=name, minutes=10) for name in names[:-1]]
        tasks.append(Task(name=names[-1], minutes=10, earliest=30_000 if dated else None))
        for n, (one, other) in enumerate(pairwise(names)):
            edges.append(GapEdge(before=one, after=other, least=least[n]))
            edges.append(GapEdge(before=one, after=other, least=0, longest=least[n] + 90))
            if n >= 8 and n % 2:
                slack = sum(least[n - 8 : n + 1]) + 600
                edges.append(GapEdge(before=names[n - 8], after=other, least=0, longest=slack))
        if 20 <= chain < 20 + broken:
            short = sum(least[:over]) + 10 * (over - 1) - 1
            edges.append(GapEdge(before=names[0], after=names[over], least=0, longest=short))
    hours = Hours(start=date(2027, 3, 1), week=(((0, 1440),),) * 7)
    network = Network(tasks=tuple(tasks), gaps=tuple(edges[:gaps]), holds=(), resources=(), hours=hours)
    return ties_of(network)


def median(work: Callable[[], object]) -> float:
    """Processor seconds of a call, the median of five."""
    spent = []
    for _ in range(5):
        start = time.process_time()
        work()
        spent.append(time.process_time() - start)
    return statistics.median(spent)


def floor(ties: Ties) -> int:
    """A plain loop over the gaps."""
    total = 0
    for gap in ties.network.gaps:
        total += gap.least
    return total


def main() -> None:
    """Measure, print, write."""
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--gaps", type=int, default=100_000, help="how many gaps")
    words.add_argument("--dry", action="store_true", help="print only")
    told = words.parse_args()
    rows = []
    cases = ((0, 0, False), (0, 0, True), (2, 1, False), (12, 1, False), (200, 1, False), (12, 20, False))
    for over, broken, dated in cases:
        ties = chains(told.gaps, over, broken, dated)
        circles = circles_of(ties)
        if len(circles) != broken:
            raise AssertionError(f"{len(circles)} circles were found")
        spent = median(lambda ties=ties: circles_of(ties))
        loop = median(lambda ties=ties: floor(ties))
        windows = sum(len(circle.windows) for circle in circles)
        lines = sum(sum(leg.gap is not None for leg in circle.legs) for circle in circles)
        rows.append(
            [
                f"{told.gaps:,}",
                f"{broken}, over {over} steps" if over else "none, all windows drawn" if dated else "none",
                f"{lines} gaps, {windows} of them longest" if over else "",
                f"{spent:.2f} s",
                f"{spent / loop:.0f}",
            ]
        )
        print(" | ".join(rows[-1]), flush=True)
    if not told.dry:
        renewed(ROOT / "docs" / "benchmarks.md", "gaps.py", "Circles of gaps", TEXT, HEAD, rows)


if __name__ == "__main__":
    main()
