"""A layer is as thick as its mix can be laid."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import SHELL
from castlang.rules.materials import mix_of
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Step, StepKind
from castlang.spec.quantity import Dimension
from castlang.takeoff.wording import length

FINDING = Finding(
    name="layer-thickness",
    severity=Severity.ERROR,
    says="a layer is thinner or thicker than its mix can be laid",
    why="too thin, it dries out or lets what is behind it show; too thick, it sags and cracks",
    remedy="change the thickness, lay it in more layers, or mend the mix's `thick` line",
    source="the mix's `thick` line",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Layers and pressings outside of what their mix tells."""
    for owner in ground.spec.owners():
        for step in owner.sequence:
            if not isinstance(step, Step) or step.kind not in (StepKind.LAYER, StepKind.PRESS):
                continue
            mix = mix_of(ground, step)
            told = step.amount.si if step.amount and step.amount.dimension is Dimension.LENGTH else None
            if mix is None or mix.thick is None or told is None:
                continue
            least, greatest = mix.thick
            if told < least or (greatest is not None and told > greatest):
                units = ground.spec.build.units
                wanted = f"at least {length(least, units)}"
                wanted += "" if greatest is None else f" and at most {length(greatest, units)}"
                yield problem_at(
                    FINDING,
                    step,
                    owner.name,
                    f"{name_of(step)} lays {length(told, units)} of {mix.name}, which is laid {wanted}",
                    about=(mix.name,),
                )


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=SHELL
    + """\
    layer     skin 6 mm of face on show sprayed takes 20 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
""",
    keeps=SHELL
    + """\
    layer     skin 3 mm of face on show sprayed takes 20 min by 2
    wait      20 min to 60 min
    layer     more 3 mm of face on show sprayed takes 20 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
""",
)
