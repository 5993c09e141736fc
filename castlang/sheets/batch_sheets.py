"""Batch sheets: what goes into each bucket, in order, with ticks for every one of them."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from castlang.sheets import amounts
from castlang.sheets.basis import Basis, called, copies_of, copies_text, volume_text
from castlang.sheets.cautions import in_short
from castlang.sheets.hazards import hazards_of_mix, hazards_of_step, unique
from castlang.sheets.mix_facts import mix_facts, two_buckets
from castlang.sheets.model import Align, Block, Column, Facts, Prose, Row, Sheet, Table, WriteIn
from castlang.sheets.scale import scale_readings, scale_unit
from castlang.takeoff.model import Batch, StepTakeoff

TICK_BOX = "\N{WHITE SQUARE}"  # printed, not a box of the form: many fit beside one another


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Batches of one step with the same lines: `labels` inside the step ("lift-2.batch-1")."""

    batch: Batch
    labels: tuple[str, ...]


def batch_sheets(basis: Basis) -> tuple[Sheet, ...]:
    """One sheet a step that mixes something, in the order in which the plan begins them."""
    begun = dict.fromkeys((task.owner, task.step) for task in basis.run)
    return tuple(
        _sheet(basis, basis.takeoff.steps[key])
        for key in begun
        if key in basis.takeoff.steps and alike(basis.takeoff.steps[key])
    )


def code_of(owner: str, step: str) -> str:
    """The code of the batch sheet of a step."""
    return f"BATCH {owner}.{step}"


def alike(taken: StepTakeoff) -> tuple[Alike, ...]:
    """The batches of one copy, those with the same lines together, in order of the first."""
    groups: dict[tuple[object, ...], list[Batch]] = {}
    for part in taken.parts:
        for batch in part.batches:
            lines = tuple((line.stock, line.shown) for line in batch.lines)
            groups.setdefault((batch.mix, batch.by_volume, lines), []).append(batch)
    prefix = f"{taken.owner}.{taken.step}."
    return tuple(
        Alike(batch=batches[0], labels=tuple(batch.name.removeprefix(prefix) for batch in batches))
        for batches in groups.values()
    )


def _sheet(basis: Basis, taken: StepTakeoff) -> Sheet:
    groups = alike(taken)
    copies = copies_of(basis, taken.owner, taken.step)
    mixes = [basis.spec.mixes[name] for name in unique(group.batch.mix for group in groups)]
    blocks: list[Block] = [_facts(basis, taken, groups, copies)]
    blocks += [mix_facts(basis, mix, taken) for mix in mixes]
    step = basis.steps.get((taken.owner, taken.step))
    words = [word for mix in mixes for word in hazards_of_mix(basis.spec, mix)]
    if step is not None:
        words += hazards_of_step(basis.spec, step)
    if words:
        blocks.append(in_short("Before you start", unique(words), "In full on sheet COVER."))
    blocks += [two_buckets(mix) for mix in mixes if mix.measure is not None and mix.works is not None]
    for group in groups:
        blocks += _group(basis, taken, group, copies, alone=len(groups) == 1)
    notes = tuple(note for mix in mixes for note in mix.notes)
    if notes:
        blocks.append(Prose(title="Notes on the mix", lines=notes, points=True))
    return Sheet(
        code=code_of(taken.owner, taken.step),
        title=f"Batches of {taken.owner}.{taken.step}",
        subtitle=", ".join(called(basis.spec, mix.name) for mix in mixes),
        blocks=tuple(blocks),
        section="Batches",
    )


def _facts(basis: Basis, taken: StepTakeoff, groups: tuple[Alike, ...], copies: tuple[str, ...]) -> Facts:
    each = sum(len(group.labels) for group in groups)
    pairs = [("for", called(basis.spec, taken.owner)), ("batches", str(each))]
    if copies_text(copies):
        pairs[0] = ("for", f"{called(basis.spec, taken.owner)}, copies {copies_text(copies)}")
        pairs[1] = ("batches", f"{each} each copy, {each * len(copies)} in all")
    pairs.append(("waste in it", amounts.share(taken.waste)))
    limits = unique(group.batch.limit for group in groups if group.batch.limit)
    if limits:
        pairs.append(("divided for", ", ".join(limits)))
    return Facts(pairs=tuple(pairs))


# ---------------------------------------------------------------- one kind of batch


def _group(
    basis: Basis, taken: StepTakeoff, group: Alike, copies: tuple[str, ...], *, alone: bool
) -> list[Block]:
    if len(group.labels) * len(copies) > 1:
        return [_weigh_out(basis, group, single=False, alone=alone), _ticks(basis, taken, group, copies)]
    boxes = (("mix temperature", 0.25), ("first liquid at", 0.25), ("last in place at", 0.25), ("by", 0.25))
    return [_weigh_out(basis, group, single=True, alone=alone), WriteIn(lines=boxes)]


