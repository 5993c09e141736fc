"""Films told by their thickness, shares beside parts, and working times, from the text to the batch."""

from fractions import Fraction

import pytest

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE, CAST
from castlang.source.files import Texts

SHOW = (
    2 * (Fraction(6, 10) + Fraction(4, 10)) * Fraction(4, 100)
    + Fraction(6, 10) * Fraction(4, 10)
    - Fraction(2, 10) * Fraction(4, 100)
)
"""m2 of the slab's top and sides, less the slot."""

STORES = """\
stock rubber-a "Rubber base"
    density   1100 kg/m3
stock rubber-b "Rubber catalyst"
    density   1000 kg/m3
stock thinner "Rubber thinner"
    density   800 kg/m3
stock coating "Film sealer, one part"
    density   1050 kg/m3
    volume-solids  40 %
    acts      film
mix rubber "Brushed rubber"
    measure   mass
    part      rubber-a  100 parts
    part      rubber-b   10 parts
    liquid    thinner     5 % of parts
    works     30 min at 20 degC
    thick     0.2 mm to 0.8 mm
    recoat    30 min to 4 h
    acts      film
"""


def compiled(passes, stores=STORES):
    return compile_build("trial.pour", (BASE + stores + CAST + "    dry 2 days\n" + passes).encode(), Texts())


def taken(passes, step, stores=STORES):
    made = compiled(passes, stores)
    assert made.takeoff is not None, made.problems
    return made.takeoff.steps["slab", step]


def messages(passes, stores=STORES):
    return [p.message for p in compiled(passes, stores).problems]


def test_rubber_is_brushed_on_in_as_few_coats_as_its_thickness_allows():
    # 2 mm of a rubber that goes on 0.8 mm at most: three coats of a third each.
    found = taken("    pass skin 2 mm of rubber on show brushed rate 2 m2/h by 1\n", "skin")

    assert [part.suffix for part in found.parts] == ["coat-1", "coat-2", "coat-3"]
    assert found.volume == SHOW * Fraction(2, 1000)


def test_its_thinner_is_weighed_out_with_the_parts():
    found = taken("    pass skin 0.8 mm of rubber on show brushed rate 2 m2/h by 1\n", "skin")
    a, b, thinner = found.parts[0].batches[0].lines

    assert (b.exact / a.exact, thinner.exact / a.exact) == (Fraction(1, 10), Fraction(55, 1000))


def test_a_dry_film_goes_on_as_much_thicker_as_its_solids_are_less():
    # ISO 3233 and ASTM D2697: wet film is dry film over volume solids; 60 um at 40 % are 150 um wet.
    dry = taken("    pass seal 60 um of coating on show rolled dry rate 8 m2/h by 1\n", "seal")
    wet = taken("    pass seal 150 um of coating on show rolled wet rate 8 m2/h by 1\n", "seal")

    assert dry.volume == wet.volume == SHOW * Fraction(150, 10**6)


def test_a_dry_film_without_solids_is_a_finding():
    assert messages("    pass seal 60 um of rubber on show rolled dry rate 8 m2/h by 1\n") == [
        "slab.seal tells a dry film of rubber, and nothing says how much of a wet film stays"
    ]


def test_several_coats_of_a_film_need_the_wait_between_them():
    hasty = STORES.replace("    recoat    30 min to 4 h\n", "")

    assert messages("    pass skin 2 mm of rubber on show brushed rate 2 m2/h by 1\n", hasty) == [
        "the step `skin` has 3 coats and does not say the wait between them"
    ]


def test_a_film_says_how_it_is_put_on():
    assert messages("    pass skin 2 mm of rubber on show rate 2 m2/h by 1\n") == [
        "the step `skin` does not say how it is put on: sprayed, laid, brushed or rolled"
    ]


def test_wet_or_dry_means_nothing_on_coats():
    assert messages(
        "    pass seal 2 coats of varnish on show rolled dry takes 20 min by 1 between 2 h to 6 h\n"
    ) == ["`wet` or `dry` belongs to a grit, or to the thickness of a film"]


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("liquid    thinner     5 kg", "`liquid thinner` stands beside `part` lines and is no plain share"),
        (
            "sand      sand        5 % of parts",
            "`sand sand` stands beside `part` lines and is no plain share",
        ),
        ("water     5 % of parts added", "the mix `rubber` holds `water` beside `part` lines"),
    ],
)
def test_beside_parts_stand_shares_alone(line, message):
    wrong = STORES.replace("liquid    thinner     5 % of parts", line)

    assert messages("", wrong) == [message]


def test_a_powder_is_not_measured_by_volume_with_the_parts():
    wrong = STORES.replace("measure   mass", "measure   volume").replace(
        "liquid    thinner", "filler    sand"
    )

    assert messages("", wrong) == ["`filler sand` cannot be measured by volume with the parts"]


def test_a_share_of_parts_wants_parts():
    wrong = BASE.replace(
        "    sand      sand    180 parts damp 0 %\n", "    sand      sand    60 % of parts damp 0 %\n"
    )
    made = compile_build("trial.pour", (wrong + CAST).encode(), Texts())

    assert [p.message for p in made.problems] == ["the mix `casting` has no `part` lines to take a share of"]


def test_a_mix_tells_what_its_own_rate_is():
    fast = BASE.replace(
        "    works     35 min at 22 degC\n", "    works     35 min at 22 degC\n    doubles   5 K\n"
    )
    pour = """    dry 3 days
job fill
    after slab
    pour strip full of clear into slab.slot takes 20 min by 1
    cure 24 h at 20 degC open
"""
    made = compile_build("trial.pour", (fast + CAST + pour).encode(), Texts())

    # 22 degC to 20 degC by 5 K: 35 min times 2 to the 0.4.
    assert made.problems == ()
    assert made.takeoff.steps["fill", "strip"].working.seconds == int(2100 * 2**0.4)


def test_the_warmth_of_the_mixing_water_moves_the_mix():
    measured = 'measured warmth of water 40 degC "tap, run hot"\n'
    made = compile_build("trial.pour", (BASE + CAST + measured).encode(), Texts())
    # 0.22 x (100 + 180) at 20 degC and 36 at 40 degC.
    wanted = (Fraction("61.6") * 20 + 36 * 40) / (Fraction("61.6") + 36)

    assert made.problems == ()
    assert made.takeoff.recipes["casting"].warmth == wanted + Fraction("273.15")


def test_a_mix_that_comes_out_too_warm_is_told():
    measured = 'measured warmth of water 60 degC "tap, run hot"\n'
    made = compile_build("trial.pour", (BASE + CAST + measured).encode(), Texts())

    assert [p.message for p in made.problems] == [
        "mix casting comes out of the mixer at 34.75 degC, usual is 10 degC to 30 degC"
    ]
