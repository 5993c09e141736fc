"""What a step's material does, as far as the build says it: by its `acts` line, or by what it is made of."""

from castlang.rules.model import Ground
from castlang.spec.model import Acts, Mix, Role, Step, StepKind

LAID = frozenset({StepKind.LAYER, StepKind.PRESS, StepKind.POUR})
"""Steps that cast."""

SEALERS = frozenset({Acts.FILM, Acts.PENETRATING})


def mix_of(ground: Ground, step: Step) -> Mix | None:
    """The mix that a step uses, if it is one."""
    return ground.spec.mixes.get(step.material or "")


def acts_of(ground: Ground, step: Step) -> Acts | None:
    """What the material of a step does.

    Unsaid, two things are still known: what a mold's `release` line names is release, and what is poured
    from parts A and B is resin.
    """
    name = step.material or ""
    material = ground.spec.mixes.get(name) or ground.spec.stocks.get(name)
    if step.kind is StepKind.RELEASE:
        return Acts.RELEASE
    if material is None:
        return None
    if material.acts is None and step.kind is StepKind.POUR and two_part(mix_of(ground, step)):
        return Acts.RESIN
    return material.acts


def two_part(mix: Mix | None) -> bool:
    """Whether a mix is made of parts A and B."""
    return mix is not None and any(i.role is Role.PART for i in mix.ingredients)


def sets_with_water(mix: Mix | None) -> bool:
    """Whether a mix is made with cement or another binder, or with water."""
    return mix is not None and (mix.water is not None or any(i.role is Role.BINDER for i in mix.ingredients))


def fibrous(mix: Mix | None) -> bool:
    """Whether there is fiber in a mix."""
    return mix is not None and any(i.role is Role.FIBER for i in mix.ingredients)


def seals(ground: Ground, step: Step) -> bool:
    """Whether a step puts a sealer on."""
    return step.kind is StepKind.PASS and acts_of(ground, step) in SEALERS


def wets(ground: Ground, step: Step) -> bool:
    """Whether a step brings water to what it works on."""
    if step.kind in LAID or step.kind is StepKind.PASS:
        return bool(step.wet) or (
            sets_with_water(mix_of(ground, step)) and acts_of(ground, step) is not Acts.RELEASE
        )
    return step.kind is StepKind.WORK and bool(step.wet)
