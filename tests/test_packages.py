"""Whole packages: never short, never one too many."""

from datetime import date
from fractions import Fraction
from itertools import product
from math import ceil

from hypothesis import given, settings
from hypothesis import strategies as st

from castlang.costing.order_dates import days_of, order_by
from castlang.costing.packages import bought, cheapest

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


OFFERS = st.lists(
    st.tuples(
        st.fractions(min_value=Fraction(1, 2), max_value=12, max_denominator=4),
        st.fractions(min_value=0, max_value=40, max_denominator=4),
    ),
    min_size=1,
    max_size=3,
)


@settings(deadline=None)
@given(need=st.fractions(min_value=0, max_value=25, max_denominator=4), offers=OFFERS)
def test_mixed_packages_cover_the_need_and_no_other_choice_is_better(need, offers):
    sizes, prices = [size for size, _ in offers], [price for _, price in offers]
    found = cheapest(need, sizes, prices)

    def worth(counts):
        amount = sum(n * size for n, size in zip(counts, sizes, strict=True))
        cost = sum(n * price for n, price in zip(counts, prices, strict=True))
        return None if amount < need else (cost, sum(counts))

    every = product(*(range(ceil(need / size) + 1) for size in sizes))
    best = min(w for w in map(worth, every) if w is not None)

    assert worth(found) == best


def test_a_small_package_fills_up_where_a_second_large_one_costs_more():
    found = cheapest(Fraction(27), [Fraction(25), Fraction(5)], [Fraction("21.5"), Fraction(6)])

    assert found == (1, 1)


def test_a_large_package_is_bought_where_small_ones_cost_more():
    found = cheapest(Fraction(45), [Fraction(25), Fraction(5)], [Fraction("21.5"), Fraction(6)])

    assert found == (2, 0)


def test_nothing_needed_is_nothing_bought():
    assert cheapest(Fraction(-3), [Fraction(25), Fraction(5)], [Fraction(20), Fraction(6)]) == (0, 0)


def test_many_packages_at_one_rate_are_found_at_once():
    found = cheapest(Fraction(100_000), [Fraction(5), Fraction(25)], [Fraction(4), Fraction(20)])

    assert found == (0, 4000)
