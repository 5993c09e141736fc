"""Between two lifts there is a window."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.lift_unsaid import POURED
from castlang.rules.materials import mix_of
from castlang.rules.model import Ground, Rule
from castlang.rules.order import key
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import StepKind

FINDING = Finding(
    name="recoat-unsaid",
    severity=Severity.ERROR,
    says="a pour comes to several lifts, and nothing says when the next one may go on",
    why="too soon the lifts heat as one, too late they do not bond",
    remedy="add a line such as `recoat 8 h to 24 h` to the mix, as its data sheet says",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Pours in several lifts whose mix has no `recoat`."""
    for piece, steps in ground.work.items():
        for step in steps:
            mix, done = mix_of(ground, step), ground.takeoff.steps.get(key(step))
            if step.kind is not StepKind.POUR or mix is None or done is None or mix.recoat is not None:
                continue
            if step.between is None and len(done.parts) > 1 and (step.cavity or ("",))[0] == piece:
                yield problem_at(
                    FINDING,
                    step,
                    piece,
                    f"{name_of(step)} comes to {len(done.parts)} lifts of {mix.name}, "
                    "which does not tell the wait between them",
                    about=(mix.name,),
                )


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks="""\
mix quick "Clear resin"
    measure   mass
    part      resin-a  100 parts
    part      resin-b   30 parts
    works     35 min at 22 degC
    lift      10 mm
"""
    + POURED.replace("CLEAR", "quick"),
    keeps=POURED.replace("CLEAR", "clear"),
)
