"""What divides a mix into batches: the mixer, the working time, the scale."""

from fractions import Fraction

from castlang.spec.model import Mix, Station
from castlang.spec.quantity import Dimension
from castlang.takeoff.model import StepTakeoff
from castlang.takeoff.scales import Scales, scales_of
from castlang.takeoff.vessels import vessel_of
from castlang.trace.ground import Ground
from castlang.trace.model import Figure, Input

NOUGHT = Fraction(0)


def limits_of_batch(
    ground: Ground,
    mix: Mix,
    stations: list[Station],
    whole: tuple[Figure, Figure | str | None],
    taken: StepTakeoff,
) -> tuple[Input, ...]:
    """What divides a mix into batches. whole: the volume of all, and the time in which all is placed."""
    vessel = vessel_of(stations)
    pairs: list[tuple[str, Figure | str | None]] = [("V", whole[0])]
    for station in stations:
        if station.holds is not None and station.holds.si in (vessel.volume, vessel.mass):
            holds = ground.told(
                f"{station.name} holds", station.holds.si, station.holds.dimension, station.span, "holds"
            )
            pairs.append(("H", holds))
    if mix.works is not None:
        pairs += [("T", whole[1]), ("t", _works(ground, mix, taken)), ("b", _before(ground, mix))]
    scales = weighed_on(ground, stations)
    if scales.greatest is not None and mix.measure != "volume":
        bears = Figure(
            name="the most that a scale bears",
            value=scales.greatest,
            dimension=Dimension.MASS,
            source="the `scale` lines",
        )
        pairs.append(("s", bears))
    return ground.inputs(*pairs)


def _works(ground: Ground, mix: Mix, taken: StepTakeoff) -> Figure | None:
    if mix.works is None:
        return None
    line = ground.measured_line("works", mix.name)
    if line is not None:
        return ground.said(f"works of {mix.name}", line)
    told = ground.told(f"works of {mix.name}", mix.works.least, Dimension.TIME, mix.span, "works")
    working = taken.working
    if working is None or working.seconds == mix.works.least or working.at is None or mix.works_at is None:
        return told
    at = ground.told(f"{mix.name} told at", mix.works_at, Dimension.TEMPERATURE, mix.span, "works")
    return Figure(
        name=f"working time in {taken.owner}.{taken.step}",
        value=working.seconds,
        dimension=Dimension.TIME,
        formula="t 2^((T1 - T2) / D), down to the second",
        inputs=ground.inputs(
            ("t", told),
            ("T1", at),
            ("T2", Figure(name="warmest hour", value=working.at, dimension=Dimension.TEMPERATURE)),
            (
                "D",
                Figure(
                    name="step that halves it",
                    value=working.doubles or NOUGHT,
                    dimension=Dimension.TEMPERATURE_STEP,
                ),
            ),
        ),
        source="I. A. Leenson, Journal of Chemical Education: a rate grows 1.5 to 4 times in 10 K",
    )


def _before(ground: Ground, mix: Mix) -> Figure:
    pairs: list[tuple[str, Figure | str | None]] = []
    for symbol, value, word in (("x", mix.mixing, "mixing"), ("y", mix.carry, "carry")):
        if value is not None:
            pairs.append(
                (symbol, ground.told(f"{word} of {mix.name}", value, Dimension.TIME, mix.span, word))
            )
    return Figure(
        name=f"before any of {mix.name} is placed",
        value=(mix.mixing or NOUGHT) + (mix.carry or NOUGHT),
        dimension=Dimension.TIME,
        formula=" + ".join(symbol for symbol, _ in pairs) or "nothing told",
        inputs=ground.inputs(*pairs),
    )


def weighed_on(ground: Ground, stations: list[Station]) -> Scales:
    """The scales among the stations, else those of the whole shop."""
    units = ground.measured.build.units
    scales = scales_of(stations, units)
    return scales if scales.ranges else scales_of(tuple(ground.measured.stations.values()), units)
