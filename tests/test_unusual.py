"""Ranges that a mix leaves: found where the mix is of the kind that the range is about, and nowhere else.

Ranges: common practice, no source, but for pigment (ASTM C979) and admixtures (EN 206, 5.2.6, from memory).
"""

import pytest

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE, CAST, SHELL
from castlang.source.files import Texts
from castlang.takeoff.range_findings import USUAL

STORES = """\
stock polymer "Curing polymer"
    density   1050 kg/m3
    solids    50 %
stock thin-polymer "Thinned polymer"
    density   1010 kg/m3
    solids    20 %
stock powder "Polymer powder"
    density   1100 kg/m3
    solids    100 %
stock plasticizer "Plasticizer"
    density   1080 kg/m3
    solids    35 %
stock pozzolan "Calcined clay"
    density   2500 kg/m3
stock ochre "Ochre"
    density   4100 kg/m3
stock wet-ochre "Ochre, dispersed"
    density   1900 kg/m3
    solids    60 %
stock pva "Short plastic fiber"
    density   1300 kg/m3
stock plaster "Casting plaster"
    density   2760 kg/m3
stock water-tank "Tank water"
    density   998 kg/m3
stock soap "Release soap"
    density   1020 kg/m3
"""
LAID = """
    layer     face-coat 3 mm of face on show sprayed takes 20 min by 2
    wait      20 min to 60 min
    layer     back 8 mm of trial-mix on show laid takes 20 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
"""


def found(lines, use=None):
    """The range findings of a build whose mix `trial-mix` has these lines, laid by hand unless told."""
    mix = "mix trial-mix\n    works 40 min at 20 degC\n" + "".join(f"    {line}\n" for line in lines)
    text = BASE + STORES + mix + (use or SHELL + LAID.lstrip("\n"))
    made = compile_build("trial.pour", text.encode(), Texts())
    usual = {finding.name for finding in USUAL}
    return [(p.finding.name, p.message) for p in made.problems if p.finding.name in usual]


CEMENT = "binder cement 100 parts"
SAND = "sand sand 100 parts damp 0 %"
GLASS = "fiber chop 3 % of mix"
POLYMER = "liquid polymer 6 % of binder as solids"
WATER = "water 0.33 of binder total"
BACKER = [CEMENT, SAND, POLYMER, WATER, GLASS]

POURED = CAST.replace("of casting into", "of trial-mix into")


def backer(*changed):
    """The backer with each line in place of the one that begins with the same word."""
    words = {line.split()[0]: line for line in changed}
    return [words.pop(line.split()[0], line) for line in BACKER] + list(words.values())


def test_an_ordinary_backer_leaves_no_range():
    assert found(BACKER) == []


SHELL_WATER = "of water to its binder, usual is at least 0.28 and at most 0.4"
SLIP = "; so far off, a typing slip is likely"
DISPERSED = "of solids in its polymer dispersion, usual is at least 40 % and at most 60 %"
GLASS_LAID = "of glass in the whole, laid by hand, usual is at least 2 % and at most 3.5 %"


@pytest.mark.parametrize(
    ("line", "has"),
    [
        ("water 0.45 of binder total", f"0.45 {SHELL_WATER}"),
        ("water 0.25 of binder total", f"0.25 {SHELL_WATER}"),
        ("water 0.66 of binder total", f"0.66 {SHELL_WATER}{SLIP}"),
        (
            "sand sand 140 parts damp 0 %",
            "1.4 of sand to its binder, usual is at least 0.75 and at most 1.25",
        ),
        (
            "liquid polymer 2 % of binder as solids",
            "2 % of polymer solids on its binder, usual is at least 3 % and at most 10 %",
        ),
        ("liquid thin-polymer 5 % of binder as solids", f"20 % {DISPERSED}"),
        ("fiber chop 5 % of mix", f"5 % {GLASS_LAID}"),
        ("fiber chop 30 % of mix", f"30 % {GLASS_LAID}{SLIP}"),
        ("pigment ochre 11 % of binder", "11 % of pigment on its binder, more than 10 %"),
    ],
)
def test_a_backer_outside_a_range_is_told_with_both_figures(line, has):
    assert [said for _, said in found(backer(line))] == [f"mix trial-mix has {has}"]


