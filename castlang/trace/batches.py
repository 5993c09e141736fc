"""Batches and their weigh-outs.

    batches.OWNER.STEP[.PART]    OWNER.STEP[.PART].batch-N    ...batch-N.mass
    ...batch-N.STOCK    ...batch-N.STOCK.so-far

A copy's number in a name is left out: the batches of all copies are alike.
"""

import re
from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.model import Mix, Station, Step
from castlang.spec.quantity import Dimension
from castlang.takeoff.model import Batch, StepPart, StepTakeoff, WeighLine
from castlang.trace.batch_limits import limits_of_batch, weighed_on
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input
from castlang.trace.steps import called

NOUGHT, ONE = Fraction(0), Fraction(1)


def _names(ground: Ground) -> Iterator[str]:
    for key, taken in ground.takeoff.steps.items():
        for part in taken.parts:
            if not part.batches:
                continue
            yield ".".join(word for word in ("batches", *key, part.suffix) if word)
            for batch in part.batches:
                yield from names_of_batch(batch)


def _figure(ground: Ground, name: str) -> Figure | None:
    if name.startswith("batches."):
        return _number(ground, name)
    found = _found(ground, name)
    if found is None:
        return None
    taken, part, batch, rest = found
    step = ground.steps[taken.owner, taken.step]
    if not rest:
        return _volume(ground, name, step, taken, part, batch)
    stations = [ground.measured.stations[s] for s in step.using if s in ground.measured.stations]
    return of_batch(ground, name, batch, rest, stations)


BATCHES = Subject(names=_names, figure=_figure)


def _found(ground: Ground, name: str) -> tuple[StepTakeoff, StepPart, Batch, str] | None:
    """The batch that a name begins with, and what stands behind it."""
    cut = re.match(r"(.*?\.batch-\d+)(?:\.(.*))?$", name)
    if cut is None:
        return None
    words = cut.group(1).split(".")
    if len(words) > 2 and re.fullmatch(r"m?\d+", words[1]):  # stool.3.body.batch-1
        words = [words[0], *words[2:]]
    whole = ".".join(words)
    for taken in ground.takeoff.steps.values():
        for part in taken.parts:
            for batch in part.batches:
                if batch.name == whole:
                    return taken, part, batch, cut.group(2) or ""
    return None


def names_of_batch(batch: Batch) -> Iterator[str]:
    """What can be asked of one batch."""
    yield batch.name
    yield f"{batch.name}.mass"
    for line in batch.lines:
        yield f"{batch.name}.{line.stock}"
        yield f"{batch.name}.{line.stock}.so-far"


def of_batch(ground: Ground, name: str, batch: Batch, rest: str, stations: list[Station]) -> Figure | None:
    """What stands behind the name of a batch: its mass, or a line of it. stations: what it is mixed and
    weighed on."""
    if rest == "mass":
        return _mass(ground, name, batch)
    stock, _, more = rest.partition(".")
    line = next((line for line in batch.lines if line.stock == stock), None)
    if line is None or more not in ("", "so-far", "exact"):
        return None
    if more == "so-far":
        return _so_far(ground, name, batch, line)
    if more == "exact":
        return _exact(ground, name, batch, line)
    return _shown(ground, name, stations, batch, line)


# ---------------------------------------------------------------- how many, and how large


def _number(ground: Ground, name: str) -> Figure | None:
    key, suffix = ground.step_key(name.removeprefix("batches."))
    taken = ground.takeoff.steps.get(key)
    if taken is None:
        return None
    part = next((p for p in taken.parts if p.suffix == suffix and p.batches), None)
    if part is None:
        return None
    step = ground.steps[taken.owner, taken.step]
    mix = ground.measured.mixes[part.batches[0].mix]
    limits = _limits(ground, step, mix, part, taken)
    limit = part.batches[0].limit
    return Figure(
        name=name,
        value=Fraction(len(part.batches)),
        word="batches",
        says=f"equal batches of {called(step)}"
        + (f"; the {limit} asks for the last of them" if limit else ""),
        formula="the greatest of V / H, T / (t - b) and m / s, rounded up; 1 where none limits",
        inputs=limits,
        source="arithmetic",
    )


