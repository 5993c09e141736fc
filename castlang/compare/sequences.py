"""What changed in the order of work of one block: steps, their order, the waits between two of them."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence

from castlang.compare import shown
from castlang.compare.kinds import ChangeKind as Kind
from castlang.compare.lines import Place, block_place, come_or_gone, facts_changed, step_place
from castlang.compare.model import Change
from castlang.compare.renames import DERIVED
from castlang.compare.waits import BEGIN, END, gaps_changed, step_near
from castlang.spec.model import After, Item, Step, StepKind
from castlang.spec.quantity import Dimension

LAYERS = frozenset({StepKind.LAYER, StepKind.PRESS, StepKind.SCRIM})


def sequence_changed(owner: str, old: Sequence[Item], new: Sequence[Item], units: str) -> Iterator[Change]:
    """All that its own lines say; both are told in the new names."""
    yield from _steps_changed(owner, old, new, units)
    yield from _order_changed(owner, old, new)
    yield from gaps_changed(owner, old, new, units)
    yield from _afters_changed(owner, old, new, units)


def brought_changed(
    owner: str, old: Sequence[Item], new: Sequence[Item], units: str, *, explained: bool
) -> Iterator[Change]:
    """Steps that other lines bring: the covering of a cure, the release of a mold. explained: a change that
    brings or takes them is told already."""
    before, after = _by_name(old, brought=True), _by_name(new, brought=True)
    for name in [*before, *(n for n in after if n not in before)]:
        one, other = before.get(name), after.get(name)
        if one == other:
            continue
        if one is not None and other is not None:
            if not (explained and other.kind is StepKind.RELEASE):
                yield from facts_changed(one, other, step_place(owner, name), units)
        elif other is not None and not explained:
            yield _come_or_gone(owner, other, added=True, units=units)
        elif one is not None and not explained:
            yield _come_or_gone(owner, one, added=False, units=units)


def step_renamed(owner: str, old: str, new: str) -> Change:
    """A line of work under another name."""
    return Change(
        kind=Kind.STEP_RENAMED,
        block=owner,
        step=new,
        what="name",
        old=old,
        new=new,
        says=f"{owner}: {old} is now called {new}",
    )


# ---------------------------------------------------------------- steps


def _by_name(items: Sequence[Item], *, brought: bool) -> dict[str, Step]:
    return {i.name: i for i in items if isinstance(i, Step) and (i.kind in DERIVED) == brought}


def _steps_changed(owner: str, old: Sequence[Item], new: Sequence[Item], units: str) -> Iterator[Change]:
    before, after = _by_name(old, brought=False), _by_name(new, brought=False)
    for name in [*before, *(n for n in after if n not in before)]:
        one, other = before.get(name), after.get(name)
        if one is not None and other is not None:
            if one != other:
                yield from _step_changed(owner, one, other, units)
        elif other is not None:
            yield _come_or_gone(owner, other, added=True, units=units)
        elif one is not None:
            yield _come_or_gone(owner, one, added=False, units=units)


def _come_or_gone(owner: str, step: Step, *, added: bool, units: str) -> Change:
    pairs = {
        "layer": (Kind.LAYER_ADDED, Kind.LAYER_DROPPED),
        "pass": (Kind.PASS_ADDED, Kind.PASS_DROPPED),
        "": (Kind.STEP_ADDED, Kind.STEP_DROPPED),
    }
    word = "layer" if step.kind in LAYERS else "pass" if step.kind is StepKind.PASS else ""
    kind = pairs[word][0 if added else 1]
    change = come_or_gone(
        kind,
        block_place(owner),
        f"{step.kind} {step.name}" if not step.name.startswith(str(step.kind)) else step.name,
        shown.work(step, units),
        added=added,
    )
    return Change(
        kind=kind,
        block=owner,
        step=step.name,
        what=change.what,
        old=change.old,
        new=change.new,
        says=change.says,
    )


def _step_changed(owner: str, old: Step, new: Step, units: str) -> Iterator[Change]:
    amount = Kind.STEP_AMOUNT
    if new.kind in LAYERS and new.amount is not None and new.amount.dimension is Dimension.LENGTH:
        amount = Kind.THICKNESS
    elif new.kind is StepKind.PASS and new.amount is not None and new.amount.dimension is Dimension.COUNT:
        amount = Kind.COATS
    faces = f"on {', '.join(ref.face for ref in new.on)}" if new.on else ""
    material = f"of {new.material}" if new.material else ""
    yield from facts_changed(
        old,
        new,
        step_place(owner, new.name),
        units,
        kinds={"amount": amount},
        tails={"amount": f"{material} {faces}".strip(), "material": faces},
    )


# ---------------------------------------------------------------- their order


def _order_changed(owner: str, old: Sequence[Item], new: Sequence[Item]) -> Iterator[Change]:
    """The fewest steps that must have moved, each with what it now comes after."""
    before, after = list(_by_name(old, brought=False)), list(_by_name(new, brought=False))
    known = {name: number for number, name in enumerate(before)}
    common = [name for name in after if name in known]
    kept = _rising([known[name] for name in common])
    for place, name in enumerate(common):
        if place in kept:
            continue
        was = _above(before, name)
        now = _above(after, name)
        yield Change(
            kind=Kind.STEP_ORDER,
            block=owner,
            step=name,
            what="order",
            old=was,
            new=now,
            says=f"{owner}: {name} now comes after {now}, and came after {was}",
        )


def _above(names: Sequence[str], name: str) -> str:
    number = names.index(name)
    return names[number - 1] if number else BEGIN


def _rising(numbers: Sequence[int]) -> frozenset[int]:
    """The places of a longest rising run among the numbers."""
    ends: list[int] = []
    last: list[int] = []
    before: list[int] = []
    for place, number in enumerate(numbers):
        at = bisect_left(ends, number)
        before.append(last[at - 1] if at else -1)
        ends[at : at + 1] = [number]
        last[at : at + 1] = [place]
    found = []
    place = last[-1] if last else -1
    while place >= 0:
        found.append(place)
        place = before[place]
    return frozenset(found)


# ---------------------------------------------------------------- what comes after what


def _afters_changed(owner: str, old: Sequence[Item], new: Sequence[Item], units: str) -> Iterator[Change]:
    """What a step waits for, by the step: an `after` line more or less says the same as one more name."""
    before, after = _afters(old, units), _afters(new, units)
    for below in [*before, *(b for b in after if b not in before)]:
        gone = [ref for ref in before.get(below, []) if ref not in after.get(below, [])]
        come = [ref for ref in after.get(below, []) if ref not in before.get(below, [])]
        place = Place(block=owner, step="" if below == END else below, lead=f"{owner}: {below}")
        for ref in gone:
            yield come_or_gone(Kind.AFTER, place, "after", ref, added=False, verb="no longer")
        for ref in come:
            yield come_or_gone(Kind.AFTER, place, "after", ref, added=True, verb="from now on")


def _afters(items: Sequence[Item], units: str) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for place, item in enumerate(items):
        if isinstance(item, After):
            below = step_near(items[place + 1 :], END)
            found.setdefault(below, []).extend(shown.step_ref(ref, units) for ref in item.refs)
    return found
