"""The sheets of the build that `begin` writes, word for word, and its PDF read back by another library.

A change in a snapshot is a change in what a crew reads: say why in the commit that makes it.
"""

import io
from collections.abc import Iterator
from dataclasses import replace

import pytest
from pypdf import PdfReader
from pypdf.generic import Destination
from syrupy.assertion import SnapshotAssertion

from castlang.cli.starter import STARTER
from castlang.out.pdf import pdf_of
from castlang.out.text_table import text_table
from castlang.pipeline import Compiled, compile_build
from castlang.sheets.from_plan import TABLES, binder_of, table_of
from castlang.sheets.model import (
    Block,
    Caution,
    Chart,
    Facts,
    Items,
    Prose,
    Sheet,
    Table,
    WriteIn,
)
from castlang.source.files import Texts

WIDTH = 140


@pytest.fixture(scope="module")
def build() -> Compiled:
    return compile_build("bench.pour", STARTER.encode(), Texts())


@pytest.fixture(scope="module")
def binder(build):
    return binder_of(
        build.spec, build.takeoff, build.plan, build.costing, build.problems, revision="r1", paper="a4"
    )


@pytest.fixture(scope="module")
def reader(binder) -> PdfReader:
    return PdfReader(io.BytesIO(pdf_of(binder)))


# ---------------------------------------------------------------- the tables


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("name", sorted(TABLES))
def test_a_table_reads_as_before(name, units, build, snapshot: SnapshotAssertion):
    made = table_of(name, build.spec, build.takeoff, build.plan, build.costing, units=units)

    assert text_table(made, WIDTH) == snapshot


# ---------------------------------------------------------------- the sheets


@pytest.mark.parametrize("kind", ["COVER", "BILL", "ORDER", "BATCH", "MOLD", "PIECE", "JOB", "PLAN", "DAY"])
def test_a_sheet_reads_as_before(kind, binder, snapshot: SnapshotAssertion):
    sheets = [sheet for sheet in binder.sheets if sheet.code.startswith(kind)]

    assert sheets
    assert "\n".join(line for sheet in sheets[:1] for line in read_out(sheet)) == snapshot


def read_out(sheet: Sheet) -> Iterator[str]:
    """A sheet as lines of text, every block of it."""
    yield f"{sheet.code} | {sheet.title} | {sheet.subtitle}"
    for block in sheet.blocks:
        yield ""
        yield from _block(block)


def _unstamped(table: Table) -> Table:
    """A list of stamps without them: each would be another with every word of its sheet."""
    if table.key != "stamps":
        return table
    return replace(table, rows=tuple(replace(row, cells=(row.cells[0], "-", "-")) for row in table.rows))


def _block(block: Block) -> Iterator[str]:
    match block:
        case Table():
            yield text_table(_unstamped(block), WIDTH).rstrip("\n")
        case Prose():
            yield f"-- {block.title or ''}"
            yield from (f"{'* ' if block.points else ''}{line}" for line in block.lines)
        case Caution():
            yield f"!! {block.title}"
            yield from block.lines
        case Facts():
            yield from (f"{label}: {value}" for label, value in block.pairs)
        case WriteIn():
            yield from (f"____ {what} ({share:g})" for what, share in block.lines)
        case Items():
            yield f"-- {block.title or ''}"
            for item in block.items:
                marks = "".join(m for m, on in (("*", item.critical), ("~", item.wait)) if on)
                yield f"[ ]{marks} {item.when} | {item.what} | {item.until}"
                yield from (f"      {line}" for line in item.lines)
                yield from (f"    ! {line}" for line in item.caution)
                yield from (f"      ____ {line}" for line in item.write)
        case Chart():
            yield f"-- {block.title}: {', '.join(block.days)}"
            for row in block.rows:
                bars = ", ".join(f"{b.kind} {b.start} to {b.end}{' *' * b.critical}" for b in row.bars)
                yield f"{row.label}{' *' * row.critical} (slack to {row.slack_to}): {bars}"


# ---------------------------------------------------------------- the PDF, read back


def test_every_word_of_every_sheet_stands_on_its_pages_of_the_pdf(reader, binder):
    """Without spaces, as where they fall between two cells is the reading library's guess."""
    firsts = sorted({page for _, page in _outline(reader, reader.outline)})
    afters = [*firsts[1:], len(reader.pages)]
    pages = ["".join(page.extract_text().split()) for page in reader.pages]
    lost = []
    for sheet, first, after in zip(binder.sheets, firsts, afters, strict=True):
        text = "".join(pages[first:after])
        lost += [(sheet.code, word) for word in _words(sheet) if word not in text]

    assert lost == []


def _words(sheet: Sheet) -> Iterator[str]:
    """The words that are printed of a sheet; rules of a chart and of a text table are drawn, not printed."""
    yield from f"{sheet.code} {sheet.title} {sheet.subtitle}".split()
    for block in sheet.blocks:
        match block:
            case Table():
                for row in block.rows:
                    yield from " ".join(row.cells).split()
                yield from " ".join((block.title, *(column.title for column in block.columns))).split()
            case Chart():
                yield from " ".join((block.title, *(row.label for row in block.rows))).split()
            case Items():
                for item in block.items:
                    yield from " ".join((item.when, item.what, item.until)).split()
                    yield from " ".join((*item.lines, *item.caution, *item.write)).split()
            case Prose() | Caution():
                yield from " ".join((block.title or "", *block.lines)).split()
            case Facts():
                yield from " ".join(text for pair in block.pairs for text in pair).split()
            case WriteIn():
                yield from " ".join(text for text, _ in block.lines).split()


def test_the_outline_of_the_pdf_reads_as_before(reader, snapshot: SnapshotAssertion):
    lines = [f"{title} ... {page + 1}" for title, page in _outline(reader, reader.outline)]

    assert lines == snapshot


def _outline(reader: PdfReader, entries: list, depth: int = 0) -> Iterator[tuple[str, int]]:
    """Every title, indented, with its page counted from 0."""
    for entry in entries:
        if isinstance(entry, Destination):
            page = reader.get_destination_page_number(entry)
            assert page is not None
            yield f"{'    ' * depth}{entry.title}", page
        else:
            yield from _outline(reader, entry, depth + 1)


def test_the_metadata_of_the_pdf_reads_as_before(reader, snapshot: SnapshotAssertion):
    assert {key: str(value) for key, value in sorted((reader.metadata or {}).items())} == snapshot


def test_every_page_of_the_pdf_says_which_build_revision_and_page_it_is(reader):
    count = len(reader.pages)
    for number, page in enumerate(reader.pages, 1):
        text = " ".join(page.extract_text().split())

        assert f"page {number} of {count}" in text
        assert "Garden bench seat" in text
        assert "r1" in text


def test_every_sheet_stands_in_the_outline_of_the_pdf(reader, binder):
    titles = [title.strip() for title, _ in _outline(reader, reader.outline)]

    assert [s.code for s in binder.sheets if f"{s.code} {s.title}" not in titles] == []
