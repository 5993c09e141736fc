"""Batches that serve several pieces cast together, and what of each goes where.

    batches.NAME    NAME.batch-N    ...batch-N.mass    ...batch-N.STOCK    ...batch-N.into.TASK

NAME is that of the step that leads, with its lift or coat and its round.
"""

import re
from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.quantity import Dimension
from castlang.takeoff.model import Batch, Serving, SharedBatches, SharedRun
from castlang.takeoff.shared_batches import stations_of
from castlang.trace.batch_limits import limits_of_batch
from castlang.trace.batches import names_of_batch, of_batch
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure

NOUGHT = Fraction(0)


def _names(ground: Ground) -> Iterator[str]:
    for shared in ground.takeoff.shared:
        yield f"batches.{shared.name}"
        for batch, served in zip(shared.batches, shared.servings, strict=True):
            yield from names_of_batch(batch)
            yield from (f"{batch.name}.into.{shared.runs[one.run].task}" for one in served)


def _figure(ground: Ground, name: str) -> Figure | None:
    for shared in ground.takeoff.shared:
        if name == f"batches.{shared.name}":
            return _number(ground, name, shared)
        cut = re.match(rf"{re.escape(shared.name)}\.batch-(\d+)(?:\.(.*))?$", name)
        if cut is None or not 1 <= int(cut.group(1)) <= len(shared.batches):
            continue
        return _of(ground, name, shared, int(cut.group(1)) - 1, cut.group(2) or "")
    return None


SHARED = Subject(names=_names, figure=_figure)


def _of(ground: Ground, name: str, shared: SharedBatches, index: int, rest: str) -> Figure | None:
    batch, served = shared.batches[index], shared.servings[index]
    if not rest:
        return _volume(ground, name, shared, batch)
    if rest.startswith("into."):
        task = rest.removeprefix("into.")
        one = next((one for one in served if shared.runs[one.run].task == task), None)
        return None if one is None else _into(ground, name, shared, batch, one)
    stations = stations_of(ground.measured, [ground.steps[key] for key in shared.steps])
    return of_batch(ground, name, batch, rest, stations)


def _number(ground: Ground, name: str, shared: SharedBatches) -> Figure:
    mix = ground.measured.mixes[shared.mix]
    stations = stations_of(ground.measured, [ground.steps[key] for key in shared.steps])
    minutes = Figure(
        name=f"time to place all of {shared.name}",
        value=Fraction(sum(run.minutes for run in shared.runs) * 60),
        dimension=Dimension.TIME,
        formula="sum of T",
        inputs=ground.inputs(*(("T", _time(ground, run)) for run in shared.runs)),
        source="they are cast one after another",
    )
    shortest = min(
        (ground.takeoff.steps[key] for key in shared.steps),
        key=lambda taken: taken.working.seconds if taken.working is not None else NOUGHT,
    )
    limit = shared.batches[0].limit
    return Figure(
        name=name,
        value=Fraction(len(shared.batches)),
        word="batches",
        says="batches for all that is cast together"
        + (f"; the {limit} asks for the last of them" if limit else ""),
        formula="the fewest that each keep V / H, T / (t - b) and m / s; 1 where none limits",
        inputs=limits_of_batch(ground, mix, stations, (_whole(ground, shared), minutes), shortest),
        source="arithmetic",
    )


def _whole(ground: Ground, shared: SharedBatches) -> Figure:
    """All that is cast together, with its waste."""
    return Figure(
        name=f"{shared.name}, all that is cast together",
        value=sum((run.volume for run in shared.runs), NOUGHT),
        dimension=Dimension.VOLUME,
        formula="sum of v",
        inputs=ground.inputs(*(("v", _gross(ground, run)) for run in shared.runs)),
        source="a line `batch-with`",
    )


def _gross(ground: Ground, run: SharedRun) -> Figure:
    """One run with its waste; the lifts and coats of a step are equal."""
    step = f"{run.owner}.{run.step}"
    parts = len(ground.takeoff.steps[run.owner, run.step].parts)
    pairs: list[tuple[str, Figure | str | None]] = [("v", f"volume.{step}"), ("w", f"waste.{step}")]
    if parts > 1:
        pairs.append(("p", Figure(name=f"parts of {step}", value=Fraction(parts), source="lifts, coats")))
    return Figure(
        name=f"{run.task} with waste",
        value=run.volume,
        dimension=Dimension.VOLUME,
        formula="v (1 + w) / p" if parts > 1 else "v (1 + w)",
        inputs=ground.inputs(*pairs),
        source="waste enlarges batches",
    )


def _time(ground: Ground, run: SharedRun) -> str:
    return f"minutes.{run.owner}.{run.step}" + (f".{run.suffix}" if run.suffix else "")


def _volume(ground: Ground, name: str, shared: SharedBatches, batch: Batch) -> Figure:
    equal = len({one.volume for one in shared.batches}) == 1
    index = shared.batches.index(batch)
    into = [f"{name}.into.{shared.runs[one.run].task}" for one in shared.servings[index]]
    pairs: list[tuple[str, Figure | str | None]] = [(("x"), task) for task in into]
    if equal:
        pairs = [("V", _whole(ground, shared)), ("n", f"batches.{shared.name}")]
    return Figure(
        name=name,
        value=batch.volume,
        dimension=Dimension.VOLUME,
        says=f"one batch of {batch.mix}, for what is cast together",
        formula="V / n" if equal else "sum of x",
        inputs=ground.inputs(*pairs),
        source="batches are equal in volume where that keeps every limit, else in time",
    )


def _into(ground: Ground, name: str, shared: SharedBatches, batch: Batch, one: Serving) -> Figure:
    """What of a batch goes into one run."""
    run = shared.runs[one.run]
    before = sum((r.volume for r in shared.runs[: one.run]), NOUGHT)
    poured = sum((b.volume for b in shared.batches[: shared.batches.index(batch)]), NOUGHT)
    ends: tuple[tuple[str, Figure | str | None], ...] = (
        ("b", _at("in place before this batch", poured)),
        ("e", _at("in place behind this batch", poured + batch.volume)),
        ("r", _at(f"in place before {run.task}", before)),
        ("v", _gross(ground, run)),
    )
    return Figure(
        name=name,
        value=one.volume,
        dimension=Dimension.VOLUME,
        says=f"what of it goes into {run.task}",
        formula="the lesser of e and r + v, less the greater of b and r",
        inputs=ground.inputs(*ends),
        source="batches go in one after another, run after run",
    )


def _at(name: str, volume: Fraction) -> Figure:
    return Figure(
        name=name, value=volume, dimension=Dimension.VOLUME, source="what was poured before, added up"
    )
