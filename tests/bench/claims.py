"""Judges what the planner says of random networks and of random builds, counts, and writes its tables into
docs/benchmarks.md.

    python tests/bench/claims.py 10000
    python tests/bench/claims.py 5000 --from 5000 --kind builds --log second.jsonl
    python tests/bench/claims.py --merge first.jsonl second.jsonl

A plan has to pass the verifier and must end no sooner than any plan can; an impossibility has to be
confirmed by a general-purpose solver on the raw constraints; the network of a build has to ask what the
text asks. A log keeps each seed's answer, so that a run that was broken off goes on where it stood. Needs
the package ortools.
"""

import argparse
import json
import sys
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from judged_claims import judged_build, judged_network  # noqa: E402  (in tests/)
from pages import renewed  # noqa: E402  (beside this file)

JUDGES = {"networks": judged_network, "builds": judged_build}
Answers = dict[tuple[str, int], dict[str, object]]
"""By kind and seed: what was said, the findings, whether it is right, and the processor seconds."""

HEAD = ["the planner says", "number", "proven the soonest", "confirmed", "wrong", "not known to the judge"]
TITLES = {"networks": "Claims about random networks judged", "builds": "Claims about random builds judged"}
TEXTS = {
    "networks": (
        "Random networks with crew, stations, molds, windows, holds, hours and days off, each planned "
        "and judged: a plan by the verifier, and by a general-purpose solver that finds none ending "
        "before the bound told; an impossibility by the same solver on the raw constraints."
    ),
    "builds": (
        "Random builds as text, with few people, few molds, short windows, dates and days off. The "
        "network of each is held against what its lines ask, worked out apart from the compiler; what is "
        "then said of it is judged as above, waits that pass by warmth included."
    ),
}
MADE = "Made by `python tests/bench/claims.py COUNT`."


def judge(kind: str, seeds: range, log: Path | None, seconds: float | None) -> Answers:
    """The answers of all seeds; those in the log are not asked for again."""
    answers = {} if log is None or not log.exists() else read(log)
    start = time.process_time()
    for seed in seeds:
        if (kind, seed) in answers:
            continue
        begun = time.process_time()
        claim = JUDGES[kind](seed)
        answer: dict[str, object] = {
            "kind": kind,
            "seed": seed,
            "says": claim.says,
            "names": claim.names,
            "proven": claim.proven,
            "right": claim.right,
            "wrong": claim.wrong,
            "seconds": round(time.process_time() - begun, 3),
        }
        answers[kind, seed] = answer
        if log is not None:
            with log.open("a") as file:
                file.write(json.dumps(answer) + "\n")
        if claim.right is not True:
            print(f"{kind} {seed}: {claim.says} {', '.join(claim.names)} {claim.wrong}".rstrip(), flush=True)
        if seconds is not None and time.process_time() - start > seconds:
            break
    return answers


def read(log: Path) -> Answers:
    """The answers of a log."""
    rows = [json.loads(line) for line in log.read_text().splitlines()]
    return {(row["kind"], row["seed"]): row for row in rows}


def rows_of(answers: Answers, kind: str) -> list[list[str]]:
    """One row for each kind of claim."""
    own = [answer for (of, _), answer in sorted(answers.items()) if of == kind]
    said = Counter(str(answer["says"]) for answer in own)
    rows = []
    for says in (
        "plan",
        "impossible",
        "undecided",
        *sorted(said.keys() - {"plan", "impossible", "undecided"}),
    ):
        group = [answer for answer in own if answer["says"] == says]
        share = f"{len(group):,} ({100 * len(group) / max(len(own), 1):.1f} %)"
        proven = f"{sum(bool(answer['proven']) for answer in group):,}" if says == "plan" else ""
        rights = [sum(answer["right"] is right for answer in group) for right in (True, False, None)]
        claimed = says in ("plan", "impossible", "misread")
        rows.append([says, share, proven, *(f"{n:,}" if claimed else "" for n in rights)])
    return rows


def main() -> None:
    """Judge, print, write."""
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("count", type=int, nargs="?", default=0, help="how many of each kind")
    words.add_argument("--from", dest="first", type=int, default=0, help="the seed of the first")
    words.add_argument("--kind", choices=[*JUDGES, "both"], default="both")
    words.add_argument("--log", type=Path, help="keep the answers here, and go on from those that it holds")
    words.add_argument("--merge", type=Path, nargs="+", default=[], help="logs to count as well")
    words.add_argument("--seconds", type=float, help="stop each kind after so many processor seconds")
    words.add_argument("--dry", action="store_true", help="print only")
    told = words.parse_args()
    answers: Answers = {}
    for log in told.merge:
        answers |= read(log)
    for kind in JUDGES if told.kind == "both" else (told.kind,):
        if told.count:
            seeds = range(told.first, told.first + told.count)
            answers |= judge(kind, seeds, told.log, told.seconds)
    for kind in JUDGES:
        own = [float(str(a["seconds"])) for (of, _), a in answers.items() if of == kind]
        if not own:
            continue
        rows = rows_of(answers, kind)
        print(f"{TITLES[kind]}: {len(own):,} in {sum(own):,.0f} s, the slowest {max(own):.1f} s")
        print("\n".join(" | ".join(row) for row in rows))
        if not told.dry:
            each = f"{len(own):,} of them, {sum(own) / len(own):.2f} processor seconds each."
            text = f"{TEXTS[kind]} {each} {MADE}"
            renewed(ROOT / "docs" / "benchmarks.md", f"claims.py {kind}", TITLES[kind], text, HEAD, rows)


if __name__ == "__main__":
    main()
