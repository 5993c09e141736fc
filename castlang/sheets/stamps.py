"""Stamps: two short signs by which a printed sheet is known, one of its facts, one of its dates.

A stamp is made from what the sheet says, and from nothing else: not from the build's name, the revision, the
page, the paper, or the lines of the source. As long as the sheet says the same, its stamps are the same.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from hashlib import blake2b
from typing import assert_never

from castlang.sheets.dated_text import dates_of, facts_of
from castlang.sheets.model import (
    Binder,
    Block,
    Caution,
    Chart,
    Facts,
    Item,
    Items,
    Layout,
    Prose,
    Sheet,
    Table,
    WriteIn,
)

# Digits and capitals without those that are taken for one another (I and L for 1, O for 0) and without U.
# Source: Crockford, Base 32 (from memory).
ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
LETTERS = 6  # 30 bits: of a thousand changed sheets one keeps its stamp by chance once in a million revisions

# What is said, as texts and lists of it, for the digest.
Said = str | int | tuple["Said", ...]
NOTHING: tuple[Said, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStamp:
    """The stamps of the sheet with a code. facts: of what is to be done and with how much; dates: of when,
    in what order by date, with what slack, and what is critical; "" on a sheet that bears no date."""

    code: str
    title: str
    facts: str
    dates: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Saying:
    facts: tuple[Said, ...] = NOTHING
    dates: tuple[Said, ...] = NOTHING


def stamps_of(binder: Binder) -> tuple[SheetStamp, ...]:
    """The stamps of every sheet, in the binder's order."""
    return tuple(stamp_of(sheet) for sheet in binder.sheets)


def stamp_of(sheet: Sheet) -> SheetStamp:
    """The stamps of one sheet."""
    head = (_text(sheet.code), _text(sheet.title), _text(sheet.subtitle))
    said = _all((*head, _loose(_block(block) for block in sheet.blocks)))
    return SheetStamp(
        code=str(sheet.code), title=str(sheet.title), facts=_sign(said.facts), dates=_sign(said.dates)
    )


def _sign(said: tuple[Said, ...]) -> str:
    """The first letters of a digest; none where nothing is said."""
    if not said:
        return ""
    digest = blake2b(json.dumps(said).encode("ascii"), digest_size=8).digest()
    number = int.from_bytes(digest, "big")
    return "".join(ALPHABET[number >> shift & 31] for shift in range(59, 59 - 5 * LETTERS, -5))


# ---------------------------------------------------------------- what blocks say


def _block(block: Block) -> _Saying:
    match block:
        case Table():
            return _table(block)
        case Items():
            items = tuple(_item(item) for item in block.items)
            said = _loose(items, placed=True) if block.by_date else _all(items)
            return _headed(block.title or "", said)
        case Facts():
            return _all(_headed(label, _text(value)) for label, value in block.pairs)
        case Prose():
            return _headed(block.title or "", _texts(block.lines))
        case Caution():
            return _headed(block.title, _texts(block.lines))
        case WriteIn():
            return _Saying(facts=tuple(what for what, _ in block.lines))
        case Chart():
            return _Saying(dates=_chart(block))
        case Layout():
            return _Saying(facts=_layout(block))
        case _:
            assert_never(block)


def _text(text: str) -> _Saying:
    facts, dates = facts_of(text), dates_of(text)
    return _Saying(facts=(facts,) if facts else (), dates=(dates,) if dates else ())


def _texts(texts: Iterable[str]) -> _Saying:
    return _all(_text(text) for text in texts)


def _all(parts: Iterable[_Saying]) -> _Saying:
    """Several in their order; one that says nothing leaves no trace."""
    said = tuple(parts)
    return _Saying(
        facts=tuple(part.facts for part in said if part.facts),
        dates=tuple(part.dates for part in said if part.dates),
    )


def _headed(title: str, said: _Saying) -> _Saying:
    """A title counts with what stands under it: over dates alone it says nothing of facts."""
    if said.dates and not said.facts:
        return _Saying(dates=(str(title), *said.dates))
    head = _text(title)
    return _Saying(facts=(*head.facts, *said.facts), dates=(*head.dates, *said.dates))


def _loose(parts: Iterable[_Saying], *, placed: bool = False) -> _Saying:
    """Several whose order is no fact. placed: it follows from the plan, and where each stands is a date."""
    ordered = sorted(
        enumerate(parts),
        key=lambda pair: (json.dumps(pair[1].facts), "" if placed else json.dumps(pair[1].dates), pair[0]),
    )
    return _Saying(
        facts=tuple(part.facts for _, part in ordered if part.facts),
        dates=tuple((place, part.dates) if placed else part.dates for place, part in ordered if part.dates),
    )


def _table(table: Table) -> _Saying:
    """What the crew writes in is no part of it; neither is the weight of a row without dates, whose words say
    what it stands for. Where the order of rows is a fact, as on a weigh-out, they are numbered."""
    shown = tuple(index for index, column in enumerate(table.columns) if not column.blank)
    rows = []
    for row in table.rows:
        cells = [row.cells[index] for index in shown]
        facts = tuple(facts_of(cell) for cell in cells)
        dates = tuple(dates_of(cell) for cell in cells)
        rows.append(
            _Saying(
                facts=facts if any(facts) else (),
                dates=(*dates, int(row.strong)) if any(dates) else (),
            )
        )
    said = _loose(rows, placed=table.by_date)
    heads: tuple[Said, ...] = tuple(column.title for column in table.columns)
    if table.rows and not said.facts:
        return _Saying(dates=(str(table.title), heads, *said.dates))
    body = said.facts or (table.empty,)
    return _headed(table.title, _Saying(facts=(heads, *body), dates=said.dates))


def _item(item: Item) -> _Saying:
    head = (_text(item.when), _text(item.until), _text(item.what))
    said = _all((*head, _texts(item.lines), _texts(item.caution)))
    return _Saying(facts=(*said.facts, int(item.wait), item.write), dates=(*said.dates, int(item.critical)))


def _chart(chart: Chart) -> tuple[Said, ...]:
    rows = tuple(
        (
            row.label,
            tuple((bar.start, bar.end, bar.kind.value, int(bar.critical)) for bar in row.bars),
            row.slack_to if row.slack_to is not None else "",
            int(row.critical),
        )
        for row in chart.rows
    )
    return (chart.title, tuple(map(str, chart.days)), chart.open, rows)


def _layout(layout: Layout) -> tuple[Said, ...]:
    panels = tuple((p.number, p.x, p.y, p.along, p.across) for p in layout.panels)
    size = (layout.along, layout.across, layout.side, layout.end, layout.grain)
    return (layout.title, *size, panels)
