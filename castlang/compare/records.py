"""What changed in lines that stand alone: waivers, measured values, records of work done."""

from collections.abc import Callable, Iterator, Sequence
from itertools import zip_longest
from typing import TypeVar

from castlang.compare import shown
from castlang.compare.kinds import ChangeKind as Kind
from castlang.compare.lines import Place, changed, come_or_gone
from castlang.compare.model import Change
from castlang.compare.shown import told_pair
from castlang.sheets import amounts
from castlang.sheets.instructions import people
from castlang.spec.model import Done, Measured, Waiver

T = TypeVar("T")


def waivers_changed(old: Sequence[Waiver], new: Sequence[Waiver], units: str) -> Iterator[Change]:
    """Every `waive` line that is new or gone, or has another reason."""
    for before, after in _pairs(old, new, lambda w: (w.finding, w.on)):
        there = after or before
        if there is None:
            continue
        what = f"waive {there.finding} on {', '.join(there.on)}"
        if before is None or after is None:
            reason = shown.quoted(there.reason, units)
            yield come_or_gone(Kind.WAIVER, Place(), what, reason, added=before is None)
        else:
            a, b = (shown.quoted(w.reason, units) for w in (before, after))
            yield changed(Kind.WAIVER, Place(), f"{what}:", a, b)


def measured_changed(old: Sequence[Measured], new: Sequence[Measured], units: str) -> Iterator[Change]:
    """Every measured value that is new, gone or another."""
    for before, after in _pairs(old, new, lambda m: (m.what, m.of)):
        there = after or before
        if there is None:
            continue
        place = Place(block=there.of.split(".")[0])
        what = f"measured {there.what} of {there.of}"
        if before is None or after is None:
            value = f"{shown.amount(there.amount, units)} {shown.quoted(there.how, units)}"
            yield come_or_gone(Kind.MEASURED, place, what, value, added=before is None)
            continue
        if before.amount != after.amount:
            a, b = told_pair(shown.amount, before.amount, after.amount, units)
            yield changed(Kind.MEASURED, place, what, a, b)
        if before.how != after.how:
            a, b = (shown.quoted(m.how, units) for m in (before, after))
            yield changed(Kind.MEASURED, place, f"{what}, how:", a, b)


def done_changed(old: Sequence[Done], new: Sequence[Done], units: str) -> Iterator[Change]:
    """Every record of work done that is new, gone or another."""
    for before, after in _pairs(old, new, lambda d: shown.step_ref(d.step, units)):
        there = after or before
        if there is None:
            continue
        place = Place(block=there.step.owner, step=there.step.step or "")
        what = f"done {shown.step_ref(there.step, units)}"
        if before is None or after is None:
            yield come_or_gone(Kind.DONE, place, what, _record(there, units), added=before is None)
        else:
            a, b = told_pair(_record, before, after, units)
            yield changed(Kind.DONE, place, f"{what}:", a, b)


def _record(done: Done, units: str) -> str:
    """What was done, when, by whom and with what."""
    words = [
        f"{shown.at_time(done.start, units)} to {shown.at_time(done.end, units)}",
        f"at {amounts.temperature(done.at, units)}" if done.at is not None else "",
        people(done.gang),
        f"lots {shown.lots(done.lots, units)}" if done.lots else "",
        shown.quoted(done.text, units) if done.text else "",
    ]
    return " ".join(word for word in words if word)


def _pairs(
    old: Sequence[T], new: Sequence[T], key: Callable[[T], object]
) -> Iterator[tuple[T | None, T | None]]:
    """What is of one key, side by side; equal ones are left out."""
    before, after = _by_key(old, key), _by_key(new, key)
    for told in [*before, *(k for k in after if k not in before)]:
        left, right = list(before.get(told, [])), list(after.get(told, []))
        for value in before.get(told, []):
            if value in right:
                left.remove(value)
                right.remove(value)
        yield from zip_longest(left, right)


def _by_key(values: Sequence[T], key: Callable[[T], object]) -> dict[object, list[T]]:
    found: dict[object, list[T]] = {}
    for value in values:
        found.setdefault(key(value), []).append(value)
    return found
