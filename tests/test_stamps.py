"""A sheet keeps its stamps as long as it says the same, and only as long."""

import io
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

import pytest
import zxingcpp
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream, Destination
from random_builds import METRIC, builds
from told import changed

from castlang.cli.starter import STARTER
from castlang.out.pdf import pdf_of
from castlang.out.pdf.matrix_code import SIDE, code_text, matrix_of, runs_of
from castlang.out.pdf.page import frame_of
from castlang.out.pdf.pen import MM
from castlang.out.pdf.text import width
from castlang.pipeline import Compiled, compile_build
from castlang.sheets.dated_text import aside, dated, dates_of, facts_of, joined, sentence
from castlang.sheets.from_plan import binder_of
from castlang.sheets.model import (
    Binder,
    Caution,
    Column,
    Facts,
    Item,
    Items,
    LaidOut,
    Layout,
    Prose,
    Row,
    Sheet,
    Table,
    WriteIn,
)
from castlang.sheets.stamps import ALPHABET, LETTERS, SheetStamp, stamp_of, stamps_of
from castlang.source.files import Texts

EXAMPLES = Path(__file__).parent.parent / "examples"
STORES = "stores.pour"


def texts(name: str) -> dict[str, str]:
    """The build of an example and the stores that it uses, by their names in the folder of examples."""
    return {file: (EXAMPLES / file).read_text(encoding="utf-8") for file in (f"{name}/{name}.pour", STORES)}


def bound(files: Mapping[str, str], **told: str) -> Binder:
    """The binder of the first of the files."""
    main = next(iter(files))
    data = {file: text.encode() for file, text in files.items()}
    return binding(compile_build(main, data[main], Texts(texts=data)), **told)


def binding(made: Compiled, **told: str) -> Binder:
    """The binder of a build that must have come through every stage."""
    assert made.spec is not None
    assert made.takeoff is not None
    assert made.plan is not None
    assert made.costing is not None
    return binder_of(made.spec, made.takeoff, made.plan, made.costing, made.problems, **told)


def by_code(binder: Binder) -> dict[str, SheetStamp]:
    return {stamp.code: stamp for stamp in stamps_of(binder)}


def moved(old: Binder, new: Binder) -> tuple[set[str], set[str]]:
    """The codes of the sheets with another stamp of facts, and those with another of dates."""
    before, after = by_code(old), by_code(new)
    assert list(before) == list(after)
    return (
        {code for code in before if before[code].facts != after[code].facts},
        {code for code in before if before[code].dates != after[code].dates},
    )


def edited(name: str, file: str, old: str, new: str) -> tuple[set[str], set[str]]:
    """What one edit in one file moves."""
    files = texts(name)
    return moved(bound(files), bound({**files, file: changed(old, new, files[file])}))


MONEY = {"desk": {"ORDER", "COST", "QUOTE"}, "fountain": {"ORDER", "COST"}}


# ---------------------------------------------------------------- what moves which stamp


@pytest.mark.parametrize(
    ("name", "old", "new", "batches"),
    [
        ("desk", "iron-ochre 0.6 %", "iron-ochre 0.61 %", {"shell.mist", "shell.skin", "shell.fill"}),
        ("desk", "resin-b 30 parts", "resin-b 31 parts", {"strip.glow"}),
        ("fountain", "plasticizer 1 % of", "plasticizer 1.1 % of", {"trough.body", "slab.body"}),
    ],
)
def test_a_changed_dose_moves_the_facts_of_its_batches_of_the_bill_and_of_what_is_bought(
    name, old, new, batches
):
    facts, dates = edited(name, STORES, old, new)

    assert facts == {"BILL", *MONEY[name], *(f"BATCH {batch}" for batch in batches)}
    assert dates == set()


@pytest.mark.parametrize(
    ("name", "file", "old", "new"),
    [
        ("desk", STORES, "price     104.00 EUR", "price     105.00 EUR"),
        ("fountain", "fountain/fountain.pour", "price     130 USD", "price     131 USD"),
    ],
)
def test_a_changed_price_moves_the_facts_of_the_sheets_with_money_alone(name, file, old, new):
    assert edited(name, file, old, new) == (MONEY[name], set())


@pytest.mark.parametrize(
    ("name", "old", "new", "traveller"),
    [
        ("desk", "corners first", "edges first", "PIECE shell"),
        ("fountain", "Sides off, turn", "Sides off and turn", "PIECE trough"),
    ],
)
def test_a_changed_instruction_moves_the_facts_of_the_sheets_that_it_stands_on(name, old, new, traveller):
    binder = bound(texts(name))
    bearing = {s.code for s in binder.sheets if any(old in text for b in s.blocks for text in shown(b))}

    assert traveller in bearing
    assert edited(name, f"{name}/{name}.pour", old, new) == (bearing, set())


