"""The bill of materials: the sum of what the steps take, the panels of the molds, and the fittings."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.model import After, Fitting, Job, Mold, Panel, Piece, Spec, Step
from castlang.spec.quantity import Dimension
from castlang.takeoff import findings
from castlang.takeoff.bodies import NOUGHT, ONE, Body
from castlang.takeoff.model import BillLine, StepTakeoff
from castlang.takeoff.said import Said
from castlang.takeoff.uses import use_of, waste_of
from castlang.takeoff.wording import millimetres


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What one step, or the panels of one mold, takes of one stock for all copies."""

    source: str
    stock: str
    dimension: Dimension
    net: Fraction
    gross: Fraction


def times_done(spec: Spec, step: Step) -> int:
    """How often `step` is done in the build: once a copy of its piece, or of the piece behind `each`."""
    if step.owner in spec.pieces:
        piece = spec.pieces[step.owner]
        return piece.count + piece.mirrored
    if step.each is not None and step.each in spec.pieces:
        return spec.pieces[step.each].count + spec.pieces[step.each].mirrored
    return 1


def bill_of(
    spec: Spec,
    all_steps: tuple[Step, ...],
    steps: Mapping[tuple[str, str], StepTakeoff],
    bodies: Mapping[str, Body],
) -> Outcome[tuple[BillLine, ...]]:
    """One line a stock and dimension, in order of name; net and gross are exactly the sums of the steps.

    Findings: a panel larger than its sheet, a fitting bought in too small a number.
    """
    said = Said()
    entries = list(_step_entries(spec, all_steps, steps))
    for mold in spec.molds.values():
        panels = said.heard(_panel_entries(spec, mold, bodies))
        entries.extend(panels or ())
    for fitting in spec.fittings.values():
        used = sum((e.net for e in entries if e.stock == fitting.name and _counts(e)), NOUGHT)
        bought = said.heard(_bought(spec, fitting, used))
        entries.extend(bought or ())
    return said.outcome(_lines(entries))


def _counts(entry: Entry) -> bool:
    return entry.dimension is Dimension.COUNT


def _lines(entries: list[Entry]) -> tuple[BillLine, ...]:
    keys = sorted({(e.stock, e.dimension) for e in entries})
    lines = []
    for stock, dimension in keys:
        mine = [e for e in entries if (e.stock, e.dimension) == (stock, dimension)]
        lines.append(
            BillLine(
                stock=stock,
                dimension=dimension,
                net=sum((e.net for e in mine), NOUGHT),
                gross=sum((e.gross for e in mine), NOUGHT),
                of=tuple((e.source, e.gross) for e in mine),
            )
        )
    return tuple(lines)


def _step_entries(
    spec: Spec, all_steps: tuple[Step, ...], steps: Mapping[tuple[str, str], StepTakeoff]
) -> Iterator[Entry]:
    for step in all_steps:
        done = steps.get((step.owner, step.name))
        times = times_done(spec, step)
        for use in done.uses if done else ():
            yield Entry(
                source=f"{step.owner}.{step.name}",
                stock=use.stock,
                dimension=use.dimension,
                net=use.net * times,
                gross=use.gross * times,
            )


# ---------------------------------------------------------------- panels


def _panel_entries(spec: Spec, mold: Mold, bodies: Mapping[str, Body]) -> Outcome[tuple[Entry, ...]]:
    """The sheet that the panels of `mold` are cut from: told, or the faces of the piece that it casts."""
    said = Said()
    copies = mold.count + mold.mirrored
    areas: dict[str, Fraction] = {}
    for panel in mold.panels:
        name = panel.stock or mold.board
        if name is not None:
            areas[name] = areas.get(name, NOUGHT) + panel.long * panel.wide * panel.count * copies
            _check_panel(spec, mold, panel, name, said)
    if mold.board is not None and not mold.panels:
        cast = [bodies[p] for p in mold.fits if p in bodies]
        if cast:
            areas[mold.board] = max(body.area(("all",)) for body in cast) * copies
            said.assumed(
                Assumption(
                    subject=f"mold {mold.name}",
                    says=f"{mold.board} for the faces of what it casts, without joints and battens",
                    source=findings.COMMON,
                    line="panel NAME L x L",
                    span=mold.span,
                )
            )
    entries = []
    for name, area in areas.items():
        if name not in spec.stocks:
            continue
        waste = waste_of(spec, None, name)
        use = said.heard(use_of(spec.stocks[name], Dimension.AREA, area, waste, mold.span))
        if use is not None:
            entries.append(
                Entry(
                    source=f"{mold.name}.panels",
                    stock=name,
                    dimension=use.dimension,
                    net=use.net,
                    gross=use.gross,
                )
            )
    return said.outcome(tuple(entries))


def _check_panel(spec: Spec, mold: Mold, panel: Panel, stock: str, said: Said) -> None:
    package = spec.stocks[stock].package if stock in spec.stocks else None
    if package is None or package.sheet is None:
        return
    short, long = sorted((panel.long, panel.wide))
    if short <= min(package.sheet) and long <= max(package.sheet):
        return
    said.found(
        Problem(
            finding=findings.PANEL_LARGER_THAN_SHEET,
            message=f"panel {panel.name} of {mold.name} is {millimetres(panel.long)} by "
            f"{millimetres(panel.wide)}, and a sheet of {stock} is {millimetres(package.sheet[0])} by "
            f"{millimetres(package.sheet[1])}",
            span=panel.span,
            about=(mold.name, stock),
        )
    )


# ---------------------------------------------------------------- fittings


def _bought(spec: Spec, fitting: Fitting, used: Fraction) -> Outcome[tuple[Entry, ...]]:
    """What is bought of `fitting` beyond what the steps build in."""
    said = Said()
    wanted = fitting.buy
    if wanted is None and used == 0 and _needed(spec, fitting.name):
        wanted = 1
        said.assumed(
            Assumption(
                subject=f"fitting {fitting.name}",
                says="buy 1",
                source="a step needs it, none says how many",
                line="buy N",
                span=fitting.span,
            )
        )
    if wanted is not None and wanted < used:
        said.found(
            Problem(
                finding=findings.BUY_TOO_FEW,
                message=f"the steps use {used} of {fitting.name}, and the build buys {wanted}",
                span=fitting.span,
                remedy=f"write `buy {used}` under fitting {fitting.name}",
                about=(fitting.name,),
            )
        )
    spare = (wanted or 0) - used
    if spare <= 0:
        return said.outcome(())
    bought = Entry(
        source=fitting.name,
        stock=fitting.name,
        dimension=Dimension.COUNT,
        net=spare * ONE,
        gross=spare * ONE,
    )
    return said.outcome((bought,))


def _needed(spec: Spec, name: str) -> bool:
    """Whether anything in the build handles or waits for the fitting `name`."""
    return any(_names(owner, name) for owner in spec.owners())


def _names(owner: Piece | Job | Mold, name: str) -> bool:
    for item in owner.sequence:
        if isinstance(item, After):
            if any(ref.fitting and ref.owner == name for ref in item.refs):
                return True
        elif isinstance(item, Step):
            refs = (*item.things, *((item.onto,) if item.onto else ()))
            if any(ref.kind == "fitting" and ref.name == name for ref in refs):
                return True
    return False
