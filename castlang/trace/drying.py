"""What a fresh face loses to the air.

drying.OWNER.STEP

Told in the units of the formula, kg/(m2 h), degC and km/h, so that it can be followed by hand.
"""

from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.model import Step
from castlang.takeoff import wording
from castlang.takeoff.evaporation import KILOMETRES_AN_HOUR, Evaporation, evaporation_of
from castlang.takeoff.wording import ICE_POINT, METRIC
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input
from castlang.trace.steps import called

WARM_FROM = {
    "step": "the step's `at`",
    "mix": "the mix as measured, or worked out from its materials",
    "air": "the air: nothing tells how warm the mix is",
}


def _names(ground: Ground) -> Iterator[str]:
    for step in ground.steps.values():
        if _found(ground, step) is not None:
            yield f"drying.{called(step)}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    if kind != "drying":
        return None
    key, more = ground.step_key(rest)
    step = ground.steps.get(key)
    found = None if step is None or more else _found(ground, step)
    return None if step is None or found is None else _rate(ground, name, step, found)


DRYING = Subject(names=_names, figure=_figure)


def _found(ground: Ground, step: Step) -> Evaporation | None:
    return evaporation_of(ground.measured, ground.takeoff.recipes, step)


def _rate(ground: Ground, name: str, step: Step, found: Evaporation) -> Figure:
    limit = wording.evaporation(found.limit, METRIC)
    why = "" if found.bleeds else ", half of the usual one: the mix hardly bleeds"
    draft, speed = ground.spec.build.draft, f"{wording.figure(found.draft * KILOMETRES_AN_HOUR)} km/h"
    return Figure(
        name=name,
        text=wording.evaporation(found.rate, METRIC),
        says=f"what the fresh face of {called(step)} loses in the worst air told; limit {limit}{why}",
        formula="5 ((Tc + 18)^2.5 - r (Ta + 18)^2.5) (V + 4) 1e-6, none below nought",
        inputs=(
            _input("Tc", "the face", _celsius(found.face), WARM_FROM[found.warm_from]),
            _input("r", "humidity", wording.figure(found.humidity), "the `humidity` lines, or taken as 50 %"),
            _input("Ta", "the air", _celsius(found.air), "the `air` lines"),
            _input("V", "draft", speed, "taken for granted" if draft is None else "the `draft` line"),
        ),
        source="P. J. Uno, ACI Materials Journal 95-M34, 1998; limit: ACI 305R",
    )


def _celsius(kelvin: Fraction) -> str:
    return f"{wording.figure(kelvin - ICE_POINT)} degC"


def _input(symbol: str, name: str, text: str, source: str) -> Input:
    return Input(symbol=symbol, figure=Figure(name=name, text=text, source=source))
