"""Resin is poured no deeper than its data sheet allows."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.materials import acts_of, mix_of
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Acts, StepKind

FINDING = Finding(
    name="lift-unsaid",
    severity=Severity.ERROR,
    says="resin is poured, and its mix does not tell the greatest lift",
    why="a lift that is too deep cannot lose its heat: it cracks, smokes, or burns its mold",
    remedy="add a line such as `lift 10 mm` to the mix, as its data sheet says",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Pours of resin whose mix has no `lift`."""
    for piece, steps in ground.work.items():
        for step in steps:
            mix = mix_of(ground, step)
            poured = step.kind is StepKind.POUR and acts_of(ground, step) is Acts.RESIN
            if poured and mix is not None and mix.lift is None and _place(step.cavity) == piece:
                yield problem_at(
                    FINDING,
                    step,
                    piece,
                    f"{name_of(step)} pours {mix.name}, which does not tell how deep a lift may be",
                    about=(mix.name,),
                )


def _place(cavity: tuple[str, str | None] | None) -> str:
    return cavity[0] if cavity is not None else ""


POURED = (
    CAST
    + """\
    dry       2 days
    pour      glow full of CLEAR into slot takes 10 min by 1
    cure      48 h at 22 degC open
"""
)

RULE = Rule(
    finding=FINDING,
    check=check,
    breaks="""\
mix water-clear "Water-clear resin"
    measure   mass
    part      resin-a  100 parts
    part      resin-b   30 parts
    works     35 min at 22 degC
"""
    + POURED.replace("CLEAR", "water-clear"),
    keeps=POURED.replace("CLEAR", "clear"),
)
