"""Linear equations in exact fractions: what a recipe with shares of shares comes to."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

Equation = tuple[Mapping[str, Fraction], Fraction]  # (factor of each unknown, right-hand side)


def solution(unknowns: Sequence[str], equations: Sequence[Equation]) -> dict[str, Fraction] | None:
    """The one answer to as many `equations` as `unknowns`; None when there is none, or more than one.

    Gauss-Jordan elimination. Exact, so that no pivot is ever nearly nought.
    """
    rows = [[factors.get(u, Fraction(0)) for u in unknowns] + [right] for factors, right in equations]
    for column in range(len(unknowns)):
        pivot = next((r for r in range(column, len(rows)) if rows[r][column] != 0), None)
        if pivot is None:
            return None
        rows[column], rows[pivot] = rows[pivot], rows[column]
        lead = rows[column][column]
        rows[column] = [value / lead for value in rows[column]]
        for r in range(len(rows)):
            if r != column and rows[r][column] != 0:
                factor = rows[r][column]
                rows[r] = [v - factor * w for v, w in zip(rows[r], rows[column], strict=True)]
    return {u: rows[i][-1] for i, u in enumerate(unknowns)}
