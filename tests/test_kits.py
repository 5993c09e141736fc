"""Parts that come in one kit: weighed out as parts, bought as kits."""

from fractions import Fraction

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE, CAST
from castlang.source.files import Texts

KIT = """\
stock resin-kit "Casting resin, kit"
    sold      kit of 6.5 kg
    price     140.00 EUR
"""
PARTS = BASE.replace(
    'stock resin-a "Casting resin"\n', KIT + 'stock resin-a "Casting resin"\n    kit       resin-kit 5 kg\n'
).replace('stock resin-b "Hardener"\n', 'stock resin-b "Hardener"\n    kit       resin-kit 1.5 kg\n')
POUR = """\
    dry 3 days
job fill
    after slab
    pour strip full of clear into slab.slot takes 20 min by 1
    cure 24 h at 20 degC open
"""


def compiled(text):
    return compile_build("trial.pour", text.encode(), Texts())


def test_a_kit_is_bought_and_its_parts_are_weighed_out():
    made = compiled(PARTS + CAST + POUR)
    (batch,) = [b for p in made.takeoff.steps["fill", "strip"].parts for b in p.batches][:1]
    # 0.12 L in two lifts, of 1.0702 kg/L: 100 to 30 by mass, so 1/50 of a kit of 6.5 kg.
    mass = Fraction(12, 100_000) * made.takeoff.recipes["clear"].density
    bill = {line.stock: line.net for line in made.takeoff.bill}
    order = next(line for line in made.costing.orders if line.name == "resin-kit")

    assert made.problems == ()
    assert [line.stock for line in batch.lines] == ["resin-a", "resin-b"]
    assert bill["resin-kit"] == mass
    assert "resin-a" not in bill
    assert (order.buy, order.first_use is not None) == (1, True)


def test_a_kit_is_used_up_by_its_scarcest_part_and_what_is_left_is_told():
    # 100 to 30 out of 5 kg and 2 kg: 1.5 kg of hardener for 5 kg of resin, a quarter of it is left.
    made = compiled(PARTS.replace("kit 1.5 kg", "kit 2 kg") + CAST + POUR)

    assert [(p.finding.name, p.message) for p in made.problems] == [
        ("kit-off-ratio", "mix clear uses up resin-a of resin-kit when 25 % of its resin-b are left")
    ]


def test_a_kit_told_by_volume_is_turned_by_the_densities():
    by_volume = PARTS.replace("resin-kit 5 kg", "resin-kit 1.1 L").replace(
        "resin-kit 1.5 kg", "resin-kit 0.37 L"
    )
    made = compiled(by_volume + CAST + POUR)
    # 1.1 L of 1.10 g/mL are 1.21 kg; 0.37 L of 0.98 g/mL are 0.3626 kg: 100 to 29.97.
    mass = Fraction(12, 100_000) * made.takeoff.recipes["clear"].lines[1].mass
    bill = {line.stock: line.net for line in made.takeoff.bill}

    assert made.problems == ()
    assert bill["resin-kit"] == mass / Fraction("0.3626") * Fraction(65, 10)


def test_a_kit_without_a_size_is_a_finding():
    made = compiled(
        PARTS.replace("    sold      kit of 6.5 kg\n    price     140.00 EUR\n", "") + CAST + POUR
    )

    assert [p.message for p in made.problems] == ["the kit `resin-kit` does not say how it is sold"]


def test_a_part_of_a_kit_is_not_sold_alone():
    alone = PARTS.replace("resin-kit 5 kg\n", "resin-kit 5 kg\n    sold      can of 5 kg\n")

    assert [p.message for p in compiled(alone + CAST + POUR).problems] == [
        "`resin-a` comes in a kit, and is told to be sold alone too"
    ]


def test_a_kit_that_there_is_none_of_is_a_finding():
    wrong = PARTS.replace("kit       resin-kit 5 kg", "kit       resin-kid 5 kg")

    assert [p.message for p in compiled(wrong + CAST + POUR).problems] == [
        "there is no stock called `resin-kid`"
    ]
