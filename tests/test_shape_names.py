"""Shapes that the trade calls by another name are told by the name that they have here."""

import re

import pytest

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE, CAST
from castlang.source.files import Texts
from castlang.spec.kinds import BY_OTHER_NAMES, KINDS


def told(word):
    text = (BASE + CAST).replace("shape     slab", f"shape     {word}")
    (problem,) = compile_build("trial.pour", text.encode(), Texts()).problems
    return problem.finding.name, problem.message, problem.remedy


@pytest.mark.parametrize("word", sorted(BY_OTHER_NAMES))
def test_a_shape_by_another_name_is_answered_with_the_one_that_serves(word):
    assert told(word) == ("unknown-shape", f"there is no shape called `{word}`", BY_OTHER_NAMES[word])


def test_every_answer_names_a_shape_of_the_language_or_a_mesh_file():
    for word, answer in BY_OTHER_NAMES.items():
        named = {name for name in re.findall(r"`([a-z-]+)`", answer) if name != "top-dia"}

        assert word not in KINDS
        assert named <= set(KINDS)
        assert named or "mesh file" in answer


def test_a_slip_of_the_pen_is_answered_with_the_near_shape():
    assert told("slbb")[2] == "did you mean `slab`?"
