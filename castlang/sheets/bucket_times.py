"""When each bucket is begun and when it goes in place, with boxes for what the crew finds.

The time of a step is that of placing. Its first batch is mixed and carried before it, the others meanwhile.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from castlang.sheets import times
from castlang.sheets.basis import Basis
from castlang.sheets.dated_text import sentence
from castlang.sheets.model import Column, Facts, Prose, Row, Table
from castlang.spec.model import Mix
from castlang.takeoff.divisions import before_placing


@dataclass(frozen=True, slots=True, kw_only=True)
class Bucket:
    """One bucket of a batch sheet. placing: the minute of the plan from which it is placed, None where the
    plan does not have it; boxes: one to tick for each line of its weigh-out."""

    label: str
    placing: int | None
    boxes: str


def minutes_ahead(mix: Mix) -> int:
    """How long before it is placed a batch is begun: its mixing and carrying, in whole minutes."""
    return ceil(before_placing(mix) / 60)


def ticks_table(basis: Basis, mix: Mix, buckets: Iterable[Bucket], title: str = "batch") -> Table:
    """One row a bucket. `title` heads the column of their labels."""
    ahead = minutes_ahead(mix)
    return Table(
        key="batch-ticks",
        title="Tick what is in the bucket",
        columns=(
            Column(key="batch", title=title, share=1.5),
            *((Column(key="mixed", title="mix from", share=1.5),) if ahead else ()),
            Column(key="planned", title="place from", share=0.8 if ahead else 1.5),
            Column(key="added", title="tick as it goes in", share=3.2),
            Column(key="mix_temperature", title="mix temp.", share=0.8, blank=True),
            Column(key="first_liquid", title="first liquid", share=0.8, blank=True),
            Column(key="by", title="by", share=0.8, blank=True),
        ),
        rows=tuple(_row(basis, bucket, ahead) for bucket in buckets),
    )


def _row(basis: Basis, bucket: Bucket, ahead: int) -> Row:
    placing = bucket.placing
    if placing is None:
        cells = (bucket.label, *(("",) if ahead else ()), "", bucket.boxes, "", "", "")
        return Row(cells=cells)
    mixed = placing - ahead
    place = basis.moment_after(mixed, placing) if ahead else basis.moment(placing)
    return Row(
        cells=(
            bucket.label,
            *((basis.moment(mixed),) if ahead else ()),
            place,
            bucket.boxes,
            "",
            "",
            "",
        ),
        data=(
            *((("mixed", basis.iso(mixed)),) if ahead else ()),
            ("planned", basis.iso(placing)),
        ),
    )


def bucket_facts(basis: Basis, mix: Mix, placing: int) -> Facts:
    """The same for a single bucket."""
    ahead = minutes_ahead(mix)
    mixed = (("mix from", basis.moment(placing - ahead)),) if ahead else ()
    return Facts(pairs=(*mixed, ("place from", basis.moment(placing))))


def ahead_note(mixes: Iterable[Mix]) -> tuple[Prose, ...]:
    """Says that mixing and carrying come on top of the step's time; nothing where they take none."""
    told = {times.span(minutes_ahead(mix)): None for mix in mixes if minutes_ahead(mix)}
    if not told:
        return ()
    line = sentence(
        "The time of the step is that of placing. Mixing and carrying take ",
        " or ".join(told),
        " before it: nobody is planned for them, and they may begin before the shop opens.",
    )
    return (Prose(lines=(line,)),)
