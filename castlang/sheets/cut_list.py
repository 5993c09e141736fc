"""Cut lists: the panels of a mold, and how all panels of a board lie on its sheets."""

from fractions import Fraction
from itertools import groupby

from castlang.sheets import amounts
from castlang.sheets.basis import Basis, called
from castlang.sheets.cautions import in_short
from castlang.sheets.hazards import unique
from castlang.sheets.model import (
    Align,
    Block,
    Caution,
    Column,
    Facts,
    LaidOut,
    Layout,
    Prose,
    Row,
    Sheet,
    Table,
)
from castlang.takeoff.model import Cut, Nest

Numbered = tuple[tuple[int, tuple[Cut, ...]], ...]  # sheets with their numbers

MICROMETRES = 1_000_000
GRAIN = {"long": "along", "wide": "across"}


def panels_table(basis: Basis, mold: str) -> Table:
    """What one copy of a mold is made of, with how its boards meet where they were worked out."""
    units = basis.units
    panels = [panel for panel in basis.takeoff.panels if panel.mold == mold]
    joints = any(panel.joint for panel in panels)
    return Table(
        key="cut-list",
        title="Cut list, for one",
        columns=(
            Column(key="panel", title="panel", share=2),
            Column(key="count", title="count", align=Align.RIGHT, share=0.7),
            Column(key="long", title="long", align=Align.RIGHT),
            Column(key="wide", title="wide", align=Align.RIGHT),
            Column(key="board", title="of", share=2),
            *((Column(key="joint", title="how it meets the others", share=3),) if joints else ()),
            Column(key="cut", title="cut", share=0.7, blank=True),
        ),
        rows=tuple(
            Row(
                cells=(
                    panel.name,
                    str(panel.count),
                    amounts.length(panel.long, units),
                    amounts.length(panel.wide, units),
                    called(basis.spec, panel.stock),
                    *((panel.joint,) if joints else ()),
                    "",
                ),
                trace=f"panel.{mold}.{panel.name}",
            )
            for panel in panels
        ),
    )


def cut_sheets(basis: Basis) -> tuple[Sheet, ...]:
    """One sheet a board that is sold in sheets: each of them drawn, with its panels by number."""
    return tuple(_sheet(basis, nest) for nest in basis.takeoff.nests)


def _sheet(basis: Basis, nest: Nest) -> Sheet:
    blocks: list[Block] = [_facts(basis, nest), Prose(lines=_how(nest), points=True), _caution(basis, nest)]
    for _, run in groupby(enumerate(nest.sheets, start=1), key=lambda sheet: _drawn(sheet[1])):
        alike = tuple(run)
        blocks += [_layout(basis, nest, alike), _cuts_table(basis, alike)]
    if nest.too_large:
        lines = tuple(f"{name}: cut it in two, or buy a larger sheet" for name in nest.too_large)
        blocks.append(Prose(title="On no sheet, because they are larger", lines=lines, points=True))
    return Sheet(
        code=f"CUT {nest.stock}",
        title=f"Cut list, {called(basis.spec, nest.stock)}",
        subtitle="every panel once, drawn to scale",
        blocks=tuple(blocks),
        outline=1,
        section="Molds",
    )


def _drawn(cuts: tuple[Cut, ...]) -> tuple[object, ...]:
    """What a sheet's drawing shows: sheets that show the same share one."""
    return tuple((cut.mold, cut.panel, cut.x, cut.y, cut.along, cut.across) for cut in cuts)


def _caution(basis: Basis, nest: Nest) -> Caution:
    """What sawing brings, with what the build tells of the board."""
    stock = basis.spec.stocks.get(nest.stock)
    words = unique([*(stock.hazards if stock is not None else ()), "noise"])
    untold = () if stock is None or stock.hazards else (called(basis.spec, nest.stock),)
    return in_short("Before you cut", words, "The saw's own guards and instructions govern.", untold)


def _facts(basis: Basis, nest: Nest) -> Facts:
    units = basis.units
    used = sum((cut.along * cut.across for cuts in nest.sheets for cut in cuts), Fraction(0))
    area = nest.long * nest.wide * len(nest.sheets)
    grain = {"long": "along the long side", "wide": "across it"}.get(nest.grain or "", "panels may be turned")
    return Facts(
        pairs=(
            ("sheets", str(nest.number)),
            ("a sheet", f"{amounts.length(nest.long, units)} x {amounts.length(nest.wide, units)}"),
            ("saw kerf", amounts.length(nest.kerf, units)),
            ("grain", grain),
            ("panels", str(sum(len(cuts) for cuts in nest.sheets))),
            ("of the sheets, in panels", f"{amounts.brief(100 * used / area, 0)} %" if area else "none"),
        )
    )


def _how(nest: Nest) -> tuple[str, ...]:
    through = (
        "Every cut runs from edge to edge of what is left, as a panel saw cuts."
        if nest.through
        else "Some cuts stop inside the sheet: cut those with a plunge saw."
    )
    return (through, "Panels lie a saw kerf apart; the sheet's own edges are used as they are.")


def _numbers(alike: Numbered) -> str:
    """`sheet 2`, `sheets 2 to 5`."""
    first, last = alike[0][0], alike[-1][0]
    return f"sheet {first}" if first == last else f"sheets {first} to {last}"


def _layout(basis: Basis, nest: Nest, alike: Numbered) -> Layout:
    _, cuts = alike[0]
    return Layout(
        title=f"{_numbers(alike).capitalize()} of {len(nest.sheets)}{', alike' if len(alike) > 1 else ''}",
        along=_um(nest.long),
        across=_um(nest.wide),
        side=amounts.length(nest.long, basis.units),
        end=amounts.length(nest.wide, basis.units),
        panels=tuple(
            LaidOut(number=str(n), x=_um(cut.x), y=_um(cut.y), along=_um(cut.along), across=_um(cut.across))
            for n, cut in enumerate(cuts, start=1)
        ),
        grain=GRAIN.get(nest.grain or "", ""),
    )


def _um(metres: Fraction) -> int:
    return round(metres * MICROMETRES)


def _cuts_table(basis: Basis, alike: Numbered) -> Table:
    units = basis.units
    return Table(
        key="cuts",
        title=f"Panels of {_numbers(alike)}",
        columns=(
            Column(key="sheet_number", title="sheet", align=Align.RIGHT, share=0.6),
            Column(key="number", title="no.", align=Align.RIGHT, share=0.5),
            Column(key="mold", title="for", share=2.6),
            Column(key="panel", title="panel", share=1.8),
            Column(key="along", title="along", align=Align.RIGHT),
            Column(key="across", title="across", align=Align.RIGHT),
            Column(key="from_left", title="from left", align=Align.RIGHT),
            Column(key="from_near", title="from near edge", align=Align.RIGHT),
            Column(key="cut", title="cut", share=0.7, blank=True),
        ),
        rows=tuple(
            Row(
                cells=(
                    str(number),
                    str(n),
                    called(basis.spec, cut.mold),
                    cut.panel if cut.number == 1 else f"{cut.panel}, {cut.number}",
                    *(amounts.length(size, units) for size in (cut.along, cut.across, cut.x, cut.y)),
                    "",
                ),
                trace=f"panel.{cut.mold}.{cut.panel}",
            )
            for number, cuts in alike
            for n, cut in enumerate(cuts, start=1)
        ),
    )
