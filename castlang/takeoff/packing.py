"""The door to rectpack: rectangles laid on equal sheets, in whole units.

    an order of laying (by area, by side, ...)  x  a way of laying  ->  one layout

Every layout is looked over before it is taken: each rectangle once, inside its sheet, none over another.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

Size = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Rectangle `index` on sheet `sheet`: its low corner at x, y, its size along them `along`, `across`."""

    index: int
    sheet: int
    x: int
    y: int
    along: int
    across: int


Layout = tuple[Laid, ...]

ORDERS: tuple[Callable[[Size], tuple[int, ...]], ...] = (
    lambda s: (-s[0] * s[1], -max(s)),
    lambda s: (-max(s), -min(s)),
    lambda s: (-min(s), -max(s)),
    lambda s: (-s[0] - s[1], -max(s)),
    lambda s: (-s[1], -s[0]),
    lambda s: (-s[0], -s[1]),
)
"""Orders of laying: the first that lies is the first that the key sorts."""


def ordered(sizes: Sequence[Size], key: Callable[[Size], tuple[int, ...]]) -> tuple[int, ...]:
    """The indices of `sizes` by `key`, equal ones as they stand."""
    return tuple(sorted(range(len(sizes)), key=lambda index: (key(sizes[index]), index)))


def ways() -> tuple[str, ...]:
    """The ways of laying, those whose cuts run from edge to edge first."""
    return ("GuillotineBssfSas", "GuillotineBafLas", "MaxRectsBssf", "MaxRectsBl", "SkylineMwfWm")


def laid(sheet: Size, sizes: Sequence[Size], order: Sequence[int], way: str, *, turn: bool) -> Layout | None:
    """`sizes` on as many sheets as it takes, in `order`; None where the layout is not sound."""
    import rectpack

    packer: Any = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=rectpack.PackingBin.BFF,
        pack_algo=getattr(rectpack, way),
        sort_algo=rectpack.SORT_NONE,
        rotation=turn,
    )
    for index in order:
        packer.add_rect(*sizes[index], rid=index)
    packer.add_bin(*sheet, count=len(sizes))
    packer.pack()
    found = tuple(
        Laid(index=index, sheet=at, x=x, y=y, along=along, across=across)
        for at, x, y, along, across, index in sorted(packer.rect_list())
    )
    return found if sound(sheet, sizes, found, turn=turn) else None


def sound(sheet: Size, sizes: Sequence[Size], layout: Layout, *, turn: bool) -> bool:
    """Whether every rectangle lies once, as large as it is, inside its sheet and over no other."""
    if sorted(one.index for one in layout) != list(range(len(sizes))):
        return False
    for one in layout:
        size = (one.along, one.across)
        if size != sizes[one.index] and not (turn and size == sizes[one.index][::-1]):
            return False
        if one.x < 0 or one.y < 0 or one.x + one.along > sheet[0] or one.y + one.across > sheet[1]:
            return False
    return not any(_over(a, b) for on in by_sheet(layout) for a, b in combinations(on, 2))


def _over(a: Laid, b: Laid) -> bool:
    return a.x < b.x + b.along and b.x < a.x + a.along and a.y < b.y + b.across and b.y < a.y + a.across


def by_sheet(layout: Layout) -> tuple[Layout, ...]:
    """The rectangles of each sheet that has any, in order of place."""
    numbers = sorted({one.sheet for one in layout})
    return tuple(
        tuple(sorted((o for o in layout if o.sheet == n), key=lambda o: (o.y, o.x))) for n in numbers
    )


def cut_through(on: Layout) -> bool:
    """Whether cuts from edge to edge of what is left can part the rectangles of one sheet."""
    if len(on) <= 1:
        return True
    parting = _parting(on)
    return parting is not None and all(cut_through(half) for half in parting)


def _parting(on: Layout) -> tuple[Layout, Layout] | None:
    """A cut that parts `on`. Any will do: what can be parted at all can still be after any other cut."""
    for far, near in ((_right, _left), (_top, _low)):
        parts = sorted(on, key=lambda one: (near(one), far(one)))
        reach = far(parts[0])
        for at in range(1, len(parts)):
            if reach <= near(parts[at]):
                return tuple(parts[:at]), tuple(parts[at:])
            reach = max(reach, far(parts[at]))
    return None


def _left(one: Laid) -> int:
    return one.x


def _right(one: Laid) -> int:
    return one.x + one.along


def _low(one: Laid) -> int:
    return one.y


def _top(one: Laid) -> int:
    return one.y + one.across