def _limits(ground: Ground, step: Step, mix: Mix, part: StepPart, taken: StepTakeoff) -> tuple[Input, ...]:
    stations = [ground.measured.stations[s] for s in step.using if s in ground.measured.stations]
    name = f"minutes.{called(step)}" + (f".{part.suffix}" if part.suffix else "")
    return limits_of_batch(ground, mix, stations, (_gross(ground, step, part, taken), name), taken)


def _gross(ground: Ground, step: Step, part: StepPart, taken: StepTakeoff) -> Figure:
    """All of one part (coat, lift) with its waste; the parts of a step are equal."""
    parts = len(taken.parts)
    pairs: list[tuple[str, Figure | str | None]] = [
        ("v", f"volume.{called(step)}"),
        ("w", f"waste.{called(step)}"),
    ]
    formula = "v (1 + w)"
    if parts > 1:
        pairs.append(
            ("p", Figure(name=f"parts of {called(step)}", value=Fraction(parts), source="lifts, coats"))
        )
        formula = "v (1 + w) / p"
    return Figure(
        name=f"{called(step)}{'.' if part.suffix else ''}{part.suffix} with waste",
        value=sum((batch.volume for batch in part.batches), NOUGHT),
        dimension=Dimension.VOLUME,
        formula=formula,
        inputs=ground.inputs(*pairs),
        source="waste enlarges batches",
    )


def _volume(
    ground: Ground, name: str, step: Step, taken: StepTakeoff, part: StepPart, batch: Batch
) -> Figure:
    count = ".".join(word for word in ("batches", step.owner, step.name, part.suffix) if word)
    inputs = ground.inputs(("V", _gross(ground, step, part, taken)), ("n", count))
    return Figure(
        name=name,
        value=batch.volume,
        dimension=Dimension.VOLUME,
        says=f"one batch of {batch.mix}",
        formula="V / n",
        inputs=inputs,
        source="batches of a step are equal",
    )


def _mass(ground: Ground, name: str, batch: Batch) -> Figure:
    return Figure(
        name=name,
        value=batch.mass,
        dimension=Dimension.MASS,
        says=f"one batch of {batch.mix}",
        formula="V rho",
        inputs=ground.inputs(("V", batch.name), ("rho", f"density.{batch.mix}")),
        source="arithmetic",
    )


# ---------------------------------------------------------------- its lines


def _exact(ground: Ground, name: str, batch: Batch, line: WeighLine) -> Figure:
    inputs = ground.inputs(("V", batch.name), ("c", f"mix.{batch.mix}.{line.stock}"))
    return Figure(
        name=name,
        value=line.exact,
        dimension=Dimension.VOLUME if batch.by_volume else Dimension.MASS,
        says=f"{line.stock} in one batch, before the scale's rounding",
        formula="V c",
        inputs=inputs,
        source="arithmetic",
    )


def _shown(ground: Ground, name: str, stations: list[Station], batch: Batch, line: WeighLine) -> Figure:
    """As the scale or jug shows it."""
    scales = weighed_on(ground, stations)
    dimension = Dimension.VOLUME if batch.by_volume else Dimension.MASS
    resolution = scales.jug_step(line.exact) if batch.by_volume else scales.step(line.exact)
    told = bool(scales.ranges) and not batch.by_volume
    shows = Figure(
        name="what the jug shows" if batch.by_volume else "what the scale shows",
        value=resolution,
        dimension=dimension,
        source="the `scale` lines" if told else "the shop's default, listed on the cover",
    )
    exact = _exact(ground, f"{batch.name}.{line.stock}.exact", batch, line)
    return Figure(
        name=name,
        value=line.shown,
        dimension=dimension,
        says=f"{line.stock} in one batch, on the scale",
        formula="x, to the nearest s, half of it up",
        inputs=ground.inputs(("x", exact), ("s", shows)),
        source="the step of the scale",
    )


def _so_far(ground: Ground, name: str, batch: Batch, line: WeighLine) -> Figure:
    before = batch.lines[: batch.lines.index(line) + 1]
    return Figure(
        name=name,
        value=line.running,
        dimension=Dimension.VOLUME if batch.by_volume else Dimension.MASS,
        says="the total on the scale when it is in",
        formula="sum of m, in the order of addition",
        inputs=ground.inputs(*(("m", f"{batch.name}.{one.stock}") for one in before)),
        source="the mix's `order`, else the order of its lines",
    )
