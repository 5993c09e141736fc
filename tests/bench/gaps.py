"""Measures how soon a circle is found among many gaps, and writes its table into docs/benchmarks.md.

    python tests/bench/gaps.py
    python tests/bench/gaps.py --gaps 20000 --dry

Chains of steps like those of castings, with gaps of a least and a longest time; in one of them the longest is
a minute too short, over a few steps or over 200. The floor is a plain loop over the same gaps.
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

from castlang.plan.circles import circles_of  # noqa: E402
from castlang.plan.model import GapEdge, Hours, Network, Task  # noqa: E402
from castlang.plan.ties import Ties, ties_of  # noqa: E402

CHAIN = 250  # steps a chain
HEAD = ["gaps", "circle", "named", "CPU", "times the floor"]
TEXT = (
    "Gaps checked, and the circle that cannot be met named with its fewest lines; tasks and gaps are made "
    "ready before. Processor seconds of one core, the median of five. Made by `python tests/bench/gaps.py`."
)


def chains(gaps: int, over: int) -> Ties:
    """A network of about so many gaps, of which a longest one over `over` steps is too short (0: none)."""
    chance = random.Random(11)
    tasks: list[Task] = []
    edges: list[GapEdge] = []
    while len(edges) < gaps:
        chain = len(tasks) // CHAIN
        names = [f"c{chain}.{n}" for n in range(CHAIN)]
        least = [chance.randint(0, 60) for _ in names[1:]]
        tasks += [Task(name=name, minutes=10) for name in names]
        for n, (one, other) in enumerate(pairwise(names)):
            edges.append(GapEdge(before=one, after=other, least=least[n]))
            edges.append(GapEdge(before=one, after=other, least=0, longest=least[n] + 90))
            if n >= 8 and n % 2:
                slack = sum(least[n - 8 : n + 1]) + 600
                edges.append(GapEdge(before=names[n - 8], after=other, least=0, longest=slack))
        if over and chain == 20:
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
    for over in (0, 2, 12, 200):
        ties = chains(told.gaps, over)
        circles = circles_of(ties)
        if bool(circles) != bool(over):
            raise AssertionError(f"{len(circles)} circles were found")
        spent = median(lambda ties=ties: circles_of(ties))
        loop = median(lambda ties=ties: floor(ties))
        windows = sum(len(circle.windows) for circle in circles)
        lines = sum(sum(leg.gap is not None for leg in circle.legs) for circle in circles)
        rows.append(
            [
                f"{told.gaps:,}",
                f"over {over} steps" if over else "none",
                f"{lines} gaps, {windows} of them a window" if over else "",
                f"{spent:.2f} s",
                f"{spent / loop:.0f}",
            ]
        )
        print(" | ".join(rows[-1]), flush=True)
    if not told.dry:
        renewed(ROOT / "docs" / "benchmarks.md", "gaps.py", "Circles of gaps", TEXT, HEAD, rows)


if __name__ == "__main__":
    main()