def test_a_longer_cure_moves_facts_where_it_is_told_and_dates_of_what_comes_behind_it():
    facts, dates = edited("desk", "desk/desk.pour", "cure      12 h at 20", "cure      14 h at 20")

    assert facts == {"PIECE shell", "DAY 07", "DAY 08"}
    assert {"PLAN", "PIECE shell"} <= dates
    assert not {"BILL", "ORDER", "BATCH shell.mist", "CUT ply-18", "DAY 06"} & (facts | dates)


@pytest.mark.parametrize("name", ["desk", "fountain", "stools"])
def test_a_week_later_moves_dates_alone_on_every_sheet_that_bears_some(name):
    files = texts(name)
    main = f"{name}/{name}.pour"
    later = re.sub(r"(?m)^( *(?:start|due|closed|away)\b.*)$", a_week_later, files[main])
    binder = bound(files)
    facts, dates = moved(binder, bound({**files, main: later}))

    assert facts == set()
    assert dates == {stamp.code for stamp in stamps_of(binder) if stamp.dates}
    assert {"COVER", "ORDER", "PLAN", "PLAN STEPS", "DAY 01"} <= dates
    assert not {"BILL", "COST", "WEIGHTS"} & dates


def a_week_later(line: re.Match[str]) -> str:
    return re.sub(
        r"\d{4}-\d\d-\d\d",
        lambda day: (date.fromisoformat(day[0]) + timedelta(days=7)).isoformat(),
        line[0],
    )


@pytest.mark.parametrize("name", ["desk", "fountain", "stools"])
def test_comments_revision_paper_and_the_name_of_the_build_move_nothing(name):
    files = texts(name)
    main = f"{name}/{name}.pour"
    commented = {file: f"# first\n\n\n{text}\n# last\n" for file, text in files.items()}
    binder = bound(files)
    called = re.sub(r'(?m)^build \S+ ".*"', 'build other "Another name"', files[main])
    same = [
        bound(commented),
        bound(files, revision="C"),
        bound(files, paper="letter" if binder.paper == "a4" else "a4"),
        bound({**files, main: called}),
    ]

    assert [moved(binder, other) for other in same] == [(set(), set())] * 4


def test_the_line_on_which_something_was_found_moves_nothing():
    record = (
        "done seat.body 2027-03-01 13:50 to 14:30 by 2\ndone seat.demold 2027-03-12 10:00 to 10:30 by 2\n"
    )
    text = f"{changed('due       2027-03-19', 'due       2027-03-02', STARTER)}\n{record}"
    binder = bound({"bench.pour": text})
    found = next(b for b in binder.sheets[0].blocks if isinstance(b, Table) and b.key == "findings")

    assert {row.cells[1] for row in found.rows} >= {"due-missed", "window-not-kept"}
    assert any("bench.pour:" in row.cells[2] for row in found.rows)
    assert moved(binder, bound({"bench.pour": f"\n\n{text}"})) == (set(), set())


def test_day_sheets_keep_their_numbers_when_work_is_recorded_as_done():
    record = "\n".join(
        (
            "done seat-mold.build-up 2027-03-01 08:00 to 13:30 by 1",
            "done seat.release 2027-03-01 13:30 to 13:50 by 1",
            "done seat.body 2027-03-01 13:50 to 14:30 by 2",
            "done seat.body.uncover 2027-03-02 14:30 to 14:40 by 1",
        )
    )
    before, after = (bound({"bench.pour": text}) for text in (STARTER, f"{STARTER}\n{record}\n"))
    days = [{s.code: s.title for s in b.sheets if s.code.startswith("DAY")} for b in (before, after)]

    assert next(iter(days[0])) == "DAY 01"
    assert next(iter(days[1])) == "DAY 02"
    assert {code: days[0].get(code, title) for code, title in days[1].items()} == days[1]


def test_in_random_builds_no_time_is_a_fact_and_the_order_of_blocks_moves_nothing():
    bound_whole = []

    @settings(
        max_examples=20,
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
        phases=[Phase.explicit, Phase.generate],
    )
    @given(builds(), st.randoms(use_true_random=False))
    def each(build, shuffle):
        order = list(range(len(build.blocks)))
        shuffle.shuffle(order)
        texts = (build.text(METRIC), build.text(METRIC, order))
        made, other = (compile_build("main.pour", text.encode(), Texts()) for text in texts)
        bound_whole.append(made.costing is not None)
        if made.costing is not None:
            straight = binding(made)

            assert times_told(straight) == []
            assert moved(straight, binding(other)) == (set(), set())

    each()

    assert sum(bound_whole) > len(bound_whole) / 2


