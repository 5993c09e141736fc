"""Panels laid out on stock sheets: every one once, none over another, a saw kerf between any two.

    (l + k) x (w + k)  on  (L + k) x (W + k)        kerf k; a sheet's own edges are not cut

l, w of a panel, L, W of a sheet, m. With grain a panel's first size runs along it, and nothing is turned.
Several orders and ways of laying are tried, always the same ones. Then what came to lie on the last sheet is
laid first, and so on, until the bound is met or nothing more is found. Of layouts with equally many sheets
one whose cuts run from edge to edge is taken before one that needs cuts that stop.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, lcm

from castlang.takeoff.model import BoardPanel, Cut, Nest
from castlang.takeoff.nest_bound import bound_of
from castlang.takeoff.packing import (
    ORDERS,
    Layout,
    Size,
    by_sheet,
    cut_through,
    laid,
    ordered,
    ways,
)

TRIED = 12000  # rectangles laid in all before the search ends: about half a second
NOUGHT = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStock:
    """What panels are cut from: sides of a sheet m, kerf m, grain "long", "wide" or None (may be turned)."""

    name: str
    long: Fraction
    wide: Fraction
    kerf: Fraction = NOUGHT
    grain: str | None = None

    @property
    def area(self) -> Fraction:
        return self.long * self.wide


def fits(panel: BoardPanel, sheet: SheetStock) -> bool:
    """Whether one sheet holds the panel, the way round that the grain asks for."""
    along, across = _lying(panel, sheet)
    if along <= sheet.long and across <= sheet.wide:
        return True
    return sheet.grain is None and across <= sheet.long and along <= sheet.wide


def _lying(panel: BoardPanel, sheet: SheetStock) -> tuple[Fraction, Fraction]:
    """The panel's size along the sheet's first side and across it, as the grain lays it."""
    return (panel.wide, panel.long) if sheet.grain == "wide" else (panel.long, panel.wide)


def nest_of(sheet: SheetStock, panels: Sequence[BoardPanel]) -> Nest:
    """All copies of `panels` on as few sheets as the search finds. What no sheet holds is counted by area."""
    fitting = [panel for panel in panels if fits(panel, sheet)]
    large = [panel for panel in panels if not fits(panel, sheet)]
    over = sum((p.long * p.wide * p.count * p.molds for p in large), NOUGHT)
    single = [(panel, n) for panel in fitting for n in range(1, panel.count * panel.molds + 1)]
    scale = _scale(sheet, fitting)
    sizes = [_whole(_lying(panel, sheet), sheet.kerf, scale) for panel, _ in single]
    room = _whole((sheet.long, sheet.wide), sheet.kerf, scale)
    bound = bound_of(room, sizes, turn=sheet.grain is None)
    layout = _best(room, sizes, bound, turn=sheet.grain is None)
    sheets = tuple(
        tuple(
            Cut(
                mold=single[one.index][0].mold,
                panel=single[one.index][0].name,
                number=single[one.index][1],
                x=Fraction(one.x, scale),
                y=Fraction(one.y, scale),
                along=Fraction(one.along, scale) - sheet.kerf,
                across=Fraction(one.across, scale) - sheet.kerf,
            )
            for one in on
        )
        for on in by_sheet(layout)
    )
    return Nest(
        stock=sheet.name,
        long=sheet.long,
        wide=sheet.wide,
        kerf=sheet.kerf,
        grain=sheet.grain,
        sheets=sheets,
        bound=bound,
        through=all(cut_through(on) for on in by_sheet(layout)),
        too_large=tuple(f"{panel.mold}.{panel.name}" for panel in large),
        spare=ceil(over / sheet.area),
    )


def _scale(sheet: SheetStock, panels: Sequence[BoardPanel]) -> int:
    """How many whole units make a metre, so that every length is a whole number of them."""
    lengths = [sheet.long, sheet.wide, sheet.kerf, *(side for p in panels for side in (p.long, p.wide))]
    return lcm(*(length.denominator for length in lengths))


def _whole(sides: tuple[Fraction, Fraction], kerf: Fraction, scale: int) -> Size:
    return int((sides[0] + kerf) * scale), int((sides[1] + kerf) * scale)


# ---------------------------------------------------------------- the search


def _best(room: Size, sizes: Sequence[Size], bound: int, *, turn: bool) -> Layout:
    search = _Search(room, sizes, bound, turn=turn)
    if sizes:
        search.run()
    return search.best


class _Search:
    def __init__(self, room: Size, sizes: Sequence[Size], bound: int, *, turn: bool) -> None:
        self.room, self.sizes, self.bound, self.turn = room, sizes, bound, turn
        self.best: Layout = ()
        self._worth: tuple[int, bool, int] | None = None
        self._left = max(TRIED, len(sizes))

    def run(self) -> None:
        """Every order in every way; then the last sheet first, from each order, in each way."""
        orders = [ordered(self.sizes, key) for key in ORDERS]
        for way in ways():
            for order in orders:
                if self._tried(order, way) is None:
                    return
        for way in ways():
            for order in orders:
                if not self._improve(order, way):
                    return

    def _tried(self, order: tuple[int, ...], way: str) -> Layout | None:
        """The layout of `order`, kept when it is the best; None when there is nothing left to find or try."""
        if self._done() or self._left < 0:
            return None
        self._left -= len(order)
        found = laid(self.room, self.sizes, order, way, turn=self.turn)
        if found is not None:
            worth = self._of(found)
            if self._worth is None or worth < self._worth:
                self._worth, self.best = worth, found
        return found or self.best

    def _improve(self, order: tuple[int, ...], way: str) -> bool:
        """Lay what lay on the emptiest sheet first, again and again; False when there is nothing to find."""
        seen: set[tuple[int, ...]] = set()
        while order not in seen:
            seen.add(order)
            found = self._tried(order, way)
            if found is None:
                return False
            emptiest = min(by_sheet(found), key=lambda on: sum(one.along * one.across for one in on))
            first = frozenset(one.index for one in emptiest)
            order = (*(i for i in order if i in first), *(i for i in order if i not in first))
        return True

    def _of(self, layout: Layout) -> tuple[int, bool, int]:
        """What makes one layout better than another: fewer sheets, cuts that run through, a fuller start."""
        sheets = by_sheet(layout)
        last = min(sum(one.along * one.across for one in on) for on in sheets)
        return len(sheets), not all(cut_through(on) for on in sheets), last

    def _done(self) -> bool:
        return self._worth is not None and self._worth[0] <= self.bound and not self._worth[1]
