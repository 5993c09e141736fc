"""One change told in one line, the same way wherever it stands."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from castlang.compare.facts import FACTS, Fact
from castlang.compare.kinds import ChangeKind
from castlang.compare.model import Change
from castlang.compare.shown import NOT_TOLD, Show, told_pair


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a change stands: its block and its step, and what the line begins with."""

    block: str = ""
    step: str = ""
    lead: str = ""

    def at(self, *words: str) -> "Place":
        """The same place, with more words in front of what is told."""
        return Place(block=self.block, step=self.step, lead=_joined(self.lead, *words))


def block_place(name: str) -> Place:
    """The place of what a block says itself."""
    return Place(block=name, lead=f"{name}:")


def step_place(block: str, step: str) -> Place:
    """The place of a line of work."""
    return Place(block=block, step=step, lead=f"{block}: {step}")


def _joined(*words: str) -> str:
    return " ".join(word for word in words if word)


def changed(
    kind: ChangeKind, place: Place, what: str, old: str | None, new: str | None, tail: str = ""
) -> Change:
    """A fact that is another: `seat: hone takes 45 min -> 50 min`."""
    pair = f"{NOT_TOLD if old is None else old} -> {NOT_TOLD if new is None else new}"
    says = _joined(place.lead, what, pair, tail)
    return Change(
        kind=kind, block=place.block, step=place.step, what=what or str(kind), old=old, new=new, says=says
    )


def come_or_gone(
    kind: ChangeKind, place: Place, what: str, value: str, *, added: bool, verb: str = ""
) -> Change:
    """Something that was not there, or is gone: `closed Thu 6 May 2027 added`."""
    says = _joined(place.lead, what, value, verb or ("added" if added else "dropped"))
    old, new = (None, value) if added else (value, None)
    return Change(
        kind=kind, block=place.block, step=place.step, what=what or str(kind), old=old, new=new, says=says
    )


def facts_changed(
    old: Any,
    new: Any,
    place: Place,
    units: str,
    *,
    kinds: Mapping[str, ChangeKind] | None = None,
    tails: Mapping[str, str] | None = None,
) -> Iterator[Change]:
    """Every fact of two blocks of one type that the table tells, in its order. kinds: other kinds than the
    table's, by field; tails: what stands behind the values, by field."""
    for name, fact in FACTS[type(old)].items():
        before, after = getattr(old, name), getattr(new, name)
        if before == after:
            continue
        kind = (kinds or {}).get(name, fact.kind)
        if fact.each:
            yield from members_changed(before, after, place, units, fact, kind)
            continue
        a, b = told_pair(fact.show, before, after, units)
        yield changed(kind, place, fact.word, a, b, (tails or {}).get(name, ""))


def members_changed(
    old: Sequence[Any], new: Sequence[Any], place: Place, units: str, fact: Fact, kind: ChangeKind
) -> Iterator[Change]:
    """What of a list is gone and what was added; or that only its order is another, where that is said. One
    member in the place of one other is a change of it."""
    gone, come = _without(old, new), _without(new, old)
    if len(gone) == len(come) == 1:
        a, b = told_pair(fact.show, gone[0], come[0], units)
        yield changed(kind, place, fact.word, a, b)
    else:
        for member in gone:
            yield come_or_gone(kind, place, fact.word, fact.show(member, units), added=False)
        for member in come:
            yield come_or_gone(kind, place, fact.word, fact.show(member, units), added=True)
    if fact.ordered and not gone and not come:
        a = "; ".join(fact.show(member, units) for member in old)
        b = "; ".join(fact.show(member, units) for member in new)
        yield changed(kind, place, f"{fact.word}, in another order:", a, b)


def _without(members: Sequence[Any], others: Sequence[Any]) -> list[Any]:
    """Members that are not among the others, each counted."""
    left = Counter(repr(other) for other in others)
    kept = []
    for member in members:
        if left[repr(member)]:
            left[repr(member)] -= 1
        else:
            kept.append(member)
    return kept


def named_changed(
    kind: ChangeKind,
    place: Place,
    old: Mapping[str, Any],
    new: Mapping[str, Any],
    show: Show,
    units: str,
    word: str = "",
) -> Iterator[Change]:
    """Members that bear names: those gone, those added, and of the others every fact."""
    for name in [*old, *(n for n in new if n not in old)]:
        before, after = old.get(name), new.get(name)
        if before == after:
            continue
        if before is None or after is None:
            there = after if before is None else before
            told = _joined(name, show(there, units))
            yield come_or_gone(kind, place, word, told, added=before is None)
        else:
            kinds = dict.fromkeys(FACTS[type(before)], kind)
            yield from facts_changed(before, after, place.at(word, name), units, kinds=kinds)
