"""The binder on paper, read back by a library that did not write it."""

import io
import subprocess
import sys
from collections.abc import Iterable
from dataclasses import replace

import pytest
from pypdf import PdfReader

from castlang.out.pdf import missing_characters, pdf_of
from castlang.sheets.model import (
    Align,
    Bar,
    BarKind,
    Binder,
    Block,
    Caution,
    Chart,
    ChartRow,
    Column,
    Facts,
    Item,
    Items,
    Prose,
    Row,
    Sheet,
    Table,
    WriteIn,
)

NAME = Column(key="name", title="name", share=3)
MASS = Column(key="mass_kg", title="mass\nkg", align=Align.RIGHT)
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
LETTERS = "shell Ø 30 mm, 3/8″, ½ bag, ≥ 20 °C, naïve façade, Größe, łąka, Ωμ, дом"
HOSTILE = (
    "<b>&amp; bold</b> <font color=red>",
    "one\ntwo\r\nthree",
    "x" * 400,
    "word " * 400,
    "混凝土 and fire 🔥",
    "שלום 12.5 kg",
    "\x00\x1b[31m\u202e\u200b",
    "\ud800",
    "(unbalanced \\ (text",
    "",
)


def binder(*blocks: Block, paper: str = "a4", landscape: bool = False) -> Binder:
    sheet = Sheet(code="TRAV-01", title="Seat", blocks=blocks, landscape=landscape)
    return Binder(build="bench", label="Yard bench", revision="r7", paper=paper, sheets=(sheet,))


def texts(made: Binder) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf_of(made))).pages]


def lines(made: Binder) -> list[str]:
    return [line.strip() for text in texts(made) for line in text.splitlines()]


def table(rows: Iterable[tuple[str, str]], empty: str = "nothing") -> Table:
    made = tuple(Row(cells=cells) for cells in rows)
    return Table(key="masses", title="Masses", columns=(NAME, MASS), rows=made, empty=empty)


def chart(rows: int, days: int) -> Chart:
    """Rows of an hour's work and a wait after it, one begun every 400 minutes."""
    return Chart(
        title="When",
        days=tuple(f"{WEEKDAYS[day % 7]} {day + 1:02d} Feb" for day in range(days)),
        open=tuple((day * 1440 + 450, day * 1440 + 990) for day in range(days) if day % 7 < 5),
        rows=tuple(
            ChartRow(
                label=f"piece-{row:02d}.hone",
                bars=(
                    Bar(start=row * 400, end=row * 400 + 60, kind=BarKind.WORK, critical=row % 2 == 0),
                    Bar(start=row * 400 + 60, end=row * 400 + 300, kind=BarKind.WAIT),
                ),
                slack_to=row * 400 + 390,
            )
            for row in range(rows)
        ),
    )


def test_every_page_says_build_revision_sheet_title_and_page_of_pages() -> None:
    made = binder(table((f"row {n}", "1") for n in range(100)))

    read = texts(made)

    assert len(read) == 3
    for number, text in enumerate(read, start=1):
        for wanted in ("Yard bench (bench), revision r7", f"page {number} of 3", "TRAV-01", "Seat"):
            assert wanted in text


def test_a_long_name_of_the_build_does_not_push_the_revision_out() -> None:
    made = replace(binder(), label="A bench with a very long name " * 20)

    assert "…, revision r7" in "".join(lines(made))


@pytest.mark.parametrize(
    ("paper", "landscape", "size"),
    [
        # ISO 216 (2007): A4 is 210 x 297 mm; ANSI/ASME Y14.1: size A is 8.5 x 11 in
        ("a4", False, (210 / 25.4 * 72, 297 / 25.4 * 72)),
        ("a4", True, (297 / 25.4 * 72, 210 / 25.4 * 72)),
        ("letter", False, (8.5 * 72, 11 * 72)),
        ("letter", True, (11 * 72, 8.5 * 72)),
    ],
)
def test_pages_have_the_size_of_the_paper(paper: str, landscape: bool, size: tuple[float, float]) -> None:
    reader = PdfReader(io.BytesIO(pdf_of(binder(paper=paper, landscape=landscape))))

    box = reader.pages[0].mediabox

    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.01)


