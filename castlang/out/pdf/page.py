"""The frame of every page: what sheet with which stamps, which build and revision, which page of how many."""

from dataclasses import dataclass

from castlang.out.pdf.matrix_code import SIDE, code_text, draw_code
from castlang.out.pdf.pen import FINE, HEAVY, MM, Pen, base_line
from castlang.out.pdf.strip import Room
from castlang.out.pdf.text import SMALL, SMALL_BOLD, WORK, Style, cut, limited, one_line, width
from castlang.sheets.model import Binder, Sheet
from castlang.sheets.stamps import SheetStamp, stamp_of

PAPERS = {"a4": (210 * MM, 297 * MM), "letter": (612.0, 792.0)}  # ISO 216; ANSI/ASME Y14.1 size A

PUNCHED = 19 * MM  # the edge with the holes: left of an upright page, top of a wide one
OUTER = 14 * MM  # the edge of the thumb tabs, across from the holes
OTHER = 11 * MM
TAB_EDGE = 5 * MM  # from the paper's edge: what a laser printer cannot reach
TAB = 5.5 * MM
FOOT = 20.0
TITLE_SIZES = (18.0, 15.0, 13.0)
TITLE_LINES = 2
HEAD = HEAVY + SIDE  # a head is no lower: its matrix code stands under the top rule
CODE = Style(size=15, bold=True)
TAB_WORD = Style(size=9.5, bold=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where things stand on a sheet's pages, in points from the lower left corner."""

    binder: Binder
    sheet: Sheet
    stamp: SheetStamp
    width: float  # of the paper
    height: float
    left: float
    right: float
    top: float
    bottom: float
    title: tuple[str, ...]
    title_style: Style
    subtitle: tuple[str, ...]

    @property
    def content_top(self) -> float:
        head = 9 + len(self.title) * self.title_style.leading + len(self.subtitle) * WORK.leading
        return self.top - max(head + 6, HEAD + 2)

    @property
    def room(self) -> Room:
        """What is left for the sheet's blocks."""
        return Room(width=self.right - self.left, height=self.content_top - self.bottom - FOOT)


def frame_of(binder: Binder, sheet: Sheet) -> Frame:
    """The frame of all pages of a sheet; a wide sheet is punched at its top, and turned in the binder."""
    short, long = PAPERS[binder.paper]
    wide, high = (long, short) if sheet.landscape else (short, long)
    left, right = (OTHER, wide - OTHER) if sheet.landscape else (PUNCHED, wide - OUTER)
    top, bottom = (high - PUNCHED, OUTER) if sheet.landscape else (high - OTHER, OTHER)
    room = right - left - _code_width(sheet) - SIDE - 14
    style, title = _title(sheet.title, room)
    return Frame(
        binder=binder,
        sheet=sheet,
        stamp=stamp_of(sheet),
        width=wide,
        height=high,
        left=left,
        right=right,
        top=top,
        bottom=bottom,
        title=title,
        title_style=style,
        subtitle=limited(sheet.subtitle, WORK, room, 3) if sheet.subtitle else (),
    )


def draw_head(pen: Pen, frame: Frame, *, part: int, parts: int) -> None:
    """part of parts of the sheet, from 1; the first of a stamped sheet bears the matrix code."""
    pen.black(frame.left, frame.top, frame.right - frame.left, HEAVY)
    down = frame.top - 8
    pen.lines(frame.left, down, frame.title, frame.title_style)
    pen.lines(frame.left, down - len(frame.title) * frame.title_style.leading, frame.subtitle, WORK)
    _code(pen, frame, part, parts)
    if part == 1 and frame.sheet.stamped:
        left = frame.right - _code_width(frame.sheet) - SIDE
        draw_code(pen, left, frame.top - HEAVY, code_text(frame.binder, frame.stamp))


def draw_foot(pen: Pen, frame: Frame, *, page: int, pages: int) -> None:
    """page of pages of the binder, from 1."""
    high = frame.bottom + FOOT - 7
    pen.line(frame.left, high, frame.right, high, FINE)
    stamps = f"{_stamps(frame.stamp)}    " if frame.sheet.stamped else ""
    number = f"{stamps}page {page} of {pages}"
    base = high - base_line(SMALL) - 1
    room = frame.right - frame.left - width(number, SMALL_BOLD) - 20
    pen.text(frame.left, base, _build(frame.binder, room), SMALL)
    pen.text_right(frame.right, base, number, SMALL_BOLD)
    _tab(pen, frame)


def _title(text: str, room: float) -> tuple[Style, tuple[str, ...]]:
    style = Style(size=TITLE_SIZES[-1], bold=True)
    for size in TITLE_SIZES:
        style = Style(size=size, bold=True)
        lines = limited(text, style, room, TITLE_LINES + 1)
        if len(lines) <= TITLE_LINES:
            return style, lines
    return style, limited(text, style, room, TITLE_LINES + 1)


def _code_width(sheet: Sheet) -> float:
    return min(width(one_line(sheet.code), CODE), 200.0) + 18


def _code(pen: Pen, frame: Frame, part: int, parts: int) -> None:
    """The sheet's code in white on a black label that hangs from the top rule."""
    wide, high = _code_width(frame.sheet), 25.0
    pen.black(frame.right - wide, frame.top, wide, high)
    code = cut(frame.sheet.code, CODE, wide - 17)
    pen.text(frame.right - wide + 9, frame.top - high / 2 - CODE.size * 0.36, code, CODE, white=True)
    if parts > 1:
        text = f"part {part} of {parts}"
        pen.text_right(frame.right, frame.top - high - base_line(SMALL), text, SMALL)


def _stamps(stamp: SheetStamp) -> str:
    """A sheet without dates says so: nobody is to look for a stamp that is not there."""
    return f"facts {stamp.facts}  {f'dates {stamp.dates}' if stamp.dates else 'no dates'}"


def _build(binder: Binder, room: float) -> str:
    """The build and its revision; a long one of them does not push the other out."""
    name = binder.build if binder.label in ("", binder.build) else f"{binder.label} ({binder.build})"
    revision = cut(f", revision {binder.revision or 'not told'}", SMALL, room * 0.45)
    return cut(name, SMALL, room - width(revision, SMALL)) + revision


def _tab(pen: Pen, frame: Frame) -> None:
    """A black tab at the outer edge, at its section's height, to leaf through the binder with a thumb."""
    sections = list(dict.fromkeys(s.section for s in frame.binder.sheets if s.section))
    if len(sections) < 2 or not frame.sheet.section:
        return
    wide = frame.sheet.landscape
    edge = frame.width if wide else frame.height
    slot = min((edge - 2 * OTHER) / len(sections), 34 * MM)
    before = OTHER + sections.index(frame.sheet.section) * slot
    word = cut(frame.sheet.section, TAB_WORD, slot - 14)
    inset = (slot - 4 - width(word, TAB_WORD)) / 2
    if wide:
        left = frame.width - before - slot + 4
        pen.black(left, TAB_EDGE + TAB, slot - 4, TAB)
        pen.text(left + inset, TAB_EDGE + 4.6, word, TAB_WORD, white=True)
    else:
        top = frame.height - before
        left = frame.width - TAB_EDGE - TAB
        pen.black(left, top, TAB, slot - 4)
        pen.text_up(left + TAB - 4.6, top - slot + 4 + inset, word, TAB_WORD, white=True)
