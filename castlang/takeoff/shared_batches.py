"""Batches that serve several pieces cast together: as few and as equal as their limits allow.

    batch k of n serves what lies from (k - 1) V / n to k V / n of all that is cast, run after run

V m3 of all runs of a round, with waste. In a run of T s and v m3 that part of a batch of which x m3 go there
is placed in T x / v. No batch is more than the mixer and the scale take, or placed later than its working
time, less mixing and carrying; of several, none meets an edge that has dried. Runs that are placed at
different speeds may want batches that are equal in time, or filled one after another to their limits, where
equal volumes would be one batch more.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil

from castlang.problems.model import Outcome
from castlang.spec.model import Spec, Station, Step
from castlang.takeoff.batches import Portioned, batch_of
from castlang.takeoff.divisions import (
    MOST,
    Fill,
    Limits,
    edge_dries,
    limits_of,
    too_many,
    too_short,
)
from castlang.takeoff.model import Batch, Recipe, Serving, SharedBatches, SharedRun, StepTakeoff
from castlang.takeoff.said import Said
from castlang.takeoff.scales import Scales, scales_of
from castlang.takeoff.sharing import Key, rounds_of, unlike
from castlang.takeoff.vessels import vessel_of
from castlang.takeoff.working_times import as_worked

NOUGHT, ONE = Fraction(0), Fraction(1)
Cuts = tuple[Fraction, ...]
"""Where one batch ends and the next begins, m3 of all that is cast; the last is the whole."""


def shared_batches(
    spec: Spec,
    groups: Sequence[Sequence[Step]],
    taken: Mapping[Key, StepTakeoff],
    recipes: Mapping[str, Recipe],
) -> Outcome[tuple[SharedBatches, ...]]:
    """The batches of every group, round by round, and lift by lift.

    Findings: steps that cannot share, and those of the batches of a single step.
    """
    said = Said()
    found: list[SharedBatches] = []
    for group in groups:
        problem = unlike(group, taken)
        if problem is not None:
            said.found(problem)
            continue
        mix = spec.mixes.get(group[0].material or "")
        if mix is None or mix.name not in recipes or any(_key(s) not in taken for s in group):
            continue  # what is wrong with the mix or a step was said with it
        made = said.heard(_group(spec, group, taken, recipes[mix.name]))
        found += () if made is None else made
    return said.outcome(tuple(found))


def _key(step: Step) -> Key:
    return step.owner, step.name


def _group(
    spec: Spec, group: Sequence[Step], taken: Mapping[Key, StepTakeoff], recipe: Recipe
) -> Outcome[tuple[SharedBatches, ...]]:
    said = Said()
    rounds = rounds_of(spec, group)
    found = []
    for number, members in enumerate(rounds, 1):
        for index, part in enumerate(taken[_key(group[0])].parts):
            words = (*_key(group[0]), part.suffix, f"round-{number}" if len(rounds) > 1 else "")
            name = ".".join(word for word in words if word)
            runs = tuple(_run(step, copy, taken[_key(step)], index) for step, copy in members)
            made = said.heard(_batched(spec, group, taken, recipe, name, runs))
            if made is not None:
                found.append(made)
    return said.outcome(tuple(found))


def _run(step: Step, copy: str, taken: StepTakeoff, index: int) -> SharedRun:
    """Coats and lifts of a step are equal."""
    part = taken.parts[index]
    return SharedRun(
        owner=step.owner,
        copy=copy,
        step=step.name,
        suffix=part.suffix,
        minutes=part.minutes,
        volume=(taken.volume or NOUGHT) * (ONE + taken.waste) / len(taken.parts),
    )


def _batched(
    spec: Spec,
    group: Sequence[Step],
    taken: Mapping[Key, StepTakeoff],
    recipe: Recipe,
    name: str,
    runs: tuple[SharedRun, ...],
) -> Outcome[SharedBatches]:
    said = Said()
    first = taken[_key(group[0])]
    times = [w.seconds for step in group if (w := taken[_key(step)].working) is not None]
    shortest = None if first.working is None else replace(first.working, seconds=min(times))
    mix = as_worked(spec.mixes[recipe.mix], shortest)
    stations = stations_of(spec, group)
    vessel, scales = vessel_of(stations), shared_scales(spec, stations)
    volume = sum((run.volume for run in runs), NOUGHT)
    fill = Fill(
        name=name,
        volume=volume,
        minutes=sum(run.minutes for run in runs),
        span=group[0].span,
        units=spec.build.units,
    )
    if volume <= 0:
        return said.outcome(None)
    limits = limits_of(mix, recipe, vessel, scales)
    if limits.placing is not None and limits.placing <= 0:
        said.found(too_short(mix, fill))
        return said.outcome(None)
    cuts = cuts_of(runs, limits)
    if len(cuts) > 1 and limits.edge is not None:
        if limits.edge <= 0:
            said.found(edge_dries(mix, fill))
            return said.outcome(None)
        limits = replace(limits, placing=min(limits.edge, limits.placing or limits.edge))
        cuts = cuts_of(runs, limits)
    if len(cuts) > MOST:
        said.found(too_many(mix, fill, len(cuts)))
        return said.outcome(None)
    servings = tuple(servings_of(runs, cuts))
    limit = _limit(runs, limits, len(cuts), mix.wet_edge is not None)
    batches: list[Batch] = []
    for number, serving in enumerate(servings, 1):
        size = sum((one.volume for one in serving), NOUGHT)
        placing = sum((one.end - one.begin for one in serving), NOUGHT)
        made = said.heard(batch_of(mix, recipe, fill, vessel, scales, Portioned(size, placing, limit)))
        if made is not None:
            batches.append(replace(made, name=f"{name}.batch-{number}"))
    return said.outcome(
        SharedBatches(
            name=name,
            mix=mix.name,
            steps=tuple(_key(step) for step in group),
            runs=runs,
            batches=tuple(batches),
            servings=servings,
            placing=limits.placing,
        )
    )


def stations_of(spec: Spec, group: Sequence[Step]) -> list[Station]:
    """Everything that the steps of a group are done with."""
    names = dict.fromkeys(name for step in group for name in step.using)
    return [spec.stations[name] for name in names if name in spec.stations]


def shared_scales(spec: Spec, stations: Sequence[Station]) -> Scales:
    """The scales of those stations, else the shop's."""
    scales = scales_of(stations, spec.build.units)
    return scales if scales.ranges else scales_of(tuple(spec.stations.values()), spec.build.units)


