"""Grits run from coarse to fine."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.grits import changes
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of, problem_at

FINDING = Finding(
    name="grit-back",
    severity=Severity.ERROR,
    says="a face is ground coarser than it was before, with nothing filled or laid in between",
    why="the coarse grit cuts new scratches, and the work of the finer ones is lost",
    remedy="write the grits from the smallest number to the greatest",
    source="ISO 6344-2:2021 and ISO 6344-3:2021, order of P grades by grain size",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Changes to a smaller number."""
    for change in changes(ground):
        if change.finer < change.coarser:
            yield problem_at(
                FINDING,
                change.step,
                change.piece,
                f"{name_of(change.step)} goes back from grit {change.coarser} to {change.finer}",
                related=() if change.above is None else (change.above,),
            )


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=CAST
    + """\
    pass      hone grit 100, 200, 120 wet on show takes 30 min by 1
""",
    keeps=CAST
    + """\
    pass      hone grit 100, 120, 200 wet on show takes 30 min by 1
""",
)
