"""Tables on a terminal."""

import unicodedata

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


def spared() -> Table:
    columns = (
        Column(key="name", title="material"),
        Column(key="need", title="need", align=Align.RIGHT, spare=2),
        Column(key="unit", title="unit", spare=2),
        Column(key="sold", title="sold as", spare=1),
        Column(key="buy", title="buy", align=Align.RIGHT),
    )
    rows = (
        Row(cells=("white cement of the second lot", "64.624", "kg", "bag of 25 kg", "3")),
        Row(cells=("sand", "57.286", "kg", "tote of 1000 kg", "0")),
    )
    return Table(key="order", title="", columns=columns, rows=rows)


def test_where_room_is_short_the_most_spare_columns_go_first_and_are_named() -> None:
    heads = {
        width: next(line for line in text_table(spared(), width).splitlines() if "material" in line).split(
            "  "
        )
        for width in (80, 60, 40)
    }

    assert [[head.strip() for head in heads[width] if head] for width in (80, 60, 40)] == [
        ["material", "need", "unit", "sold as", "buy"],
        ["material", "sold as", "buy"],
        ["material", "buy"],
    ]
    assert "left out" not in text_table(spared(), 80)
    assert text_table(spared(), 60).endswith("\nleft out for want of width: need, unit\n")


def test_the_column_is_narrowed_whose_words_take_the_fewest_more_lines() -> None:
    columns = (Column(key="start", title="start"), Column(key="name", title="name"))
    rows = tuple(Row(cells=(f"Mon {day} Feb 07:30", "shell")) for day in range(1, 9))
    long = Row(cells=("Tue 9 Feb 07:30", "shell of the desk and all"))

    made = text_table(Table(key="k", title="", columns=columns, rows=(*rows, long)), 30)

    assert made.splitlines()[2] == "Mon 1 Feb 07:30  shell"
    assert made.splitlines()[-2:] == ["Tue 9 Feb 07:30  shell of the", "                 desk and all"]


def test_a_long_name_is_broken_behind_a_joint() -> None:
    made = table(row("shell.take-braces.uncover.part-1", "5"), title="")

    assert [line.split()[0] for line in text_table(made, 30).splitlines()[3:]] == [
        "shell.take-braces.",
        "uncover.part-1",
    ]


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

    shown = [[c for c in line if not unicodedata.combining(c)] for line in made.split("\n")]
    assert all(len(line) <= width for line in shown)
