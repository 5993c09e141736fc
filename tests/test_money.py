"""What a build costs and what the client pays: sums by hand, in the test."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from test_costing import CEMENT, LAMP, PLAN, PLY, eur, spec, takeoff

from castlang.costing.from_plan import costing_of
from castlang.costing.rates import rates_to, turned
from castlang.costing.shares import apportioned
from castlang.plan.model import Hold, Need
from castlang.sheets.amounts import money
from castlang.spec.minor_units import paid, places_of
from castlang.spec.model import Exchange, Mold, Pack, Package, Panel, Piece, Station
from castlang.spec.quantity import Dimension, Money, Quantity

USD = Exchange(sold="USD", rate=Fraction("0.92"), bought="EUR", on=date(2027, 1, 15))


def usd(amount):
    return Money(amount=Fraction(amount), currency="USD")


def bought(told, plan=PLAN, **changes):
    """The costing of the build of test_costing: 120 kg of cement of which 100 are net, 3 m2 of ply in two
    sheets, 2 lamps; 90 min on the mold, 2 x 120 min on the seat, 30 min on the wire."""
    quantities = takeoff()
    lines = tuple(with_of(line) for line in quantities.bill)
    return costing_of(told, replace(quantities, bill=lines, **changes), plan)


def with_of(line):
    source = {"cement": "seat.body", "lamp": "lamp", "ply": "form.panels"}.get(line.stock, "seat.body")
    net = Fraction(100) if line.stock == "cement" else line.gross
    return replace(line, net=net, of=((source, line.gross),))


def test_the_build_costs_what_it_uses_up_and_the_work_on_it():
    sums = bought(spec()).value.sums

    # 120 kg at 21.50 EUR for 25 kg = 103.20; 100 of 120 kg = 86.00. 3 m2 of 2 m2 sheets at 74 = 111.
    # Two lamps = 60. 6 h at 40 EUR = 240.
    assert (sums.currency, sums.material, sums.waste) == ("EUR", 86 + 111 + 60, Fraction("17.20"))
    assert (sums.labour, sums.stations, sums.contingency) == (240, 0, 0)
    assert sums.total == Fraction("514.20")


def test_a_contingency_is_a_share_of_everything_else():
    sums = bought(spec(contingency=Fraction(5, 100))).value.sums

    assert (sums.contingency, sums.total) == (Fraction("25.71"), Fraction("539.91"))


def test_overhead_and_margin_are_added_on_and_freight_comes_last():
    told = spec(overhead=Fraction(10, 100), margin=Fraction(20, 100), freight=eur(80))
    quote = bought(told).value.quote

    # 514.20 + 10 % = 51.42; 20 % of 565.62 = 113.124, paid 113.12; and 80.
    assert (quote.overhead, quote.margin) == (Fraction("51.42"), Fraction("113.12"))
    assert (quote.goods, quote.price) == (Fraction("678.74"), Fraction("758.74"))


def test_a_build_that_tells_no_margin_overhead_or_freight_has_no_quote():
    assert bought(spec(contingency=Fraction(5, 100))).value.quote is None


def test_pieces_and_their_molds_bear_what_they_take_and_share_the_rest():
    mold = Mold(
        name="form",
        board="ply",
        fits=("seat",),
        panels=(Panel(name="side", long=Fraction(1), wide=Fraction(1)),),
    )
    piece = bought(replace(spec(), molds={"form": mold})).value.pieces[0]

    # Cement and the mold's sheets; 90 + 240 min at 40 EUR/h. Shared: two lamps and 30 min of wire.
    assert (piece.material, piece.labour) == (Fraction("103.20") + 111, 220)
    assert piece.shared == 60 + 20
    assert piece.total == Fraction("514.20")


def two_pieces(**build):
    told = spec(**build)
    bench = replace(told.pieces["seat"], count=3)
    return replace(told, pieces={"bench": Piece(name="bench", count=2), "seat": bench})


def test_the_pieces_of_a_build_add_up_to_all_of_it():
    costing = bought(two_pieces(contingency=Fraction(7, 100), margin=Fraction(1, 3))).value

    assert [(p.piece, p.copies) for p in costing.pieces] == [("bench", 2), ("seat", 3)]
    assert sum(p.total for p in costing.pieces) == costing.sums.total
    assert sum(price for _, _, price in costing.quote.pieces) == costing.quote.goods


def test_a_bag_on_hand_is_worth_what_it_costs_to_buy():
    full = replace(CEMENT, have=Fraction(10))
    costing = bought(spec(stocks=(full, PLY))).value

    assert costing.material == {"EUR": Fraction(2 * 74 + 60)}
    assert costing.sums.material + costing.sums.waste == Fraction("103.20") + 111 + 60


# ---------------------------------------------------------------- currencies


def test_totals_are_told_in_the_currency_of_the_wage_by_the_rate_of_the_build():
    told = spec(fittings=(replace(LAMP, price=usd(30)),), exchange=(USD,))
    costing = bought(told).value

    assert costing.sums.currency == "EUR"
    assert costing.sums.material == 86 + 111 + Fraction("55.20")
    assert [(r.sold, r.rate, r.by[0].on) for r in costing.rates] == [
        ("USD", Fraction("0.92"), date(2027, 1, 15))
    ]


def test_a_rate_is_walked_both_ways_and_over_two_lines():
    lines = (USD, Exchange(sold="USD", rate=Fraction(150), bought="JPY"))
    rates = rates_to("EUR", lines)

    assert rates["JPY"].rate == Fraction("0.92") / 150
    assert turned(Money(amount=Fraction(15000), currency="JPY"), rates) == 92


def test_a_price_that_no_rate_reaches_is_refused_even_on_a_station_or_the_freight():
    crane = Station(name="crane", price=usd(90))
    by_station = replace(spec(), stations={"crane": crane})

    assert [p.finding.name for p in bought(by_station).problems] == ["two-currencies"]
    assert [p.finding.name for p in bought(spec(freight=usd(90))).problems] == ["two-currencies"]


@pytest.mark.parametrize(
    ("amount", "shown"),
    [
        ("12.5 EUR", "12.50 EUR"),
        ("0.0125 EUR", "0.0125 EUR"),
        ("1200 JPY", "1200 JPY"),
        ("3 KWD", "3.000 KWD"),
    ],
)
def test_money_is_shown_with_the_decimals_of_its_currency(amount, shown):
    figure, code = amount.split()

    assert money(Money(amount=Fraction(figure), currency=code)) == shown


def test_half_a_coin_goes_to_the_even_one():
    assert [paid(Fraction(n, 1000), "EUR") for n in (125, 135)] == [Fraction("0.12"), Fraction("0.14")]


@given(
    cents=st.integers(0, 10**7),
    by=st.lists(st.fractions(min_value=0, max_value=99), min_size=1, max_size=9),
    currency=st.sampled_from(("EUR", "JPY", "KWD")),
)
def test_shares_of_money_are_whole_coins_and_add_up(cents, by, currency):
    whole = Fraction(cents, 10 ** places_of(currency))
    shares = apportioned(whole, by, currency)
    coin, total = Fraction(1, 10 ** places_of(currency)), sum(by) or len(by)

    assert sum(shares) == whole
    assert all(share == paid(share, currency) for share in shares)
    assert all(
        abs(share - whole * (weight if sum(by) else 1) / total) < coin
        for share, weight in zip(shares, by, strict=True)
    )


# ---------------------------------------------------------------- stations by the hour


def hired(plan, station):
    told = replace(spec(), stations={station.name: station})
    return costing_of(told, takeoff(), plan).value.stations


def using(station, *names):
    """The plan of test_costing with a station on the tasks called so."""
    network = PLAN.network
    tasks = tuple(
        replace(task, needs=(Need(resource=station),)) if task.name in names else task
        for task in network.tasks
    )
    placed = tuple(replace(p, spells=((p.start, p.end),)) for p in PLAN.placed)
    return replace(PLAN, network=replace(network, tasks=tasks), placed=placed)


def test_a_priced_station_costs_the_time_in_which_it_is_in_use():
    mixer = Station(name="mixer", price=eur(12))
    found = hired(using("mixer", "form.cut", "seat.1.body"), mixer)

    assert [(h.minutes, h.cost) for h in found] == [(150, 30)]
    assert found[0].of == (("form", 18), ("seat", 12))


def test_two_steps_that_share_the_places_of_one_station_cost_it_once():
    plan = using("table", "seat.1.body", "seat.2.body")
    starts = {"seat.1.body": 500, "seat.2.body": 530}
    placed = tuple(
        replace(p, start=starts[p.task], spells=((starts[p.task], starts[p.task] + 60),))
        if p.task in starts
        else p
        for p in plan.placed
    )
    two = Station(name="table", price=eur(10), holds=Quantity(si=Fraction(2), dimension=Dimension.COUNT))

    assert hired(replace(plan, placed=placed), two)[0].minutes == 90
    assert hired(replace(plan, placed=placed), replace(two, holds=None, have=2))[0].minutes == 120


def test_a_rack_that_is_held_costs_the_clock():
    network = replace(PLAN.network, holds=(Hold(resource="rack", first="seat.1.body", last="seat.2.body"),))
    found = hired(replace(PLAN, network=network), Station(name="rack", price=eur(1)))

    assert found[0].minutes == PLAN.placed[2].end - PLAN.placed[1].start


def test_a_station_without_a_price_is_in_no_sum():
    assert hired(using("mixer", "form.cut"), Station(name="mixer")) == ()


# ---------------------------------------------------------------- packages and shelf life


def test_mixed_packages_are_bought_at_the_least_cost():
    small = Pack(
        package=Package(word="bag", amount=Quantity(si=Fraction(5), dimension=Dimension.MASS)),
        price=eur("5.50"),
    )
    order = bought(spec(stocks=(replace(CEMENT, more=(small,)), PLY))).value.orders[0]

    # 120 kg less 2 bags of 25: 70 kg = 2 x 25 + 4 x 5 = 43 + 22 = 65, against 64.50 for 3 bags of 25.
    assert ([p.number for p in order.packs], order.buy, order.cost) == ([3], 3, eur("64.50"))

    cheap = replace(small, price=eur("5.25"))
    order = bought(spec(stocks=(replace(CEMENT, more=(cheap,)), PLY))).value.orders[0]

    assert ([p.number for p in order.packs], order.buy, order.cost) == ([2, 4], 6, eur(64))
    assert order.left == 0


def shelf(keeps, **changes):
    told = spec(stocks=(replace(CEMENT, keeps=Fraction(keeps * 86400), **changes), PLY))
    return [p for p in bought(told).problems if p.finding.name == "kept-too-long"]


def test_a_stock_that_is_past_its_shelf_life_before_its_last_use_is_told():
    # Ordered on 20 January, last used on 4 February: 15 days.
    found = shelf(14)

    assert [p.message for p in found] == [
        "cement ordered on 2027-01-20 keeps 14 days, to 2027-02-03, and is last used on 2027-02-04"
    ]
    assert found[0].remedy == (
        "order it between 2027-01-21 and 2027-01-27, and write `ordered 2027-01-27` under cement"
    )


def test_a_stock_that_keeps_just_long_enough_is_fine():
    assert shelf(15) == []


def test_a_stock_whose_lead_eats_its_shelf_life_is_bought_in_two_goes():
    found = shelf(7, lead=Fraction(7 * 86400))

    assert found[0].remedy == ("order it in two goes: no order serves both 2027-02-03 and 2027-02-04")


def test_what_is_all_on_hand_has_no_shelf_life_to_keep():
    assert shelf(1, have=Fraction(9)) == []
