"""Tables as CSV, read back by the standard library's reader."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlang.out.csv_files import csv_files, csv_of
from castlang.sheets.model import Binder, Column, Prose, Row, Sheet, Table


def table(
    *rows: tuple[str, ...], key: str = "masses", columns: tuple[str, ...] = ("name", "mass_kg")
) -> Table:
    return Table(
        key=key,
        title="Masses",
        columns=tuple(Column(key=column, title=column.upper()) for column in columns),
        rows=tuple(Row(cells=cells) for cells in rows),
    )


def binder(*sheets: tuple[str, tuple[Table, ...]]) -> Binder:
    made = tuple(
        Sheet(code=code, title=code, blocks=(Prose(lines=("no table",)), *tables)) for code, tables in sheets
    )
    return Binder(build="bench", label="", revision="r7", paper="a4", sheets=made)


def read(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def test_each_table_key_is_one_file_in_order() -> None:
    made = binder(("A", (table(("sand", "1")),)), ("B", (table(("hone", "2"), key="steps"),)))

    assert list(csv_files(made)) == ["masses.csv", "steps.csv"]


def test_a_file_has_a_row_of_keys_and_rows_that_end_in_crlf() -> None:
    # RFC 4180 (2005), section 2, points 1 and 3
    made = binder(("A", (table(("sand", "12.5"), ("water", "")),)))

    assert csv_files(made)["masses.csv"] == "name,mass_kg\r\nsand,12.5\r\nwater,\r\n"


def test_commas_quotes_and_line_ends_are_quoted() -> None:
    # RFC 4180 (2005), section 2, points 6 and 7
    made = binder(("A", (table(('6" long, cut', "one\ntwo")),)))

    assert csv_files(made)["masses.csv"] == 'name,mass_kg\r\n"6"" long, cut","one\ntwo"\r\n'


def test_a_table_on_several_sheets_is_one_file_with_the_sheet_first() -> None:
    other = table(("water", "5.6", "7"), columns=("name", "mass_kg", "waste"))

    made = binder(("BATCH-01", (table(("sand", "18.2")),)), ("BATCH-02", (other,)))

    assert read(csv_files(made)["masses.csv"]) == [
        ["sheet", "name", "mass_kg", "waste"],
        ["BATCH-01", "sand", "18.2", ""],
        ["BATCH-02", "water", "5.6", "7"],
    ]


def test_a_cell_that_programs_get_in_another_form_is_written_in_that_form() -> None:
    row = Row(cells=("Mon 1 Feb 08:00", "5"), data=(("name", "2027-02-01T08:00"),))
    made = Table(key="plan", title="", columns=table().columns, rows=(row,))

    assert read(csv_of(made)) == [["name", "mass_kg"], ["2027-02-01T08:00", "5"]]
    assert read(csv_files(binder(("A", (made,))))["plan.csv"]) == read(csv_of(made))


def test_a_table_without_rows_still_has_its_head() -> None:
    assert csv_files(binder(("A", (table(),)))) == {"masses.csv": "name,mass_kg\r\n"}


@pytest.mark.parametrize("text", ["=1+1", "+cmd|' /C'!A0", "-2+3", "@SUM(A1)", " =1", "\t=1", "-3 mm", "--x"])
def test_a_cell_that_a_spreadsheet_would_run_is_written_as_text(text: str) -> None:
    cell = read(csv_files(binder(("A", (table((text, "")),))))["masses.csv"])[1][0]

    assert cell == "'" + text


@pytest.mark.parametrize("text", ["-3", "+2.5", "-.5", "-3.1e-4", "-", "--", "a=b", "3 - 2", ""])
def test_numbers_and_harmless_texts_are_written_as_they_are(text: str) -> None:
    cell = read(csv_files(binder(("A", (table((text, "1")),))))["masses.csv"])[1][0]

    assert cell == text


def test_a_semicolon_cannot_begin_a_formula_in_the_next_field() -> None:
    made = csv_files(binder(("A", (table(("sand;=1+1", "1")),))))

    assert made["masses.csv"].splitlines()[1] == '"sand;=1+1",1'


@given(st.lists(st.tuples(st.text(), st.text()), max_size=5))
def test_any_texts_come_back_as_they_were_but_for_the_apostrophe(rows: list[tuple[str, str]]) -> None:
    text = csv_files(binder(("A", (table(*rows),))))["masses.csv"]

    text.encode("utf-8")
    back = [tuple(row) for row in read(text)[1:]]
    assert [tuple(cell.removeprefix("'") for cell in row) for row in back] == [
        tuple(cell.removeprefix("'") for cell in row) for row in rows
    ]