def test_metadata_names_the_build_and_holds_no_date() -> None:
    reader = PdfReader(io.BytesIO(pdf_of(binder())))

    assert {key: str(told) for key, told in (reader.metadata or {}).items()} == {
        "/Title": "Yard bench",
        "/Subject": "bench, revision r7",
        "/Author": "castlang",
        "/Creator": "castlang",
        "/Producer": "castlang",
    }


def test_the_outline_has_sections_with_their_sheets_inside() -> None:
    sheets = (
        Sheet(code="COVER", title="Yard bench", blocks=(), section="Cover", outline=0),
        Sheet(code="BATCH-01", title="Face 🔥", blocks=(), section="Batches"),
        Sheet(code="BATCH-02", title="Backer", blocks=(), section="Batches"),
        Sheet(code="PLAN", title="Plan", blocks=(), section="Plan", outline=3),
    )
    reader = PdfReader(io.BytesIO(pdf_of(replace(binder(), sheets=sheets))))

    def titles(entries: list[object]) -> list[object]:
        return [titles(e) if isinstance(e, list) else e["/Title"] for e in entries]  # type: ignore[index]

    assert titles(list(reader.outline)) == [
        "COVER Yard bench",
        "Batches",
        ["BATCH-01 Face 🔥", "BATCH-02 Backer"],
        "Plan",
        ["PLAN Plan"],
    ]


def test_each_sheet_begins_a_page_and_says_which_part_of_it_a_page_is() -> None:
    first = Sheet(code="A-1", title="First", blocks=(table((f"row {n}", "1") for n in range(60)),))
    second = Sheet(code="B-1", title="Second", blocks=())

    read = texts(replace(binder(), sheets=(first, second)))

    assert ["part 1 of 2" in read[0], "part 2 of 2" in read[1], "part" in read[2]] == [True, True, False]


def test_the_same_binder_gives_the_same_bytes() -> None:
    made = binder(table([("sand 🔥", "12.5")]), Items(items=(Item(when="Mon", what="pour"),)), chart(12, 5))

    assert pdf_of(made) == pdf_of(made)


def test_only_the_embedded_typeface_is_used() -> None:
    reader = PdfReader(io.BytesIO(pdf_of(binder(table([("sand", "1")])))))

    resources = reader.pages[0]["/Resources"]
    fonts = [font.get_object() for font in resources["/Font"].values()]  # type: ignore[index]
    names = sorted(str(font["/BaseFont"]).partition("+")[2] for font in fonts if "/FontDescriptor" in font)

    assert len(fonts) == len(names)
    assert names == ["DejaVuSansCondensed", "DejaVuSansCondensed-Bold"]
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)


def test_letters_of_many_languages_are_printed_as_they_are() -> None:
    made = binder(Prose(lines=(LETTERS,)))

    assert LETTERS in lines(made)
    assert missing_characters(made) == ()


def test_a_character_that_the_typeface_lacks_is_marked_and_told() -> None:
    made = binder(Prose(lines=("fire 🔥 and 土", "🔥 again", "zero\u200bwidth")))

    assert "fire [?] and [?]" in lines(made)
    assert "zero[?]width" in lines(made)
    assert missing_characters(made) == ("🔥", "土", "\u200b")


