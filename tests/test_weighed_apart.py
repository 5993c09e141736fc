"""Doses that are weighed by themselves, since their scale does not carry the bucket."""

from fractions import Fraction

import pytest

from castlang.pipeline import compile_build
from castlang.rules.examples import BASE, CAST
from castlang.sheets.from_plan import binder_of
from castlang.sheets.model import Prose
from castlang.source.files import Texts
from castlang.takeoff.scales import Scales


def told(*scales: str) -> tuple[str, ...]:
    """What the batch sheet says of the scale: a batch of cement, sand and water, some 20 kg in all."""
    lines = "".join(f'station scale-{n} "Scale"\n    scale     {scale}\n' for n, scale in enumerate(scales))
    text = BASE.replace('station mixer "Pan mixer"', f'{lines}station mixer "Pan mixer"')
    build = compile_build("a.pour", (text + CAST).encode(), Texts())
    if build.spec is None or build.takeoff is None or build.plan is None or build.costing is None:
        raise AssertionError([p.message for p in build.problems])
    book = binder_of(build.spec, build.takeoff, build.plan, build.costing)
    [sheet] = [sheet for sheet in book.sheets if sheet.code == "BATCH slab.body"]
    said = [b for b in sheet.blocks if isinstance(b, Prose) and b.title == "More than the scale carries"]
    return tuple(line for block in said for line in block.lines)


def test_what_is_more_with_the_bucket_than_the_scale_carries_is_weighed_by_itself() -> None:
    first, last = told("1 g to 9 kg step 1 g")

    assert first == (
        "Weigh lines 2, 3 in a vessel apart, one by one: set the scale to zero with a clean empty vessel on"
        " it, weigh, and tip it into the bucket. The scale carries 9 kg, the vessel with it."
    )
    assert last.startswith("There the total so far is a sum, not a reading. ")


@pytest.mark.parametrize("scales", [(), ("1 g to 60 kg step 1 g",)])
def test_nothing_is_said_where_the_scale_carries_the_whole_batch(scales: tuple[str, ...]) -> None:
    assert told(*scales) == ()


def test_a_fine_scale_beside_a_great_one_has_its_doses_weighed_apart() -> None:
    first, _ = told("1 g to 60 kg step 5 g", "1 g to 8 kg step 1 g")

    assert first.startswith("Weigh line 3 in a vessel apart")


def test_a_dose_is_carried_by_the_scale_that_it_is_rounded_to() -> None:
    gram, kilogram = Fraction(1, 1000), Fraction(1)
    great, fine = (gram, 60 * kilogram, 5 * gram), (gram, 3 * kilogram, gram)
    scales = Scales(ranges=(great, fine))

    assert scales.carries(2 * kilogram) == 3 * kilogram
    assert scales.carries(4 * kilogram) == 60 * kilogram
    assert scales.carries(90 * kilogram) is None
    assert Scales().carries(kilogram) is None
