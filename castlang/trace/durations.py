"""How long a step lasts: told, or quantity over rate.

minutes.OWNER.STEP[.PART]
"""

from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.model import Step
from castlang.spec.quantity import Dimension
from castlang.takeoff.model import StepTakeoff
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure
from castlang.trace.steps import called


def _names(ground: Ground) -> Iterator[str]:
    for (owner, step), taken in ground.takeoff.steps.items():
        for part in taken.parts:
            yield ".".join(word for word in ("minutes", owner, step, part.suffix) if word)


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, named = name.partition(".")
    if kind != "minutes":
        return None
    key, rest = ground.step_key(named)
    taken, step = ground.takeoff.steps.get(key), ground.steps.get(key)
    return None if taken is None or step is None else _minutes(ground, name, step, taken, rest)


DURATIONS = Subject(names=_names, figure=_figure)


def _minutes(ground: Ground, name: str, step: Step, taken: StepTakeoff, part: str) -> Figure | None:
    parts = [p for p in taken.parts if p.suffix == part] if part else list(taken.parts)
    if not parts:
        return None
    total = sum(p.minutes for p in parts)
    each = f" x {len(parts)} parts" if len(parts) > 1 else ""
    if step.takes is not None:
        told = ground.told(f"time of {called(step)}", step.takes, Dimension.TIME, step.span)
        formula, inputs = "t, to whole minutes, rounded up" + each, ground.inputs(("t", told))
    elif step.rate is not None:
        area = step.rate.dimension is Dimension.AREA_RATE
        what = ("A", f"surface.{called(step)}") if area else ("V", f"volume.{called(step)}")
        rate = ground.told(f"rate of {called(step)}", step.rate.si, step.rate.dimension, step.span)
        formula = f"{what[0]} / r, to whole minutes, rounded up" + each
        inputs = ground.inputs(what, ("r", rate))
    else:
        formula, inputs = "nothing told", ()
    return Figure(
        name=name,
        value=Fraction(total * 60),
        dimension=Dimension.TIME,
        says=f"{called(step)}, one copy, the whole gang",
        formula=formula,
        inputs=inputs,
        source="arithmetic",
    )