def test_glass_of_a_backer_may_be_more_when_it_is_sprayed():
    sprayed = SHELL + LAID.lstrip("\n").replace("trial-mix on show laid", "trial-mix on show sprayed")

    assert found(backer("fiber chop 5 % of mix"), sprayed) == []


def test_replaced_cement_up_to_30_percent_is_usual():
    def binders(cement, pozzolan):
        return [f"binder cement {cement} parts", f"binder pozzolan {pozzolan} parts", *BACKER[1:]]

    assert found(binders(70, 30)) == []
    assert found(binders(60, 40)) == [
        (
            "pozzolan-unusual",
            "mix trial-mix has 40 % of its binder as pozzolan or lime, usual is at most 30 %",
        )
    ]


def test_admixtures_count_together_and_polymers_do_not_count():
    assert found([*BACKER, "liquid plasticizer 4 % of binder"]) == []
    assert found([*BACKER, "liquid plasticizer 6 % of binder"]) == [
        (
            "admixture-unusual",
            "mix trial-mix has 6 % of liquid admixtures on its binder, usual is at most 5 %",
        )
    ]


def test_a_liquid_pigment_counts_with_its_solids():
    # 15 % of a 60 % dispersion are 9 % of pigment.
    assert found(backer("water 0.36 of binder total", "pigment wet-ochre 15 % of binder")) == []
    assert [name for name, _ in found(backer("pigment wet-ochre 17 % of binder"))] == ["pigment-over-limit"]


def test_a_polymer_powder_is_no_dispersion():
    assert found(backer("liquid powder 5 % of binder as solids")) == []


def test_a_poured_mix_may_hold_more_sand_and_water_and_no_polymer():
    poured = [CEMENT, "sand sand 250 parts damp 0 %", "water 0.62 of binder total"]

    assert found(poured, POURED) == []
    assert found([CEMENT, SAND, "water 1.2 of binder total"], POURED) == [
        (
            "water-unusual",
            f"mix trial-mix has 1.2 of water to its binder, usual is at least 0.2 and at most 0.75{SLIP}",
        )
    ]


def test_short_plastic_fiber_is_not_held_to_the_share_of_glass():
    assert found([CEMENT, "sand sand 180 parts damp 0 %", WATER, "fiber pva 0.3 % of mix"], POURED) == []


def test_plaster_is_not_held_to_the_ranges_of_cement():
    assert found(["binder plaster 100 parts", "water 0.8 of binder total"], POURED) == []


def test_a_slurry_brushed_into_voids_has_no_sand_to_hold_to_a_range():
    slurry = (
        CAST
        + "    pass fill 0.2 kg/m2 of trial-mix on show rate 3 m2/h by 1\n    cure 12 h at 20 degC open\n"
    )

    assert found([CEMENT, POLYMER, "water 0.30 of binder total"], slurry) == []


def release(concentrate, water):
    return (
        BASE.replace("    release   oil on", "    release   thinned on")
        + STORES
        + f"""\
mix thinned "Release, thinned"
    measure   volume
    part      soap        {concentrate} parts
    part      water-tank  {water} parts
    covers    18 m2/L
"""
        + CAST
    )


TOLD = ["dilution-unusual"]


@pytest.mark.parametrize(
    ("concentrate", "water", "names"), [(1, 4, []), (1, 2, []), (1, 12, TOLD), (4, 1, TOLD)]
)
def test_release_is_thinned_two_to_nine_times(concentrate, water, names):
    made = compile_build("trial.pour", release(concentrate, water).encode(), Texts())

    assert [p.finding.name for p in made.problems] == names


def test_a_range_is_waived_with_a_reason():
    wide = BASE + STORES + "mix trial-mix\n    works 40 min at 20 degC\n"
    wide += "".join(f"    {line}\n" for line in backer("water 0.45 of binder total"))
    wide += SHELL + LAID.lstrip("\n") + 'waive water-unusual on trial-mix "Trial of 3 May, no crazing"\n'
    made = compile_build("trial.pour", wide.encode(), Texts())

    assert [p.finding.name for p in made.problems] == []
    assert [problem.finding.name for _, problem in made.waived] == ["water-unusual"]