# ---------------------------------------------------------------- no date is taken for a fact

CLOCK = re.compile(r"\b(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+ [A-Z][a-z]{2}\b|\b\d\d?:\d\d\b")


@pytest.mark.parametrize("name", ["desk", "fountain", "stools"])
@pytest.mark.parametrize("units", ["metric", "us"])
def test_no_day_and_no_clock_time_of_the_plan_stands_among_the_facts(name, units):
    assert times_told(bound(texts(name), units=units)) == []


RECORDED = ("done ", "nothing is planned before ", "the records have ")


def times_told(binder: Binder) -> list[tuple[str, str]]:
    """Texts whose facts hold a day or a clock time, with their sheet. The day of a rate of exchange and of a
    record of work done are facts, and no dates of the plan."""
    return [
        (sheet.code, text)
        for sheet in binder.sheets
        for block in sheet.blocks
        if not (isinstance(block, Prose) and block.title == "Rates")
        and not (isinstance(block, Table) and block.key == "done")
        for text in shown(block)
        if CLOCK.search(facts_of(text)) and not text.startswith(RECORDED)
    ]


def shown(value: object) -> list[str]:
    """Every text of a block, but for the forms for programs beside them."""
    if isinstance(value, str):
        return [value]
    if isinstance(value, tuple):
        return [text for part in value for text in shown(part)]
    match value:
        case Row():
            return shown(value.cells)
        case Table():
            return shown((value.title, value.rows))
        case Facts():
            return shown(value.pairs)
        case Prose():
            return shown(value.lines)
        case Items():
            return shown(value.items)
        case Item():
            return shown((value.when, value.what, value.until, value.lines))
        case _:
            return []


# ---------------------------------------------------------------- what a stamp is made from

ROWS = (Row(cells=("sand", "3 kg")), Row(cells=("cement", "2 kg")))
WEIGH = Table(
    key="weigh-outs",
    title="Weigh",
    columns=(Column(key="material", title="material"), Column(key="weigh", title="weigh")),
    rows=ROWS,
)
WORK = Items(items=(Item(when="a", what="pour"), Item(when="b", what="hone")), title="Work")
CUT = LaidOut(number="1", x=0, y=0, along=900, across=300)
DRAWN = Layout(title="Sheet 1", along=2440, across=1220, side="a", end="b", panels=(CUT,))
BLOCKS = (
    WEIGH,
    WORK,
    DRAWN,
    Facts(pairs=(("mass", "3 kg"),)),
    Prose(lines=("Stir.",)),
    Caution(title="Dust", lines=("Mask.",)),
    WriteIn(lines=(("by", 0.5),)),
)


def stamp(*blocks: object, **told: object) -> SheetStamp:
    return stamp_of(Sheet(**{"code": "A", "title": "All", "blocks": blocks or BLOCKS, **told}))


def test_a_stamp_is_six_letters_that_are_not_taken_for_one_another():
    made = stamp()

    assert set(made.facts) <= set(ALPHABET)
    assert len(made.facts) == LETTERS == 6
    assert not set("ILOU") & set(ALPHABET)
    assert (made.code, made.title) == ("A", "All")


def test_a_sheet_without_dates_has_no_stamp_of_dates():
    assert stamp(WEIGH, *BLOCKS[2:]).dates == ""
    assert stamp(Facts(pairs=(("from", dated("Mon")),))).dates != ""


