"""A binder as PDF: the sheets' strips set on pages, counted, framed and drawn."""

import io
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from typing import TYPE_CHECKING, assert_never

from castlang.out.pdf.boxes import caution_strips, facts_strips, write_strips
from castlang.out.pdf.chart import chart_strips
from castlang.out.pdf.face import face
from castlang.out.pdf.items import items_strips
from castlang.out.pdf.layout import layout_strips
from castlang.out.pdf.page import Frame, draw_foot, draw_head, frame_of
from castlang.out.pdf.pen import Pen
from castlang.out.pdf.prose import prose_strips
from castlang.out.pdf.strip import Page, Room, Strip, pages
from castlang.out.pdf.tables import table_strips
from castlang.out.pdf.text import lacking
from castlang.sheets.model import (
    Binder,
    Block,
    Caution,
    Chart,
    Facts,
    Items,
    Layout,
    Prose,
    Sheet,
    Table,
    WriteIn,
)

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

MAKER = "castlang"


def pdf_of(binder: Binder) -> bytes:
    """The binder as a PDF file; the same binder gives the same bytes.

    Characters that the typeface lacks print as "[?]": `missing_characters` tells which.
    """
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    first = face(False).name
    canvas = Canvas(out, pageCompression=1, invariant=1, lang="en", initialFontName=first)  # type: ignore[arg-type]  # the stub says float
    _describe(canvas, binder)
    frames = [frame_of(binder, sheet) for sheet in binder.sheets]
    leaves = [_leaves(frame) for frame in frames]
    total = sum(len(sheet_pages) for sheet_pages in leaves)
    outline = _Outline(canvas)
    number = 0
    for frame, sheet_pages in zip(frames, leaves, strict=True):
        for part, page in enumerate(sheet_pages, start=1):
            number += 1
            canvas.setPageSize((frame.width, frame.height))
            if part == 1:
                outline.add(frame.sheet, number)
            pen = Pen(canvas)
            draw_head(pen, frame, part=part, parts=len(sheet_pages))
            for placed in page:
                placed.strip.draw(pen, frame.left, frame.content_top - placed.down)
            draw_foot(pen, frame, page=number, pages=total)
            canvas.showPage()
    canvas.save()
    return out.getvalue()


def page_count(binder: Binder) -> int:
    """How many pages the PDF has."""
    return sum(len(_leaves(frame_of(binder, sheet))) for sheet in binder.sheets)


def _leaves(frame: Frame) -> tuple[Page, ...]:
    """The sheet's pages, with less white where that saves one."""
    loose = pages(_strips(frame.sheet, frame.room), frame.room)
    if len(loose) == 1:
        return loose
    room = replace(frame.room, tight=True)
    tight = pages(_strips(frame.sheet, room), room)
    return tight if len(tight) < len(loose) else loose


def missing_characters(binder: Binder) -> tuple[str, ...]:
    """The characters of the binder that the typeface lacks, each once, in order of appearance."""
    return tuple(dict.fromkeys(character for text in _texts(binder) for character in lacking(text)))


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from _texts(part)
    elif is_dataclass(value):
        for field in fields(value):
            yield from _texts(getattr(value, field.name))


def _describe(canvas: "Canvas", binder: Binder) -> None:
    _undated(canvas)
    canvas.setTitle(_whole(binder.label or binder.build))
    canvas.setSubject(_whole(f"{binder.build}, revision {binder.revision}"))
    canvas.showOutline()


def _undated(canvas: "Canvas") -> None:
    """No dates in the metadata: reportlab would write the time of making, or an invented one."""
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFInfo, PDFString

    class Undated(PDFInfo):
        def format(self, document: object) -> bytes:
            told = {"Title": self.title, "Subject": self.subject, "Author": MAKER, "Creator": MAKER}
            told["Producer"] = MAKER
            entries = PDFDictionary({key: PDFString(text) for key, text in told.items()})
            return bytes(entries.format(document))

    canvas._doc.info = Undated()  # type: ignore[attr-defined]  # reportlab has no public place for it


def _whole(text: str) -> str:
    """A text that a viewer shows in its own typeface: only what is no character at all is replaced."""
    return " ".join(text.encode("utf-8", "replace").decode("utf-8").split())


def _strips(sheet: Sheet, room: Room) -> list[Strip]:
    """The strips of all blocks; boxes to write in stay with what they are about."""
    strips: list[Strip] = []
    for number, block in enumerate(sheet.blocks):
        if number == 0 and isinstance(block, Table | Chart) and block.title == sheet.title:
            block = replace(block, title="")  # it stands at the head of the page
        if isinstance(block, WriteIn) and strips:
            strips[-1] = replace(strips[-1], with_next=True)
        strips += _block_strips(block, room)
    return strips


def _block_strips(block: Block, room: Room) -> Iterator[Strip]:
    match block:
        case Table():
            return table_strips(block, room)
        case Prose():
            return prose_strips(block, room)
        case Caution():
            return caution_strips(block, room)
        case Facts():
            return facts_strips(block, room)
        case WriteIn():
            return write_strips(block, room)
        case Items():
            return items_strips(block, room)
        case Chart():
            return chart_strips(block, room)
        case Layout():
            return layout_strips(block, room)
        case _:
            assert_never(block)


class _Outline:
    """The PDF's outline: sections, and the sheets in them."""

    def __init__(self, canvas: "Canvas") -> None:
        self._canvas = canvas
        self._section = ""
        self._deepest = 0

    def add(self, sheet: Sheet, number: int) -> None:
        """The sheet that begins on the present page, under its section if it begins one."""
        if sheet.section != self._section and sheet.section and sheet.outline > 0:
            self._entry(sheet.section, f"section-{number}", 0)
        self._section = sheet.section
        self._entry(f"{sheet.code}  {sheet.title}", f"sheet-{number}", sheet.outline)

    def _entry(self, title: str, key: str, level: int) -> None:
        """No level is left out: a sheet whose section has no entry stands where the section would."""
        level = max(0, min(level, self._deepest))
        self._canvas.bookmarkPage(key)
        self._canvas.addOutlineEntry(_whole(title), key, level, closed=level == 0)
        self._deepest = level + 1
