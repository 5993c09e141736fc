"""A binder as data: sheets made of blocks. Texts are plain; nothing here knows a format.

Every text may hold any character a builder typed; each format escapes for itself. What a text says of dates
is marked in it (`dated_text`), for the stamps of its sheet.
"""

from dataclasses import dataclass
from enum import StrEnum


class Align(StrEnum):
    LEFT = "left"
    RIGHT = "right"  # figures


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """`key` is the name in CSV and JSON (snake_case); `title` the head on paper, with its unit.
    share: the column's part of the width. blank: left empty for the crew to write in. spare: 0 for a column
    that is always shown; where a terminal is too narrow, the highest go first."""

    key: str
    title: str
    align: Align = Align.LEFT
    share: float = 1.0
    blank: bool = False
    spare: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """cells: one text a column. strong: a total or a critical row, told apart by weight and a mark.
    data: (column key, text) where programs need another text than people: dates and times in ISO 8601.
    ticked: whether the columns to write in have boxes on this row; a total has none.
    trace: the name that traces its chief figure, "" where it has none."""

    cells: tuple[str, ...]
    strong: bool = False
    data: tuple[tuple[str, str], ...] = ()
    ticked: bool = True
    trace: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """key: the name of its CSV file. title is printed above it. by_date: the rows stand in the order that the
    plan gives them. abreast: so many rows may stand beside one another on paper, left to right."""

    key: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    empty: str = "nothing"  # printed in place of rows when there are none
    by_date: bool = False
    abreast: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Prose:
    """Paragraphs, or a list of points when `points`."""

    lines: tuple[str, ...]
    title: str | None = None
    points: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A boxed warning: what can hurt, and what to do. Never smaller than the body text."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Short labelled facts (label, value), set in columns at the head of a sheet."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WriteIn:
    """Boxes that the crew fills in by hand: (what, how wide in parts of the line: 1 whole, 0.5 half)."""

    lines: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One line of a traveller or day sheet to work from: a tick box, when, what, how; read at arm's length.

    when: "Mon 01 Feb 07:30". until: when it must have ended or its window closes, "" if none.
    lines: further lines under it (material, batch, instruction). write: what the crew fills in.
    critical: part of the critical chain.
    """

    when: str
    what: str
    until: str = ""
    lines: tuple[str, ...] = ()
    write: tuple[str, ...] = ()
    caution: tuple[str, ...] = ()
    critical: bool = False
    wait: bool = False  # a wait: nothing to do but keep it
    done: bool = False  # on record as done: ticked, nothing to fill in


@dataclass(frozen=True, slots=True, kw_only=True)
class Items:
    """Lines to work from, in order, under one title. by_date: the plan gives them their order; else it is
    that of the work itself."""

    items: tuple[Item, ...]
    title: str | None = None
    by_date: bool = False


class BarKind(StrEnum):
    WORK = "work"
    WAIT = "wait"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """Part of a chart row, in minutes from the chart's start."""

    start: int
    end: int
    kind: BarKind
    critical: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartRow:
    """slack_to: the minute to which the row's work could slip (None or the end of the last bar: no slack)."""

    label: str
    bars: tuple[Bar, ...]
    slack_to: int | None = None
    critical: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """Bars over days. days: the label of each day from minute 0, one every 1440 minutes. open: (from, to)
    minutes in which the shop is open; everything else is shaded as closed. hours: what the hours of a day
    are called, from midnight on."""

    title: str
    days: tuple[str, ...]
    open: tuple[tuple[int, int], ...]
    rows: tuple[ChartRow, ...]
    hours: tuple[str, ...] = tuple(str(hour) for hour in range(24))


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidOut:
    """A panel on a drawn sheet: its near left corner and its size, um; number: as the table beside it."""

    number: str
    x: int
    y: int
    along: int
    across: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """A stock sheet with the panels that are cut from it, drawn to scale. Sizes in um; side and end: what is
    written along its two sides; grain: "along", "across" or "" where there is none."""

    title: str
    along: int
    across: int
    side: str
    end: str
    panels: tuple[LaidOut, ...]
    grain: str = ""


Block = Table | Prose | Caution | Facts | WriteIn | Items | Chart | Layout


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet of the binder; may run over several pages. code: short and unique ("BATCH-04").
    landscape: for wide charts. outline: depth in the PDF's outline, 0 for a section. stamped: whether its
    pages bear its stamps; a sheet that no cover lists needs none."""

    code: str
    title: str
    blocks: tuple[Block, ...]
    subtitle: str = ""
    landscape: bool = False
    outline: int = 1
    section: str = ""
    stamped: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Binder:
    """paper: "a4" or "letter". Every page carries the build, the revision, page x of y and the sheet code."""

    build: str
    label: str
    revision: str
    paper: str
    sheets: tuple[Sheet, ...]
