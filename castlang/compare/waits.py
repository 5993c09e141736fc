"""What changed in the waits between two steps. A wait is known by its two ends, never by its line: what
stands above it and what stands below it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from castlang.compare import shown
from castlang.compare.kinds import ChangeKind as Kind
from castlang.compare.lines import Place, changed, come_or_gone, facts_changed
from castlang.compare.model import Change
from castlang.compare.shown import told_pair
from castlang.spec.model import Gap, GapKind, Item, Step, StepKind, StepRef

COVERS = frozenset({StepKind.COVER, StepKind.UNCOVER, StepKind.TEND})
GAP_KINDS = {
    GapKind.WAIT: Kind.WAIT,
    GapKind.WITHIN: Kind.WINDOW,
    GapKind.CURE: Kind.CURE,
    GapKind.DRY: Kind.DRY,
}

BEGIN, END = "the beginning", "the end"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wait:
    """A gap with its two ends; number: how many of its kind stand above it between the same ends."""

    gap: Gap
    above: str
    below: str
    number: int

    @property
    def ends(self) -> str:
        return f"between {self.above} and {self.below}"


def _waits(items: Sequence[Item], units: str) -> list[_Wait]:
    found: list[_Wait] = []
    for place, item in enumerate(items):
        if not isinstance(item, Gap):
            continue
        above = _from(item.after, units) if item.after is not None else step_near(items[:place][::-1], BEGIN)
        below = step_near(items[place + 1 :], END)
        same = (item.kind, above, below)
        number = sum(1 for w in found if (w.gap.kind, w.above, w.below) == same)
        found.append(_Wait(gap=item, above=above, below=below, number=number))
    return found


def _from(ref: StepRef, units: str) -> str:
    return shown.step_ref(ref, units)


def step_near(items: Sequence[Item], none: str) -> str:
    """The first step of the items that no cure brings; `none` where there is none."""
    return next((i.name for i in items if isinstance(i, Step) and i.kind not in COVERS), none)


def gaps_changed(owner: str, old: Sequence[Item], new: Sequence[Item], units: str) -> Iterator[Change]:
    """Every wait, window, cure and drying time that is new, gone or another, by its two ends."""
    before, after = _waits(old, units), _waits(new, units)
    pairs = _paired(before, after)
    told = {id(wait) for pair in pairs for wait in pair}
    for wait, other in pairs:
        yield from _gap_changed(owner, wait, other, units)
    for wait in before:
        if id(wait) not in told:
            yield _gap_told(owner, wait, added=False, units=units)
    for wait in after:
        if id(wait) not in told:
            yield _gap_told(owner, wait, added=True, units=units)


def _paired(old: Sequence[_Wait], new: Sequence[_Wait]) -> list[tuple[_Wait, _Wait]]:
    """Waits of one kind between the same ends; then those that share one end, the same times first."""
    found: list[tuple[_Wait, _Wait]] = []
    left, right = list(old), list(new)
    keys = (
        lambda w: (w.gap.kind, w.above, w.below, w.number),
        lambda w: (w.gap.kind, w.above, repr(w.gap.window)),
        lambda w: (w.gap.kind, w.below, repr(w.gap.window)),
        lambda w: (w.gap.kind, w.above),
        lambda w: (w.gap.kind, w.below),
        lambda w: ("", w.above, w.below),
    )
    for key in keys:
        waiting: dict[object, list[_Wait]] = {}
        for wait in right:
            waiting.setdefault(key(wait), []).append(wait)
        pairs = [(wait, waiting[key(wait)].pop(0)) for wait in left if waiting.get(key(wait))]
        found += pairs
        taken = {id(wait) for pair in pairs for wait in pair}
        left = [wait for wait in left if id(wait) not in taken]
        right = [wait for wait in right if id(wait) not in taken]
    return found


def _gap_changed(owner: str, old: _Wait, new: _Wait, units: str) -> Iterator[Change]:
    kind = GAP_KINDS[new.gap.kind]
    place = Place(block=owner, step=_work(new), lead=f"{owner}: {new.gap.kind} {new.ends}")
    if old.gap.kind is not new.gap.kind:
        told = [f"{w.gap.kind} {shown.window(w.gap.window, units)}" for w in (old, new)]
        yield changed(kind, Place(block=owner, step=_work(new), lead=f"{owner}: {new.ends}"), "", *told)
    elif old.gap.window != new.gap.window:
        a, b = told_pair(shown.window, old.gap.window, new.gap.window, units)
        yield changed(_window_kind(old.gap, new.gap, kind), place, "", a, b)
    if (old.above, old.below) != (new.above, new.below) or old.gap.after != new.gap.after:
        what = f"{new.gap.kind} {shown.window(new.gap.window, units)}"
        before, after = _ends(old), _ends(new)
        yield changed(kind, Place(block=owner, step=_work(new), lead=f"{owner}: {what}"), "", before, after)
    own = dict.fromkeys(("at", "covered", "until", "tend"), kind)
    yield from facts_changed(old.gap, new.gap, place, units, kinds=own)


def _ends(wait: _Wait) -> str:
    """The ends; of one counted from another step than the one above, that too."""
    return f"{wait.ends}, told from there" if wait.gap.after is not None else wait.ends


def _window_kind(old: Gap, new: Gap, kind: Kind) -> Kind:
    """Of a plain wait, a longest time alone is its window."""
    if kind is Kind.WAIT and old.window.least == new.window.least:
        return Kind.WINDOW
    return kind


def _work(wait: _Wait) -> str:
    """The step of the same block that a wait counts for: the one below, else the one above."""
    return wait.below if wait.below != END else wait.above


def _gap_told(owner: str, wait: _Wait, *, added: bool, units: str) -> Change:
    place = Place(block=owner, step=_work(wait), lead=f"{owner}:")
    covered = "" if wait.gap.covered is None else f" {shown.covered(wait.gap.covered, units)}"
    value = f"{shown.window(wait.gap.window, units)}{covered} {wait.ends}"
    return come_or_gone(GAP_KINDS[wait.gap.kind], place, str(wait.gap.kind), value, added=added)
