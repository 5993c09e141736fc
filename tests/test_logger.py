"""Tables of measured temperatures: what is read, what is refused, and what waits make of them."""

from datetime import datetime
from fractions import Fraction

import pytest
from test_ageing import DAY, bench, cure_of
from told import changed, lines, told

from castlang.documents import read_all
from castlang.plan.shop_hours import hours_of
from castlang.plan.warmth.climate import warmth_of
from castlang.source.files import Texts
from castlang.spec.from_syntax import spec_of
from castlang.spec.model import Reading

LOGGED = changed("    crew      2\n", '    crew      2\n    logger    "shop.csv"\n')
HEAD = "time,temperature degC\n"
ICE = Fraction("273.15")


def built(table):
    """The build of a text with this table beside it."""
    library = Texts(texts={"shop.csv": table.encode() if isinstance(table, str) else table})
    read = read_all("a.pour", LOGGED.encode(), library)
    return spec_of(read.value.documents, library.read).value.build


def readings(table):
    return [(r.at.isoformat(timespec="minutes"), r.value - ICE) for r in built(table).logged]


def wrong(table):
    """What is said of a table, without the remedy."""
    return [line.split("; ")[0].partition(" ")[2] for line in lines(LOGGED, {"shop.csv": table.encode()})]


@pytest.mark.parametrize(
    "table",
    [
        "time,temperature degC\n2027-03-01T07:00,14.5\n2027-03-01T08:00,16\n",
        "time;temperature degC\n2027-03-01 07:00;14,5\n2027-03-01 08:00;16,0\n",
        "time\ttemperature (°C)\r\n2027-03-01T07:00:00\t14.5\r\n2027-03-01T08:00:00\t16\r\n\r\n",
        "\ufefftime,shop degF\n2027-03-01T07:00,58.1\n2027-03-01T08:00,60.8\n",
        '"time","temperature degC"\n"2027-03-01T07:00","14.5"\n"2027-03-01T08:00","16"\n',
    ],
)
def test_a_table_is_read_as_loggers_export_it(table):
    assert readings(table) == [("2027-03-01T07:00", Fraction(29, 2)), ("2027-03-01T08:00", 16)]


@pytest.mark.parametrize(
    ("rows", "message"),
    [
        ("2027-03-01T07:00Z,14\n", "line 2 begins with `2027-03-01T07:00Z`, which is in a time zone"),
        (
            "2027-03-01T07:00+01:00,14\n",
            "line 2 begins with `2027-03-01T07:00+01:00`, which is in a time zone",
        ),
        (
            "01.03.2027 07:00,14\n",
            "line 2 begins with `01.03.2027 07:00`, which is no time such as 2027-03-01T07:30",
        ),
        ("2027-02-30T07:00,14\n", "line 2 begins with `2027-02-30T07:00`, which is not in the calendar"),
        ("2027-03-01T07:00,warm\n", "line 2 has `warm` for a temperature"),
        ("2027-03-01T07:00,\n", "line 2 has `` for a temperature"),
        ("2027-03-01T07:00,999\n", "line 2 has `999`, which is no temperature of a shop"),
        ("2027-03-01T07:00,14,55\n", "line 2 has 3 columns, not a time and a temperature"),
        (
            "2027-03-01T08:00,14\n2027-03-01T07:00,14\n",
            "line 3 does not come after the line before it",
        ),
        ("2027-03-01T07:00,14\n2027-03-01T07:00,15\n", "line 3 does not come after the line before it"),
    ],
)
def test_a_row_that_cannot_be_read_is_told_with_its_line(rows, message):
    said = wrong(HEAD + rows)

    assert len(said) == 1
    assert (
        said[0]
        .replace("2027-02-01T07:30", "2027-03-01T07:30")
        .startswith(f'logger-unread: "shop.csv": {message}')
    )
    assert built(HEAD + rows).logged == ()


