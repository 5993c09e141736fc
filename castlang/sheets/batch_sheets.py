"""Batch sheets: what goes into each bucket, in order, with ticks for every one of them."""

from castlang.sheets import amounts
from castlang.sheets.basis import Basis, called, copies_of, copies_text
from castlang.sheets.bucket_times import Bucket, ahead_note, bucket_facts, ticks_table
from castlang.sheets.cautions import in_short
from castlang.sheets.drying_out import drying_caution
from castlang.sheets.hazards import hazards_of_mix, hazards_of_step, unique, untold_in
from castlang.sheets.mix_facts import mix_facts, two_buckets
from castlang.sheets.model import Align, Block, Column, Facts, Prose, Row, Sheet, Table, WriteIn
from castlang.sheets.shared_sheets import code_of, shared_rows, shared_sheet
from castlang.sheets.used_notes import used_notes
from castlang.sheets.weigh_outs import (
    Alike,
    alike_of,
    boxes_of,
    spread,
    unit_of,
    weigh_out,
    weighed,
    weighed_apart,
)
from castlang.takeoff.model import StepTakeoff


def batch_sheets(basis: Basis) -> tuple[Sheet, ...]:
    """One sheet a step that mixes something, or for all steps that share its batches, in the order in which
    the plan begins them."""
    begun = dict.fromkeys((task.owner, task.step) for task in basis.run)
    leads = {key: shared.steps[0] for shared in basis.takeoff.shared for key in shared.steps}
    steps = [leads.get(key, key) for key in begun if key in basis.takeoff.steps]
    return tuple(
        shared_sheet(basis, key) if key in leads else _sheet(basis, basis.takeoff.steps[key])
        for key in dict.fromkeys(steps)
        if key in leads or alike(basis.takeoff.steps[key])
    )


def alike(taken: StepTakeoff) -> tuple[Alike, ...]:
    """The batches of one copy, those with the same lines together, in order of the first."""
    batches = [batch for part in taken.parts for batch in part.batches]
    return alike_of(batches, f"{taken.owner}.{taken.step}")


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
    untold = unique(called(basis.spec, name) for mix in mixes for name in untold_in(basis.spec, mix))
    if words or untold:
        blocks.append(in_short("Before you start", unique(words), untold=untold))
    blocks += drying_caution(basis, step) if step is not None else ()
    blocks += [two_buckets(mix) for mix in mixes if mix.measure is not None and mix.works is not None]
    for group in groups:
        blocks += _group(basis, taken, group, copies, alone=len(groups) == 1)
    blocks += ahead_note(mixes)
    notes = tuple(note for mix in mixes for note in mix.notes)
    if notes:
        blocks.append(Prose(title="Notes on the mix", lines=notes, points=True))
    blocks += used_notes(basis, [(taken.owner, taken.step)])
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
    apart = weighed_apart(basis, group.batch)
    if len(group.labels) * len(copies) > 1:
        return [
            *apart,
            weigh_out(basis, group, single=False, alone=alone),
            _ticks(basis, taken, group, copies),
        ]
    boxes = (("mix temperature", 0.25), ("first liquid at", 0.25), ("last in place at", 0.25), ("by", 0.25))
    placing = _begins(basis, taken).get((copies[0], group.labels[0]))
    facts = () if placing is None else (bucket_facts(basis, basis.spec.mixes[group.batch.mix], placing),)
    return [*apart, weigh_out(basis, group, single=True, alone=alone), *facts, WriteIn(lines=boxes)]


def _ticks(basis: Basis, taken: StepTakeoff, group: Alike, copies: tuple[str, ...]) -> Table:
    """One row a bucket, with a box for each line of the weigh-out."""
    one_each = len(group.labels) == 1 and copies != ("",)
    begins = _begins(basis, taken)
    buckets = [
        Bucket(
            label=copy if one_each else ": ".join(word for word in (copy, label) if word),
            placing=begins.get((copy, label)),
            boxes=boxes_of(group.batch),
        )
        for copy in copies
        for label in group.labels
    ]
    mix = basis.spec.mixes[group.batch.mix]
    return ticks_table(basis, mix, buckets, "for copy" if one_each else "batch")


def _begins(basis: Basis, taken: StepTakeoff) -> dict[tuple[str, str], int]:
    """From when each batch of each copy is placed, min: the batches of a task share its time evenly."""
    prefix = f"{taken.owner}.{taken.step}."
    parts = {part.suffix: part.batches for part in taken.parts}
    begins = {}
    for task in basis.run:
        if (task.owner, task.step) != (taken.owner, taken.step):
            continue
        batches = parts.get(task.part, ())
        for index, batch in enumerate(batches):
            minute = basis.worked(task.name, basis.minutes(task) * index // len(batches))
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
        rows += shared_rows(basis, key)
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
                spread(group.labels),
                copies_text(copies),
                str(len(group.labels) * len(copies)),
                batch.mix,
                *told,
                unit,
            ),
            trace=f"{batch.name}.{line.stock}",
        )
        for line, told in zip(batch.lines, weighed(basis, batch, unit), strict=True)
    ]
