"""How fast a fresh face loses water to the air.

    E = 5 ((Tc + 18)^2.5 - r (Ta + 18)^2.5) (V + 4) 1e-6

E kg/(m2 h), Tc temperature of the face and Ta of the air degC, r relative humidity as a share, V speed of the
air km/h, an average 0.5 m above the face. Range: free water on the face, 5 to 40 degC, V to 40 km/h.
Source: P. J. Uno, "Plastic Shrinkage Cracking and Evaporation Formulas", ACI Materials Journal 95-M34, 1998.

Limit: 1.0 kg/(m2 h), ACI 305R, Guide to Hot Weather Concreting; half of it for mixes that do not bleed, as
ACI 305R-91 and 308-92 are quoted for silica fume. Which mixes those are is common practice, no source:
sprayed or pressed, with fiber or polymer, or with less than 0.40 of water to binder.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import sqrt

from castlang.spec.model import Build, Climate, Mix, Role, Spec, Step, StepKind, Stock
from castlang.takeoff.bodies import LAID
from castlang.takeoff.model import Recipe
from castlang.takeoff.unusual import POLYMER
from castlang.takeoff.wording import ICE_POINT

LIMIT = Fraction(1)
LIMIT_WITHOUT_BLEED = LIMIT / 2
BLEEDS_FROM = Fraction(40, 100)
HUMIDITY = Fraction(1, 2)
GRID = 1_000_000
KILOMETRES_AN_HOUR = Fraction(36, 10)


@dataclass(frozen=True, slots=True, kw_only=True)
class Evaporation:
    """What a fresh face loses in the worst air of the build's dates: rate and limit kg/(m2 h), face and air
    K, humidity a share, draft m/s. bleeds: whether the mix has water to lose. warm_from: where the warmth of
    the face comes from, "step", "mix" or "air"."""

    rate: Fraction
    limit: Fraction
    face: Fraction
    air: Fraction
    humidity: Fraction
    draft: Fraction
    bleeds: bool
    warm_from: str

    @property
    def too_fast(self) -> bool:
        """Whether the face dries faster than its mix can follow."""
        return self.rate > self.limit


def evaporation_rate(face: Fraction, air: Fraction, humidity: Fraction, speed: Fraction) -> Fraction:
    """kg/(m2 h) from a face and air in degC, humidity a share, speed of the air km/h; none below nought."""
    surface, ambient = (_to_the_two_and_a_half(t + 18) for t in (face, air))
    rate = 5 * (surface - float(humidity) * ambient) * float(speed + 4) * 1e-6
    return Fraction(max(0, round(rate * GRID)), GRID)


def evaporation_of(spec: Spec, recipes: Mapping[str, Recipe], step: Step) -> Evaporation | None:
    """What the face of a cast step loses before it is covered; None for a step that leaves no wet face.

    The face is as warm as the step keeps it, else as its mix was measured or worked out, else as the air.
    """
    mix, recipe = spec.mixes.get(step.material or ""), recipes.get(step.material or "")
    if mix is None or recipe is None or not leaves_a_wet_face(step, mix):
        return None
    draft = spec.build.draft or Fraction(0)
    warm = step.at or recipe.warmth
    bleeds = not _holds_its_water(step, mix, recipe, spec.stocks)
    found = [
        Evaporation(
            rate=evaporation_rate(face - ICE_POINT, air - ICE_POINT, humidity, draft * KILOMETRES_AN_HOUR),
            limit=LIMIT if bleeds else LIMIT_WITHOUT_BLEED,
            face=face,
            air=air,
            humidity=humidity,
            draft=draft,
            bleeds=bleeds,
            warm_from="step" if step.at is not None else "air" if warm is None else "mix",
        )
        for air, humidity in weathers_of(spec.build)
        for face in (warm or air,)
    ]
    return max(found, key=lambda e: (e.rate, e.air), default=None)


def leaves_a_wet_face(step: Step, mix: Mix) -> bool:
    """Whether a step casts something that sets with water."""
    sets = mix.water is not None or any(i.role is Role.BINDER for i in mix.ingredients)
    return step.kind in (*LAID, StepKind.POUR) and sets


def weathers_of(build: Build) -> tuple[tuple[Fraction, Fraction], ...]:
    """Every air (K) and humidity (a share) that a working day of the build can bring, each pair once."""
    changes = [build.start]
    for line in (*build.air, *build.humidity):
        if line.days is not None:
            changes += [line.days.first, line.days.last + timedelta(days=1)]
    days = sorted(d for d in set(changes) if build.start <= d and (build.due is None or d <= build.due))
    pairs = []
    for day in days:
        air, humidity = _on(build.air, day), _on(build.humidity, day)
        if air is not None:
            pairs.append((air, HUMIDITY if humidity is None else humidity))
    return tuple(dict.fromkeys(pairs))


def _on(lines: Sequence[Climate], day: date) -> Fraction | None:
    dated = [c.value for c in lines if c.days is not None and c.days.first <= day <= c.days.last]
    return next(iter([*dated, *(c.value for c in lines if c.days is None)]), None)


def _holds_its_water(step: Step, mix: Mix, recipe: Recipe, stocks: Mapping[str, Stock]) -> bool:
    """Whether next to no water rises to the face of a mix by itself."""
    stiff = recipe.water_total < BLEEDS_FROM * recipe.binder
    fibrous = any(i.role is Role.FIBER for i in mix.ingredients)
    polymer = any(i.as_solids for i in mix.ingredients) or any(
        line.mass * (stocks.get(line.stock, Stock(name=line.stock)).solids or 0) >= POLYMER * recipe.binder
        for line in recipe.lines
        if line.role == Role.LIQUID
    )
    return stiff or fibrous or polymer or step.method == "sprayed" or step.kind is StepKind.PRESS


def _to_the_two_and_a_half(value: Fraction) -> float:
    base = max(0.0, float(value))
    return base * base * sqrt(base)
