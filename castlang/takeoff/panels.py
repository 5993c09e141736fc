"""The panels that molds are cut from, told or worked out, and their layout on stock sheets."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.model import Mold, Spec, Stock
from castlang.takeoff import sources, step_findings, wording
from castlang.takeoff.boards import Board, boards_of, formers
from castlang.takeoff.bodies import Body
from castlang.takeoff.model import BoardPanel, Nest
from castlang.takeoff.nesting import SheetStock, fits, nest_of
from castlang.takeoff.said import Said

THICK = Fraction(18, 1000)  # of a board that does not say, whatever units the build prints
KERF = Fraction(3, 1000)


def panels_of(spec: Spec, bodies: Mapping[str, Body]) -> Outcome[tuple[BoardPanel, ...]]:
    """The panels of every mold and temporary work, in order of their names.

    A mold with a board and no panel of its own gets those of the largest piece that it casts; one whose piece
    is not made of straight boards gets none.
    """
    said = Said()
    found: list[BoardPanel] = []
    for mold in spec.molds.values():
        found += _told(mold)
        if mold.board is not None and not mold.panels:
            found += _worked_out(spec, mold, mold.board, bodies, said)
    return said.outcome(tuple(found))


def _told(mold: Mold) -> list[BoardPanel]:
    return [
        BoardPanel(
            mold=mold.name,
            name=panel.name,
            stock=panel.stock or mold.board or "",
            long=panel.long,
            wide=panel.wide,
            count=panel.count,
            molds=mold.count + mold.mirrored,
            span=panel.span,
        )
        for panel in mold.panels
        if panel.stock or mold.board
    ]


def _worked_out(
    spec: Spec, mold: Mold, board: str, bodies: Mapping[str, Body], said: Said
) -> list[BoardPanel]:
    body = cast_in(mold, bodies)
    stock = spec.stocks.get(board, Stock(name=board))
    thick = stock.thick or THICK
    boards = boards_of(body, thick) if body is not None else ()
    if body is None or not boards:
        return []
    if stock.thick is None:
        text = wording.length(thick, spec.build.units)
        said.assumed(
            Assumption(
                subject=f"stock {board}",
                says=f"{text} thick",
                source=sources.COMMON,
                line=f"thick {text}",
                span=stock.span,
            )
        )
    said.assumed(_how(mold, body, board))
    return [_panel(mold, board, one) for one in boards]


def cast_in(mold: Mold, bodies: Mapping[str, Body]) -> Body | None:
    """The largest piece that `mold` casts."""
    cast = [bodies[piece] for piece in mold.fits if piece in bodies]
    return max(cast, key=lambda body: body.area(("all",)), default=None)


def _how(mold: Mold, body: Body, board: str) -> Assumption:
    left_out = formers(body.piece)
    without = f"; formers of {', '.join(left_out)} not counted" if left_out else ""
    return Assumption(
        subject=f"mold {mold.name}",
        says=f"panels of {board} from the sizes of {body.piece.name}, butt joints, long sides past the ends, "
        f"no battens{without}",
        source=sources.COMMON,
        line="panel NAME L x L",
        span=mold.span,
    )


def _panel(mold: Mold, board: str, one: Board) -> BoardPanel:
    return BoardPanel(
        mold=mold.name,
        name=one.name,
        stock=board,
        long=one.long,
        wide=one.wide,
        count=one.count,
        molds=mold.count + mold.mirrored,
        told=False,
        joint=one.joint,
        rule=one.rule,
        span=mold.span,
    )


# ---------------------------------------------------------------- on sheets


def nests_of(spec: Spec, panels: Sequence[BoardPanel]) -> Outcome[tuple[Nest, ...]]:
    """The layout of each sheet stock that panels are cut from, in order of name.

    Finding: a panel larger than its sheet, as the grain lays it.
    """
    said = Said()
    nests = []
    for name in sorted({panel.stock for panel in panels}):
        sheet = sheet_of(spec.stocks.get(name))
        if sheet is None:
            continue
        mine = [panel for panel in panels if panel.stock == name]
        for panel in mine:
            if not fits(panel, sheet):
                said.found(_too_large(panel, sheet, spec.build.units))
        for assumption in _unsaid(spec.stocks[name], spec.build.units):
            said.assumed(assumption)
        nests.append(nest_of(sheet, mine))
    return said.outcome(tuple(nests))


def sheet_of(stock: Stock | None) -> SheetStock | None:
    """The sheets that `stock` is sold in; None where it is not sold in sheets."""
    if stock is None or stock.package is None or stock.package.sheet is None:
        return None
    long, wide = sorted(stock.package.sheet, reverse=True)
    return SheetStock(
        name=stock.name,
        long=long,
        wide=wide,
        kerf=KERF if stock.kerf is None else stock.kerf,
        grain=stock.grain if stock.grain in ("long", "wide") else None,
    )


def _unsaid(stock: Stock, units: str) -> list[Assumption]:
    found = []
    if stock.kerf is None:
        text = wording.length(KERF, units)
        found.append(("a saw cut takes " + text, f"kerf {text}"))
    if stock.grain is None:
        found.append(("panels may be turned on the sheet", "grain none"))
    return [
        Assumption(
            subject=f"stock {stock.name}", says=says, source=sources.COMMON, line=line, span=stock.span
        )
        for says, line in found
    ]


def _too_large(panel: BoardPanel, sheet: SheetStock, units: str) -> Problem:
    along = " with the grain along its first size" if sheet.grain is not None else ""
    return Problem(
        finding=step_findings.PANEL_LARGER_THAN_SHEET,
        message=f"panel {panel.name} of {panel.mold} is {wording.length(panel.long, units)} by "
        f"{wording.length(panel.wide, units)}{along}, and a sheet of {sheet.name} is "
        f"{wording.length(sheet.long, units)} by {wording.length(sheet.wide, units)}",
        span=panel.span,
        about=(panel.mold, sheet.name),
    )
