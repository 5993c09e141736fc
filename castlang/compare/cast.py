"""What is cast already: records of work done that a change would reach if it were still to do."""

from collections.abc import Iterable, Iterator

from castlang.compare.changes import Aligned
from castlang.compare.kinds import ChangeKind as Kind
from castlang.compare.model import Cast, Change
from castlang.sheets.cover import step_ref_text
from castlang.spec.model import Done, Piece, Spec, Step

OF_THE_THING = frozenset(
    {
        Kind.PIECE_RESIZED, Kind.PIECE_DROPPED, Kind.PART, Kind.LIP, Kind.FACE,
        Kind.LAYER_DROPPED, Kind.PASS_DROPPED, Kind.STEP_DROPPED, Kind.THICKNESS, Kind.GRIT, Kind.COATS,
        Kind.STEP_MATERIAL, Kind.STEP_AMOUNT, Kind.STEP_PLACE, Kind.STEP_METHOD, Kind.STEP_ORDER,
        Kind.WAIT, Kind.WINDOW, Kind.CURE, Kind.DRY,
        Kind.JOB_DROPPED, Kind.MOLD_DROPPED, Kind.TEMP_DROPPED, Kind.MOLD, Kind.TEMP,
    }
)  # fmt: skip
"""Kinds that say what is made; all others say with whom, when, at what price."""

OF_THE_MIX = frozenset(
    {
        Kind.SHARE, Kind.INGREDIENT_ADDED, Kind.INGREDIENT_DROPPED, Kind.MIX_THROUGH_BASE, Kind.MIX,
        Kind.STOCK, Kind.MIX_DROPPED, Kind.STOCK_DROPPED,
    }
)  # fmt: skip

WHOLE = frozenset(
    {
        Kind.PIECE_RESIZED, Kind.PIECE_DROPPED, Kind.PART, Kind.LIP, Kind.FACE,
        Kind.JOB_DROPPED, Kind.MOLD_DROPPED, Kind.TEMP_DROPPED, Kind.MOLD, Kind.TEMP,
    }
)  # fmt: skip
"""Kinds that reach every step of their block."""


def cast_of(both: Aligned, changes: Iterable[Change]) -> tuple[Cast, ...]:
    """Every record of work done, of either build, that a change reaches, with the lines of those changes."""
    told = tuple(changes)
    records = [*both.new.done, *(done for done in both.old.done if done not in both.new.done)]
    found = []
    for done in records:
        lines = tuple(dict.fromkeys(change.says for change in _reaching(done, both, told)))
        if lines:
            found.append(Cast(done=done, step=step_ref_text(done.step), changes=lines))
    return tuple(found)


def _reaching(done: Done, both: Aligned, changes: tuple[Change, ...]) -> Iterator[Change]:
    owner, step = done.step.owner, done.step.step or ""
    materials = frozenset().union(*(_materials(spec, owner, step) for spec in (both.old, both.new)))
    for change in changes:
        own = change.block == owner
        thing = own and change.kind in OF_THE_THING
        if (
            (thing and (change.kind in WHOLE or step in ("", change.step)))
            or (change.kind in OF_THE_MIX and change.block in materials)
            or (own and change.kind is Kind.PIECE_COUNT and _too_many(done, both.new))
        ):
            yield change


def _materials(spec: Spec, owner: str, step: str) -> frozenset[str]:
    """The mix or stock of a step, and the stocks that are in the mix."""
    found: set[str] = set()
    for block in spec.owners():
        if block.name != owner:
            continue
        for item in block.sequence:
            if isinstance(item, Step) and step in ("", item.name) and item.material is not None:
                mix = spec.mixes.get(item.material)
                found |= {item.material, *(line.stock for line in (mix.ingredients if mix else ()))}
    return frozenset(found)


def _too_many(done: Done, new: Spec) -> bool:
    """Whether the copy that was made is one that the new build does not want any more."""
    piece: Piece | None = new.pieces.get(done.step.owner)
    copies = done.step.copies
    if piece is None or copies.first is None:
        return False
    return (copies.last or copies.first) > (piece.mirrored if copies.mirrored else piece.count)
