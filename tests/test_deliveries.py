"""Deliveries come when the shop is open, and are ordered when it is."""

from datetime import date
from fractions import Fraction

import pytest

from castlang.costing.order_dates import order_by
from castlang.pipeline import Compiled, compile_build
from castlang.plan.model import Hours
from castlang.plan.shop_hours import first_open, last_open_day
from castlang.rules.examples import BASE, CAST
from castlang.sheets.from_plan import binder_of
from castlang.sheets.model import BarKind, Chart
from castlang.source.files import Texts

DAY = 1440
MONDAY = date(2027, 3, 1)
WEEK = tuple(((480, 720), (780, 1080)) if day < 5 else () for day in range(7))
HOURS = Hours(start=MONDAY, week=WEEK, closed=frozenset({7}))


def compiled(lead: str, more: str = "") -> Compiled:
    stock = 'stock sand "Kiln-dried sand"\n'
    text = BASE.replace(stock, f"{stock}    lead      {lead}\n")
    text = text.replace("    air       20 degC\n", f"    air       20 degC\n{more}")
    return compile_build("a.pour", (text + CAST).encode(), Texts())


def arrival(build: Compiled) -> int:
    assert build.plan is not None
    return next(p.start for p in build.plan.placed if p.task == "sand.arrives")


@pytest.mark.parametrize(
    ("minute", "first"),
    [
        (0, 480),
        (500, 500),
        (720, 780),
        (1080, DAY + 480),
        (5 * DAY, 8 * DAY + 480),  # Saturday; Monday is closed
    ],
)
def test_the_first_open_minute_is_in_the_hours_of_the_shop(minute: int, first: int) -> None:
    assert first_open(HOURS, minute) == first


def test_a_shop_that_never_opens_has_no_first_open_minute() -> None:
    assert first_open(Hours(start=MONDAY, week=((),) * 7), 77) == 77


@pytest.mark.parametrize(
    ("day", "last"),
    [
        (date(2027, 3, 3), date(2027, 3, 3)),
        (date(2027, 3, 8), date(2027, 3, 5)),  # the closed Monday
        (date(2027, 3, 7), date(2027, 3, 5)),
        (date(2027, 2, 28), date(2027, 2, 26)),  # before the start: by the week
    ],
)
def test_the_last_open_day_up_to_a_day(day: date, last: date) -> None:
    assert last_open_day(HOURS, day) == last


def test_what_is_needed_before_any_day_was_open_is_ordered_on_its_own_day() -> None:
    saturday = Hours(start=date(2027, 2, 27), week=WEEK)

    assert last_open_day(saturday, date(2027, 2, 27)) == date(2027, 2, 27)


def test_of_several_shops_one_has_to_be_open_to_order() -> None:
    weekend = Hours(start=MONDAY, week=tuple(((480, 720),) if day == 5 else () for day in range(7)))

    assert order_by(date(2027, 3, 14), Fraction(7 * 86400), (HOURS, weekend)) == date(2027, 3, 6)


@pytest.mark.parametrize(
    ("lead", "more", "minute"),
    [
        ("5 days", "", 7 * DAY + 480),  # Saturday, so Monday when the shop opens
        ("4 days", "", 4 * DAY + 480),
        ("5 days", "    closed    2027-03-08\n", 8 * DAY + 480),
    ],
)
def test_a_delivery_counts_from_the_first_open_hours_on_its_day_or_later(
    lead: str, more: str, minute: int
) -> None:
    assert arrival(compiled(lead, more)) == minute


def test_the_day_to_order_by_is_one_on_which_the_shop_is_open() -> None:
    build = compiled("5 days")
    assert build.costing is not None
    sand = next(o for o in build.costing.orders if o.name == "sand")

    # used on Mon 8 Mar at the soonest; 5 days before is a Wednesday
    assert (sand.first_use, sand.order_by) == (date(2027, 3, 8), date(2027, 3, 3))

    later = compiled("5 days", "    closed    2027-03-03\n")
    assert later.costing is not None
    sand = next(o for o in later.costing.orders if o.name == "sand")

    assert (sand.order_by, sand.latest) == (date(2027, 3, 2), date(2027, 3, 3))


def test_a_closed_day_to_order_by_is_not_told_as_ordered_too_late() -> None:
    build = compiled("7 days", "    closed    2027-03-01 to 2027-03-02\n")

    # ordered on the first day of the build, which is closed, and used on the day on which it comes
    assert [p.finding.name for p in build.problems if p.finding.name == "ordered-too-late"] == []


def test_a_delivery_that_sets_the_finish_stands_on_the_chart() -> None:
    build = compiled("5 days")
    assert build.spec is not None
    assert build.takeoff is not None
    assert build.plan is not None
    assert build.costing is not None
    book = binder_of(build.spec, build.takeoff, build.plan, build.costing)
    [chart] = [block for sheet in book.sheets for block in sheet.blocks if isinstance(block, Chart)]
    [row] = [row for row in chart.rows if row.label == "sand.arrives"]
    [bar] = row.bars

    assert (bar.start, bar.end, bar.kind, row.critical) == (0, 7 * DAY + 480, BarKind.WAIT, True)


def test_it_stands_above_the_copies_too_where_there_are_too_many_steps_for_a_row_each() -> None:
    many = "".join(f"\njob sweep-{n}\n    work floor takes 5 min by 1\n" for n in range(60))
    stock = 'stock sand "Kiln-dried sand"\n'
    text = BASE.replace(stock, f"{stock}    lead      5 days\n") + CAST + many
    build = compile_build("a.pour", text.encode(), Texts())
    assert build.spec is not None
    assert build.takeoff is not None
    assert build.plan is not None
    assert build.costing is not None
    book = binder_of(build.spec, build.takeoff, build.plan, build.costing)
    [chart] = [block for sheet in book.sheets for block in sheet.blocks if isinstance(block, Chart)]

    assert chart.rows[0].label == "sand.arrives"
    assert "slab" in [row.label for row in chart.rows]
