"""Tables on a terminal."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlang.out.text_table import text_table
from castlang.sheets.model import Align, Column, Row, Table

COLUMNS = (
    Column(key="name", title="material"),
    Column(key="mass_kg", title="mass\nkg", align=Align.RIGHT),
    Column(key="lot", title="lot", blank=True),
)


def table(*rows: Row, title: str = "Masses") -> Table:
    return Table(key="masses", title=title, columns=COLUMNS, rows=rows, empty="nothing weighed")


def row(name: str, mass: str, *, strong: bool = False) -> Row:
    return Row(cells=(name, mass, ""), strong=strong)


def test_a_table_has_its_title_its_heads_and_its_columns_in_line() -> None:
    made = table(row("sand", "18.2"), row("white cement", "5"), row("total", "23.2", strong=True))

    assert text_table(made, 80) == (
        "Masses\n"
        "\n"
        "                mass\n"
        "  material        kg\n"
        "  ------------  ----\n"
        "  sand          18.2\n"
        "  white cement     5\n"
        "* total         23.2\n"
    )


def test_a_long_cell_is_wrapped_within_its_column() -> None:
    made = table(row("white cement of the lot put aside", "5"), title="")

    assert text_table(made, 22) == (
        "                  mass\n"
        "material            kg\n"
        "----------------  ----\n"
        "white cement of      5\n"
        "the lot put\n"
        "aside\n"
    )


def test_a_table_without_rows_says_so() -> None:
    assert text_table(table(), 80) == "Masses\n\nnothing weighed\n"


def test_where_columns_do_not_fit_each_row_is_a_list() -> None:
    made = table(row("sand", "1234567.8"), row("water", "5", strong=True), title="")

    assert text_table(made, 14) == ("material: sand\nmass kg:\n1234567.8\n\n* material:\nwater\nmass kg: 5\n")


def test_wide_characters_count_as_two() -> None:
    made = table(row("土", "1"), row("ab", "2"), title="")

    assert text_table(made, 40).splitlines()[-2:] == ["土           1", "ab           2"]


def test_nothing_in_a_cell_steers_the_terminal() -> None:
    made = text_table(table(row("\x1b[31mred\x07\u202e", "1"), title="\x1b]0;title\x07"), 60)

    assert "\x1b" not in made
    assert "?[31mred??" in made


@pytest.mark.parametrize("width", [12, 30, 80])
@given(name=st.text(max_size=60), mass=st.text("0123456789.", max_size=9))
def test_no_line_is_longer_than_the_width(width: int, name: str, mass: str) -> None:
    made = text_table(table(row(name, mass)), width)

    assert all(len(line) <= width for line in made.split("\n"))
