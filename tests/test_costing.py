"""The order list and the money, from a take-off and a plan built by hand."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from castlang.costing.from_plan import costing_of
from castlang.plan.model import Hours, Network, Placed, Plan, Task
from castlang.spec.model import (
    After,
    Build,
    Exchange,
    Fitting,
    Job,
    Mold,
    Package,
    Panel,
    Piece,
    Spec,
    Step,
    StepKind,
    StepRef,
    Stock,
)
from castlang.spec.quantity import Dimension, Money, Quantity
from castlang.takeoff.model import BillLine, StepTakeoff, Takeoff, Use

DAY = 1440
START = date(2027, 2, 1)
WEEK = Fraction(7 * 86400)


def eur(amount):
    return Money(amount=Fraction(amount), currency="EUR")


CEMENT = Stock(
    name="cement",
    package=Package(word="bag", amount=Quantity(si=Fraction(25), dimension=Dimension.MASS)),
    price=eur("21.50"),
    have=Fraction(2),
    lead=WEEK,
    ordered=date(2027, 1, 20),
)
PLY = Stock(name="ply", package=Package(word="sheet", sheet=(Fraction(1), Fraction(2))), price=eur(74))
LAMP = Fitting(name="lamp", price=eur(30), lead=WEEK, ordered=date(2027, 1, 20))
BODY = Step(kind=StepKind.POUR, owner="seat", name="body")
LIGHT = Step(kind=StepKind.WORK, owner="wire", name="light")
CUT = Step(kind=StepKind.WORK, owner="form", name="cut")


def spec(stocks=(CEMENT, PLY), fittings=(LAMP,), **build):
    told = {"name": "bench", "start": START, "wage": eur(40), **build}
    wait = After(owner="wire", refs=(StepRef(owner="lamp", fitting=True),))
    mold = Mold(
        name="form",
        board="ply",
        panels=(Panel(name="side", long=Fraction(1), wide=Fraction(1)),),
        sequence=(CUT,),
    )
    return Spec(
        build=Build(**told),
        stocks={s.name: s for s in stocks},
        mixes={},
        molds={"form": mold},
        stations={},
        fittings={f.name: f for f in fittings},
        pieces={"seat": Piece(name="seat", sequence=(BODY,))},
        jobs={"wire": Job(name="wire", sequence=(wait, LIGHT))},
    )


def line(stock, dimension, gross):
    amount = Fraction(gross)
    return BillLine(stock=stock, dimension=dimension, net=amount, gross=amount, of=((stock, amount),))


def takeoff(cement=120):
    use = Use(stock="cement", dimension=Dimension.MASS, net=Fraction(cement), gross=Fraction(cement))
    return Takeoff(
        pieces={},
        recipes={},
        steps={("seat", "body"): StepTakeoff(owner="seat", step="body", parts=(), uses=(use,))},
        bill=(
            line("cement", Dimension.MASS, cement),
            line("lamp", Dimension.COUNT, 2),
            line("ply", Dimension.AREA, 3),
            line("water", Dimension.MASS, 50),
        ),
        lifts=(),
        bearings=(),
    )


def task(owner, step, minutes, people, copy=""):
    name = ".".join(word for word in (owner, copy, step) if word)
    return Task(name=name, owner=owner, step=step, copy=copy, minutes=minutes, crew=((None, people),))


def plan(*starts):
    tasks = (
        task("form", "cut", 90, 1),
        task("seat", "body", 60, 2, "1"),
        task("seat", "body", 60, 2, "2"),
        task("wire", "light", 30, 1),
    )
    placed = tuple(
        Placed(task=t.name, start=start, end=start + t.minutes, spells=(), latest=start, slack=0)
        for t, start in zip(tasks, starts, strict=True)
    )
    hours = Hours(start=START, week=((),) * 7)
    network = Network(tasks=tasks, gaps=(), holds=(), resources=(), hours=hours)
    return Plan(network=network, placed=placed, critical=(), finish=0, bound=0, made="by hand")


PLAN = plan(450, 2 * DAY + 450, 3 * DAY + 450, 6 * DAY + 450)


def orders(told, quantities=None, when=PLAN):
    return {o.name: o for o in costing_of(told, quantities or takeoff(), when).value.orders}


def findings(told):
    return [p.finding.name for p in costing_of(told, takeoff(), PLAN).problems]


def test_whole_packages_are_bought_after_what_is_on_hand():
    found = orders(spec())["cement"]

    assert (found.buy, found.left, found.cost) == (3, 5, eur("64.50"))


def test_a_sheet_is_a_package_of_its_area():
    found = orders(spec())["ply"]

    assert (found.package_size, found.buy, found.left) == (2, 2, 1)


def test_a_fitting_is_bought_by_the_piece():
    found = orders(spec())["lamp"]

    assert (found.fitting, found.buy, found.cost) == (True, 2, eur(60))


def test_tap_water_is_not_ordered():
    found = orders(spec())

    assert sorted(found) == ["cement", "lamp", "ply"]


def test_the_order_date_is_the_lead_before_the_first_copy_that_uses_it():
    found = orders(spec())["cement"]

    assert (found.first_use, found.order_by) == (date(2027, 2, 3), date(2027, 1, 27))


def test_a_fitting_is_first_used_by_the_step_that_waits_for_it():
    found = orders(spec())["lamp"]

    assert (found.first_use, found.order_by) == (date(2027, 2, 7), date(2027, 1, 31))


def test_sheets_are_first_used_by_the_first_work_on_their_mold():
    assert orders(spec())["ply"].first_use == date(2027, 2, 1)


def test_what_is_all_on_hand_is_not_ordered():
    found = orders(spec(), takeoff(cement=50))["cement"]

    assert (found.buy, found.cost, found.order_by) == (0, eur(0), None)


def test_hours_are_people_times_minutes_of_every_copy():
    found = costing_of(spec(), takeoff(), PLAN).value

    assert [(h.owner, h.minutes) for h in found.hours] == [("form", 90), ("seat", 240), ("wire", 30)]
    assert found.labour == {"EUR": Fraction(6) * 40}


def test_material_is_the_sum_of_what_is_bought():
    found = costing_of(spec(), takeoff(), PLAN).value

    assert found.material == {"EUR": Fraction("64.50") + 2 * 74 + 2 * 30}


def test_without_a_wage_there_are_hours_and_no_money_for_them():
    found = costing_of(spec(wage=None), takeoff(), PLAN).value

    assert found.labour == {}


def test_what_has_no_price_is_named():
    found = costing_of(spec(stocks=(replace(CEMENT, price=None), PLY)), takeoff(), PLAN).value

    assert found.unpriced == ("cement",)
    assert found.material == {"EUR": Fraction(2 * 74 + 2 * 30)}


def test_a_stock_that_does_not_say_how_it_is_sold_is_needed_and_not_rounded():
    found = orders(spec(stocks=(replace(CEMENT, package=None), PLY)))["cement"]

    assert (found.need, found.package_size, found.buy, found.cost) == (120, None, 0, None)


def test_two_currencies_without_a_rate_are_refused():
    told = spec(fittings=(replace(LAMP, price=Money(amount=Fraction(30), currency="USD")),))
    outcome = costing_of(told, takeoff(), PLAN)

    assert outcome.value is None
    assert [p.message for p in outcome.problems] == [
        "lamp is priced in USD and wage in EUR, with no rate between them"
    ]


def test_two_currencies_with_a_rate_are_kept_apart():
    told = spec(
        fittings=(replace(LAMP, price=Money(amount=Fraction(30), currency="USD")),),
        exchange=(Exchange(sold="USD", rate=Fraction("0.92"), bought="EUR"),),
    )
    found = costing_of(told, takeoff(), PLAN).value

    assert found.material == {"EUR": Fraction("64.50") + 2 * 74, "USD": Fraction(60)}


def test_what_cannot_have_arrived_when_it_is_used_is_told():
    assert findings(spec()) == []
    assert findings(spec(stocks=(replace(CEMENT, ordered=None), PLY))) == ["ordered-too-late"]
