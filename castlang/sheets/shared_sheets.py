"""The sheet of batches that serve several pieces cast together, and what of each goes where."""

from collections.abc import Iterable

from castlang.sheets import amounts
from castlang.sheets.basis import Basis, called, copies_text, copy_order, volume_text
from castlang.sheets.bucket_times import Bucket, ahead_note, ticks_table
from castlang.sheets.cautions import in_short
from castlang.sheets.drying_out import drying_caution
from castlang.sheets.hazards import hazards_of_mix, hazards_of_step, unique, untold_in
from castlang.sheets.mix_facts import mix_facts, two_buckets
from castlang.sheets.model import Align, Block, Column, Facts, Prose, Row, Sheet, Table
from castlang.sheets.times import seconds
from castlang.sheets.used_notes import used_notes
from castlang.sheets.weigh_outs import alike_of, boxes_of, spread, unit_of, weigh_out, weighed, weighed_apart
from castlang.takeoff.model import Batch, Serving, SharedBatches

Key = tuple[str, str]


def code_of(owner: str, step: str) -> str:
    """The code of the batch sheet of a step."""
    return f"BATCH {owner}.{step}"


def shared_of(basis: Basis, lead: Key) -> tuple[SharedBatches, ...]:
    """The shared batches that the step `lead` leads: round by round, lift by lift."""
    return tuple(shared for shared in basis.takeoff.shared if shared.steps[0] == lead)


def sheet_of(basis: Basis, owner: str, step: str) -> Key:
    """The step whose sheet the batches of a step stand on: its own, or the one that leads those it shares."""
    found = (shared.steps[0] for shared in basis.takeoff.shared if (owner, step) in shared.steps)
    return next(found, (owner, step))


def batches_into(basis: Basis, task: str) -> tuple[str, ...]:
    """The shared batches that go into a task, as their sheet calls them."""
    return tuple(
        _label(shared, batch)
        for shared in basis.takeoff.shared
        for batch, served in zip(shared.batches, shared.servings, strict=True)
        if any(shared.runs[one.run].task == task for one in served)
    )


def shared_sheet(basis: Basis, lead: Key) -> Sheet:
    """One sheet for all steps that share the batches of `lead`."""
    rounds = shared_of(basis, lead)
    mix = basis.spec.mixes[rounds[0].mix]
    steps = [basis.steps[key] for key in rounds[0].steps]
    words = unique(
        [*hazards_of_mix(basis.spec, mix), *(w for step in steps for w in hazards_of_step(basis.spec, step))]
    )
    blocks: list[Block] = [_facts(basis, rounds), mix_facts(basis, mix, basis.takeoff.steps[lead])]
    untold = tuple(called(basis.spec, name) for name in untold_in(basis.spec, mix))
    if words or untold:
        blocks.append(in_short("Before you start", words, untold=untold))
    blocks += drying_caution(basis, steps[0])
    blocks += [two_buckets(mix)] if mix.measure is not None and mix.works is not None else []
    groups = alike_of((batch for shared in rounds for batch in shared.batches), ".".join(lead))
    for group in groups:
        blocks += weighed_apart(basis, group.batch)
        blocks.append(weigh_out(basis, group, single=False, alone=len(groups) == 1))
    blocks += [_servings(basis, rounds), _ticks(basis, rounds), *ahead_note((mix,))]
    if mix.notes:
        blocks.append(Prose(title="Notes on the mix", lines=mix.notes, points=True))
    blocks += used_notes(basis, rounds[0].steps)
    return Sheet(
        code=code_of(*lead),
        title=f"Batches of {', '.join('.'.join(key) for key in rounds[0].steps)}",
        subtitle=called(basis.spec, mix.name),
        blocks=tuple(blocks),
        section="Batches",
    )