@pytest.mark.parametrize("text", HOSTILE)
@pytest.mark.parametrize("landscape", [False, True])
def test_any_text_can_stand_anywhere(text: str, landscape: bool) -> None:
    blank = Column(key="c", title=text, blank=True)
    item = Item(when=text, until=text, what=text, lines=(text,), write=(text, text), caution=(text,))
    blocks: tuple[Block, ...] = (
        Facts(pairs=((text, text), ("label", text))),
        Caution(title=text, lines=(text, text)),
        Prose(lines=(text,), title=text, points=True),
        WriteIn(lines=((text, 0.5), (text, 0.3))),
        Table(key="t", title=text, columns=(NAME, MASS, blank), rows=(Row(cells=(text, text, text)),)),
        Table(key="u", title=text, columns=(NAME,), rows=(), empty=text),
        Items(items=(item, replace(item, critical=True), replace(item, wait=True)), title=text),
        Chart(title=text, days=(text,), open=(), rows=(ChartRow(label=text, bars=()),)),
    )
    sheet = Sheet(code=text, title=text, subtitle=text, section=text, blocks=blocks, landscape=landscape)
    made = Binder(build=text, label=text, revision=text, paper="letter", sheets=(sheet, sheet))

    read = texts(made)

    assert all(f"page {number} of {len(read)}" in text for number, text in enumerate(read, start=1))


def test_markup_in_a_text_is_printed_as_written() -> None:
    made = binder(table([("<b>&amp; bold</b>", "1")]), Prose(lines=("<i>it</i> & (so\\on",)))

    read = lines(made)

    assert "<b>&amp; bold</b> 1" in read
    assert "<i>it</i> & (so\\on" in read


def test_a_table_of_500_rows_repeats_its_head_and_keeps_every_row() -> None:
    read = texts(binder(table((f"row {n:03d}", f"{n}.5") for n in range(500))))

    rows = [line for text in read for line in text.splitlines() if line.startswith("row ")]

    assert rows == [f"row {n:03d} {n}.5" for n in range(500)]
    assert all("name" in text.splitlines() or "name kg" in text for text in read)
    assert all("Masses, continued" in text for text in read[1:])


def test_a_total_stands_on_the_page_of_what_it_adds() -> None:
    for count in range(20, 60):
        rows = [Row(cells=(f"row {n}", "1")) for n in range(count)]
        rows += [Row(cells=("in all", "9"), strong=True), *(Row(cells=(f"more {n}", "1")) for n in range(3))]
        made = binder(Table(key="masses", title="Masses", columns=(NAME, MASS), rows=tuple(rows)))

        (page,) = [text for text in texts(made) if "in all" in text]

        assert f"row {count - 1} 1\n" in page


def test_boxes_to_write_in_stand_on_the_page_of_what_they_are_about() -> None:
    for count in range(20, 40):
        items = Items(items=tuple(Item(when="07:30", what=f"step {n}") for n in range(count)))

        (page,) = [
            text
            for text in texts(binder(items, WriteIn(lines=(("checked by", 1.0),))))
            if "checked by" in text
        ]

        assert f"step {count - 1}" in page


def test_a_table_of_short_rows_stands_in_two_columns_read_from_left_to_right() -> None:
    made = replace(table((f"row {n}", str(n)) for n in range(5)), abreast=2)

    read = [line for line in lines(binder(made)) if line.startswith("row")]

    assert read == ["row 0 0 row 1 1", "row 2 2 row 3 3", "row 4 4"]


def test_a_sheet_that_runs_over_by_a_little_is_set_on_one_page_with_less_white() -> None:
    blocks = [Prose(title="Notes", lines=("one line",))] * 17  # 17 times 48.6 pt with all its white

    assert len(texts(binder(*blocks))) == 1
    assert len(texts(binder(*blocks, *blocks[:3]))) == 2


def test_a_sheet_without_stamps_bears_neither_them_nor_the_code_for_a_camera() -> None:
    stamped = binder(Prose(lines=("a",)))
    bare = replace(stamped, sheets=(replace(stamped.sheets[0], stamped=False),))

    (with_them,), (without,) = texts(stamped), texts(bare)

    assert "facts " in with_them
    assert "facts " not in without
    assert "page 1 of 1" in without


def test_a_row_taller_than_a_page_goes_on_on_the_next() -> None:
    tall = "\n".join(f"line {n:03d}" for n in range(200))
    read = texts(binder(table([(tall, "1"), ("after", "2")])))

    found = [line[:8] for text in read for line in text.splitlines() if line.startswith("line ")]

    assert found == [f"line {n:03d}" for n in range(200)]
    assert len(read) > 3


