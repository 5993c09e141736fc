"""Sheets that no layout can do without.

    n >= ceil( sum of min over the ways round of u(a) v(b) )
    u, v of  e: x > 1 - e -> 1,  x < e -> 0,  else x          0 <= e <= 1/2
         or  k: (k + 1) x whole -> x,  else floor((k + 1) x) / k      k = 1, 2, 3

a, b sides of a panel with its kerf, as shares of the sheet's. With e = 0 it is the bound by area; with 1/2
it counts panels of which no two share a sheet. Source: S. P. Fekete and J. Schepers, "New classes of lower
bounds for bin packing problems", Mathematical Programming 91, 2001 (dual feasible functions; from memory).
"""

from collections.abc import Callable, Iterator, Sequence

from castlang.takeoff.packing import Size

Scaled = Callable[[int, int], int]
"""(side, whole side) -> the side as it counts, in sixths of a unit of the whole side."""

SIXTHS = 6
MOST_STEPS = 16
"""So many sides are tried as e; beyond it, evenly chosen ones."""


def bound_of(room: Size, sizes: Sequence[Size], *, turn: bool) -> int:
    """The greatest of all bounds, in sheets; 0 where nothing is laid out."""
    if not sizes:
        return 0
    ways = [tuple(ways_round(room, size, turn=turn)) for size in sizes]
    across = [
        _counted(scaled, room[1], {b for way in ways for _, b in way}) for scaled in _scales(room[1], sizes)
    ]
    whole = SIXTHS * room[0] * SIXTHS * room[1]
    best = 0
    for scaled in _scales(room[0], sizes):
        along = _counted(scaled, room[0], {a for way in ways for a, _ in way})
        for other in across:
            total = sum(min(along[a] * other[b] for a, b in way) for way in ways)
            best = max(best, -(-total // whole))
    return max(best, _apart(room, sizes, turn=turn))


def ways_round(room: Size, size: Size, *, turn: bool) -> Iterator[Size]:
    """The ways round in which a sheet holds a rectangle."""
    for lying in dict.fromkeys((size, size[::-1])) if turn else (size,):
        if lying[0] <= room[0] and lying[1] <= room[1]:
            yield lying


def _counted(scaled: Scaled, side: int, lengths: set[int]) -> dict[int, int]:
    return {length: scaled(length, side) for length in sorted(lengths)}


def _scales(side: int, sizes: Sequence[Size]) -> Iterator[Scaled]:
    """The functions that are tried on one side of the sheet, always the same ones."""
    lengths = {one for size in sizes for one in size}
    steps = sorted({s for one in lengths for s in (one, side - one + 1) if 0 < 2 * s <= side + 1})
    if len(steps) > MOST_STEPS:
        steps = [steps[i * (len(steps) - 1) // (MOST_STEPS - 1)] for i in range(MOST_STEPS)]
    for step in (0, *steps):
        yield _stepped(step)
    for k in (1, 2, 3):
        yield _floored(k)


def _stepped(step: int) -> Scaled:
    def scaled(length: int, side: int) -> int:
        if length > side - step:
            return SIXTHS * side
        return 0 if length < step else SIXTHS * length

    return scaled


def _floored(k: int) -> Scaled:
    def scaled(length: int, side: int) -> int:
        times, rest = divmod((k + 1) * length, side)
        return SIXTHS * length if not rest else SIXTHS * side * times // k

    return scaled


# ---------------------------------------------------------------- panels no two of which share a sheet


def _apart(room: Size, sizes: Sequence[Size], *, turn: bool) -> int:
    apart: list[Size] = []
    for size in sorted(sizes, key=lambda s: (-s[0] * s[1], -max(s))):
        if not any(together(room, size, other, turn=turn) for other in apart):
            apart.append(size)
    return len(apart)


def together(room: Size, a: Size, b: Size, *, turn: bool) -> bool:
    """Whether one sheet holds both: two rectangles that do not overlap lie beside one another."""
    for one in ways_round(room, a, turn=turn):
        for other in ways_round(room, b, turn=turn):
            if one[0] + other[0] <= room[0] or one[1] + other[1] <= room[1]:
                return True
    return False
