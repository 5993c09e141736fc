"""Panels on stock sheets: every one once, none over another, the kerf kept, and few sheets."""

import random
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from castlang.takeoff.model import BoardPanel, Nest
from castlang.takeoff.nest_bound import bound_of
from castlang.takeoff.nesting import SheetStock, fits, nest_of

MM = Fraction(1, 1000)
PLY = SheetStock(name="ply", long=2440 * MM, wide=1220 * MM, kerf=3 * MM)
GRAINED = SheetStock(name="ply", long=2440 * MM, wide=1220 * MM, kerf=3 * MM, grain="long")


def panel(name: str, long: int | Fraction, wide: int | Fraction, count: int = 1) -> BoardPanel:
    return BoardPanel(mold="form", name=name, stock="ply", long=long * MM, wide=wide * MM, count=count)


SMALL = st.tuples(st.integers(60, 1200), st.integers(60, 600), st.integers(1, 4))
ANY = st.tuples(st.integers(60, 2440), st.integers(60, 1220), st.integers(1, 3))
SHEETS = st.sampled_from((PLY, GRAINED, SheetStock(name="ply", long=3 * Fraction(1), wide=Fraction(3, 2))))


def panels_of(sizes: list[tuple[int, int, int]]) -> list[BoardPanel]:
    return [panel(f"p{n}", *size) for n, size in enumerate(sizes)]


def sound(nest: Nest, sheet: SheetStock, panels: list[BoardPanel]) -> bool:
    """Looked at afresh, in m, without the code that lays them out."""
    told = {p.name: p for p in panels}
    placed = sorted((cut.panel, cut.number) for cuts in nest.sheets for cut in cuts)
    wanted = sorted((p.name, n) for p in panels for n in range(1, p.count * p.molds + 1))
    for cuts in nest.sheets:
        for cut in cuts:
            size, lying = (told[cut.panel].long, told[cut.panel].wide), (cut.along, cut.across)
            if lying != size and (sheet.grain is not None or lying != size[::-1]):
                return False
            if cut.x < 0 or cut.y < 0 or cut.x + cut.along > sheet.long or cut.y + cut.across > sheet.wide:
                return False
        for a, b in combinations(cuts, 2):
            apart_along = max(a.x, b.x) - min(a.x + a.along, b.x + b.along)
            apart_across = max(a.y, b.y) - min(a.y + a.across, b.y + b.across)
            if max(apart_along, apart_across) < sheet.kerf:
                return False
    return placed == wanted


def area_bound(sheet: SheetStock, panels: list[BoardPanel]) -> int:
    """By area alone, each panel and the sheet with one kerf: below it no layout can be."""
    k = sheet.kerf
    area = sum((p.long + k) * (p.wide + k) * p.count for p in panels)
    return -int(-area // ((sheet.long + k) * (sheet.wide + k)))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(SMALL, min_size=1, max_size=30), SHEETS)
def test_every_panel_lies_once_a_kerf_apart_on_the_least_number_of_sheets_or_one_more(sizes, sheet):
    panels = panels_of(sizes)
    nest = nest_of(sheet, panels)

    assert sound(nest, sheet, panels)
    assert area_bound(sheet, panels) <= len(nest.sheets) <= area_bound(sheet, panels) + 1


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(ANY, min_size=1, max_size=14), SHEETS)
def test_large_panels_lie_on_no_more_than_one_sheet_past_what_no_layout_can_do_without(sizes, sheet):
    panels = [p for p in panels_of(sizes) if fits(p, sheet)]
    nest = nest_of(sheet, panels)

    assert sound(nest, sheet, panels)
    assert area_bound(sheet, panels) <= nest.bound <= len(nest.sheets) <= nest.bound + 1


