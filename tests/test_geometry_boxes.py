"""Boxes together, plane figures and roots: exact arithmetic."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from castlang.takeoff.boxes import Box, difference_volume, union_volume
from castlang.takeoff.grid import root
from castlang.takeoff.prisms import polygon_area, shrunk

F = Fraction
HAIR = F(1, 10**9)


Corners = tuple[tuple[int, int, int], tuple[int, int, int]]


def _boxes(corners: Sequence[Corners]) -> list[Box]:
    def point(at: tuple[int, int, int]) -> tuple[Fraction, Fraction, Fraction]:
        return (F(at[0], 3), F(at[1], 3), F(at[2], 3))

    return [Box(low=point(low), high=point(high)) for low, high in corners]


def _corners() -> st.SearchStrategy[list[Corners]]:
    number = st.integers(min_value=0, max_value=6)
    point = st.tuples(number, number, number)
    return st.lists(st.tuples(point, point), max_size=5)


def _cells(corners: Sequence[Corners]) -> set[tuple[int, ...]]:
    return {
        cell
        for low, high in corners
        for cell in product(*(range(a, b) for a, b in zip(low, high, strict=True)))
    }


@given(_corners(), _corners())
@settings(deadline=None, max_examples=60)
def test_boxes_fill_the_cells_that_any_of_them_fills(solids: list[Corners], voids: list[Corners]) -> None:
    cell = F(1, 27)

    assert union_volume(_boxes(solids)) == len(_cells(solids)) * cell
    left = difference_volume(_boxes(solids), _boxes(voids))
    assert left == len(_cells(solids) - _cells(voids)) * cell


@given(_corners())
@settings(deadline=None, max_examples=40)
def test_boxes_agree_with_inclusion_and_exclusion(corners: list[Corners]) -> None:
    def common(chosen: Sequence[Corners]) -> Fraction:
        sides = [
            max(0, min(high[a] for _, high in chosen) - max(low[a] for low, _ in chosen)) for a in range(3)
        ]
        return F(sides[0] * sides[1] * sides[2], 27)

    expected = sum(
        (
            (-1) ** (size + 1) * common(chosen)
            for size in range(1, len(corners) + 1)
            for chosen in combinations(corners, size)
        ),
        F(0),
    )

    assert union_volume(_boxes(corners)) == expected


def test_a_square_shrinks_by_its_offsets_and_grows_back() -> None:
    square = [(F(0), F(0)), (F(4), F(0)), (F(4), F(3)), (F(0), F(3))]

    assert polygon_area(shrunk(square, [F(1), F(0), F(0), F(1)])) == 6
    assert polygon_area(shrunk(square, [F(-1)] * 4)) == 30
    assert shrunk(square, [F(2)] * 4) == ()


def test_a_root_is_exact_where_it_can_be() -> None:
    assert root(F(9, 16)) == F(3, 4)
    assert abs(root(F(2)) ** 2 - 2) < F(1, 10**17)
