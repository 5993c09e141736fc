"""Published practice of glass-fiber concrete lies inside the ranges that are called usual; limits hold."""

from fractions import Fraction

import pytest

from castlang.pipeline import Compiled, compile_build
from castlang.rules.examples import BASE, SHELL
from castlang.source.files import Texts
from castlang.takeoff.range_findings import USUAL

STORES = """\
stock polymer
    density   1050 kg/m3
    solids    50 %
stock ochre
    density   4100 kg/m3
mix trial
    works     40 min at 20 degC
    binder    cement 100 parts
    sand      sand {sand} parts damp 0 %
    liquid    polymer {polymer} % of binder as solids
    water     {water} of binder total
    fiber     chop {glass} % of mix
    pigment   ochre {pigment} % of binder
"""
WORK = """\
    layer     back 12 mm of trial on show {method} takes 20 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
"""
PLAIN = {"sand": "100", "polymer": "5", "water": "0.35", "glass": "3", "pigment": "4", "method": "laid"}


def compiled(**told: str) -> Compiled:
    values = {**PLAIN, **told}
    text = BASE + STORES.format(**values) + SHELL + WORK.format(**values)
    return compile_build("trial.pour", text.encode(), Texts())


def unusual(**told: str) -> list[str]:
    usual = {finding.name for finding in USUAL}
    return [p.finding.name for p in compiled(**told).problems if p.finding.name in usual]


@pytest.mark.parametrize(
    "told",
    [
        # US Unified Facilities Guide Specification 02870, units of such concrete: glass 3 % or more
        {"glass": "3"},
        # Trade texts on sprayed and on premixed glass-fiber concrete: 4 to 6 % sprayed, 2 to 3 % premixed
        {"glass": "4", "method": "sprayed"},
        {"glass": "6", "method": "sprayed"},
        {"glass": "2"},
        # Trade texts: about as much sand as cement; water to cement 0.33 to 0.38
        {"sand": "100"},
        {"water": "0.33"},
        {"water": "0.38"},
        # Trade texts: polymer solids of 5 %, or of 6 % at least, in place of a wet cure of 7 days
        {"polymer": "5"},
        {"polymer": "6"},
        # ASTM C979: up to 10 % of pigment on the cement
        {"pigment": "10"},
    ],
)
def test_published_practice_is_called_usual(told: dict[str, str]) -> None:
    assert unusual(**told) == []


def test_more_pigment_than_a_tenth_of_the_cement_is_told() -> None:
    # ASTM C979, as the Unified Facilities Guide Specification 02870 cites it: 10 % of the cement at most.
    assert unusual(pigment="10.1") == ["pigment-over-limit"]


def test_the_dried_density_of_a_published_mix_is_1900_to_2100() -> None:
    # Common practice, no source: dry density of sprayed and laid mixes 1.9 to 2.1 t/m3.
    made = compiled(pigment="1")
    assert made.takeoff is not None
    (piece,) = made.takeoff.pieces.values()

    assert 1900 <= piece.dried / piece.volume <= 2100


def test_120_pounds_a_cubic_foot_are_1922_kilograms_a_cubic_metre() -> None:
    # Unified Facilities Guide Specification 02870 prints 1921 kg/m3 = 120 lb/ft3.
    assert 120 * Fraction("0.45359237") / Fraction("0.3048") ** 3 == pytest.approx(1921, rel=1e-3)
