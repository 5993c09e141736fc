"""The bill of materials: the sum of what the steps take, the sheets that molds are cut from, the fittings."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.model import After, Fitting, Mold, Spec, Step, Stock
from castlang.spec.quantity import Dimension
from castlang.takeoff import sources, step_findings
from castlang.takeoff.bodies import NOUGHT, ONE, Body
from castlang.takeoff.model import BillLine, BoardPanel, Nest, StepTakeoff, Use
from castlang.takeoff.panels import cast_in
from castlang.takeoff.said import Said
from castlang.takeoff.uses import use_of, waste_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What one step, or the panels of one mold, takes of one stock for all copies."""

    source: str
    stock: str
    dimension: Dimension
    net: Fraction
    gross: Fraction


@dataclass(frozen=True, kw_only=True)
class Boards:
    """The panels of all molds, and their layout on the sheets of each stock."""

    panels: tuple[BoardPanel, ...] = ()
    nests: tuple[Nest, ...] = ()

    @cached_property
    def of_mold(self) -> Mapping[str, tuple[BoardPanel, ...]]:
        """The panels by their mold, in order."""
        found: dict[str, list[BoardPanel]] = {}
        for panel in self.panels:
            found.setdefault(panel.mold, []).append(panel)
        return {mold: tuple(panels) for mold, panels in found.items()}

    @cached_property
    def areas(self) -> Mapping[str, Fraction]:
        """m2 of all panels by their stock."""
        found: dict[str, Fraction] = {}
        for panel in self.panels:
            found[panel.stock] = found.get(panel.stock, NOUGHT) + area_of(panel)
        return found


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
    boards: Boards,
) -> Outcome[tuple[BillLine, ...]]:
    """One line a stock and dimension, in order of name; net and gross are exactly the sums of the steps.

    Finding: a fitting bought in too small a number.
    """
    said = Said()
    entries = list(_step_entries(spec, all_steps, steps))
    for mold in spec.molds.values():
        panels = said.heard(_panel_entries(spec, mold, bodies, boards))
        entries.extend(panels or ())
    used: dict[str, Fraction] = {}
    for entry in entries:
        if entry.dimension is Dimension.COUNT:
            used[entry.stock] = used.get(entry.stock, NOUGHT) + entry.net
    handled = _handled(spec)
    for fitting in spec.fittings.values():
        needed = fitting.name in handled
        bought = said.heard(_bought(fitting, used.get(fitting.name, NOUGHT), needed=needed))
        entries.extend(bought or ())
    return said.outcome(_lines(_in_one_unit(entries, spec)))


def _in_one_unit(entries: list[Entry], spec: Spec) -> list[Entry]:
    """What is sold by nothing, such as tap water, may be weighed here and measured there: then all of it is
    told by mass, kg = m3 x density."""
    weighed = {entry.stock for entry in entries if entry.dimension is Dimension.MASS}
    return [
        _weighed(entry, spec.stocks.get(entry.stock)) if entry.stock in weighed else entry
        for entry in entries
    ]


def _weighed(entry: Entry, stock: Stock | None) -> Entry:
    if entry.dimension is not Dimension.VOLUME or stock is None or stock.density is None:
        return entry
    net, gross = entry.net * stock.density, entry.gross * stock.density
    return replace(entry, dimension=Dimension.MASS, net=net, gross=gross)


def _lines(entries: list[Entry]) -> tuple[BillLine, ...]:
    found: dict[tuple[str, Dimension], list[Entry]] = {}
    for entry in entries:
        found.setdefault((entry.stock, entry.dimension), []).append(entry)
    lines = []
    for (stock, dimension), mine in sorted(found.items(), key=lambda pair: pair[0]):
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


def _panel_entries(
    spec: Spec, mold: Mold, bodies: Mapping[str, Body], boards: Boards
) -> Outcome[tuple[Entry, ...]]:
    """What the panels of `mold` are cut from: whole sheets, by its part of the layout; else by area."""
    said = Said()
    areas: dict[str, Fraction] = {}
    for panel in boards.of_mold.get(mold.name, ()):
        areas[panel.stock] = areas.get(panel.stock, NOUGHT) + area_of(panel)
    entries = []
    for name, area in areas.items():
        nest = next((nest for nest in boards.nests if nest.stock == name), None)
        if nest is not None:
            gross = nest.number * nest.long * nest.wide * area / boards.areas[name]
            entries.append(
                _board_entry(mold, Use(stock=name, dimension=Dimension.AREA, net=area, gross=gross))
            )
        else:
            entries += _by_area(spec, mold, name, area, said)
    if mold.board is not None and mold.board not in areas and not mold.panels:
        cast = cast_in(mold, bodies)
        if cast is not None:
            copies = mold.count + mold.mirrored
            entries += _by_area(spec, mold, mold.board, cast.area(("all",)) * copies, said)
            said.assumed(_by_faces(mold, mold.board))
    return said.outcome(tuple(entries))


def area_of(panel: BoardPanel) -> Fraction:
    """m2 of all copies of a panel."""
    return panel.long * panel.wide * panel.count * panel.molds


def _by_area(spec: Spec, mold: Mold, name: str, area: Fraction, said: Said) -> list[Entry]:
    if name not in spec.stocks:
        return []
    waste = waste_of(spec, None, name)
    use = said.heard(use_of(spec.stocks[name], Dimension.AREA, area, waste, mold.span))
    return [] if use is None else [_board_entry(mold, use)]


def _board_entry(mold: Mold, use: Use) -> Entry:
    return Entry(
        source=f"{mold.name}.panels",
        stock=use.stock,
        dimension=use.dimension,
        net=use.net,
        gross=use.gross,
    )


def _by_faces(mold: Mold, board: str) -> Assumption:
    return Assumption(
        subject=f"mold {mold.name}",
        says=f"{board} for the faces of what it casts, without joints and battens",
        source=sources.COMMON,
        line="panel NAME L x L",
        span=mold.span,
    )


# ---------------------------------------------------------------- fittings


def _bought(fitting: Fitting, used: Fraction, *, needed: bool) -> Outcome[tuple[Entry, ...]]:
    """What is bought of `fitting` beyond what the steps build in. needed: see `_handled`."""
    said = Said()
    wanted = fitting.buy
    if wanted is None and used == 0 and needed:
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
                finding=step_findings.BUY_TOO_FEW,
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


def _handled(spec: Spec) -> set[str]:
    """The fittings that anything in the build handles or waits for."""
    found: set[str] = set()
    for item in (item for owner in spec.owners() for item in owner.sequence):
        if isinstance(item, After):
            found.update(ref.owner for ref in item.refs if ref.fitting)
        elif isinstance(item, Step):
            refs = (*item.things, *((item.onto,) if item.onto else ()))
            found.update(ref.name for ref in refs if ref.kind == "fitting")
    return found
