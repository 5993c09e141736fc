"""Measures the planner on casting shops made up from a seed, and writes its table into docs/benchmarks.md.

    python tests/bench/shop.py
    python tests/bench/shop.py --sizes 50,200 --dry

Each plan is made in a process of its own and checked by the verifier. Bound: the minute before which, as the
planner has shown, no plan can finish; the gap is counted from it, so that it is never less than the true one.
"""

import argparse
import json
import resource
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from casting import HOURS, casting_shop  # noqa: E402  (beside this file)
from pages import renewed  # noqa: E402  (beside this file)

from castlang.plan.from_network import plan_of  # noqa: E402
from castlang.plan.verify import verify  # noqa: E402

SEEDS = (1, 2, 3)
SEARCHES = {
    50: ("quick", "normal", "thorough"),
    200: ("quick", "normal", "thorough"),
    1000: ("quick", "normal", "thorough"),
    5000: ("quick", "normal"),
    10000: ("quick",),
}
HEAD = ["steps", "search", "proven", "mean gap", "worst", "by the calendar", "CPU", "at most", "memory"]
TEXT = (
    "Casting shops made up from three seeds: eleven steps a piece, three people, one mixer, one table, four "
    "molds, open Monday to Friday from 8 to 17 h. Gap: to the planner's own bound, in hours that the shop is "
    "open, and the worst by the calendar, nights and weekends included; the true one is less. "
    "Processor seconds of one core and the greatest memory of a plan, in a process of its own, "
    "bounds, slack and chain included. Made by `python tests/bench/shop.py`."
)


def one(steps: int, seed: int, search: str) -> dict[str, float]:
    """Plan one shop here."""
    network = casting_shop(steps, seed)
    start = time.process_time()
    plan = plan_of(network, search=search).value
    spent = time.process_time() - start
    if plan is None:
        raise AssertionError(f"no plan for {steps} steps, seed {seed}")
    wrong = verify(plan)
    if wrong:
        raise AssertionError(wrong[0])
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {"finish": plan.finish, "bound": plan.bound, "seconds": spent, "memory": memory}


def apart(steps: int, seed: int, search: str) -> dict[str, float]:
    """The same in a process of its own."""
    command = [sys.executable, __file__, "--one", f"{steps},{seed},{search}"]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    found: dict[str, float] = json.loads(done.stdout)
    return found


def opened(minute: float) -> float:
    """For how many minutes the shop has been open by then."""
    whole, rest = divmod(minute, 1440)
    spells = [HOURS.week[day % 7] for day in range(int(whole) + 1)]
    before = sum(end - begin for day in spells[:-1] for begin, end in day)
    return before + sum(max(0, min(rest, end) - begin) for begin, end in spells[-1])


def row(steps: int, search: str) -> list[str]:
    """One row of the table: all seeds of one size."""
    found = [apart(steps, seed, search) for seed in SEEDS]
    gaps = [100 * (opened(f["finish"]) / opened(f["bound"]) - 1) for f in found]
    calendar = [100 * (f["finish"] / f["bound"] - 1) for f in found]
    seconds = [f["seconds"] for f in found]
    return [
        f"{steps:,}",
        search,
        f"{sum(f['finish'] == f['bound'] for f in found)} of {len(found)}",
        f"{sum(gaps) / len(gaps):.2f} %",
        f"{max(gaps):.2f} %",
        f"{max(calendar):.2f} %",
        f"{sum(seconds) / len(seconds):.2f} s",
        f"{max(seconds):.2f} s",
        f"{max(f['memory'] for f in found):.0f} MiB",
    ]


def main() -> None:
    """Measure, print, write."""
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--sizes", default=",".join(map(str, SEARCHES)), help="how many steps, with commas")
    words.add_argument("--dry", action="store_true", help="print only")
    words.add_argument("--one", help=argparse.SUPPRESS)
    told = words.parse_args()
    if told.one:
        steps, seed, search = told.one.split(",")
        print(json.dumps(one(int(steps), int(seed), search)))
        return
    page = ROOT / "docs" / "benchmarks.md"
    for steps in map(int, told.sizes.split(",")):
        for search in SEARCHES[steps]:
            made = row(steps, search)
            print(" | ".join(made), flush=True)
            if not told.dry:
                renewed(page, "shop.py", "Casting shops made up", TEXT, HEAD, [made])


if __name__ == "__main__":
    main()