@pytest.mark.parametrize(
    "other",
    [
        {"code": "B"},
        {"title": "Some"},
        {"subtitle": "more"},
        {"blocks": BLOCKS[:-1]},
        {"blocks": (*BLOCKS, Prose(lines=("More.",)))},
        {"blocks": (replace(WEIGH, title="Measure"), *BLOCKS[1:])},
        {"blocks": (replace(WEIGH, rows=ROWS[:1]), *BLOCKS[1:])},
        {"blocks": (replace(WEIGH, rows=(Row(cells=("sand", "4 kg")), ROWS[1])), *BLOCKS[1:])},
        {"blocks": (replace(WEIGH, rows=(Row(cells=("3 kg", "sand")), ROWS[1])), *BLOCKS[1:])},
        {"blocks": (replace(WEIGH, columns=(WEIGH.columns[1], WEIGH.columns[0])), *BLOCKS[1:])},
        {"blocks": (WEIGH, replace(WORK, items=WORK.items[::-1]), *BLOCKS[2:])},
        {"blocks": (WEIGH, replace(WORK, items=(replace(WORK.items[0], write=("at",)),)), *BLOCKS[2:])},
        {"blocks": (WEIGH, replace(WORK, items=(replace(WORK.items[0], wait=True),)), *BLOCKS[2:])},
        {"blocks": (WEIGH, WORK, replace(DRAWN, panels=(replace(CUT, x=5),)), *BLOCKS[3:])},
    ],
)
def test_whatever_a_sheet_says_otherwise_moves_its_facts(other):
    assert stamp(**other).facts != stamp().facts


def test_the_order_of_rows_and_of_blocks_is_no_fact():
    assert stamp(*BLOCKS[::-1]) == stamp()
    assert stamp(replace(WEIGH, rows=ROWS[::-1]), *BLOCKS[1:]) == stamp()

    found = tuple(Row(cells=(dated(what), dated("due"))) for what in ("slab", "bench"))
    assert stamp(replace(WEIGH, rows=found)) == stamp(replace(WEIGH, rows=found[::-1]))


def test_what_is_only_for_the_page_or_for_programs_is_no_fact():
    other = replace(
        WEIGH,
        key="other",
        columns=tuple(replace(column, share=2, spare=3) for column in WEIGH.columns),
        rows=tuple(replace(row, data=(("weigh", "3"),), ticked=False, trace="t") for row in ROWS),
    )

    assert stamp(other, *BLOCKS[1:], landscape=True, outline=0, section="Section") == stamp()


def test_the_order_that_a_plan_gives_is_a_date():
    work = replace(WORK, by_date=True)
    there, back = stamp(work), stamp(replace(work, items=work.items[::-1]))

    assert back.facts == there.facts
    assert back.dates != there.dates


def test_a_title_over_dates_alone_is_a_date():
    nothing = stamp(Prose(lines=()))
    order = stamp(Prose(lines=()), Prose(title="Order today", lines=(dated("sand: last day"),)))
    due = stamp(Prose(lines=()), Facts(pairs=(("due", dated("Mon")),)))
    links = replace(WEIGH, rows=(Row(cells=(dated("a"), dated("b"))),))

    assert order.facts == due.facts == nothing.facts
    assert len({order.dates, due.dates, nothing.dates}) == 3
    assert stamp(Prose(lines=()), links).facts == nothing.facts


def test_an_empty_table_says_that_it_is_empty():
    empty = replace(WEIGH, rows=(), empty="nothing is open")

    assert stamp(empty).facts != stamp(replace(empty, empty="nothing")).facts


def test_a_text_put_together_keeps_facts_and_dates_apart():
    told = joined(sentence("start by ", dated("Mon 1 Feb"), ": cure, 18 h"), "", dated("at 9:40"), "by 2")

    assert told == "start by Mon 1 Feb: cure, 18 h; at 9:40; by 2"
    assert facts_of(told) == "start by : cure, 18 h; by 2"
    assert dates_of(told) == "Mon 1 Feb at 9:40"
    assert (facts_of("plain"), dates_of("plain")) == ("plain", "")
    assert (facts_of(aside("bench")), dates_of(aside("bench"))) == ("", "")


# ---------------------------------------------------------------- the cover and the pages


def test_the_cover_lists_every_other_sheet_with_both_of_its_stamps():
    binder = bound(texts("desk"))
    listed = next(b for b in binder.sheets[0].blocks if isinstance(b, Table) and b.key == "stamps")

    assert [row.cells for row in listed.rows] == [
        (stamp.code, stamp.facts, stamp.dates or "none") for stamp in stamps_of(binder)[1:]
    ]


@pytest.fixture(scope="module", params=[("desk", "a4"), ("fountain", "letter")])
def printed(request) -> tuple[Binder, PdfReader]:
    name, paper = request.param
    binder = bound(texts(name), revision="C", paper=paper)
    return binder, PdfReader(io.BytesIO(pdf_of(binder)))


def first_pages(reader: PdfReader, entries: list) -> set[int]:
    """The pages, from 0, on which a sheet begins: all that the outline names."""
    found: set[int] = set()
    for entry in entries:
        if isinstance(entry, Destination):
            found.add(reader.get_destination_page_number(entry))
        else:
            found |= first_pages(reader, entry)
    return found


