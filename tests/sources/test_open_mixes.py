"""Absolute volumes on published mixes for 1 m3: their materials and a little air must fill it.

Mixes: I-C. Yeh, "Concrete Compressive Strength", UCI Machine Learning Repository, 1998, doi 10.24432/C5PK67
(CC BY 4.0): cement, slag, fly ash, water, superplasticizer, coarse and fine aggregate, kg in 1 m3. The set
tells no densities; those taken here are handbook values, from memory.
"""

from fractions import Fraction

import pytest

from castlang.spec.model import Dose, DoseKind, Ingredient, Mix, Role, Stock, Water
from castlang.takeoff.recipes import recipe_of

DENSITIES = {"cement": 3150, "slag": 2900, "ash": 2300, "plasticizer": 1100, "coarse": 2650, "fine": 2650}
STOCKS = {name: Stock(name=name, density=Fraction(rho)) for name, rho in DENSITIES.items()}
STOCKS["water"] = Stock(name="water", density=Fraction(1000))
ROLES = {
    "cement": Role.BINDER,
    "slag": Role.BINDER,
    "ash": Role.BINDER,
    "plasticizer": Role.LIQUID,
    "coarse": Role.SAND,
    "fine": Role.SAND,
}

MIXES = """
540 0 0 162 2.5 1040 676
540 0 0 162 2.5 1055 676
332.5 142.5 0 228 0 932 594
198.6 132.4 0 192 0 978.4 825.5
266 114 0 228 0 932 670
380 95 0 228 0 932 594
475 0 0 228 0 932 594
427.5 47.5 0 228 0 932 594
190 190 0 228 0 932 670
304 76 0 228 0 932 670
380 0 0 228 0 932 670
139.6 209.4 0 192 0 1047 806.9
342 38 0 228 0 932 670
237.5 237.5 0 228 0 932 594
349 0 0 192 0 1047 806.9
310 0 0 192 0 971 850.6
485 0 0 146 0 1120 800
374 189.2 0 170.1 10.1 926.1 756.7
313.3 262.2 0 175.5 8.6 1046.9 611.8
425 106.3 0 153.5 16.5 852.1 887.1
425 106.3 0 151.4 18.6 936 803.7
375 93.8 0 126.6 23.4 852.1 992.6
475 118.8 0 181.1 8.9 852.1 781.5
469 117.2 0 137.8 32.2 852.1 840.5
388.6 97.1 0 157.9 12.1 852.1 925.7
531.3 0 0 141.8 28.2 852.1 893.7
318.8 212.5 0 155.7 14.3 852.1 880.4
401.8 94.7 0 147.4 11.4 946.8 852.1
362.6 189 0 164.9 11.6 944.7 755.8
323.7 282.8 0 183.8 10.3 942.7 659.9
379.5 151.2 0 153.9 15.9 1134.3 605
286.3 200.9 0 144.7 11.2 1004.6 803.7
439 177 0 186 11.1 884.9 707.9
389.9 189 0 145.9 22 944.7 755.8
337.9 189 0 174.9 9.5 944.7 755.8
222.4 0 96.7 189.3 4.5 967.1 870.3
233.8 0 94.6 197.9 4.6 947 852.2
194.7 0 100.5 165.6 7.5 1006.4 905.9
190.7 0 125.4 162.1 7.8 1090 804
212.1 0 121.6 180.3 5.7 1057.6 779.3
230 0 118.3 195.5 4.6 1029.4 758.6
190.3 0 125.2 161.9 9.9 1088.1 802.6
166.1 0 163.3 176.5 4.5 1058.6 780.1
168 42.1 163.8 121.8 5.7 1058.7 780.1
213.7 98.1 24.5 181.7 6.9 1065.8 785.4
229.7 0 118.2 195.2 6.1 1028.1 757.6
238.1 0 94.1 186.7 7 949.9 847
250 0 95.7 187.4 5.5 956.9 861.2
212.5 0 100.4 159.3 8.7 1007.8 903.6
231.8 0 121.6 174 6.7 1056.4 778.5
251.4 0 118.3 188.5 5.8 1028.4 757.7
181.4 0 167 169.6 7.6 1055.6 777.8
182 45.2 122 170.2 8.2 1059.4 780.7
168.9 42.2 124.3 158.3 10.8 1080.8 796.2
290.4 0 96.2 168.1 9.4 961.2 865
277.1 0 97.4 160.6 11.8 973.9 875.6
251.8 0 99.9 146.1 12.4 1006 899.8
252.3 0 98.8 146.3 14.2 987.8 889
246.8 0 125.1 143.3 12 1086.8 800.9
"""
ROWS = [tuple(map(Fraction, row.split())) for row in MIXES.strip().splitlines()]


def volume(row):
    """m3 that the materials of a mix for 1 m3 come to without air."""
    cement, slag, ash, water, plasticizer, coarse, fine = row
    doses = {"cement": cement, "slag": slag, "ash": ash}
    doses |= {"plasticizer": plasticizer, "coarse": coarse, "fine": fine}
    mix = Mix(
        name="trial",
        air=Fraction(0),
        ingredients=tuple(
            Ingredient(
                role=ROLES[name], stock=name, dose=Dose(kind=DoseKind.MASS, value=kg), damp=Fraction(0)
            )
            for name, kg in doses.items()
            if kg
        ),
        water=Water(dose=Dose(kind=DoseKind.MASS, value=water), total=False, stock="water"),
    )
    recipe = recipe_of(mix, STOCKS).value
    return sum(row) / recipe.density


@pytest.mark.parametrize("row", ROWS)
def test_the_materials_of_a_published_mix_fill_its_cubic_metre_but_for_the_air(row):
    # Entrapped air of such mixes is 1 to 5 %; the aggregates' true densities lie a few hundredths either way.
    # The fullest row, with 485 kg of cement, is told 2.5 % over at these densities.
    assert 0.93 <= volume(row) <= 1.025


def test_the_first_mixes_of_the_set_come_to_the_volumes_worked_by_hand():
    by_hand = [0.983, 0.989, 0.959, 0.981]

    assert [round(float(volume(row)), 3) for row in ROWS[:4]] == by_hand
