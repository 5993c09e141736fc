"""Whole packages: never short, never one too many."""

from datetime import date
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from castlang.costing.order_dates import days_of, order_by
from castlang.costing.packages import bought

AMOUNTS = st.fractions(min_value=0, max_value=1000, max_denominator=1000)
SIZES = st.fractions(min_value=Fraction(1, 100), max_value=50, max_denominator=100)


@given(need=AMOUNTS, size=SIZES, have=st.fractions(min_value=0, max_value=20, max_denominator=4))
def test_what_is_bought_and_on_hand_covers_the_need_with_no_package_too_many(need, size, have):
    found = bought(need, size, have)

    assert (have + found.packages) * size >= need
    assert found.packages == 0 or (have + found.packages - 1) * size < need
    assert found.left == (have + found.packages) * size - need


def test_a_need_of_exactly_whole_packages_buys_no_spare_one():
    found = bought(Fraction(75), Fraction(25), Fraction(1))

    assert (found.packages, found.left) == (2, 0)


def test_an_open_bag_on_hand_counts_as_the_part_that_it_is():
    found = bought(Fraction(30), Fraction(25), Fraction(1, 2))

    assert (found.packages, found.left) == (1, Fraction(15, 2))


def test_the_order_date_lies_the_lead_in_calendar_days_before_the_first_use():
    found = order_by(date(2027, 3, 1), Fraction(12 * 86400))

    assert found == date(2027, 2, 17)


def test_a_started_day_of_lead_is_a_whole_day():
    found = days_of(Fraction(86401))

    assert found == 2
