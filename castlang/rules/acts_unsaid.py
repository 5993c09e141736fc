"""What is put on a face says what it does."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.ground import blocks_of
from castlang.rules.materials import acts_of
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of
from castlang.spec.model import Acts, Step, StepKind

FINDING = Finding(
    name="acts-unsaid",
    severity=Severity.NOTE,
    says="a material is put on a face, and nothing says what it does there",
    why="sealer, color and filler each have their place in the order, and a name does not tell which it is",
    remedy=f"add a line such as `acts film` to it, with one of {', '.join(Acts)}",
    source="the language's rules",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Every stock or mix of a pass that has no `acts` line, once."""
    told: list[str] = []
    for owner in blocks_of(ground.spec):
        for step in owner.sequence:
            if not isinstance(step, Step) or step.kind is not StepKind.PASS or step.material is None:
                continue
            if step.material not in told and acts_of(ground, step) is None:
                told.append(step.material)
                yield _problem(ground, step, step.material)


def _problem(ground: Ground, step: Step, name: str) -> Problem:
    material = ground.spec.mixes.get(name) or ground.spec.stocks.get(name)
    return Problem(
        finding=FINDING,
        message=f"{name_of(step)} puts {name} on, and nothing says what it does, so its place "
        "in the finishing is not checked",
        span=step.span if material is None else material.span,
        related=((step.span, name_of(step)),),
        about=(name, name_of(step)),
    )


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks="""\
stock gloss "Gloss"
    covers    10 m2/L
"""
    + CAST
    + """\
    pass      shine 1 coat of gloss on show rolled takes 20 min by 1
""",
    keeps="""\
stock gloss "Gloss"
    covers    10 m2/L
    acts      other
"""
    + CAST
    + """\
    pass      shine 1 coat of gloss on show rolled takes 20 min by 1
""",
)
