"""The cut list on its sheet: drawn to scale, told in a table, and the same in every format."""

import csv
import io
import json
from fractions import Fraction

import pypdf
import pytest
from told import BENCH, changed

from castlang.out.csv_files import csv_files
from castlang.out.json_document import json_of
from castlang.out.pdf import pdf_of
from castlang.pipeline import compile_build
from castlang.sheets.from_plan import binder_of
from castlang.sheets.model import Binder, Caution, LaidOut, Layout, Sheet, Table
from castlang.source.files import Texts

PLY = """
stock ply "Plywood"
    sold      sheet of 2440 mm x 1220 mm
    thick     18 mm
    kerf      3 mm
    grain     {grain}
"""


def binder(grain: str = "none", units: str = "metric") -> Binder:
    text = changed("    fits      seat\n", "    fits      seat\n    board     ply\n", BENCH)
    return bound(text, grain, units)


def bound(text: str, grain: str = "none", units: str = "metric") -> Binder:
    build = compile_build("bench.pour", (text + PLY.format(grain=grain)).encode(), Texts())
    assert build.costing is not None, [p.message for p in build.problems]
    return binder_of(build.spec, build.takeoff, build.plan, build.costing, build.problems, units=units)  # type: ignore[arg-type]


def cut_sheet(made: Binder) -> Sheet:
    return next(sheet for sheet in made.sheets if sheet.code == "CUT ply")


def layout(made: Binder) -> Layout:
    return next(block for block in cut_sheet(made).blocks if isinstance(block, Layout))


def rows(made: Binder, name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(csv_files(made)[name])))


def test_the_drawing_and_its_table_hold_the_same_panels() -> None:
    made = binder()
    table = next(block for block in cut_sheet(made).blocks if isinstance(block, Table))

    assert [panel.number for panel in layout(made).panels] == [row.cells[1] for row in table.rows]
    assert len(table.rows) == 5


def test_a_panel_of_the_drawing_is_as_large_and_lies_where_the_table_says() -> None:
    made = binder()
    panels = {panel.number: panel for panel in layout(made).panels}
    for row in rows(made, "cuts.csv"):
        panel, told = panels[row["number"]], {k: row[k].removesuffix(" mm") for k in row}

        assert Fraction(panel.along, 1000) == Fraction(told["along"])
        assert Fraction(panel.y, 1000) == Fraction(told["from_near"])


def test_sheets_that_are_cut_alike_share_one_drawing_and_keep_a_line_for_each_panel() -> None:
    panel = "    panel     base 2400 mm x 1200 mm make 4 of ply\n"
    made = bound(changed("    fits      seat\n", f"    fits      seat\n{panel}", BENCH))
    drawings = [block for block in cut_sheet(made).blocks if isinstance(block, Layout)]
    tables = [block for block in cut_sheet(made).blocks if isinstance(block, Table)]

    assert [drawing.title for drawing in drawings] == ["Sheets 1 to 4 of 4, alike"]
    assert [[row.cells[0] for row in one.rows] for one in tables] == [["1", "2", "3", "4"]]


def test_the_cut_list_of_a_mold_tells_how_its_boards_meet() -> None:
    told = {row["panel"]: row for row in rows(binder(), "cut-list.csv")}

    assert told["base"]["long"] == "1236 mm"
    assert told["side"]["joint"] == "on the base, past the ends"
    assert told["end"]["trace"] == "panel.seat-mold.end"


def test_grain_is_drawn_and_told() -> None:
    assert layout(binder("long")).grain == "along"
    assert layout(binder("none")).grain == ""


def test_a_us_sheet_is_told_in_inches() -> None:
    assert rows(binder(units="us"), "cuts.csv")[0]["along"].endswith('"')


def test_the_drawing_prints_with_its_numbers_and_the_same_bytes_each_time() -> None:
    made = binder("long")
    pages = pypdf.PdfReader(io.BytesIO(pdf_of(made))).pages
    text = next(t for page in pages if "CUT ply" in (t := page.extract_text()) and "Sheet 1 of 1" in t)

    assert "2440 mm" in text
    assert "grain along" in text
    assert pdf_of(made) == pdf_of(made)


@pytest.mark.parametrize("across", [1, 1_220_000, 40_000_000])
def test_a_sheet_of_any_size_fits_on_its_page(across: int) -> None:
    panel = LaidOut(number="1", x=0, y=0, along=10, across=1)
    drawn = Layout(title="Sheet 1", along=2_440_000, across=across, side="L", end="W", panels=(panel,))
    made = Binder(
        build="b",
        label="b",
        revision="",
        paper="a4",
        sheets=(Sheet(code="CUT x", title="x", blocks=(drawn,)),),
    )

    assert len(pypdf.PdfReader(io.BytesIO(pdf_of(made))).pages) == 1


def test_the_drawing_stands_in_the_document_as_data() -> None:
    document = json.loads(json_of(binder()))
    blocks = [b for sheet in document["binder"]["sheets"] for b in sheet["blocks"] if b["block"] == "layout"]

    assert blocks[0]["along"] == 2_440_000
    assert {"number", "x", "y", "along", "across"} == set(blocks[0]["panels"][0])


def test_the_sheet_that_is_cut_from_warns_of_the_saw() -> None:
    box = next(block for block in cut_sheet(binder()).blocks if isinstance(block, Caution))

    assert box.lines[0].startswith("Noise: Ear protection")
    assert "Plywood: the build tells no hazard, so read the safety data sheet" in box.lines
