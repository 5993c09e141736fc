"""Which block, and which step, is the old one under another name: what they say is equal, or nearly."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from typing import Any, TypeVar

from castlang.compare.names import Swap, own_name, step_items, swapped
from castlang.spec.model import Item, Mold, Piece, Spec, Step, StepKind

T = TypeVar("T")

ENOUGH = 0.75
"""So large a part of what both say must be equal, and at least `LEAST` facts, to be taken for the same."""

LEAST = 3

MOST_PAIRS = 2500
"""Beyond so many pairs of unmatched names only equal ones are looked for, so that time stays linear."""

KINDS = ("stocks", "mixes", "fittings", "stations", "molds", "pieces", "jobs")

DERIVED = frozenset({StepKind.COVER, StepKind.UNCOVER, StepKind.TEND, StepKind.RELEASE})
"""Steps that other lines bring."""


def renamed_blocks(old: Spec, new: Spec) -> dict[str, str]:
    """The new name by the old one, of every block that only changed its name, or little more."""
    lost = {kind: [n for n in getattr(old, kind) if n not in getattr(new, kind)] for kind in KINDS}
    come = {kind: [n for n in getattr(new, kind) if n not in getattr(old, kind)] for kind in KINDS}
    unknown = {n: "?" for names in (*lost.values(), *come.values()) for n in names}
    swap = Swap(blocks=unknown)
    found: dict[str, str] = {}
    for kind in KINDS:
        if lost[kind] and come[kind]:
            before = {n: swapped(getattr(old, kind)[n], swap) for n in lost[kind]}
            after = {n: swapped(getattr(new, kind)[n], swap) for n in come[kind]}
            found |= _paired(before, after)
    return {a: b for a, b in found.items() if _belongs(old.molds.get(a), new.molds.get(b), found)}


def _belongs(old: Mold | None, new: Mold | None, found: Mapping[str, str]) -> bool:
    """Whether a mold under another name is for the same pieces as before."""
    if old is None or new is None or not old.fits or not new.fits:
        return True
    return any(found.get(name, name) in new.fits for name in old.fits)


def _paired(old: Mapping[str, Any], new: Mapping[str, Any]) -> dict[str, str]:
    """Equal ones first, in order of name; then those most alike."""
    waiting: dict[str, list[str]] = {}
    for name, block in new.items():
        waiting.setdefault(_said(block), []).append(name)
    found: dict[str, str] = {}
    for name, block in old.items():
        equal = waiting.get(_said(block), [])
        if equal:
            found[name] = equal.pop(0)
    taken = set(found.values())
    left = {n: b for n, b in old.items() if n not in found}
    right = {n: b for n, b in new.items() if n not in taken}
    if len(left) * len(right) > MOST_PAIRS:
        return found
    return found | _alike(left, right)


def _alike(old: Mapping[str, Any], new: Mapping[str, Any]) -> dict[str, str]:
    scored = []
    before = {name: _facts(block) for name, block in old.items()}
    after = {name: _facts(block) for name, block in new.items()}
    for a, block in old.items():
        for b, other in new.items():
            alike = _likeness(before[a], after[b]) if _may_be(block, other) else 0.0
            if alike >= ENOUGH:
                scored.append((-alike, min(a, b), max(a, b), a, b))
    found: dict[str, str] = {}
    for *_, a, b in sorted(scored):
        if a not in found and b not in found.values():
            found[a] = b
    return found


def _may_be(old: Any, new: Any) -> bool:
    """A piece is the same when its body or its label is."""
    if isinstance(old, Piece) and isinstance(new, Piece):
        body = old.shape == new.shape and old.mesh == new.mesh
        return body or (old.label is not None and old.label == new.label)
    if isinstance(old, Mold) and isinstance(new, Mold):
        return old.temporary == new.temporary
    return True


def _likeness(old: Counter[str], new: Counter[str]) -> float:
    """Facts that both say over the facts of the one that says more."""
    common = sum((old & new).values())
    return common / max(old.total(), new.total()) if common >= LEAST else 0.0


def _said(block: Any) -> str:
    """Everything that a block says but its name; a mesh by its bytes."""
    return repr([(name, value) for name, value in _values(block)])


def _facts(block: Any) -> Counter[str]:
    """Each fact that is told, the members of a list one by one."""
    facts: Counter[str] = Counter()
    for name, value in _values(block):
        members = value if isinstance(value, tuple) else (value,)
        facts.update(f"{name} {member!r}" for member in members if member not in (None, (), {}, False))
    return facts


def _values(block: Any) -> Iterable[tuple[str, Any]]:
    for field in fields(block):
        if not field.compare or field.name == "name":
            continue
        value = getattr(block, field.name)
        if field.name == "sequence":
            value = tuple(_nameless(item) for item in value)
        yield field.name, _bytes_told(value)


def _nameless(item: Item) -> object:
    """An item without the name of its block, which is the one that may have changed."""
    return [(f.name, getattr(item, f.name)) for f in fields(item) if f.compare and f.name != "owner"]


def _bytes_told(value: Any) -> Any:
    """A mesh keeps its bytes out of its `repr`; here they count."""
    return (value, value.data) if is_dataclass(value) and hasattr(value, "data") else value


# ---------------------------------------------------------------- steps


def renamed_steps(old: Sequence[Item], new: Sequence[Item]) -> dict[str, str]:
    """The new name by the old one, of every step of one block that only changed its name, or little more.

    Both are told in the same block names."""
    before = {s.name: s for s in step_items(tuple(old)) if s.kind not in DERIVED}
    after = {s.name: s for s in step_items(tuple(new)) if s.kind not in DERIVED}
    lost = [s for name, s in before.items() if name not in after]
    come = [s for name, s in after.items() if name not in before]
    found: dict[str, str] = {}
    for exact in (True, False):
        for step in lost:
            if step.name in found:
                continue
            other = next(
                (o for o in come if o.name not in found.values() and _same_work(step, o, exact=exact)), None
            )
            if other is not None:
                found[step.name] = other.name
    return found


def _same_work(old: Step, new: Step, *, exact: bool) -> bool:
    """Whether two lines are one under two names: what is done is the same; how long and by how many may not
    be, unless `exact`."""
    if exact:
        return _values_of(old) == _values_of(new)
    what = (
        "kind",
        "material",
        "amount",
        "full",
        "on",
        "cavity",
        "things",
        "onto",
        "grits",
        "target",
        "label",
    )
    if any(getattr(old, name) != getattr(new, name) for name in what):
        return False
    told = any(getattr(old, name) for name in what[1:])
    return told and _likeness(_step_facts(old), _step_facts(new)) >= ENOUGH


def _values_of(step: Step) -> list[Any]:
    return [getattr(step, f.name) for f in fields(step) if f.compare and f.name != "name"]


def _step_facts(step: Step) -> Counter[str]:
    return Counter(
        f"{f.name} {getattr(step, f.name)!r}"
        for f in fields(step)
        if f.compare and f.name not in ("name", "owner") and getattr(step, f.name) not in (None, (), False)
    )


def called_after(old: Spec, blocks: Mapping[str, str]) -> dict[tuple[str, str], str]:
    """Steps that bear the name of what they take or free, where that has another name now: the new name of
    each by (new name of its block, its old name)."""
    found: dict[tuple[str, str], str] = {}
    for owner in old.owners():
        for step in step_items(owner.sequence):
            name = own_name(step, blocks.get(step.target or "", step.target))
            if name != step.name:
                found[(blocks.get(owner.name, owner.name), step.name)] = name
    return found
