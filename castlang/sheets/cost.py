"""Work and money: hours of people and what is known of the costs."""

from castlang.sheets import amounts, times
from castlang.sheets.basis import Basis, called
from castlang.sheets.model import Align, Block, Column, Prose, Row, Sheet, Table

CODE = "COST"


def cost_sheet(basis: Basis) -> Sheet:
    blocks: list[Block] = [labour_table(basis), money_table(basis)]
    if basis.costing.unpriced:
        names = tuple(called(basis.spec, name) for name in basis.costing.unpriced)
        blocks.append(Prose(title="No price told, so not in any sum", lines=names, points=True))
    return Sheet(code=CODE, title="Work and money", blocks=tuple(blocks), outline=0, section="Materials")


def labour_table(basis: Basis) -> Table:
    rows = [
        Row(cells=(called(basis.spec, hours.owner), hours.owner, times.working_hours(hours.minutes)))
        for hours in basis.costing.hours
    ]
    if rows:
        whole = sum(hours.minutes for hours in basis.costing.hours)
        rows.append(Row(cells=("in all", "", times.working_hours(whole)), strong=True))
    return Table(
        key="work",
        title="Work of people, all copies",
        columns=(
            Column(key="thing", title="for", share=3),
            Column(key="name", title="name in the build", share=2),
            Column(key="work", title="hours of people", align=Align.RIGHT, share=1.5),
        ),
        rows=tuple(rows),
    )


def money_table(basis: Basis) -> Table:
    costing = basis.costing
    rows = []
    for currency in sorted({*costing.material, *costing.labour}):
        material, labour = costing.material.get(currency), costing.labour.get(currency)
        both = (material or 0) + (labour or 0)
        cells = (
            currency,
            amounts.fixed(material, 2) if material is not None else "",
            amounts.fixed(labour, 2) if labour is not None else "",
            amounts.fixed(both, 2),
        )
        rows.append(Row(cells=cells, strong=True))
    return Table(
        key="money",
        title="Money, of what has a price",
        columns=(
            Column(key="currency", title="currency"),
            Column(key="material", title="material, packages bought", align=Align.RIGHT, share=2),
            Column(key="work", title="work", align=Align.RIGHT, share=2),
            Column(key="in_all", title="in all", align=Align.RIGHT, share=2),
        ),
        rows=tuple(rows),
        empty="no price and no wage told",
    )