def test_every_page_bears_the_code_and_the_stamps_of_its_sheet(printed):
    binder, reader = printed
    firsts = [*sorted(first_pages(reader, reader.outline)), len(reader.pages)]

    for stamp, first, after in zip(stamps_of(binder), firsts[:-1], firsts[1:], strict=True):
        foot = f"facts {stamp.facts} {f'dates {stamp.dates}' if stamp.dates else 'no dates'}"
        for page in reader.pages[first:after]:
            text = " ".join(page.extract_text().split())

            assert foot in text
            assert stamp.code in text


@dataclass(frozen=True)
class Found:
    """A matrix code on a page: its dark modules as runs, the side of one in points, and where its lower left
    module stands."""

    runs: tuple[tuple[int, int, int], ...]
    module: float
    left: float
    low: float

    @property
    def modules(self) -> int:
        return max(column + many for column, _, many in self.runs)


def codes_on(page: PageObject, reader: PdfReader) -> list[Found]:
    """The codes of a page: a grid of squares, moved and scaled, in one path."""
    found: list[Found] = []
    grid: list[float] = []
    runs: list[tuple[int, int, int]] = []
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        numbers = [float(n) for n in operands if isinstance(n, (int, float))]
        match operator:
            case b"cm":
                grid = numbers
            case b"re" if grid and grid[0] != 1:
                runs.append((int(numbers[0]), int(numbers[1]), int(numbers[2])))
            case b"f" | b"f*" if runs:
                found.append(Found(runs=tuple(runs), module=grid[0], left=grid[4], low=grid[5]))
                runs = []
            case b"Q":
                grid = []
    return found


def read(code: Found) -> str:
    """What a camera reads of a code: its modules drawn 6 pixels wide, with the quiet zone round them."""
    side, dot = code.modules + 8, 6
    image = Image.new("L", (side * dot, side * dot), 255)
    draw = ImageDraw.Draw(image)
    for column, row, many in code.runs:
        x, y = (column + 4) * dot, (side - 5 - row) * dot
        draw.rectangle((x, y, x + many * dot - 1, y + dot - 1), fill=0)
    (seen,) = zxingcpp.read_barcodes(image)
    return seen.text


def test_the_first_page_of_each_sheet_alone_bears_a_code_that_a_camera_reads(printed):
    binder, reader = printed
    firsts = sorted(first_pages(reader, reader.outline))
    codes = {number: codes_on(page, reader) for number, page in enumerate(reader.pages)}

    assert [number for number, found in codes.items() if found] == firsts
    assert [read(code) for first in firsts for code in codes[first]] == [
        f"{binder.build} revision C\n{stamp.code}\nfacts {stamp.facts}\ndates {stamp.dates or 'none'}"
        for stamp in stamps_of(binder)
    ]


def test_a_code_is_wide_enough_for_a_camera_and_stands_beside_the_title_inside_the_page(printed):
    binder, reader = printed
    firsts = sorted(first_pages(reader, reader.outline))

    for sheet, first in zip(binder.sheets, firsts, strict=True):
        frame = frame_of(binder, sheet)
        (code,) = codes_on(reader.pages[first], reader)
        quiet = 4 * code.module
        title = max(width(line, frame.title_style) for line in frame.title)

        assert code.modules * code.module + 2 * quiet == pytest.approx(SIDE, abs=0.1)
        assert SIDE >= 12 * MM
        assert code.module >= 0.3 * MM
        assert frame.left + title <= code.left - quiet
        assert code.left + code.modules * code.module + quiet <= frame.right
        assert code.low - quiet >= frame.content_top


def test_a_long_name_is_cut_short_so_that_the_code_stays_one_that_can_be_read():
    long = stamp(code="BATCH " + "x" * 90)
    binder = Binder(build="b" * 60, label="", revision="ä" * 60, paper="a4", sheets=())
    text = code_text(binder, long)
    build, code, *_ = text.split("\n")

    assert build == f"{'b' * 23}~ revision {'ä' * 7}~"
    assert code == f"BATCH {'x' * 33}~"
    assert SIDE / (len(matrix_of(text)) + 8) >= 0.29 * MM


def test_the_runs_of_a_code_are_its_dark_modules():
    matrix = matrix_of("bench\nCOVER")
    dark = {(x, y) for y, row in enumerate(matrix) for x, module in enumerate(row) if module}
    drawn = [(x + n, y) for x, y, many in runs_of(matrix) for n in range(many)]

    assert sorted(drawn) == sorted(dark)
    assert len(drawn) == len(set(drawn))
