"""The temperature of a fresh mix against a table in print, and by plain arithmetic."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlang.takeoff.warmth import mixed_warmth

ICE = Fraction("273.15")


def celsius(*parts):
    told = {str(n): tuple(map(Fraction, part)) for n, part in enumerate(parts)}
    return float(mixed_warmth(told))


def test_hot_cement_and_mild_aggregate_make_a_mix_of_31_8_degrees():
    # Portland Cement Association, Design and Control of Concrete Mixtures, effect of the temperature of
    # materials on initial concrete temperatures: cement 335 kg at 66, water 123 kg at 27, aggregate 1839 kg
    # at 27 degC: 31.8 degC; from memory.
    assert celsius((335, 0, 66), (0, 123, 27), (1839, 0, 27)) == pytest.approx(31.8, abs=0.1)


def test_the_water_moves_a_mix_four_to_five_times_as_much_as_a_solid():
    # ACI 305R-99, 0.22 for the heat of solids beside water.
    warm_water = celsius((100, 0, 20), (0, 100, 30))
    warm_sand = celsius((100, 0, 30), (0, 100, 20))

    assert (warm_water - 20) / (warm_sand - 20) == pytest.approx(1 / 0.22)


kilograms = st.fractions(min_value=1, max_value=1000, max_denominator=10)


@given(parts=st.lists(st.tuples(kilograms, kilograms, st.integers(0, 60)), min_size=1, max_size=6))
def test_a_mix_is_never_warmer_or_colder_than_all_of_its_parts(parts):
    found = celsius(*parts)
    warmths = [at for _, _, at in parts]

    assert min(warmths) - 1e-9 <= found <= max(warmths) + 1e-9
