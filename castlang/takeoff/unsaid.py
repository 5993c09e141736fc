"""What batching took for granted, listed once for the whole build with the line that would set it."""

from collections.abc import Mapping

from castlang.problems.model import Assumption
from castlang.spec.model import Spec, Step, StepKind
from castlang.takeoff import sources
from castlang.takeoff.bodies import LAID
from castlang.takeoff.evaporation import leaves_a_wet_face
from castlang.takeoff.model import Recipe, StepTakeoff
from castlang.takeoff.scales import shop_jug, shop_scale
from castlang.takeoff.vessels import Vessel, vessel_of
from castlang.takeoff.wording import minutes, temperature
from castlang.takeoff.working_times import halving_step


def unsaid(
    spec: Spec,
    steps: tuple[Step, ...],
    taken: Mapping[tuple[str, str], StepTakeoff],
    recipes: Mapping[str, Recipe],
) -> tuple[Assumption, ...]:
    """The scale, the mixers, the warmth of faces and the working times that no line told; nothing where
    nothing is mixed."""
    mixed = [
        s
        for s in steps
        if (done := taken.get((s.owner, s.name))) and (done.shares or any(p.batches for p in done.parts))
    ]
    found: list[Assumption] = []
    weighed = any(spec.mixes[s.material or ""].measure != "volume" for s in mixed)
    if weighed and all(station.scale is None for station in spec.stations.values()):
        found.append(shop_scale(spec.build.units))
    if any(spec.mixes[s.material or ""].measure == "volume" for s in mixed):
        found.append(shop_jug(spec.build.units))
    loose = [f"{s.owner}.{s.name}" for s in mixed if _needs_mixer(spec, s)]
    if loose:
        found.append(
            Assumption(
                subject="mixers",
                says=f"only the working time divides the batches of {', '.join(loose)}",
                source="no mixer told",
                line="using MIXER, on the step",
            )
        )
    wet = [s for s in mixed if s.at is None and leaves_a_wet_face(s, spec.mixes[s.material or ""])]
    as_air = dict.fromkeys(s.material or "" for s in wet if recipes[s.material or ""].warmth is None)
    if as_air:
        found.append(
            Assumption(
                subject="fresh faces",
                says=f"as warm as the air, when it is asked how fast they dry out: {', '.join(as_air)}",
                source="no warmth measured",
                line='measured warmth of MIX N degC "how"',
            )
        )
    used = {s.material for s in mixed}
    told = [
        f"{mix.name} {minutes(mix.works.least)} at {temperature(mix.works_at, spec.build.units)}"
        for mix in spec.mixes.values()
        if mix.name in used
        and mix.works is not None
        and mix.works_at is not None
        and halving_step(mix) is None
    ]
    if told:
        found.append(
            Assumption(
                subject="working times",
                says=f"as told, whatever the shop's temperature: {', '.join(told)}",
                source="what sets by water follows no one rule of temperature",
                line='measured works of MIX N min "how"',
            )
        )
    if any(done.mass is not None for done in taken.values()):
        found.append(WEIGHTS)
    return tuple(found)


WEIGHTS = Assumption(
    subject="weights",
    says="lifts count nothing lost by drying; coats, fill and washes count nowhere",
    source=sources.COMMON,
    line='measured mass of PIECE N kg "how"',
)


def _needs_mixer(spec: Spec, step: Step) -> bool:
    """Whether a mixer is wanted and none told: resin in two parts is stirred in its cup."""
    stations = [spec.stations[name] for name in step.using if name in spec.stations]
    cast = step.kind in (*LAID, StepKind.POUR) and spec.mixes[step.material or ""].measure is None
    return cast and vessel_of(stations) == Vessel()
