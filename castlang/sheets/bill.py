"""The bill of materials: what the whole build takes, net and with waste, and for which steps."""

from castlang.sheets import amounts
from castlang.sheets.basis import Basis, called
from castlang.sheets.model import Align, Column, Prose, Row, Sheet, Table
from castlang.takeoff.model import BillLine
from castlang.trace.buying import key_in

CODE = "BILL"


def bill_sheet(basis: Basis) -> Sheet:
    return Sheet(
        code=CODE,
        title="Bill of materials",
        subtitle="everything the build takes",
        blocks=(bill_table(basis), uses_table(basis), *_notes(basis)),
        outline=0,
        section="Materials",
    )


def bill_table(basis: Basis) -> Table:
    return Table(
        key="bill",
        title="Materials of the whole build",
        columns=(
            Column(key="material", title="material", share=3),
            Column(key="name", title="name in the build", share=2),
            Column(key="net", title="net", align=Align.RIGHT),
            Column(key="with_waste", title="with waste", align=Align.RIGHT),
            Column(key="unit", title="unit", share=0.7),
        ),
        rows=tuple(_bill_row(basis, line) for line in _called_in_order(basis)),
        empty="the build takes nothing from the stores",
    )


def _called_in_order(basis: Basis) -> list[BillLine]:
    """The lines of the bill in the order of what they are called."""
    return sorted(basis.takeoff.bill, key=lambda line: called(basis.spec, line.stock).casefold())


def _bill_row(basis: Basis, line: BillLine) -> Row:
    return Row(
        cells=(
            called(basis.spec, line.stock),
            line.stock,
            amounts.figure(line.net, line.dimension, basis.units),
            amounts.figure(line.gross, line.dimension, basis.units),
            amounts.column_unit(line.dimension, basis.units)[0],
        ),
        trace=f"need.{key_in(basis.takeoff.bill, line)}",
    )


def uses_table(basis: Basis) -> Table:
    """Per material its steps; the lines of a material add up to its figure in the bill, and a single one is
    that figure."""
    rows: list[Row] = []
    for line in _called_in_order(basis):
        shown = amounts.figures_to_sum([gross for _, gross in line.of], line.dimension, basis.units)
        unit = amounts.column_unit(line.dimension, basis.units)[0]
        key = key_in(basis.takeoff.bill, line)
        for (step, _), figure in zip(line.of, shown, strict=True):
            cells = (called(basis.spec, line.stock), step, figure, unit)
            rows.append(Row(cells=cells, trace=f"need.{key}.{step}", strong=len(line.of) == 1))
        if len(line.of) == 1:
            continue
        whole = amounts.figure(line.gross, line.dimension, basis.units)
        cells = (called(basis.spec, line.stock), "in all", whole, unit)
        rows.append(Row(cells=cells, strong=True, trace=f"need.{key}"))
    return Table(
        key="bill-by-step",
        title="Where it goes, all copies, with waste",
        columns=(
            Column(key="material", title="material", share=3),
            Column(key="step", title="step", share=3),
            Column(key="with_waste", title="with waste", align=Align.RIGHT),
            Column(key="unit", title="unit", share=0.7),
        ),
        rows=tuple(rows),
    )


def _notes(basis: Basis) -> tuple[Prose, ...]:
    noted = tuple(
        f"{called(basis.spec, line.stock)}: {note}"
        for line in _called_in_order(basis)
        for note in _notes_of(basis, line.stock)
    )
    return (Prose(title="Notes on materials", lines=noted, points=True),) if noted else ()


def _notes_of(basis: Basis, name: str) -> tuple[str, ...]:
    thing = basis.spec.stocks.get(name) or basis.spec.fittings.get(name)
    return thing.notes if thing is not None else ()