def _weigh_out(basis: Basis, group: Alike, *, single: bool, alone: bool) -> Table:
    """`single`: one bucket in all, ticked here. `alone`: no other kind of batch on the sheet."""
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
                *(() if alone else (_spread(group.labels),)),
                *weighed,
                unit,
                "",
                *(("",) if single else ()),
            ),
            trace=f"{batch.name}.{line.stock}",
        )
        for line, weighed in zip(batch.lines, _weighed(basis, batch, unit), strict=True)
    ]
    volume = volume_text(basis.spec, batch.mix, batch.volume, units)
    size = f"{volume}, {amounts.mass(batch.mass, units)}{_rounding(basis, batch)}"
    return Table(
        key="weigh-outs", title=f"{_labels(group.labels)}: {size}", columns=columns, rows=tuple(rows)
    )


def _weighed(basis: Basis, batch: Batch, unit: str) -> list[tuple[str, str, str, str]]:
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
    return scale_unit(greatest, batch.by_volume, units)


def _spread(labels: tuple[str, ...]) -> str:
    return labels[0] if len(labels) == 1 else f"{labels[0]} to {labels[-1]}"


def _labels(labels: tuple[str, ...]) -> str:
    if len(labels) == 1:
        return labels[0]
    if len(labels) <= 3:
        return f"{', '.join(labels)}, each"
    return f"{len(labels)} alike, {_spread(labels)}, each"


def _ticks(basis: Basis, taken: StepTakeoff, group: Alike, copies: tuple[str, ...]) -> Table:
    """One row a bucket, with a box for each line of the weigh-out."""
    boxes = "  ".join(f"{TICK_BOX}{number}" for number in range(1, len(group.batch.lines) + 1))
    one_each = len(group.labels) == 1 and copies != ("",)
    columns = (
        Column(key="batch", title="for copy" if one_each else "batch", share=1.5),
        Column(key="planned", title="planned", share=1.5),
        Column(key="added", title="tick as it goes in", share=2.5),
        Column(key="mix_temperature", title="mix temp.", share=0.8, blank=True),
        Column(key="first_liquid", title="first liquid", share=0.8, blank=True),
        Column(key="by", title="by", share=0.8, blank=True),
    )
    begins = _begins(basis, taken)
    rows = []
    for copy in copies:
        for label in group.labels:
            name = copy if one_each else ": ".join(word for word in (copy, label) if word)
            begin = begins.get((copy, label))
            planned = basis.moment(begin) if begin is not None else ""
            data = (("planned", basis.iso(begin)),) if begin is not None else ()
            rows.append(Row(cells=(name, planned, boxes, "", "", ""), data=data))
    return Table(key="batch-ticks", title="Tick what is in the bucket", columns=columns, rows=tuple(rows))


def _begins(basis: Basis, taken: StepTakeoff) -> dict[tuple[str, str], int]:
    """When each batch of each copy begins, in minutes: the batches of a task share its time evenly."""
    prefix = f"{taken.owner}.{taken.step}."
    parts = {part.suffix: part.batches for part in taken.parts}
    begins = {}
    for task in basis.run:
        if (task.owner, task.step) != (taken.owner, taken.step):
            continue
        batches = parts.get(task.part, ())
        for index, batch in enumerate(batches):
            minute = basis.worked(task.name, task.minutes * index // len(batches))
            begins[(task.copy, batch.name.removeprefix(prefix))] = minute
    return begins


# ---------------------------------------------------------------- the list of all batches


def batches_table(basis: Basis) -> Table:
    """Every line of every kind of batch of the build, in the order of the batch sheets."""
    rows = []
    begun = dict.fromkeys((task.owner, task.step) for task in basis.run)
    for key in begun:
        taken = basis.takeoff.steps.get(key)
        for group in alike(taken) if taken is not None else ():
            rows += _flat_rows(basis, group, key)
    return Table(
        key="batches",
        title="Weigh-outs of all batches",
        columns=(
            Column(key="step", title="step", share=2),
            Column(key="batches", title="batches", share=1.8, spare=3),
            Column(key="copies", title="copies", share=1, spare=4),
            Column(key="buckets", title="buckets", align=Align.RIGHT, share=0.8),
            Column(key="mix", title="mix", share=1.4, spare=5),
            Column(key="add", title="add", align=Align.RIGHT, share=0.5),
            Column(key="material", title="material", share=2.4),
            Column(key="weigh", title="weigh", align=Align.RIGHT, share=1),
            Column(key="running_total", title="total so far", align=Align.RIGHT, share=1, spare=1),
            Column(key="unit", title="unit", share=0.7),
        ),
        rows=tuple(rows),
        empty="nothing is mixed in batches",
    )


def _flat_rows(basis: Basis, group: Alike, key: tuple[str, str]) -> list[Row]:
    copies = copies_of(basis, *key)
    batch = group.batch
    unit = unit_of(batch, basis.units)
    return [
        Row(
            cells=(
                ".".join(key),
                _spread(group.labels),
                copies_text(copies),
                str(len(group.labels) * len(copies)),
                batch.mix,
                *weighed,
                unit,
            ),
            trace=f"{batch.name}.{line.stock}",
        )
        for line, weighed in zip(batch.lines, _weighed(basis, batch, unit), strict=True)
    ]
