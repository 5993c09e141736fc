"""What goes into one kind of bucket: the table that the scale is read by."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from castlang.sheets import amounts
from castlang.sheets.basis import Basis, called, volume_text
from castlang.sheets.model import Align, Column, Prose, Row, Table
from castlang.sheets.scale import scale_readings, scale_unit
from castlang.takeoff.model import Batch

TICK_BOX = "\N{WHITE SQUARE}"  # printed, not a box of the form: many fit beside one another


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Batches with the same lines: `labels` behind the step's name ("lift-2.batch-1")."""

    batch: Batch
    labels: tuple[str, ...]


def alike_of(batches: Iterable[Batch], step: str) -> tuple[Alike, ...]:
    """The batches of `step`, those with the same lines together, in order of the first."""
    groups: dict[tuple[object, ...], list[Batch]] = {}
    for batch in batches:
        lines = tuple((line.stock, line.shown) for line in batch.lines)
        groups.setdefault((batch.mix, batch.by_volume, lines), []).append(batch)
    return tuple(
        Alike(batch=same[0], labels=tuple(batch.name.removeprefix(f"{step}.") for batch in same))
        for same in groups.values()
    )


def boxes_of(batch: Batch) -> str:
    """A box to tick for each line of a batch."""
    return "  ".join(f"{TICK_BOX}{number}" for number in range(1, len(batch.lines) + 1))


def weigh_out(basis: Basis, group: Alike, *, single: bool, alone: bool) -> Table:
    """The weigh-out of one kind of batch. `single`: one bucket in all, ticked here. `alone`: no other kind of
    batch on the sheet."""
    batch, units = group.batch, basis.units
    unit = unit_of(batch, units)
    columns = (
        *(() if alone else (Column(key="batches", title="batch", share=1.6),)),
        Column(key="add", title="add", align=Align.RIGHT, share=0.5),
        Column(key="material", title="material", share=3),
        Column(key="weigh", title="measure" if batch.by_volume else "weigh", align=Align.RIGHT, share=1.2),
        Column(key="running_total", title="total so far", align=Align.RIGHT, share=1.2),
        Column(key="unit", title="unit", share=0.8),
        Column(key="lot", title="lot number", share=1.5, blank=True),
        *((Column(key="weighed", title="in", share=0.6, blank=True),) if single else ()),
    )
    rows = [
        Row(
            cells=(
                *(() if alone else (spread(group.labels),)),
                *told,
                unit,
                "",
                *(("",) if single else ()),
            ),
            trace=f"{batch.name}.{line.stock}",
        )
        for line, told in zip(batch.lines, weighed(basis, batch, unit), strict=True)
    ]
    volume = volume_text(basis.spec, batch.mix, batch.volume, units)
    size = f"{volume}, {amounts.mass(batch.mass, units)}{_rounding(basis, batch)}"
    return Table(
        key="weigh-outs", title=f"{_labels(group.labels)}: {size}", columns=columns, rows=tuple(rows)
    )


def weighed_apart(basis: Basis, batch: Batch) -> tuple[Prose, ...]:
    """Which lines are weighed each by itself, since the scale does not carry the bucket as far as that."""
    numbers: dict[Fraction, list[str]] = {}
    for number, line in enumerate(batch.lines, start=1):
        if line.carries is not None and line.apart:
            numbers.setdefault(line.carries, []).append(str(number))
    if not numbers:
        return ()
    told = [
        f"Weigh line{'s' if len(these) > 1 else ''} {', '.join(these)} in a vessel apart, one by one:"
        " set the scale to zero with a clean empty vessel on it, weigh, and tip it into the bucket. The"
        f" scale carries {amounts.mass(carries, basis.units)}, the vessel with it."
        for carries, these in numbers.items()
    ]
    told.append(
        "There the total so far is a sum, not a reading. The empty bucket counts too: weigh apart sooner"
        " where the scale does not carry it with what is in it."
    )
    return (Prose(title="More than the scale carries", lines=tuple(told)),)


def weighed(basis: Basis, batch: Batch, unit: str) -> list[tuple[str, str, str, str]]:
    """Number, material, reading and running total of each line, the readings with the same decimals."""
    count = len(batch.lines)
    told = [*(line.shown for line in batch.lines), *(line.running for line in batch.lines)]
    readings = scale_readings(told, unit)
    shown, running = readings[:count], readings[count:]
    names = [called(basis.spec, line.stock) for line in batch.lines]
    numbers = [str(number) for number in range(1, len(names) + 1)]
    return list(zip(numbers, names, shown, running, strict=True))


def _rounding(basis: Basis, batch: Batch) -> str:
    """How far rounding to the scale moves a dose, or the ratio of parts: rounded up, never told too small."""
    if not batch.error:
        return ""
    what = "ratio" if basis.spec.mixes[batch.mix].measure else "doses"
    return f"; {what} to within {amounts.share(Fraction(ceil(batch.error * 10_000), 10_000))}"


def unit_of(batch: Batch, units: str) -> str:
    """The unit that a whole weigh-out is told in."""
    greatest = batch.lines[-1].running if batch.lines else batch.mass
    return scale_unit(greatest, batch.by_volume, units, [line.shown for line in batch.lines])


def spread(labels: tuple[str, ...]) -> str:
    """`batch-1 to batch-3`."""
    return labels[0] if len(labels) == 1 else f"{labels[0]} to {labels[-1]}"


def _labels(labels: tuple[str, ...]) -> str:
    if len(labels) == 1:
        return labels[0]
    if len(labels) <= 3:
        return f"{', '.join(labels)}, each"
    return f"{len(labels)} alike, {spread(labels)}, each"
