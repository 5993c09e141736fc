"""The order list: what to have, what to buy, and by when."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from castlang.costing.from_plan import laid_out
from castlang.costing.model import OrderLine, Packs
from castlang.costing.several import Joint
from castlang.sheets import amounts, times
from castlang.sheets.basis import Basis, called
from castlang.sheets.dated_text import dated
from castlang.sheets.model import Align, Block, Column, Prose, Row, Sheet, Table
from castlang.spec.model import Fitting, Package, Stock
from castlang.spec.quantity import Money
from castlang.takeoff.model import BillLine
from castlang.trace.buying import key_in

CODE = "ORDER"


def order_sheet(basis: Basis) -> Sheet:
    listed = _listed(basis)
    lines = sorted(basis.costing.orders, key=lambda line: _place(listed, line))
    blocks: list[Block] = [_table("To have in the shop", listed)]
    loose = tuple(
        f"{called(basis.spec, line.name)}, {amounts.total(line.need, line.dimension, basis.units)}: "
        "the build does not say how it is sold"
        for line in lines
        if not is_sold(line)
    )
    if loose:
        blocks.append(Prose(title="Not bought", lines=loose, points=True))
    short = tuple(
        f"{called(basis.spec, line.name)}: what is on hand ({amounts.brief(line.have, 2)}) does not last for"
        " the whole build, so all work that uses it is planned for after the delivery"
        for line in lines
        if line.have and line.buy and line.lead_days
    )
    if short:
        blocks.append(Prose(title="On hand, and short", lines=short, points=True))
    late = tuple(
        dated(f"{called(basis.spec, line.name)}: by {times.full_day(line.order_by)}")
        for line in lines
        if line.buy and line.order_by is not None and line.order_by < basis.spec.build.start
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


def is_sold(line: OrderLine) -> bool:
    """Whether a line is bought at all; tap water, and what the build does not say how it is sold, is not."""
    return line.fitting or line.package is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """What an order list is made from, of one build or of several; labels by name."""

    orders: tuple[OrderLine, ...]
    bill: tuple[BillLine, ...]
    stocks: Mapping[str, Stock]
    labels: Mapping[str, str]
    units: str
    traced: bool = True


def order_table(basis: Basis) -> Table:
    return _table("To have in the shop", _listed(basis))


def _listed(basis: Basis) -> Listed:
    names = [line.name for line in basis.costing.orders]
    return Listed(
        orders=basis.costing.orders,
        bill=basis.takeoff.bill,
        stocks=basis.spec.stocks,
        labels={name: called(basis.spec, name) for name in names},
        units=basis.units,
    )


def joint_order_table(joint: Joint, builds: tuple[str, ...], units: str) -> Table:
    """The one list of several builds."""
    things: dict[str, Stock | Fitting] = {**joint.stocks, **joint.fittings}
    listed = Listed(
        orders=joint.orders,
        bill=joint.bill,
        stocks=joint.stocks,
        labels={name: thing.label or name for name, thing in things.items()},
        units=units,
        traced=False,
    )
    return _table(f"To have in the shop for {', '.join(builds)}", listed)


def _table(title: str, listed: Listed) -> Table:
    lines = sorted((line for line in listed.orders if is_sold(line)), key=lambda line: _place(listed, line))
    return Table(
        key="order",
        title=title,
        columns=(
            Column(key="ordered", title="ordered", share=0.8, blank=True),
            Column(key="material", title="material", share=2.6),
            Column(key="need", title="need", align=Align.RIGHT, share=1.1, spare=5),
            Column(key="unit", title="unit", share=0.7, spare=5),
            Column(key="sold_as", title="sold as", share=2),
            Column(key="have", title="have", align=Align.RIGHT, share=0.6, spare=2),
            Column(key="buy", title="buy", align=Align.RIGHT, share=0.6),
            Column(key="left", title="left over", align=Align.RIGHT, share=1, spare=6),
            Column(key="price", title="price each", align=Align.RIGHT, share=1.2, spare=4),
            Column(key="cost", title="cost", align=Align.RIGHT, share=1.2),
            Column(key="lead_days", title="lead, days", align=Align.RIGHT, share=0.7, spare=7),
            Column(key="first_use", title="first use", share=1.1, spare=3),
            Column(key="order_by", title="order by", share=1.1),
        ),
        rows=(*(row for line in lines for row in _rows(listed, line)), *_totals(listed)),
        empty="nothing to order",
        by_date=True,
    )


def _place(listed: Listed, line: OrderLine) -> tuple[date, str, str]:
    """What is to be ordered first stands first, what is on hand last; in one day by what they are called."""
    by = line.order_by if line.buy and line.order_by is not None else date.max
    return (by, listed.labels[line.name].casefold(), line.name)


def _rows(listed: Listed, line: OrderLine) -> tuple[Row, ...]:
    """A row for each size that is bought; the need and the days stand on the first."""
    first, *others = line.packs or (None,)
    rows = [_row(listed, line, first)]
    for pack in others:
        cells = ["", listed.labels[line.name], "", "", package_text(pack.package, listed.units), "", ""]
        cells[6] = str(pack.number)
        money = (amounts.money(price) if price else "" for price in (pack.price, pack.cost))
        rows.append(Row(cells=(*cells, "", *money, "", "", "")))
    return tuple(rows)


def _row(listed: Listed, line: OrderLine, pack: Packs | None) -> Row:
    """Only what is bought has a box to tick and a day to order by."""
    days = {"first_use": line.first_use, "order_by": line.order_by if line.buy else None}
    number, cost = (line.buy, line.cost) if pack is None else (pack.number, pack.cost)
    return Row(
        cells=(
            "",
            listed.labels[line.name],
            amounts.figure(line.need, line.dimension, listed.units),
            amounts.column_unit(line.dimension, listed.units)[0],
            _sold_as(listed, line),
            amounts.brief(line.have, 2),
            str(number),
            amounts.figure(line.left, line.dimension, listed.units) if line.left is not None else "",
            amounts.money(line.price) if line.price else "",
            amounts.money(cost) if cost else "",
            str(line.lead_days),
            *(times.day(day) if day else "" for day in days.values()),
        ),
        data=tuple((key, day.isoformat()) for key, day in days.items() if day),
        ticked=line.buy > 0,
        trace=f"buy.{key_in(listed.bill, line)}" if listed.traced and line.left is not None else "",
    )


def _totals(listed: Listed) -> tuple[Row, ...]:
    """One row a currency, under the column of costs."""
    rows = []
    for currency, amount in laid_out(listed.orders).items():
        money = amounts.money(Money(amount=amount, currency=currency))
        trace = f"laid-out.{currency}" if listed.traced else ""
        cells = ("", "in all", *[""] * 7, money, "", "", "")
        rows.append(Row(cells=cells, strong=True, ticked=False, trace=trace))
    return tuple(rows)


def _sold_as(listed: Listed, line: OrderLine) -> str:
    """`bag of 25 kg`, in the words of the package itself where the builder wrote them."""
    stock = listed.stocks.get(line.name)
    if stock is not None and stock.package is not None:
        return package_text(stock.package, listed.units)
    return line.package or "piece"


def package_text(package: Package, units: str) -> str:
    """How a stock is sold, in words: `bag of 25 kg`."""
    if package.sheet is not None:
        sides = " x ".join(amounts.length(side, units) for side in package.sheet)
        return f"{package.word} of {sides}"
    if package.amount is None:
        return package.word
    return f"{package.word} of {package.amount.written or amounts.amount(package.amount, units)}"
