"""Two planned builds to all that is to be told of them."""

from castlang.compare.cast import cast_of
from castlang.compare.changes import aligned, changes_between
from castlang.compare.consequences import (
    amounts_of,
    chain_of,
    ending_of,
    findings_of,
    shift_of,
    sums_of,
    weights_of,
    work_of,
)
from castlang.compare.model import Comparison, Side
from castlang.compare.swaps import swaps_of


def comparison_of(old: Side, new: Side, units: str) -> Comparison:
    """What changed, and what follows from it. units: "metric" or "us", for the words of the changes."""
    both = aligned(old.spec, new.spec)
    changes = changes_between(both, units)
    found, gone = findings_of(old, new, both)
    return Comparison(
        old=old.called,
        new=new.called,
        name=new.spec.build.name,
        label=new.spec.build.label or new.spec.build.name,
        changes=changes,
        amounts=amounts_of(old, new, both, units),
        weights=weights_of(old, new, both),
        sums=sums_of(old.costing, new.costing),
        work=work_of(old, new, both),
        old_end=ending_of(old.plan),
        new_end=ending_of(new.plan),
        chain=chain_of(old.plan, new.plan, both),
        shift=shift_of(old.plan, new.plan, both),
        found=found,
        gone=gone,
        cast=cast_of(both, changes),
        swaps=swaps_of(old.stamps, new.stamps),
        records=len(new.spec.done),
    )
