"""A piece is dry before resin."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.drying import wet_under
from castlang.rules.examples import CAST
from castlang.rules.faces import faces_of
from castlang.rules.materials import acts_of
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Acts

FINDING = Finding(
    name="wet-under-resin",
    severity=Severity.ERROR,
    says="resin goes on a piece that nothing let dry",
    why="water in the pores keeps resin from bonding, clouds it and drives bubbles into it",
    remedy="put a `dry` line between the last wet work and the resin",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Resin after wet work on the same piece, with neither `dry` nor a cure in the open between them."""
    for piece, steps in ground.work.items():
        for step in steps:
            if acts_of(ground, step) is not Acts.RESIN or not faces_of(ground, piece, step):
                continue
            wet = wet_under(ground, piece, step)
            if wet:
                yield problem_at(
                    FINDING,
                    step,
                    piece,
                    f"{name_of(step)} puts resin on {piece}, "
                    f"and nothing lets it dry after {name_of(wet[-1])}",
                    related=wet[-1:],
                )


_GLOW = """\
    pour      glow full of clear into slot takes 10 min by 1
    cure      48 h at 22 degC open
"""

RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=CAST + _GLOW,
    keeps=CAST + "    dry       2 days\n" + _GLOW,
)
