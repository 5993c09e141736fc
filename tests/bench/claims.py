"""Judges what the planner says of random networks, counts, and writes its table into docs/benchmarks.md.

    python tests/bench/claims.py 10000
    python tests/bench/claims.py 500 --first 10000 --dry

A plan has to pass the verifier and must end no sooner than any plan can; an impossibility has to be confirmed
by a general-purpose solver on the raw constraints. Needs the package ortools.
"""

import argparse
import sys
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from judged_claims import Judged, judged  # noqa: E402  (in tests/)
from pages import renewed  # noqa: E402  (beside this file)
from random_networks import network_of  # noqa: E402  (in tests/)

HEAD = ["the planner says", "solver", "networks", "confirmed", "wrong", "not known to the judge"]
TEXT = (
    "Random networks with crew, stations, molds, windows, holds, hours and days off, each planned and "
    "judged: a plan by the verifier, and by a general-purpose solver that finds none ending before the bound "
    "told; an impossibility by the same solver on the raw constraints. Made by "
    "`python tests/bench/claims.py COUNT`."
)


def rows_of(claims: Counter[tuple[str, bool | None]]) -> list[list[str]]:
    """One row for each kind of claim."""
    rows = []
    whole = sum(claims.values())
    for says in ("plan", "impossible", "undecided"):
        count = [claims[says, right] for right in (True, False, None)]
        share = f" ({100 * sum(count) / max(whole, 1):.1f} %)"
        told = count if says != "undecided" else ["", "", ""]
        rows.append([says, "with", f"{sum(count):,}{share}", *(f"{n:,}" if n != "" else "" for n in told)])
    return rows


def main() -> None:
    """Judge, print, write."""
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("count", type=int, help="how many networks")
    words.add_argument("--first", type=int, default=0, help="the seed of the first")
    words.add_argument("--seconds", type=float, help="stop after so many processor seconds")
    words.add_argument("--dry", action="store_true", help="print only")
    told = words.parse_args()
    claims: Counter[tuple[str, bool | None]] = Counter()
    start = time.process_time()
    for seed in range(told.first, told.first + told.count):
        claim: Judged = judged(network_of(seed))
        claims[claim.says, claim.right] += 1
        if claim.right is False or claim.says == "undecided":
            print(f"seed {seed}: {claim.says} {', '.join(claim.names)}, right: {claim.right}", flush=True)
        if told.seconds is not None and time.process_time() - start > told.seconds:
            break
    rows = rows_of(claims)
    print("\n".join(" | ".join(row) for row in rows))
    if not told.dry:
        renewed(ROOT / "docs" / "benchmarks.md", "claims.py", "Claims judged", TEXT, HEAD, rows)


if __name__ == "__main__":
    main()
