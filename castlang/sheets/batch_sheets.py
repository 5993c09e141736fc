"""Batch sheets: what goes into each bucket, in order, with ticks for every one of them."""

from dataclasses import dataclass

from castlang.plan.model import Task
from castlang.sheets import amounts, times
from castlang.sheets.basis import Basis, called, copies_of, copies_text
from castlang.sheets.cautions import cautions_of, in_short
from castlang.sheets.hazards import hazards_of_mix, hazards_of_step, unique
from castlang.sheets.model import Align, Block, Column, Facts, Prose, Row, Sheet, Table, WriteIn
from castlang.sheets.scale import scale_reading, scale_unit
from castlang.spec.model import Mix
from castlang.takeoff.model import Batch, Recipe, StepTakeoff

MOST_UPRIGHT = 8  # columns to write in that upright paper holds
MOST_TICKS = 12  # columns that a sheet of paper holds beside the batch's name and time


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
    blocks += [_mix_facts(basis, mix) for mix in mixes]
    step = basis.steps.get((taken.owner, taken.step))
    words = [word for mix in mixes for word in hazards_of_mix(basis.spec, mix)]
    if step is not None:
        words += hazards_of_step(basis.spec, step)
    if words:
        blocks.append(in_short("Before you start", unique(words), "In full below."))
    for group in groups:
        blocks += _group(basis, taken, group, copies, alone=len(groups) == 1)
    notes = tuple(note for mix in mixes for note in mix.notes)
    if notes:
        blocks.append(Prose(title="Notes on the mix", lines=notes, points=True))
    blocks += cautions_of(unique(words), basis.units)
    return Sheet(
        code=code_of(taken.owner, taken.step),
        title=f"Batches of {taken.owner}.{taken.step}",
        subtitle=", ".join(called(basis.spec, mix.name) for mix in mixes),
        blocks=tuple(blocks),
        landscape=any(_is_wide(block) for block in blocks),
        section="Batches",
    )


def _is_wide(block: Block) -> bool:
    return isinstance(block, Table) and sum(column.blank for column in block.columns) > MOST_UPRIGHT


def _facts(basis: Basis, taken: StepTakeoff, groups: tuple[Alike, ...], copies: tuple[str, ...]) -> Facts:
    each = sum(len(group.labels) for group in groups)
    pairs = [("for", called(basis.spec, taken.owner)), ("batches", str(each))]
    if copies_text(copies):
        pairs[0] = ("for", f"{called(basis.spec, taken.owner)}, copies {copies_text(copies)}")
        pairs[1] = ("batches", f"{each} each copy, {each * len(copies)} in all")
    pairs.append(("waste in it", amounts.share(taken.waste)))
    return Facts(pairs=tuple(pairs))


def _mix_facts(basis: Basis, mix: Mix) -> Facts:
    units = basis.units
    recipe = basis.takeoff.recipes.get(mix.name)
    pairs = [("mix", f"{called(basis.spec, mix.name)} ({mix.name})")]
    if mix.works is not None:
        at = f" at {amounts.temperature(mix.works_at, units)}" if mix.works_at is not None else ""
        pairs.append(("working time", f"{times.window(mix.works)}{at}, first liquid to last in place"))
    if mix.mixing is not None:
        pairs.append(("mix for", times.seconds(mix.mixing)))
    if mix.wet_edge is not None:
        pairs.append(("wet edge", times.seconds(mix.wet_edge)))
    if mix.recoat is not None:
        pairs.append(("next lift or coat", times.window(mix.recoat)))
    if recipe is not None:
        pairs.append(("density", _density(recipe, units)))
    return Facts(pairs=tuple(pairs))


def _density(recipe: Recipe, units: str) -> str:
    how = {"recipe": "worked out from the recipe", "told": "told in the build", "measured": "measured"}
    return f"{amounts.density(recipe.density, units)}, {how.get(recipe.density_from, recipe.density_from)}"


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
                str(index),
                called(basis.spec, line.stock),
                scale_reading(line.shown, unit),
                scale_reading(line.running, unit),
                unit,
                "",
                *(("",) if single else ()),
            )
        )
        for index, line in enumerate(batch.lines, start=1)
    ]
    size = f"{amounts.volume(batch.volume, units)}, {amounts.mass(batch.mass, units)}"
    return Table(
        key="weigh-outs", title=f"{_labels(group.labels)}: {size}", columns=columns, rows=tuple(rows)
    )


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
    """One row a bucket, one box a material; more materials than the paper is wide share one box."""
    count = len(group.batch.lines)
    boxes = (
        [Column(key=f"added_{i}", title=str(i), share=0.45, blank=True) for i in range(1, count + 1)]
        if count <= MOST_TICKS
        else [Column(key="added_all", title=f"1 to {count}", share=1.2, blank=True)]
    )
    columns = (
        Column(key="batch", title="batch", share=1.8),
        Column(key="planned", title="planned", share=2.2),
        *boxes,
        Column(key="mix_temperature", title="mix temp.", share=0.8, blank=True),
        Column(key="first_liquid", title="first liquid", share=0.8, blank=True),
        Column(key="last_in_place", title="last in place", share=0.8, blank=True),
        Column(key="by", title="by", share=0.7, blank=True),
    )
    begin = _begins(basis, taken)
    rows = []
    for copy in copies:
        for label in group.labels:
            part = label.rpartition("batch-")[0].rstrip(".")
            name = f"{copy}: {label}" if copy else label
            planned = basis.moment(begin[(copy, part)]) if (copy, part) in begin else ""
            rows.append(Row(cells=(name, planned, *[""] * (len(columns) - 2))))
    return Table(key="batch-ticks", title="Tick what is in the bucket", columns=columns, rows=tuple(rows))


def _begins(basis: Basis, taken: StepTakeoff) -> dict[tuple[str, str], int]:
    """When each copy and part of the step begins, in minutes."""
    tasks: list[Task] = [t for t in basis.run if t.owner == taken.owner and t.step == taken.step]
    return {(task.copy, task.part): basis.placed[task.name].start for task in tasks}


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
            Column(key="batches", title="batches", share=1.8),
            Column(key="copies", title="copies", share=1),
            Column(key="buckets", title="buckets", align=Align.RIGHT, share=0.8),
            Column(key="mix", title="mix", share=1.4),
            Column(key="add", title="add", align=Align.RIGHT, share=0.5),
            Column(key="material", title="material", share=2.4),
            Column(key="weigh", title="weigh", align=Align.RIGHT, share=1),
            Column(key="running_total", title="total so far", align=Align.RIGHT, share=1),
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
                str(index),
                called(basis.spec, line.stock),
                scale_reading(line.shown, unit),
                scale_reading(line.running, unit),
                unit,
            )
        )
        for index, line in enumerate(batch.lines, start=1)
    ]