def test_an_item_taller_than_a_page_goes_on_on_the_next() -> None:
    how = tuple(f"line {n:03d}" for n in range(150))
    read = texts(binder(Items(title="Work", items=(Item(when="Mon", what="cast", lines=how),))))

    found = [line for text in read for line in text.splitlines() if line.startswith("line ")]

    assert found == list(how)
    assert all("Work, continued" in text for text in read[1:])


def test_a_table_without_rows_says_so() -> None:
    assert "all is on hand" in lines(binder(table([], empty="all is on hand")))


def test_an_item_says_when_by_when_what_how_and_what_to_beware_of() -> None:
    item = Item(
        when="Mon 01 Feb 07:30",
        until="Mon 01 Feb 08:15",
        what="spray the face",
        lines=("BATCH-01, 13.6 kg",),
        caution=("cement burns",),
        write=("air, degC",),
        critical=True,
    )

    read = lines(binder(Items(items=(item,))))

    begin = read.index("Mon 01 Feb 07:30")
    assert read[begin : begin + 6] == [
        "Mon 01 Feb 07:30",
        "by 08:15",
        "spray the face",
        "BATCH-01, 13.6 kg",
        "cement burns",
        "air, degC",
    ]
    assert "critical" in read


def test_the_day_stands_in_the_limit_when_it_is_another_day() -> None:
    item = Item(when="Mon 01 Feb 16:00", until="Tue 02 Feb 08:00", what="cure", wait=True)

    read = " ".join(lines(binder(Items(items=(item,)))))

    assert "by Tue 02 Feb 08:00" in read


def test_only_the_critical_chain_is_called_critical_and_only_a_wait_a_wait() -> None:
    plain = Item(when="Mon", what="sweep")

    words = [
        [word for word in ("critical", "wait") if word in " ".join(lines(binder(Items(items=(item,)))))]
        for item in (plain, replace(plain, critical=True), replace(plain, wait=True))
    ]

    assert words == [[], ["critical"], ["wait"]]


def test_a_heading_that_only_repeats_the_title_of_the_sheet_is_left_out() -> None:
    same = replace(table([("sand", "1")]), title="Seat")

    assert " ".join(lines(binder(same))).count("Seat") == 1
    assert " ".join(lines(binder(Facts(pairs=(("a", "b"),)), same))).count("Seat") == 2


def test_a_chart_of_60_rows_in_three_weeks_has_every_row_and_day_with_the_meaning_of_its_bars() -> None:
    read = texts(binder(chart(60, 21), landscape=True))

    text = "\n".join(read)
    assert [n for n in range(60) if f"piece-{n:02d}.hone" not in text] == []
    assert [n for n in range(1, 22) if f"{n:02d} Feb" not in text] == []
    assert [f"days {a} to {a + 6} of 21" in text for a in (1, 8, 15)] == [True, True, True]
    for page in read:
        for word in ("work, critical", "wait, critical", "could slip to here", "shop closed"):
            assert word in page


def test_a_week_of_a_chart_leaves_out_rows_with_nothing_in_it() -> None:
    read = texts(binder(chart(60, 21), landscape=True))

    last_week = "\n".join(text for text in read if "days 15 to 21" in text and "days 8 to 14" not in text)

    assert "piece-59.hone" in last_week
    assert "piece-00.hone" not in last_week


def test_a_chart_with_nothing_in_it_says_so() -> None:
    empty = Chart(title="When", days=(), open=(), rows=())

    assert "nothing planned" in lines(binder(empty))


def test_reportlab_is_loaded_only_when_a_pdf_is_made() -> None:
    check = "import sys, castlang.out.pdf; sys.exit('reportlab' in sys.modules)"

    assert subprocess.run([sys.executable, "-c", check], check=False).returncode == 0


def test_a_binder_without_sheets_is_still_a_pdf() -> None:
    read = PdfReader(io.BytesIO(pdf_of(replace(binder(), sheets=()))))

    assert len(read.pages) <= 1
