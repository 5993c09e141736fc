"""Amounts that cannot be, each told by its name, with one next step."""

import pytest

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE, CAST
from castlang.source.files import Texts

THIN = """\
piece slab
    shape     slab 600 mm long, 400 mm wide, 10 mm thick
    face      show top, sides
    take      bed
    layer     back 12 mm of backer on top laid takes 20 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
"""
WET = (
    "for 100 kg of binder in mix casting the liquids and damp sand bring 45 kg of water, "
    "and it may have 36 kg in all"
)


@pytest.mark.parametrize(
    ("text", "name", "message", "remedy"),
    [
        (
            BASE.replace("180 parts damp 0 %", "180 parts damp 25 %") + CAST,
            "water-below-zero",
            WET,
            "dry the sand, lower the liquid, or raise the water: `water SHARE of binder total`",
        ),
        (
            BASE.replace("    measure   mass\n", "") + CAST,
            "not-said",
            "the mix `clear` is told in parts, and not whether by mass or by volume",
            "add `measure mass` or `measure volume`, as the data sheet says",
        ),
        (
            BASE.replace("    sold      bag of 20 kg\n", "    sold      bag\n") + CAST,
            "line-too-short",
            "the line ends behind `bag`, and is not whole",
            "say how much one of them holds, as in `sold bag of 25 kg`",
        ),
        (
            BASE + THIN,
            "layers-too-thick",
            "layers on top of slab come to 12 mm with back, and the piece is 10 mm there",
            "make the layers thinner, or the piece thicker",
        ),
    ],
    ids=["water below zero", "a ratio of what", "a package without a size", "a layer too thick"],
)
def test_what_cannot_be_is_told_by_its_name_with_a_remedy(text, name, message, remedy):
    (found,) = compile_build("trial.pour", text.encode(), Texts()).problems

    assert (found.finding.name, found.message) == (name, message)
    assert (found.remedy or found.finding.remedy) == remedy
