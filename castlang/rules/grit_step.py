"""No grit is skipped that the next one cannot make up for."""

from collections.abc import Iterator
from fractions import Fraction

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.grits import P_GRADES, Change, changes
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of, problem_at
from castlang.takeoff.wording import figure

USUAL = Fraction(22, 10)
MOST = Fraction(25, 10)
"""How many times finer the next grit is, usually and at most: common practice, no source."""

FINDING = Finding(
    name="grit-step",
    severity=Severity.WARNING,
    says="the next grit is more than 2.5 times finer than the one before",
    why="the finer grit cannot cut out the scratches of the coarser one, and they show when it shines",
    remedy="put a grit in between; usual is a step of 2.2 at most, the next grade or one skipped",
    source="grain sizes: ISO 6344-2:2021 and ISO 6344-3:2021; the limit: common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Changes to a grain that is too much finer."""
    for change in changes(ground):
        if change.ratio > MOST:
            yield problem_at(
                FINDING,
                change.step,
                change.piece,
                f"{name_of(change.step)} goes from {_read(change)}, {figure(change.ratio)} times finer; "
                f"wanted is at most {figure(MOST)}",
                related=() if change.above is None else (change.above,),
            )


def _read(change: Change) -> str:
    """The two grits, and the scale that they were read on."""
    if change.p_grades:
        sizes = [figure(P_GRADES[grit]) for grit in (change.coarser, change.finer)]
        return f"grit P{change.coarser} ({sizes[0]} um) to P{change.finer} ({sizes[1]} um)"
    return f"grit {change.coarser} to {change.finer}, read as mesh"


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=CAST
    + """\
    pass      hone grit 60, 220 wet on show takes 30 min by 1
""",
    keeps=CAST
    + """\
    pass      hone grit 60, 120, 220 wet on show takes 30 min by 1
""",
)