# ---------------------------------------------------------------- where one batch ends


def cuts_of(runs: Sequence[SharedRun], limits: Limits) -> Cuts:
    """The fewest batches within `limits`, of equal volume where that keeps them, else of equal time, else
    each as large as it may be."""
    most = min((amount for amount, _ in limits.amounts), default=None)
    fullest = _filled(runs, most, limits.placing)
    number = len(fullest)
    volume = sum((run.volume for run in runs), NOUGHT)
    time = sum((_seconds(run) for run in runs), NOUGHT)
    equal = tuple(volume * k / number for k in range(1, number + 1))
    level = tuple(_volume_at(runs, time * k / number) for k in range(1, number + 1)) if time else equal
    return next((cuts for cuts in (equal, level) if _kept(runs, cuts, most, limits.placing)), fullest)


def _seconds(run: SharedRun) -> Fraction:
    return Fraction(run.minutes * 60)


def _filled(runs: Sequence[SharedRun], most: Fraction | None, placing: Fraction | None) -> Cuts:
    """Each batch as large as it may be, one after another; up to one more than anybody mixes."""
    volume = sum((run.volume for run in runs), NOUGHT)
    cuts: list[Fraction] = []
    at = NOUGHT
    while at < volume and len(cuts) <= MOST:
        ends = [volume]
        if most is not None:
            ends.append(at + most)
        if placing is not None:
            ends.append(_volume_at(runs, _time_at(runs, at) + placing))
        at = min(ends)
        cuts.append(at)
    return tuple(cuts)


def _time_at(runs: Sequence[SharedRun], volume: Fraction) -> Fraction:
    """s of placing after which so many m3 of all runs are in place."""
    time = NOUGHT
    for run in runs:
        if volume <= 0:
            break
        time += _seconds(run) * min(ONE, volume / run.volume) if run.volume else _seconds(run)
        volume -= run.volume
    return time


def _volume_at(runs: Sequence[SharedRun], time: Fraction) -> Fraction:
    """m3 of all runs that are in place after so many s of placing."""
    volume = NOUGHT
    for run in runs:
        seconds = _seconds(run)
        if time < 0:
            break
        volume += run.volume * (min(ONE, time / seconds) if seconds else ONE)
        time -= seconds
    return volume


def _kept(runs: Sequence[SharedRun], cuts: Cuts, most: Fraction | None, placing: Fraction | None) -> bool:
    batches = list(servings_of(runs, cuts))
    sizes = [sum((one.volume for one in batch), NOUGHT) for batch in batches]
    times = [sum((one.end - one.begin for one in batch), NOUGHT) for batch in batches]
    return (most is None or max(sizes) <= most) and (placing is None or max(times) <= placing)


def servings_of(runs: Sequence[SharedRun], cuts: Cuts) -> Iterator[tuple[Serving, ...]]:
    """What each batch puts into which run."""
    begin = NOUGHT
    for end in cuts:
        served, low = [], NOUGHT
        for index, run in enumerate(runs):
            first, last = max(begin, low), min(end, low + run.volume)
            if first < last:
                served.append(
                    Serving(
                        run=index,
                        volume=last - first,
                        begin=_seconds(run) * (first - low) / run.volume,
                        end=_seconds(run) * (last - low) / run.volume,
                    )
                )
            low += run.volume
        yield tuple(served)
        begin = end


def _limit(runs: Sequence[SharedRun], limits: Limits, number: int, edge: bool) -> str:
    """What no batch fewer would keep."""
    if number == 1:
        return ""
    volume = sum((run.volume for run in runs), NOUGHT)
    for most, word in limits.amounts:
        if ceil(volume / most) == number:
            return word
    return "wet edge" if edge and limits.placing == limits.edge else "working time"