def _facts(basis: Basis, rounds: tuple[SharedBatches, ...]) -> Facts:
    batches = [batch for shared in rounds for batch in shared.batches]
    wastes = unique(amounts.share(basis.takeoff.steps[key].waste) for key in rounds[0].steps)
    pairs = [
        ("for", "; ".join(_served(basis, rounds, key) for key in rounds[0].steps)),
        ("batches", f"{len(batches)}, shared"),
        ("waste in it", ", ".join(wastes)),
    ]
    limits = unique(batch.limit for batch in batches if batch.limit)
    if limits:
        pairs.append(("divided for", ", ".join(limits)))
    placing = rounds[0].placing
    if placing is not None:
        pairs.append(("from the first of a batch in place to its last", seconds(placing)))
    return Facts(pairs=tuple(pairs))


def _served(basis: Basis, rounds: Iterable[SharedBatches], key: Key) -> str:
    """`Stool, copies 1 to 6`."""
    told = _copies(rounds, key)
    return called(basis.spec, key[0]) + (f", copies {told}" if told else "")


def _copies(rounds: Iterable[SharedBatches], key: Key) -> str:
    copies = unique(run.copy for shared in rounds for run in shared.runs if (run.owner, run.step) == key)
    return copies_text(tuple(sorted(copies, key=copy_order)))


def _label(shared: SharedBatches, batch: Batch) -> str:
    return batch.name.removeprefix(f"{'.'.join(shared.steps[0])}.")


def _servings(basis: Basis, rounds: tuple[SharedBatches, ...]) -> Table:
    """What of each batch goes where."""
    rows = []
    for shared in rounds:
        for batch, served in zip(shared.batches, shared.servings, strict=True):
            rows += [_serving(basis, shared, batch, one) for one in served]
    return Table(
        key="batch-servings",
        title="What each batch goes into, in this order, with the waste",
        columns=(
            Column(key="batch", title="batch", share=1.5),
            Column(key="into", title="goes into", share=2),
            Column(key="volume", title="volume", align=Align.RIGHT, share=1),
            Column(key="mass", title="mass", align=Align.RIGHT, share=1),
            Column(key="share", title="of what it takes", align=Align.RIGHT, share=1),
        ),
        rows=tuple(rows),
    )


def _serving(basis: Basis, shared: SharedBatches, batch: Batch, one: Serving) -> Row:
    run = shared.runs[one.run]
    return Row(
        cells=(
            _label(shared, batch),
            run.task,
            volume_text(basis.spec, batch.mix, one.volume, basis.units),
            amounts.mass(one.volume * batch.mass / batch.volume, basis.units),
            amounts.share(one.volume / run.volume),
        ),
        trace=f"{batch.name}.into.{run.task}",
    )


def _ticks(basis: Basis, rounds: tuple[SharedBatches, ...]) -> Table:
    """One row a bucket, with a box for each line of the weigh-out."""
    buckets = [
        Bucket(
            label=_label(shared, batch),
            placing=basis.worked(shared.runs[served[0].run].task, int(served[0].begin // 60)),
            boxes=boxes_of(batch),
        )
        for shared in rounds
        for batch, served in zip(shared.batches, shared.servings, strict=True)
    ]
    return ticks_table(basis, basis.spec.mixes[rounds[0].mix], buckets)


def shared_rows(basis: Basis, lead: Key) -> list[Row]:
    """The shared batches that `lead` leads, for the list of all batches."""
    rounds = shared_of(basis, lead)
    groups = alike_of((batch for shared in rounds for batch in shared.batches), ".".join(lead))
    keys = rounds[0].steps if rounds else ()
    served = "; ".join(f"{key[0]} {_copies(rounds, key)}".strip() for key in keys)
    rows = []
    for group in groups:
        unit = unit_of(group.batch, basis.units)
        for line, told in zip(group.batch.lines, weighed(basis, group.batch, unit), strict=True):
            rows.append(
                Row(
                    cells=(
                        ".".join(lead),
                        spread(group.labels),
                        served,
                        str(len(group.labels)),
                        group.batch.mix,
                        *told,
                        unit,
                    ),
                    trace=f"{group.batch.name}.{line.stock}",
                )
            )
    return rows
