"""How texts, strips, columns and days are set on a page."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlang.out.pdf.axis import CLOSED_DAY, DAY, axes
from castlang.out.pdf.columns import BLANK, SIZES, columns_of
from castlang.out.pdf.direction import visual
from castlang.out.pdf.face import face, shown
from castlang.out.pdf.patterns import slants
from castlang.out.pdf.pen import Pen
from castlang.out.pdf.strip import Room, Strip, kept, pages
from castlang.out.pdf.text import BODY, Style, cut, limited, printable, width, wrapped
from castlang.sheets.model import Align, Column, Row, Table

ROOM = Room(width=100, height=100)


def strip(height: float, *, before: float = 0, with_next: bool = False, repeat: Strip | None = None) -> Strip:
    def draw(pen: Pen, left: float, top: float) -> None:
        raise AssertionError("setting a page draws nothing")

    return Strip(height=height, draw=draw, before=before, with_next=with_next, repeat=repeat)


@given(st.text(), st.floats(min_value=12, max_value=500))
def test_no_line_is_wider_than_its_room(text: str, room: float) -> None:
    assert all(width(line, BODY) <= room + 0.01 for line in wrapped(text, BODY, room))


@given(st.text())
def test_wrapping_loses_nothing_but_spaces(text: str) -> None:
    kept = "".join(wrapped(text, BODY, 60))

    assert kept.replace(" ", "") == printable(text).replace("\n", "").replace(" ", "")


@given(st.text(), st.floats(min_value=20, max_value=300))
def test_a_shortened_text_fits_and_ends_in_an_ellipsis_if_it_lost_something(text: str, room: float) -> None:
    whole = " ".join(printable(text).split("\n"))

    short = cut(text, BODY, room)

    assert width(short, BODY) <= room + 0.01
    assert short == whole or short.endswith("…")


def test_a_long_step_name_is_broken_at_a_joint() -> None:
    assert wrapped("inlay.strip.hone.grit-120", BODY, width("inlay.strip.hon", BODY)) == (
        "inlay.strip.",
        "hone.grit-120",
    )


def test_a_text_of_too_many_lines_ends_in_an_ellipsis() -> None:
    assert limited("one\ntwo\nthree", BODY, 200, 2) == ("one", "two…")
    assert limited("one\ntwo\nthree", BODY, 200, 3) == ("one", "two", "three")


@given(st.text())
def test_printable_text_has_only_characters_that_both_faces_show(text: str) -> None:
    assert set(printable(text)) <= shown() | {"\n"}


def test_every_character_that_is_shown_leaves_room_or_is_an_accent() -> None:
    assert all(face(bold).widths[c] > 0 for c in sorted(shown()) for bold in (False, True) if c.isalnum())


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("plain 12.5 kg", "plain 12.5 kg"),
        ("שלום", "םולש"),
        ("mix שלום עולם 12.5 kg", "mix םלוע םולש 12.5 kg"),
        ("א 12.5 ב", "ב 12.5 א"),
        ("א (ב) ג", "ג (ב) א"),
    ],
)
def test_right_to_left_words_are_turned_and_figures_are_not(written: str, read: str) -> None:
    # From memory of Unicode Standard Annex 9, rules W2, N1, L2 and L4
    assert visual(written) == read


def test_strips_fill_a_page_before_the_next_begins() -> None:
    placed = pages([strip(40), strip(40), strip(40)], ROOM)

    assert [[p.down for p in page] for page in placed] == [[0, 40], [0]]


def test_a_heading_goes_to_the_next_page_with_what_it_heads() -> None:
    heading = strip(20, with_next=True)

    placed = pages([strip(70), heading, strip(30)], ROOM)

    assert [len(page) for page in placed] == [1, 2]
    assert placed[1][0].strip is heading


def test_a_table_that_goes_on_has_its_head_again() -> None:
    head = strip(10)

    placed = pages([strip(60, repeat=head), strip(60, repeat=head)], ROOM)

    assert placed[1][0].strip is head
    assert placed[1][1].down == 10


def test_white_above_a_block_is_dropped_at_the_top_of_a_page() -> None:
    placed = pages([strip(95, before=15), strip(20, before=15)], ROOM)

    assert [page[0].down for page in placed] == [0, 0]


@given(st.lists(st.tuples(st.floats(1, 100), st.booleans()), max_size=30))
def test_nothing_is_set_below_the_end_of_a_page(heights: list[tuple[float, bool]]) -> None:
    strips = [strip(height) for height, _ in heights]

    placed = pages(strips, ROOM)

    assert [p.strip for page in placed for p in page] == strips
    assert all(p.down + p.strip.height <= ROOM.height + 0.02 for page in placed for p in page)


def test_neither_the_first_nor_the_last_of_what_is_kept_together_stands_alone_on_a_page() -> None:
    behind_a_title = pages([strip(70), *kept([strip(20)] * 6)], ROOM)
    before_the_end = pages([strip(5), *kept([strip(20)] * 5)], ROOM)

    assert [len(page) for page in behind_a_title] == [1, 4, 2]
    assert [len(page) for page in before_the_end] == [4, 2]


def test_what_is_kept_together_is_parted_where_no_page_holds_it() -> None:
    placed = pages([strip(60, with_next=True), strip(60)], ROOM)

    assert [len(page) for page in placed] == [1, 1]


def test_a_tight_page_has_less_white_and_nothing_smaller() -> None:
    strips = [strip(30, before=20) for _ in range(3)]

    loose, tight = (pages(strips, Room(width=100, height=111, tight=way)) for way in (False, True))

    assert [[p.down for p in page] for page in loose] == [[0, 50], [0]]
    assert [[p.down for p in page] for page in tight] == [[0, 40, 80]]


def table(*cells: str, align: Align = Align.LEFT, blank: bool = False) -> Table:
    columns = tuple(Column(key=f"c{n}", title="c", align=align, blank=blank) for n in range(len(cells)))
    return Table(key="t", title="T", columns=columns, rows=(Row(cells=cells),))


def test_columns_fill_the_room() -> None:
    assert sum(columns_of(table("a", "a longer cell", "b"), 300).widths) == pytest.approx(300)


def test_a_narrow_column_is_widened_so_that_its_cell_stands_on_one_line() -> None:
    wide = width("a cell of some length", Style(size=SIZES[0]))

    columns = columns_of(table("a", "b", "c", "a cell of some length"), 260)

    assert columns.widths[3] > wide
    assert columns.size == SIZES[0]


def test_figures_are_set_smaller_before_they_are_broken() -> None:
    figures = ("12 345.678",) * 8

    columns = columns_of(table(*figures, align=Align.RIGHT), 480)

    assert columns.size < SIZES[0]
    assert all(width(figures[0], columns.style(False)) < wide for wide in columns.widths)


def test_a_column_to_write_in_keeps_its_width() -> None:
    columns = columns_of(table("", "", blank=True), 400)

    assert min(columns.widths) >= BLANK


SHIFTS = [(day * DAY + 450, day * DAY + 990) for day in range(21) if day % 7 < 5]


def test_a_week_fits_on_one_axis_and_three_weeks_take_three() -> None:
    assert [(axis.first, axis.last) for axis in axes(7, SHIFTS, 600)] == [(0, 7)]
    assert [(axis.first, axis.last) for axis in axes(21, SHIFTS, 600)] == [(0, 7), (7, 14), (14, 21)]


def test_an_open_hour_is_drawn_wider_than_a_closed_one_and_alike_on_all_days() -> None:
    (axis,) = axes(7, SHIFTS, 600)

    def hour(day: int, hour_of_day: int) -> float:
        return axis.place(day * DAY + hour_of_day * 60 + 60) - axis.place(day * DAY + hour_of_day * 60)

    assert hour(0, 9) > 5 * hour(0, 20)
    assert hour(0, 9) == pytest.approx(hour(4, 14))


def test_a_closed_day_has_room_for_its_name() -> None:
    (axis,) = axes(7, SHIFTS, 600)

    assert axis.place(6 * DAY) - axis.place(5 * DAY) == pytest.approx(CLOSED_DAY)


def test_the_days_fill_the_axis_and_what_is_outside_lies_at_its_ends() -> None:
    (axis,) = axes(7, SHIFTS, 600)

    assert [axis.place(-50), axis.place(0), axis.place(7 * DAY), axis.place(9 * DAY)] == [
        0,
        0,
        pytest.approx(600),
        pytest.approx(600),
    ]


@given(st.lists(st.tuples(st.integers(0, 9000), st.integers(0, 9000)), max_size=12), st.integers(1, 9))
def test_a_later_minute_never_lies_before_an_earlier_one(spans: list[tuple[int, int]], days: int) -> None:
    for axis in axes(days, spans, 300):
        places = [axis.place(minute) for minute in range(axis.start, axis.end + 1, 97)]

        assert places == sorted(places)


@given(st.floats(1, 300), st.floats(4, 14), st.booleans())
def test_hatching_stays_within_its_bar(wide: float, high: float, falling: bool) -> None:
    for x1, y1, x2, y2 in slants(10, 20, wide, high, 3.6, falling=falling):
        assert 10 <= min(x1, x2) <= max(x1, x2) <= 10 + wide + 1e-9
        assert 20 - 1e-9 <= min(y1, y2) <= max(y1, y2) <= 20 + high + 1e-9


def test_a_column_of_sentences_is_not_squeezed_to_a_word_a_line() -> None:
    long = "over by 10.3 kg: hoist or more people"
    titles = ("step", "what", "weight", "people", "each", "against", "so")
    cells = ("delivery.into-crate", "one at a time", "99.9 kg", "3", "33.3 kg", "23 kg, reference", long)
    lifts = Table(
        key="lifts",
        title="Lifts",
        columns=tuple(
            Column(key=key, title=key, share=share)
            for key, share in zip(titles, (2.4, 2.4, 1.2, 0.8, 1.2, 1.2, 2.4), strict=True)
        ),
        rows=(Row(cells=cells, strong=True),),
    )
    columns = columns_of(lifts, 480)

    assert columns.widths[-1] >= width(long, columns.style(True)) / 3
