"""What a wait that passes by the shop's warmth was told as, by which rule it goes, and what it comes to."""

from fractions import Fraction

from castlang.plan.model import Ageing, GapEdge
from castlang.plan.warmth.warm_runs import WarmRun, runs_of
from castlang.sheets import amounts, times
from castlang.sheets.dated_text import dated, sentence


def came_to(edge: GapEdge, begin: int, units: str) -> tuple[str, ...]:
    """A line for each wait of a gap that begins at a minute and passes by warmth: `told 24 h at 20 degC; here
    38 h at 9 degC to 18 degC, by Arrhenius, Q 4000 K`."""
    return tuple(_line(run, units) for run in runs_of(edge, begin))


def here(edge: GapEdge, begin: int, units: str) -> tuple[str, ...]:
    """The same in short: `here 38 h at 9 degC to 18 degC`."""
    return tuple(dated(f"here {_here(run, units)}") for run in runs_of(edge, begin))


def _here(run: WarmRun, units: str) -> str:
    low, high = (amounts.temperature(warmth, units) for warmth in (run.coldest, run.warmest))
    warmth = low if low == high else f"{low} to {high}"
    return f"{times.span(run.over - run.begin)} at {warmth}"


def _line(run: WarmRun, units: str) -> str:
    told = f"told {times.span(run.told.least)} at {amounts.temperature(run.ageing.told_at, units)}; here "
    return sentence(told, dated(_here(run, units)), f", by {rule_text(run.ageing, units)}")


def rule_text(ageing: Ageing, units: str) -> str:
    """The rule of a wait with its parameters."""
    match ageing.rule:
        case "nurse-saul":
            return f"Nurse-Saul, datum {amounts.temperature(ageing.constant, units)}"
        case "arrhenius":
            return f"Arrhenius, Q {amounts.brief(ageing.constant, 0)} K"
        case _:
            us = units == amounts.US
            step = amounts.brief(ageing.constant * (Fraction(9, 5) if us else 1), 1)
            return f"the rate rule, twice as fast for each {step} {'degF' if us else 'K'} warmer"
