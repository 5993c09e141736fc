"""How a stock is sold: one package or several, a board's thickness, and what is refused."""

import pytest
from told import BENCH, changed, lines, names

from castlang.documents import read_all
from castlang.source.files import Texts
from castlang.spec.from_syntax import spec_of

STOCK = """
stock size-oil "Two sizes of can"
    density   900 kg/m3
    sold      can of 5 L
    price     28 EUR
    sold      can of 500 mL
    price     4.50 EUR
    have      2 cans
"""


def stock(text):
    read = read_all("a.pour", (BENCH + text).encode(), Texts())
    return spec_of(read.value.documents, Texts().read).value.stocks["size-oil"]


def test_each_price_belongs_to_the_package_above_it():
    found = stock(STOCK)

    assert (found.package.word, found.price.amount) == ("can", 28)
    assert [(p.package.amount.written, p.price.amount) for p in found.more] == [("500 mL", 4.5)]


def test_what_is_on_hand_counts_the_first_package():
    assert stock(STOCK).have == 2


def test_the_price_of_a_single_package_may_stand_anywhere():
    found = stock(
        "\nstock size-oil\n    price     28 EUR\n    density   900 kg/m3\n    sold      can of 5 L\n"
    )

    assert found.price.amount == 28


def test_the_thickness_of_a_board_is_kept():
    found = stock("\nstock size-oil\n    sold      sheet of 1 m x 2 m\n    thick     18 mm\n")

    assert found.thick * 1000 == 18


def said(old, new):
    return lines(BENCH + changed(old, new, STOCK))


@pytest.mark.parametrize(
    ("old", "new", "finding"),
    [
        ("    price     4.50 EUR\n", "", "not-said"),
        ("900 kg/m3\n", "900 kg/m3\n    price     3 EUR\n", "not-said"),
        ("500 mL", "500 g", "wrong-unit"),
        ("4.50 EUR", "4.50 USD", "wrong-unit"),
        ("can of 500 mL", "sheet of 1 m x 2 m", "bad-value"),
        ("    have      2 cans\n", "    price     5 EUR\n", "said-twice"),
        ("    have      2 cans\n", "    thick     18 mm to 20 mm\n", "bad-value"),
    ],
)  # fmt: skip
def test_packages_that_cannot_be_compared_are_refused_with_their_name(old, new, finding):
    assert finding in names(BENCH + changed(old, new, STOCK))


def test_a_package_without_a_price_to_choose_by_is_told_at_its_line():
    told = "the stock is sold in several packages, and this one has no price to choose by"

    assert said("    price     4.50 EUR\n", "") == [
        f"5 not-said: {told}; write its `price` on the line under it"
    ]


def test_a_price_that_could_not_be_read_is_not_missed_as_well():
    assert names(BENCH + changed("4.50 EUR", "$4.50", STOCK)) == ["money-sign"]


def test_two_prices_of_one_package_are_one_too_many():
    text = "\nstock size-oil\n    sold      can of 5 L\n    price     28 EUR\n    price     29 EUR\n"

    assert names(BENCH + text) == ["said-twice"]


def test_a_contingency_is_a_share_of_the_build():
    text = changed("    crew ", "    contingency 5 %\n    crew ", BENCH)
    read = read_all("a.pour", text.encode(), Texts())

    assert spec_of(read.value.documents, Texts().read).value.build.contingency * 100 == 5
