# ruff: noqa: E501
"""Measures the planner on open scheduling benchmarks, and writes its table into docs/benchmarks.md.

    python tests/bench/scheduling.py FOLDER
    python tests/bench/scheduling.py FOLDER --sets j30,j120 --sample 40 --dry

FOLDER holds rcpsp/*.zip, rcpsp_max/*.zip and bestknown/*.csv: the PSPLIB sets (Kolisch & Sprecher, European
Journal of Operational Research 96, 1996), the ProGen/max sets (Kolisch, Schwindt & Sprecher, in Weglarz (ed.),
Project Scheduling, 1999; Franck, Neumann & Schwindt, OR Spektrum 23, 2001) and the best values known.

Every instance is turned into the planner's own model, planned by the code that plans builds, and checked by the
verifier. What the planner may try is counted in plans and in the solver's deterministic units, so that only the
processor time differs from machine to machine.
"""

import argparse
import csv
import random
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from pages import renewed  # noqa: E402  (beside this file)
from projects import instances  # noqa: E402  (beside this file)

from castlang.plan.from_network import plan_within  # noqa: E402
from castlang.plan.model import Network  # noqa: E402
from castlang.plan.searches.search import Effort  # noqa: E402
from castlang.plan.verify import verify  # noqa: E402


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """A set of instances: where it lies, how many plans are tried, the solver's units, and how many instances
    are drawn from it (None: all)."""

    folder: str
    archive: str
    plans: int
    units: float
    drawn: int | None = None

    def effort(self, solver: bool) -> Effort:
        return Effort(
            placings=0,
            fewest=self.plans,
            most=self.plans,
            patience=self.plans,
            units=self.units if solver else 0.0,
        )


SETS = {
    "j30": Series(folder="rcpsp", archive="j30", plans=4_000, units=5.0),
    "j60": Series(folder="rcpsp", archive="j60", plans=16_000, units=2.5, drawn=40),
    "j120": Series(folder="rcpsp", archive="j120", plans=16_000, units=3.0, drawn=40),
    "sm_j10": Series(folder="rcpsp_max", archive="sm_j10", plans=200, units=2.0),
    "sm_j20": Series(folder="rcpsp_max", archive="sm_j20", plans=200, units=2.0, drawn=90),
    "sm_j30": Series(folder="rcpsp_max", archive="sm_j30", plans=200, units=2.0, drawn=60),
    "ubo10": Series(folder="rcpsp_max", archive="testset_ubo10", plans=200, units=2.0),
    "ubo20": Series(folder="rcpsp_max", archive="testset_ubo20", plans=200, units=2.0),
    "ubo50": Series(folder="rcpsp_max", archive="testset_ubo50", plans=100, units=3.0),
    "ubo100": Series(folder="rcpsp_max", archive="testset_ubo100", plans=60, units=8.0),
}


@dataclass(slots=True, kw_only=True)
class Tally:
    """What came of one set."""

    count: int = 0
    whole: int = 0
    proven: int = 0
    best: int = 0
    wanted: int = 0
    unanswered: int = 0
    gaps: list[float] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)

    def row(self, name: str, solver: bool) -> list[str]:
        mean = sum(self.gaps) / len(self.gaps) if self.gaps else 0.0
        return [
            name,
            "with" if solver else "without",
            f"{self.count} of {self.whole}",
            f"{self.proven}",
            f"{self.best} of {self.wanted}",
            f"{100 * mean:.2f} %",
            f"{100 * max(self.gaps, default=0.0):.1f} %",
            f"{self.unanswered}",
            f"{sum(self.seconds) / max(len(self.seconds), 1):.2f} s",
            f"{max(self.seconds, default=0.0):.1f} s",
        ]


HEAD = [
    "set", "solver", "instances", "proven", "at best known", "mean gap", "worst", "no answer", "CPU", "at most",
]  # fmt: skip
TEXT = (
    "PSPLIB (j...) and ProGen/max (sm_, ubo) instances in the planner's own model, planned by the code that "
    "plans builds; every plan passed the verifier. Proven: the plan ends at a bound that was shown, or it was "
    "shown that there is none. Gap: to the best finish known. Processor seconds of one core, each instance; "
    "of sets that are not measured whole, instances drawn from a fixed seed. "
    "Made by `python tests/bench/scheduling.py FOLDER`."
)


def best_known(folder: Path, series: Series) -> dict[str, tuple[str, str]]:
    """Status and best finish of each instance, by its name."""
    for ending in (".ours.csv", ".csv"):
        path = folder / "bestknown" / f"{series.archive}{ending}"
        if path.exists():
            with path.open(encoding="utf-8") as file:
                return {row["instance"]: (row["status"], row["ub"]) for row in csv.DictReader(file)}
    return {}


def sampled(folder: Path, series: Series, sample: int | None) -> tuple[list[tuple[str, Network]], int]:
    """The instances of a set, or a sample drawn from a fixed seed, and how many the set has."""
    whole = list(instances(folder / series.folder / f"{series.archive}.zip"))
    wanted = series.drawn if sample is None else sample
    if wanted is None or wanted >= len(whole):
        return whole, len(whole)
    return random.Random(f"2026-{series.archive}").sample(whole, wanted), len(whole)


def measured(folder: Path, name: str, sample: int | None, solver: bool) -> Tally:
    """Plan every instance of a set."""
    series = SETS[name]
    known = best_known(folder, series)
    drawn, whole = sampled(folder, series, sample)
    tally = Tally(whole=whole)
    for instance, network in drawn:
        tally.count += 1
        start = time.process_time()
        found = plan_within(network, series.effort(solver), {})
        tally.seconds.append(time.process_time() - start)
        status, best = known.get(instance, ("", ""))
        names = {problem.finding.name for problem in found.problems}
        tally.wanted += bool(best)
        if found.value is None:
            shown = bool(names) and "no-plan-found" not in names
            tally.proven += shown
            tally.unanswered += not shown
            if shown and best:
                raise AssertionError(f"{instance} has a plan that ends at {best}, but was told to have none")
            continue
        wrong = verify(found.value)
        if wrong:
            raise AssertionError(f"{instance}: {wrong[0]}")
        if status == "infeasible":
            raise AssertionError(f"{instance} has no plan, but got one")
        tally.proven += found.value.bound == found.value.finish
        if best:
            if found.value.bound > int(best):
                raise AssertionError(f"{instance}: the bound {found.value.bound} is past {best}")
            tally.best += found.value.finish <= int(best)
            tally.gaps.append(found.value.finish / int(best) - 1)
    return tally


def main() -> None:
    """Measure, print, write."""
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("folder", type=Path, help="the folder with the instances")
    words.add_argument("--sets", default=",".join(SETS), help="which sets, with commas between")
    words.add_argument("--sample", type=int, help="only so many instances of each set")
    words.add_argument("--solver", choices=("with", "without", "both"), default="both")
    words.add_argument("--dry", action="store_true", help="print only")
    told = words.parse_args()
    page = ROOT / "docs" / "benchmarks.md"
    for name in told.sets.split(","):
        for solver in (False, True):
            if told.solver in ("both", "with" if solver else "without"):
                row = measured(told.folder, name, told.sample, solver).row(name, solver)
                print(" | ".join(row), flush=True)
                if not told.dry:
                    renewed(page, "scheduling.py", "Open scheduling benchmarks", TEXT, HEAD, [row])


if __name__ == "__main__":
    main()