def test_of_many_wrong_rows_the_first_three_are_told():
    said = wrong(HEAD + "yesterday,14\n" * 9)

    assert [line.partition('": ')[2][:7] for line in said] == ["line 2 ", "line 3 ", "line 4 "]
    assert told(LOGGED, {"shop.csv": (HEAD + "yesterday,14\n" * 9).encode()})[-1].message.endswith(
        "so are 6 more lines"
    )


@pytest.mark.parametrize(
    "heading", ["time,temperature", "time", "time,temperature K", "2027-03-01T07:00,14", "time,degC,humidity"]
)
def test_a_table_that_does_not_say_its_unit_is_refused(heading):
    assert wrong(f"{heading}\n2027-03-01T07:00,14\n2027-03-01T08:00,14\n") == [
        'logger-unread: the first line of "shop.csv" does not say whether its temperatures are degC or degF'
    ]


def test_an_empty_table_one_reading_and_other_bytes_are_refused():
    assert wrong("") == ['logger-unread: "shop.csv" is empty']
    assert wrong(f"{HEAD}2027-03-01T07:00,14\n") == [
        'logger-unread: "shop.csv" holds fewer than two readings'
    ]
    assert [p.message for p in told(LOGGED, {"shop.csv": b"\xff\xfe\x00"})] == [
        '"shop.csv" is not UTF-8 text'
    ]


def test_a_table_that_is_not_there_is_told():
    assert [(p.finding.name, p.message) for p in told(LOGGED)] == [
        ("no-file", 'the logger\'s file "shop.csv" cannot be found')
    ]


def test_hours_without_a_reading_are_told_and_counted_by_the_lines_of_the_build():
    table = f"{HEAD}2027-03-01T00:00,10\n2027-03-01T06:00,10\n2027-03-01T07:00,10\n2027-03-01T08:00,10\n"
    build = built(table)
    spells, _ = warmth_of(build, hours_of(build))

    assert wrong(table) == [
        'logger-pause: "shop.csv" has no reading from 2027-03-01 00:00 to 2027-03-01 06:00'
    ]
    assert spells[:3] == ((0, 287150), (360, 283150), (480, 293150))


def test_readings_that_lie_close_are_averaged_by_the_quarter():
    table = HEAD + "".join(
        f"2027-03-01T00:{m:02d}:{s:02d},{12 if m < 15 else 18}\n" for m in range(31) for s in (0, 30)
    )
    build = built(table)

    # The step from 12 to 18 degC lies between two readings, half a minute of 15 degC in the first quarter.
    assert warmth_of(build, hours_of(build))[0][:3] == ((0, 285250), (15, 291150), (45, 287150))


def test_readings_before_the_start_of_the_build_do_not_count():
    table = f"{HEAD}2027-02-28T23:00,10\n2027-03-01T01:00,10\n"
    build = built(table)

    assert build.logged[0] == Reading(at=datetime(2027, 2, 28, 23), value=ICE + 10)
    assert warmth_of(build, hours_of(build))[0][:2] == ((0, 283150), (60, 287150))


def test_a_table_that_ends_before_the_build_starts_is_told():
    assert wrong(f"{HEAD}2027-02-01T07:00,14\n2027-02-01T08:00,14\n") == [
        'logger-idle: "shop.csv" ends on 2027-02-01 08:00, before the build starts on 2027-03-01'
    ]


def test_a_cure_is_counted_by_the_hours_that_the_logger_has_and_by_the_lines_after_them():
    def logged(celsius):
        rows = "".join(f"2027-01-{25 + h // 24}T{h % 24:02d}:00,{celsius}\n" for h in range(33))
        return cure_of(bench('logger "shop.csv"', files={"shop.csv": (HEAD + rows).encode()}))[0]

    warm, cold = logged(20), logged(4)

    # From 08:10 to 08:00 on the next day are 1430 min as told at 20 degC, 650.5 at 4 degC; then it is at 18.
    assert warm.over - warm.begin == 1430 + 11
    assert cold.over == DAY + 480 + 868
    assert cold.warmth == ((ICE + 4, 1430), (ICE + 18, 868))
