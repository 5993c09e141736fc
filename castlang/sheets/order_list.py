"""The order list: what to have, what to buy, and by when."""

from castlang.costing.model import OrderLine
from castlang.sheets import amounts, times
from castlang.sheets.basis import Basis, called
from castlang.sheets.model import Align, Block, Column, Prose, Row, Sheet, Table
from castlang.spec.model import Package

CODE = "ORDER"


def order_sheet(basis: Basis) -> Sheet:
    blocks: list[Block] = [order_table(basis)]
    loose = [line for line in basis.costing.orders if line.package is None and not line.fitting]
    if loose:
        blocks.append(
            Prose(
                title="Bought by measure",
                lines=tuple(
                    f"{called(basis.spec, line.name)}: the build does not say how it is sold, "
                    f"so {amounts.total(line.need, line.dimension, basis.units)} is not rounded to packages"
                    for line in loose
                ),
                points=True,
            )
        )
    late = tuple(
        f"{called(basis.spec, line.name)}: by {times.full_day(line.order_by)}"
        for line in basis.costing.orders
        if line.order_by is not None and line.order_by < basis.spec.build.start
    )
    if late:
        blocks.append(Prose(title="Order before the build starts", lines=late, points=True))
    return Sheet(
        code=CODE,
        title="Order list",
        subtitle="tick when ordered",
        blocks=tuple(blocks),
        landscape=True,
        outline=0,
        section="Materials",
    )


def order_table(basis: Basis) -> Table:
    return Table(
        key="order",
        title="To have in the shop",
        columns=(
            Column(key="ordered", title="ordered", share=0.8, blank=True),
            Column(key="material", title="material", share=2.6),
            Column(key="need", title="need", align=Align.RIGHT, share=1.1),
            Column(key="unit", title="unit", share=0.7),
            Column(key="sold_as", title="sold as", share=1.4),
            Column(key="have", title="have", align=Align.RIGHT, share=0.6),
            Column(key="buy", title="buy", align=Align.RIGHT, share=0.6),
            Column(key="left", title="left over", align=Align.RIGHT, share=1),
            Column(key="price", title="price each", align=Align.RIGHT, share=1.2),
            Column(key="cost", title="cost", align=Align.RIGHT, share=1.2),
            Column(key="lead_days", title="lead, days", align=Align.RIGHT, share=0.7),
            Column(key="first_use", title="first use", share=1.1),
            Column(key="order_by", title="order by", share=1.1),
        ),
        rows=(*(_row(basis, line) for line in basis.costing.orders), *_totals(basis)),
        empty="nothing to order",
    )


def _row(basis: Basis, line: OrderLine) -> Row:
    return Row(
        cells=(
            "",
            called(basis.spec, line.name),
            amounts.figure(line.need, line.dimension, basis.units),
            amounts.column_unit(line.dimension, basis.units)[0],
            _sold_as(basis, line),
            amounts.brief(line.have, 2) if line.package or line.fitting else "",
            str(line.buy) if line.package or line.fitting else "",
            amounts.figure(line.left, line.dimension, basis.units) if line.left is not None else "",
            amounts.money(line.price) if line.price else "",
            amounts.money(line.cost) if line.cost else "",
            str(line.lead_days),
            times.day(line.first_use) if line.first_use else "",
            times.day(line.order_by) if line.order_by else "",
        )
    )


def _totals(basis: Basis) -> tuple[Row, ...]:
    """One row a currency, under the column of costs."""
    rows = []
    for currency, amount in sorted(basis.costing.material.items()):
        cells = ["", "in all", *[""] * 7, f"{amounts.fixed(amount, 2)} {currency}", "", "", ""]
        rows.append(Row(cells=tuple(cells), strong=True))
    return tuple(rows)


def _sold_as(basis: Basis, line: OrderLine) -> str:
    """`bag of 25 kg`, in the words of the package itself where the builder wrote them."""
    stock = basis.spec.stocks.get(line.name)
    if stock is not None and stock.package is not None:
        return package_text(stock.package, basis.units)
    if line.package is None:
        return "piece" if line.fitting else "not said"
    return line.package


def package_text(package: Package, units: str) -> str:
    if package.sheet is not None:
        sides = " x ".join(amounts.length(side, units) for side in package.sheet)
        return f"{package.word} of {sides}"
    if package.amount is None:
        return package.word
    return f"{package.word} of {package.amount.written or amounts.amount(package.amount, units)}"