def ripped(chance: random.Random, long: int, wide: int, cuts: int) -> list[tuple[int, int]]:
    """A rectangle, in mm and with its kerf, cut from edge to edge and again, without a loss."""
    if not cuts or max(long, wide) < 400:
        return [(long, wide)]
    if long >= wide:
        at = chance.randint(long // 4, 3 * long // 4)
        halves = ((at, wide), (long - at, wide))
    else:
        at = chance.randint(wide // 4, 3 * wide // 4)
        halves = ((long, at), (long, wide - at))
    return [part for half in halves for part in ripped(chance, *half, cuts - 1)]


@pytest.mark.parametrize("seed", range(40))
def test_sheets_cut_up_without_a_loss_are_put_together_again_on_one_more_at_most(seed):
    """No bound may be above the number of sheets that the panels were cut from."""
    chance = random.Random(seed)
    number = chance.randint(1, 4)
    parts = [part for _ in range(number) for part in ripped(chance, 2443, 1223, chance.randint(1, 3))]
    panels = [panel(f"p{n}", long - 3, wide - 3) for n, (long, wide) in enumerate(parts)]
    nest = nest_of(PLY, panels)

    assert sound(nest, PLY, panels)
    assert nest.bound == number
    assert len(nest.sheets) <= number + 1


def test_the_same_panels_lie_the_same_way_each_time():
    panels = panels_of([(700, 400, 5), (300, 200, 9), (1200, 90, 4)])

    assert nest_of(PLY, panels) == nest_of(PLY, panels)


def test_a_sheet_ripped_in_two_loses_its_kerf():
    half = panel("half", 2440, 610, 2)
    slim = panel("slim", 2440, Fraction(1217, 2), 2)

    assert len(nest_of(PLY, [half]).sheets) == 2
    assert len(nest_of(PLY, [slim]).sheets) == 1


def test_without_a_kerf_two_halves_make_a_sheet():
    whole = SheetStock(name="ply", long=2440 * MM, wide=1220 * MM)

    assert len(nest_of(whole, [panel("half", 2440, 610, 2)]).sheets) == 1


def test_with_grain_a_panel_is_not_turned_and_runs_along_it():
    across = SheetStock(name="ply", long=2440 * MM, wide=1220 * MM, grain="wide")
    cut = nest_of(across, [panel("door", 1000, 400)]).sheets[0][0]

    assert (cut.along, cut.across) == (400 * MM, 1000 * MM)


def test_a_panel_too_long_against_the_grain_is_on_no_sheet_and_counted_by_area():
    nest = nest_of(GRAINED, [panel("rail", 100, 2000), panel("end", 300, 200)])

    assert nest.too_large == ("form.rail",)
    assert (len(nest.sheets), nest.spare, nest.number) == (1, 1, 2)


def test_panels_of_every_copy_of_a_mold_are_laid_out():
    two = BoardPanel(mold="form", name="end", stock="ply", long=MM * 900, wide=MM * 500, count=3, molds=2)
    cuts = [cut for sheet in nest_of(PLY, [two]).sheets for cut in sheet]

    assert sorted(cut.number for cut in cuts) == [1, 2, 3, 4, 5, 6]


def test_panels_no_two_of_which_share_a_sheet_need_one_each():
    nest = nest_of(PLY, [panel("wall", 1300, 700, 4)])

    assert (nest.bound, len(nest.sheets)) == (4, 4)


@pytest.mark.parametrize(
    ("sizes", "turn", "least"),
    [
        ([(10, 10)], True, 1),
        ([(6, 6), (6, 6)], True, 2),
        ([(5, 10), (5, 10)], False, 1),
        ([(10, 5), (5, 10)], False, 2),
        ([(10, 5), (5, 10)], True, 1),
        ([], True, 0),
    ],
)
def test_the_bound_counts_area_and_panels_that_cannot_share(sizes, turn, least):
    assert bound_of((10, 10), sizes, turn=turn) == least


def test_inches_are_laid_out_exactly():
    inch = Fraction("0.0254")
    sheet = SheetStock(name="ply", long=96 * inch, wide=48 * inch, kerf=inch / 8)
    side = BoardPanel(
        mold="form", name="side", stock="ply", long=48 * inch - inch / 16, wide=24 * inch - inch / 16, count=4
    )
    nest = nest_of(sheet, [side])

    assert sound(nest, sheet, [side])
    assert len(nest.sheets) == 1
