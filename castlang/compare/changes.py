"""Two builds to the list of what is meant otherwise; nothing for what is only written otherwise."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from castlang.compare import shown
from castlang.compare.bodies import mold_changed, piece_changed
from castlang.compare.kinds import ChangeKind as Kind
from castlang.compare.lines import Place, block_place, changed, facts_changed
from castlang.compare.mixes import mixes_changed
from castlang.compare.model import Change
from castlang.compare.names import Swap, single_copies, swapped, with_names
from castlang.compare.records import done_changed, measured_changed, waivers_changed
from castlang.compare.renames import DERIVED, called_after, renamed_blocks, renamed_steps
from castlang.compare.sequences import brought_changed, sequence_changed, step_renamed
from castlang.compare.shown import told_pair
from castlang.sheets.instructions import body_text, count_text
from castlang.spec.model import Item, Job, Mold, Piece, Spec, Step, Stock
from castlang.spec.quantity import Quantity

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Aligned:
    """Two builds in the names of the new one. blocks: new name by old one; steps: the new name of a step by
    (new name of its block, old name), with those in `told` that a person renamed; single: blocks of which one
    copy is made in both."""

    old: Spec
    new: Spec
    blocks: Mapping[str, str]
    steps: Mapping[tuple[str, str], str]
    told: Mapping[str, Mapping[str, str]]
    single: frozenset[str]


def aligned(old: Spec, new: Spec) -> Aligned:
    """The old build with every block and step under the name that it has in the new one."""
    blocks = renamed_blocks(old, new)
    steps = called_after(old, blocks)
    once = frozenset(blocks.get(name, name) for name in single_copies(old)) & single_copies(new)
    before = with_names(old, Swap(blocks=blocks)) if blocks else old
    others = {owner.name: owner for owner in new.owners()}
    told: dict[str, dict[str, str]] = {}
    for owner in before.owners():
        other = others.get(owner.name)
        if other is not None and owner.sequence != other.sequence:
            found = renamed_steps(owner.sequence, other.sequence)
            if found:
                told[owner.name] = found
                steps |= {(owner.name, a): b for a, b in found.items()}
    swap = Swap(steps=steps, single=once)
    return Aligned(
        old=_plain(before, new, swap),
        new=_plain(new, before, Swap(single=once)),
        blocks=blocks,
        steps=steps,
        told=told,
        single=once,
    )


def _plain(spec: Spec, other: Spec, swap: Swap) -> Spec:
    """The build with the names of `swap`; blocks that are equal in both are left as they are,
    for speed, unless steps were renamed."""
    if swap.steps:
        return with_names(spec, swap)
    return replace(
        spec,
        molds=_unlike(spec.molds, other.molds, swap),
        pieces=_unlike(spec.pieces, other.pieces, swap),
        jobs=_unlike(spec.jobs, other.jobs, swap),
        waivers=swapped(spec.waivers, swap),
        measured=swapped(spec.measured, swap),
        done=swapped(spec.done, swap),
    )


def _unlike(blocks: Mapping[str, T], others: Mapping[str, T], swap: Swap) -> dict[str, T]:
    return {n: block if block == others.get(n) else swapped(block, swap) for n, block in blocks.items()}


def changes_of(old: Spec, new: Spec, units: str = "metric") -> tuple[Change, ...]:
    """Every change of meaning, in the order: the build, stores, mixes, what it is cast in and with, pieces,
    jobs, lines of their own. Empty when both mean the same. units: "metric" or "us", for the words."""
    return changes_between(aligned(old, new), units)


def changes_between(both: Aligned, units: str) -> tuple[Change, ...]:
    """The changes of two builds that are in the same names."""
    own = tuple(_own_changes(both, units))
    return own + tuple(_brought(both, own, units))


def _own_changes(both: Aligned, units: str) -> Iterator[Change]:
    old, new = both.old, both.new
    yield from facts_changed(old.build, new.build, Place(), units)
    yield from _defaults_changed(old.defaults, new.defaults, units)
    yield from _blocks(both, "stock", old.stocks, new.stocks, units)
    yield from _blocks(both, "mix", old.mixes, new.mixes, units)
    yield from _blocks(both, "station", old.stations, new.stations, units)
    yield from _blocks(both, "fitting", old.fittings, new.fittings, units)
    yield from _blocks(both, "mold", old.molds, new.molds, units)
    yield from _blocks(both, "piece", old.pieces, new.pieces, units)
    yield from _blocks(both, "job", old.jobs, new.jobs, units)
    yield from waivers_changed(old.waivers, new.waivers, units)
    yield from measured_changed(old.measured, new.measured, units)
    yield from done_changed(old.done, new.done, units)


# ---------------------------------------------------------------- blocks


def _blocks(
    both: Aligned, word: str, old: Mapping[str, Any], new: Mapping[str, Any], units: str
) -> Iterator[Change]:
    """Blocks of one kind: those renamed, dropped and added, then what changed in those that stay."""
    for before, after in both.blocks.items():
        if after in old and after in new:
            yield _renamed(_word(word, new[after]), before, after)
    for name, block in old.items():
        if name not in new:
            yield _come_or_gone(_word(word, block), block, added=False, units=units)
    for name, block in new.items():
        if name not in old:
            yield _come_or_gone(_word(word, block), block, added=True, units=units)
    if word == "mix":
        yield from mixes_changed(old, new, units)
        return
    for name, block in new.items():
        yield from (step_renamed(name, a, b) for a, b in both.told.get(name, {}).items())
        if name in old and old[name] != block:
            yield from _block_changed(old[name], block, units)


def _word(word: str, block: Any) -> str:
    return "temp" if isinstance(block, Mold) and block.temporary else word


def _renamed(word: str, old: str, new: str) -> Change:
    return Change(
        kind=Kind(f"{word}-renamed"),
        block=new,
        what="name",
        old=old,
        new=new,
        says=f"{word} {old} is now called {new}",
    )


def _come_or_gone(word: str, block: Any, *, added: bool, units: str) -> Change:
    kind = Kind(f"{word}-{'added' if added else 'dropped'}")
    value = _in_short(block, units)
    says = " ".join((word, block.name, "added" if added else "dropped")) + (f": {value}" if value else "")
    return Change(
        kind=kind,
        block=block.name,
        what=word,
        old=None if added else value or block.name,
        new=(value or block.name) if added else None,
        says=says,
    )


def _in_short(block: Any, units: str) -> str:
    """What a block is, for one that is new or gone."""
    if isinstance(block, Piece):
        copies = count_text(block.count, block.mirrored)
        words = [f"make {copies}" if copies != "1" else "", body_text(block, units), _lines(block.sequence)]
    elif isinstance(block, Job | Mold):
        words = [block.label or "", _lines(block.sequence)]
    else:
        package = shown.package(block.package, units) if isinstance(block, Stock) and block.package else ""
        words = [block.label or "", f"sold {package}" if package else ""]
    return ", ".join(word for word in words if word)


def _lines(sequence: Iterable[Item]) -> str:
    """How many lines of work there are, without those that other lines bring."""
    steps = sum(1 for item in sequence if isinstance(item, Step) and item.kind not in DERIVED)
    return f"{steps} step{'s' if steps != 1 else ''}" if steps else ""


def _block_changed(old: Any, new: Any, units: str) -> Iterator[Change]:
    if not isinstance(new, Piece | Job | Mold):
        tails = {"price": _each(new, units)}
        yield from facts_changed(old, new, block_place(new.name), units, tails=tails)
        return
    told: list[Change] = []
    if isinstance(new, Piece):
        told += piece_changed(old, new, units)
    elif isinstance(new, Mold):
        told += mold_changed(old, new, units)
    else:
        told += facts_changed(old, new, block_place(new.name), units)
    if old.sequence != new.sequence:
        told += sequence_changed(new.name, old.sequence, new.sequence, units)
    elif not told:
        told.append(_otherwise(new.name))
    yield from told


def _each(block: Any, units: str) -> str:
    if isinstance(block, Stock) and block.package is not None:
        return f"a {shown.package(block.package, units)}"
    return ""


def _otherwise(name: str) -> Change:
    """What no other change tells: the same lines, one before the other, or with another meaning."""
    return Change(
        kind=Kind.STEP_ORDER,
        block=name,
        what="order",
        old="as it was",
        new="otherwise",
        says=f"{name}: the same lines, in another order or with another meaning",
    )


def _brought(both: Aligned, own: tuple[Change, ...], units: str) -> Iterator[Change]:
    """Steps that other lines bring, where no other change tells of them."""
    reached = {change.block for change in own}
    general = any(change.kind is Kind.DEFAULT for change in own)
    molds = {m.name: m for m in both.old.molds.values()}
    released = general or any(
        name not in molds or molds[name].release != mold.release for name, mold in both.new.molds.items()
    )
    mixed = any(change.block in both.new.mixes for change in own)
    before = {owner.name: owner for owner in both.old.owners()}
    for owner in both.new.owners():
        other = before.get(owner.name)
        if other is None or other.sequence == owner.sequence:
            continue
        explained = released or general or owner.name in reached
        if general:
            continue
        told = tuple(brought_changed(owner.name, other.sequence, owner.sequence, units, explained=explained))
        yield from told
        if not told and not explained and not mixed:
            yield _otherwise(owner.name)


# ---------------------------------------------------------------- lines of their own


def _defaults_changed(
    old: Mapping[str, Quantity], new: Mapping[str, Quantity], units: str
) -> Iterator[Change]:
    for name in sorted({*old, *new}):
        if old.get(name) != new.get(name):
            a, b = told_pair(shown.amount, old.get(name), new.get(name), units)
            yield changed(Kind.DEFAULT, Place(), f"assume {name}", a, b)
