"""Which sheets of the printed binder are wrong now, and which come in their place."""

from collections.abc import Sequence

from castlang.compare.model import SheetSwap, Swap
from castlang.sheets.stamps import SheetStamp


def swaps_of(old: Sequence[SheetStamp], new: Sequence[SheetStamp]) -> tuple[SheetSwap, ...]:
    """In the order of the new binder; what has no place in it stands where it stood in the old one."""
    before = {stamp.code: stamp for stamp in old}
    after = {stamp.code: stamp for stamp in new}
    found = [_swap(before.get(stamp.code), stamp) for stamp in new]
    for stamp in old:
        if stamp.code not in after:
            found.append(_swap(stamp, None))
    return tuple(swap for swap in found if swap is not None)


def _swap(old: SheetStamp | None, new: SheetStamp | None) -> SheetSwap | None:
    there = new or old
    if there is None or (old is not None and new is not None and _same(old, new)):
        return None
    if old is None:
        swap = Swap.PUT_IN
    elif new is None:
        swap = Swap.PULL
    else:
        swap = Swap.DATES if old.facts == new.facts else Swap.REPLACE
    return SheetSwap(
        swap=swap,
        code=there.code,
        title=there.title,
        old=_stamp(old),
        new=_stamp(new),
    )


def _same(old: SheetStamp, new: SheetStamp) -> bool:
    return (old.facts, old.dates) == (new.facts, new.dates)


def _stamp(stamp: SheetStamp | None) -> str:
    """Both stamps, as the sheet prints them."""
    if stamp is None:
        return ""
    return f"{stamp.facts} {stamp.dates}".strip()
