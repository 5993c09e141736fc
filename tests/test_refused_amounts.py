"""What cannot be measured out is refused by name, with a remedy."""

import pytest

from castlang.pipeline import compile_build
from castlang.problems.model import Problem
from castlang.rules.examples import BASE, CAST
from castlang.source.files import Texts

PLAIN = BASE + CAST


def problems(text: str) -> tuple[Problem, ...]:
    return compile_build("build.pour", text.encode(), Texts()).problems


def test_a_package_without_its_unit_is_an_error_with_a_remedy() -> None:
    (problem,) = problems(PLAIN + "stock bagged\n    sold      bag of 25\n")

    assert problem.finding.name == "no-unit"
    assert "`25`" in problem.message
    assert problem.remedy or problem.finding.remedy


@pytest.mark.parametrize(
    ("line", "name", "says"),
    [
        ("measured volume of slab.1 9 L", "out-of-place", "the volume of `slab` is measured as a whole"),
        ("measured mass of slab.top 9 kg", "out-of-place", "the mass of `slab` is measured as a whole"),
        ("measured density of casting.1 2 g/mL", "out-of-place", "the density of `casting`"),
        ("measured area of slab.tpo 0.2 m2", "unknown-face", "`slab` has no face called `tpo`"),
    ],
)
def test_a_measure_of_what_has_none_is_refused(line: str, name: str, says: str) -> None:
    found = problems(f'{PLAIN}{line} "by hand"\n')

    assert [p.finding.name for p in found] == [name]
    assert says in found[0].message


def test_the_measured_area_of_a_face_counts() -> None:
    made = compile_build("build.pour", f'{PLAIN}measured area of slab.top 0.3 m2 "Tape"\n'.encode(), Texts())

    assert made.takeoff is not None
    assert float(made.takeoff.pieces["slab"].faces["top"]) == 0.3


def test_a_crew_of_nobody_is_told_once_and_its_role_is_not_unknown() -> None:
    text = PLAIN.replace("by 2", "by 1 caster").replace("by 1\n", "by 1 finisher\n")
    crew = next(line for line in text.splitlines() if line.strip().startswith("crew"))
    found = problems(text.replace(crew, "    crew      0 caster, 2 finisher"))

    assert [(p.finding.name, p.message) for p in found] == [
        ("bad-value", "`0` must be a whole number from 1 to 10000")
    ]


def test_a_named_size_is_a_thickness_a_depth_and_a_lap() -> None:
    named = "size coat 4 mm\nsize rest 6 mm + coat\n"
    lines = "    press     skin {} of casting on top takes 10 min by 1\n    pour      body {} of casting"
    plain = PLAIN.replace("    pour      body full of casting", lines.format("4 mm", "10 mm"))
    sized = named + PLAIN.replace("    pour      body full of casting", lines.format("coat", "rest"))
    here, there = (compile_build("b.pour", text.encode(), Texts()).takeoff for text in (plain, sized))

    assert here is not None
    assert there is not None
    assert [step.volume for step in here.steps.values()] == [step.volume for step in there.steps.values()]


def test_a_size_that_is_not_there_is_told() -> None:
    found = problems(PLAIN.replace("    pour      body full", "    pour      body deep-end"))

    assert [(p.finding.name, p.message) for p in found] == [
        ("unknown-name", "there is no size called `deep-end`")
    ]
