"""Boxes with their sides along the three axes, exactly: how much they fill together, what shows of them."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import prod

Corner = tuple[Fraction, Fraction, Fraction]
AXES = (0, 1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """From corner `low` to corner `high`, m; empty unless low is below high on every axis."""

    low: Corner
    high: Corner

    @property
    def empty(self) -> bool:
        return any(self.low[a] >= self.high[a] for a in AXES)


def union_volume(boxes: Sequence[Box]) -> Fraction:
    """The volume that the boxes fill together, overlaps counted once, m3."""
    return _measure([box for box in boxes if not box.empty], 0)


def difference_volume(solids: Sequence[Box], voids: Sequence[Box]) -> Fraction:
    """What is left of the solids together when the voids are taken out, m3."""
    return union_volume([*solids, *voids]) - union_volume(voids)


def _measure(boxes: Sequence[Box], axis: int) -> Fraction:
    if axis == len(AXES):
        return Fraction(1)
    if len(boxes) == 1:  # most bodies are a single box, and this takes a fifth of the time
        lengths = [boxes[0].high[a] - boxes[0].low[a] for a in AXES[axis:]]
        return prod(lengths[1:], start=lengths[0])
    total = Fraction(0)
    cuts = sorted({cut for box in boxes for cut in (box.low[axis], box.high[axis])})
    for start, end in pairwise(cuts):
        there = [box for box in boxes if box.low[axis] <= start and end <= box.high[axis]]
        if there:
            total += (end - start) * _measure(there, axis + 1)
    return total


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of a block. `name` is the face it belongs to (None: open, it never shows).

    `inward` says which way a layer on that face moves it: +1 towards the block's middle, -1 away from it.
    """

    name: str | None = None
    inward: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A box with named sides, in the order low x, high x, low y, high y, low z, high z."""

    box: Box
    sides: tuple[Side, Side, Side, Side, Side, Side]

    def moved(self, grown: Mapping[str, Fraction]) -> Box:
        """The box when each side has moved by the thickness (m) that is told for its face."""
        low, high = list(self.box.low), list(self.box.high)
        for axis in AXES:
            low[axis] += self._way(2 * axis, grown)
            high[axis] -= self._way(2 * axis + 1, grown)
        return Box(low=(low[0], low[1], low[2]), high=(high[0], high[1], high[2]))

    def _way(self, number: int, grown: Mapping[str, Fraction]) -> Fraction:
        side = self.sides[number]
        return Fraction(0) if side.name is None else side.inward * grown.get(side.name, Fraction(0))


def shown(name: str, solids: Sequence[Block], voids: Sequence[Block]) -> Fraction:
    """The area (m2) of the sides called `name` that show on the body: solids together, less the voids."""
    total = Fraction(0)
    if len(solids) == 1 and not voids:  # nothing covers a side of it
        return sum(
            (_whole_side(solids[0].box, n) for n, s in enumerate(solids[0].sides) if s.name == name), total
        )
    for block in solids:
        for number, side in enumerate(block.sides):
            if side.name == name:
                total += _solid_side(block, number, solids, voids)
    for place, block in enumerate(voids):
        for number, side in enumerate(block.sides):
            if side.name == name:
                total += _void_side(block, number, solids, voids, voids[:place])
    return total


def _whole_side(box: Box, number: int) -> Fraction:
    first, second = (a for a in AXES if a != number // 2)
    return (box.high[first] - box.low[first]) * (box.high[second] - box.low[second])


def _solid_side(block: Block, number: int, solids: Sequence[Block], voids: Sequence[Block]) -> Fraction:
    axis, out = divmod(number, 2)
    plane = block.box.high[axis] if out else block.box.low[axis]

    def shows(u: Fraction, v: Fraction) -> bool:
        taken = any(_holds(v_.box, axis, plane, not out, u, v) for v_ in voids)
        covered = any(_holds(s.box, axis, plane, bool(out), u, v) for s in solids) and not any(
            _holds(v_.box, axis, plane, bool(out), u, v) for v_ in voids
        )
        return not taken and not covered

    return _area(block.box, axis, [*solids, *voids], shows)


def _void_side(
    block: Block, number: int, solids: Sequence[Block], voids: Sequence[Block], earlier: Sequence[Block]
) -> Fraction:
    axis, out = divmod(number, 2)
    plane = block.box.high[axis] if out else block.box.low[axis]

    def shows(u: Fraction, v: Fraction) -> bool:
        solid = any(_holds(s.box, axis, plane, bool(out), u, v) for s in solids)
        hollow = any(_holds(v_.box, axis, plane, bool(out), u, v) for v_ in voids)
        counted = any(_holds(v_.box, axis, plane, not out, u, v) for v_ in earlier)
        inside = any(_holds(s.box, axis, plane, not out, u, v) for s in solids)
        return solid and inside and not hollow and not counted

    return _area(block.box, axis, [*solids, *voids], shows)


def _holds(box: Box, axis: int, plane: Fraction, above: bool, u: Fraction, v: Fraction) -> bool:
    """Whether the box fills the place at (u, v) just above or just below a plane across the axis."""
    first, second = (a for a in AXES if a != axis)
    low, high = box.low[axis], box.high[axis]
    through = low <= plane < high if above else low < plane <= high
    return through and box.low[first] < u < box.high[first] and box.low[second] < v < box.high[second]


def _area(
    box: Box, axis: int, blocks: Sequence[Block], shows: Callable[[Fraction, Fraction], bool]
) -> Fraction:
    first, second = (a for a in AXES if a != axis)
    total = Fraction(0)
    for low_u, high_u in pairwise(_cuts(box, first, blocks)):
        for low_v, high_v in pairwise(_cuts(box, second, blocks)):
            if shows((low_u + high_u) / 2, (low_v + high_v) / 2):
                total += (high_u - low_u) * (high_v - low_v)
    return total


def _cuts(box: Box, axis: int, blocks: Sequence[Block]) -> list[Fraction]:
    low, high = box.low[axis], box.high[axis]
    inner = {cut for b in blocks for cut in (b.box.low[axis], b.box.high[axis]) if low < cut < high}
    return [low, *sorted(inner), high]
