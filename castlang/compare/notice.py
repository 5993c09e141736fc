"""A comparison as blocks: what changed, what follows, and what the crew does with the printed binder."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from castlang.compare.amounts_told import (
    Told,
    cut,
    figures_told,
    materials_told,
    more_text,
    order_told,
    sum_text,
)
from castlang.compare.model import Cast, Comparison, Ending, SheetSwap, Swap
from castlang.problems.model import Problem, Severity
from castlang.sheets import times
from castlang.sheets.model import Binder, Block, Caution, Column, Facts, Prose, Row, Sheet, Table

CODE = "CHANGE"
LENGTHS = (24, 16, 11, 7, 4)
"""So many lines of one kind stand on the notice: of these the most with which it is as short as wanted."""
FEW = 7
"""With no more lines than these there is no table of materials: what to buy is told, the bill exchanged."""
MOST_ROWS = 14  # sheets to exchange named one a row, with a box to tick each
MOST_NAMED = 48  # sheets of one kind named in one row

UNDECIDED = "Whoever answers for a piece says whether it is kept as it is or cast anew, before work goes on."
DO = {
    Swap.PULL: "take out",
    Swap.PUT_IN: "put in",
    Swap.REPLACE: "exchange",
}
"""What to do with a sheet, in words."""


def notice_of(told: Comparison, units: str, *, paper: str, revision: str, most: int) -> Binder:
    """The change notice: one sheet for the front of the binder. paper: "a4" or "letter". most: so many lines
    of one kind, of LENGTHS."""
    sheet = Sheet(
        code=CODE,
        title="Change notice",
        subtitle=told.label,
        blocks=tuple(_for_the_crew(told, units, most)),
        outline=0,
        section="Change notice",
        stamped=False,
    )
    return Binder(build=told.name, label=told.label, revision=revision, paper=paper, sheets=(sheet,))


def blocks_of(told: Comparison, units: str) -> tuple[Told, ...]:
    """The whole comparison, nothing left out: for a terminal or a review."""
    return (
        _head(told, units),
        _changes(told, None),
        *_cast(told, units, None),
        order_told(told, None),
        *materials_told(told, units, None),
        *figures_told(told, units, None),
        *_chain(told, None),
        *_grave(told, None),
        *_notes(told, None),
        *_sheets(told, None),
    )


def _for_the_crew(told: Comparison, units: str, most: int) -> Iterator[Block]:
    """First what changed, then what to do, then what follows."""
    yield _head(told, units)
    yield _changes(told, most)
    yield from _cast(told, units, most)
    yield from _grave(told, most)
    yield from _sheets(told, most)
    yield order_told(told, most)
    if most > FEW:
        yield from materials_told(told, units, most)
    yield from figures_told(told, units, most)
    yield from _chain(told, most)
    yield from _notes(told, most)


def _changes(told: Comparison, most: int | None) -> Prose:
    count = len(told.changes)
    title = f"What changed: {count} change{'s' if count != 1 else ''}"
    return Prose(title=title, lines=cut([change.says for change in told.changes], most), points=True)


# ---------------------------------------------------------------- the head


def _head(told: Comparison, units: str) -> Facts:
    pairs = [
        ("from", told.old),
        ("to", told.new),
        ("ends", _ends(told, units)),
    ]
    if told.old_end.due is not None or told.new_end.due is not None:
        pairs.append(("due", _due(told)))
    cost = next((s for s in told.sums if s.what == "cost in all"), None)
    pairs.append(("cost in all", sum_text(cost) if cost is not None else "as before"))
    hours = sum(work.new - work.old for work in told.work)
    pairs.append(("work of people", more_text(hours, times.working_hours(abs(hours)))))
    pairs.append(("done already", _recorded(told)))
    pairs.append(("sheets", _counted(told.swaps)))
    return Facts(pairs=tuple(pairs))


def _recorded(told: Comparison) -> str:
    """How much of what is on record a change reaches, so that nothing said is not taken for nothing cast."""
    if not told.records and not told.cast:
        return "nothing on record"
    steps = f"{told.records} step{'s' if told.records != 1 else ''} on record"
    return f"{steps}, {len(told.cast) or 'none'} of them not as the build now says"


def _ends(told: Comparison, units: str) -> str:
    now = _moment(told.new_end, units)
    before = _absolute(told.old_end)
    moved = _absolute(told.new_end) - before
    if not moved:
        return f"{now}, as before"
    word = "later" if moved > 0 else "sooner"
    return f"{now}, {times.span(abs(moved))} {word} than {_moment(told.old_end, units)}"


def _moment(end: Ending, units: str) -> str:
    day = times.full_day(times.date_of(end.start, end.finish))
    return f"{day} {times.clock(end.finish % times.DAY, units)}"


def _absolute(end: Ending) -> int:
    return end.start.toordinal() * times.DAY + end.finish


def _due(told: Comparison) -> str:
    now, before = _late(told.new_end), _late(told.old_end)
    return now if now == before else f"{now}; was {before}"


def _late(end: Ending) -> str:
    if end.due is None:
        return "no day told"
    # Due is the end of its day.
    day = times.full_day(times.date_of(end.start, end.due - 1))
    if end.late > 0:
        return f"{day}, late by {times.span(end.late)}"
    return f"{day}, {times.span(-end.late)} to spare"


# ---------------------------------------------------------------- the printed binder


def _counted(swaps: Sequence[SheetSwap]) -> str:
    counts = {swap: sum(1 for s in swaps if s.swap is swap) for swap in Swap}
    words = [
        f"{counts[Swap.REPLACE]} to exchange" if counts[Swap.REPLACE] else "",
        f"{counts[Swap.PULL]} to take out" if counts[Swap.PULL] else "",
        f"{counts[Swap.PUT_IN]} to put in" if counts[Swap.PUT_IN] else "",
        f"{counts[Swap.DATES]} with new dates alone" if counts[Swap.DATES] else "",
    ]
    return ", ".join(word for word in words if word) or "all as they are"


def _sheets(told: Comparison, most: int | None) -> Iterator[Told]:
    if told.shift:
        word = "later" if told.shift > 0 else "sooner"
        yield Prose(
            title="The whole plan moved",
            lines=(f"Every step is {times.span(abs(told.shift))} {word}; nothing else in the plan changed.",),
        )
    if not told.swaps:
        yield Prose(title="Sheets of the binder", lines=("All sheets stay as they are.",))
        return
    facts = [swap for swap in told.swaps if swap.swap is not Swap.DATES]
    dates = [swap for swap in told.swaps if swap.swap is Swap.DATES]
    if most is not None and len(told.swaps) > min(most, MOST_ROWS):
        yield from (_by_kind(facts),) if facts else ()
        yield from _dates(dates)
        return
    rows = [_row(swap) for swap in facts]
    yield Table(
        key="sheets",
        title="Sheets of the binder",
        columns=(
            Column(key="ticked", title="done", share=0.5, blank=True),
            Column(key="sheet", title="sheet", share=2.6),
            Column(key="title", title="what it is", share=2.2, spare=1),
            Column(key="do", title="do", share=1.4),
            Column(key="old", title="stamps, out", share=1.5, spare=2),
            Column(key="new", title="stamps, in", share=1.5, spare=2),
        ),
        rows=tuple(rows),
        empty="none to exchange, take out or put in",
    )
    yield from _dates(dates)


def _dates(swaps: Sequence[SheetSwap]) -> Iterator[Told]:
    """What differs in its dates alone: not to be worked from for when, still right for what."""
    if swaps:
        yield Prose(
            title=f"Sheets with new dates alone: {len(swaps)}",
            lines=(
                _codes([swap.code for swap in swaps]),
                "What they say to do still holds; take the new ones before you plan by them.",
            ),
        )


def _row(swap: SheetSwap) -> Row:
    return Row(cells=("", swap.code, swap.title, DO[swap.swap], swap.old, swap.new))


def _by_kind(swaps: Sequence[SheetSwap]) -> Table:
    """One row for what is done alike with sheets of a kind, where there are many."""
    groups: dict[tuple[Swap, str], list[str]] = {}
    for swap in swaps:
        kind, _, name = swap.code.partition(" ")
        groups.setdefault((swap.swap, kind if name else ""), []).append(swap.code)
    order = list(Swap)
    return Table(
        key="sheets",
        title="Sheets of the binder",
        columns=(
            Column(key="ticked", title="done", share=0.5, blank=True),
            Column(key="do", title="do", share=1.2),
            Column(key="sheets", title="sheets", share=6),
        ),
        rows=tuple(
            Row(cells=("", DO[swap], _codes(codes)))
            for (swap, _), codes in sorted(groups.items(), key=lambda group: order.index(group[0][0]))
        ),
    )


def _codes(codes: Sequence[str]) -> str:
    """`COVER, ORDER; PIECE seat.1, seat.2`: the kind is said once."""
    plain = [code for code in codes if " " not in code]
    kinds: dict[str, list[str]] = {}
    for code in codes:
        kind, _, name = code.partition(" ")
        if name:
            kinds.setdefault(kind, []).append(name)
    named = [f"{kind} {', '.join(_named(names))}" for kind, names in kinds.items()]
    return "; ".join([*([", ".join(plain)] if plain else []), *named])


def _named(names: Sequence[str]) -> Sequence[str]:
    """All names, or of very many the first; the stamps on the new cover tell the rest."""
    if len(names) <= MOST_NAMED:
        return names
    return [
        *names[:MOST_NAMED],
        f"and {len(names) - MOST_NAMED} more: look for their stamps on the new cover",
    ]


# ---------------------------------------------------------------- what is cast


def _cast(told: Comparison, units: str, most: int | None) -> Iterator[Told]:
    if told.cast:
        yield Caution(
            title="Done already, and not as the build now says",
            lines=(*cut(_cast_lines(told.cast, units), most), UNDECIDED),
        )


def _cast_lines(casts: Sequence[Cast], units: str) -> list[str]:
    """One line for all steps that the same changes reach, each step with when it was last done."""
    steps: dict[tuple[str, ...], dict[str, datetime]] = {}
    for cast in casts:
        known = steps.setdefault(cast.changes, {})
        known[cast.step] = max(cast.done.end, known.get(cast.step, cast.done.end))
    return [
        f"{', '.join(f'{step} (done {times.point(end, units)})' for step, end in ends.items())}: "
        f"{'; '.join(changes)}"
        for changes, ends in steps.items()
    ]


# ---------------------------------------------------------------- the plan, and what is found


def _chain(told: Comparison, most: int | None) -> Iterator[Told]:
    chain = told.chain
    if not chain.joined and not chain.left:
        return
    lines = [
        f"now on it: {', '.join(cut(chain.joined, most))}" if chain.joined else "",
        f"no longer on it: {', '.join(cut(chain.left, most))}" if chain.left else "",
    ]
    yield Prose(title="The chain that sets the finish", lines=tuple(line for line in lines if line))


def _grave(told: Comparison, most: int | None) -> Iterator[Told]:
    grave = [p for p in told.found if p.finding.severity is not Severity.NOTE]
    if grave:
        yield Caution(title="Found in the build now, and not before", lines=cut(_finding(grave), most))


def _notes(told: Comparison, most: int | None) -> Iterator[Told]:
    notes = [p for p in told.found if p.finding.severity is Severity.NOTE]
    if notes:
        yield Prose(title="Noted now, and not before", lines=cut(_finding(notes), most), points=True)
    if told.gone:
        yield Prose(title="No longer found", lines=cut(_finding(told.gone), most), points=True)


def _finding(problems: Sequence[Problem]) -> list[str]:
    return [f"{p.message} [{p.finding.name}]" for p in problems]
