"""Work and money: hours of people, what the build costs, and each of its pieces."""

from fractions import Fraction

from castlang.costing.model import PieceCost, Rate, Sums
from castlang.sheets import amounts, times
from castlang.sheets.basis import Basis, called
from castlang.sheets.model import Align, Block, Column, Prose, Row, Sheet, Table
from castlang.sheets.order_list import is_sold
from castlang.spec.quantity import Money

CODE = "COST"
MONEY_NOTE = (
    "Material is what the build uses up, with its waste, at the price of its packages: on hand or bought. "
    "What is to be paid for packages stands on the order list."
)


def cost_sheet(basis: Basis) -> Sheet:
    blocks: list[Block] = [labour_table(basis), money_table(basis)]
    if basis.costing.sums is not None:
        blocks.append(Prose(lines=(MONEY_NOTE,)))
    if basis.costing.pieces:
        blocks.append(pieces_table(basis))
    if basis.costing.stations:
        blocks.append(stations_table(basis))
    if basis.costing.rates:
        blocks.append(rates_note(basis.costing.rates))
    blocks += unpriced(basis)
    return Sheet(code=CODE, title="Work and money", blocks=tuple(blocks), outline=0, section="Materials")


def unpriced(basis: Basis) -> tuple[Prose, ...]:
    """What is in no sum because nobody tells its price."""
    bought = {line.name for line in basis.costing.orders if is_sold(line)}
    names = tuple(called(basis.spec, name) for name in basis.costing.unpriced if name in bought)
    return (Prose(title="No price told, so not in any sum", lines=names, points=True),) if names else ()


def labour_table(basis: Basis) -> Table:
    rows = [
        Row(
            cells=(called(basis.spec, hours.owner), hours.owner, times.working_hours(hours.minutes)),
            trace=f"hours.{hours.owner}",
        )
        for hours in basis.costing.hours
    ]
    if rows:
        whole = sum(hours.minutes for hours in basis.costing.hours)
        rows.append(Row(cells=("in all", "", times.working_hours(whole)), strong=True, trace="hours.all"))
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
    sums = basis.costing.sums
    return Table(
        key="money",
        title="What the build costs, of what has a price",
        columns=(
            Column(key="what", title="what", share=4),
            Column(key="amount", title="amount", align=Align.RIGHT, share=1.5),
            Column(key="currency", title="currency", share=1),
        ),
        rows=() if sums is None else tuple(_sum_rows(basis, sums)),
        empty="no price and no wage told",
    )


def _sum_rows(basis: Basis, sums: Sums) -> list[Row]:
    share = basis.spec.build.contingency
    told = [
        ("material, without waste", sums.material, "material"),
        ("waste of material", sums.waste, "waste"),
        ("work of people", sums.labour, "labour"),
    ]
    if basis.costing.stations:
        told.append(("stations by the hour", sums.stations, "stations"))
    if share is not None:
        told.append((f"contingency, {amounts.share(share)}", sums.contingency, "contingency"))
    rows = [_sum_row(what, amount, sums.currency, word) for what, amount, word in told]
    return [*rows, _sum_row("in all", sums.total, sums.currency, "all", strong=True)]


def _sum_row(what: str, amount: Fraction, currency: str, word: str, *, strong: bool = False) -> Row:
    return Row(cells=(what, figure(amount, currency), currency), strong=strong, trace=f"cost.{word}")


def figure(amount: Fraction, currency: str) -> str:
    """An amount without its currency's code, which stands beside it."""
    return amounts.money(Money(amount=amount, currency=currency)).removesuffix(f" {currency}")


def pieces_table(basis: Basis) -> Table:
    sums, pieces = basis.costing.sums, basis.costing.pieces
    currency = sums.currency if sums is not None else ""
    return Table(
        key="cost-by-piece",
        title=f"What each piece costs, with its molds, {currency}",
        columns=(
            Column(key="piece", title="piece", share=2.4),
            Column(key="copies", title="copies", align=Align.RIGHT, share=0.8),
            Column(key="material", title="material", align=Align.RIGHT, share=1.2),
            Column(key="work", title="work", align=Align.RIGHT, share=1.2),
            Column(key="stations", title="stations", align=Align.RIGHT, share=1.1, spare=3),
            Column(key="shared", title="its part of jobs", align=Align.RIGHT, share=1.2, spare=2),
            Column(key="contingency", title="contingency", align=Align.RIGHT, share=1.2, spare=3),
            Column(key="in_all", title="all copies", align=Align.RIGHT, share=1.3),
            Column(key="each", title="each, about", align=Align.RIGHT, share=1.2),
        ),
        rows=tuple(_piece_row(basis, piece, currency) for piece in pieces),
    )


def _piece_row(basis: Basis, piece: PieceCost, currency: str) -> Row:
    each = piece.total / piece.copies if piece.copies else Fraction(0)
    parts = (piece.material, piece.labour, piece.stations, piece.shared, piece.contingency, piece.total)
    return Row(
        cells=(
            called(basis.spec, piece.piece),
            str(piece.copies),
            *(figure(part, currency) for part in parts),
            amounts.paid_figure(each, currency),
        ),
        trace=f"cost.piece.{piece.piece}",
    )


def stations_table(basis: Basis) -> Table:
    sums = basis.costing.sums
    currency = sums.currency if sums is not None else ""
    return Table(
        key="stations",
        title=f"Stations by the hour, {currency}",
        columns=(
            Column(key="station", title="station", share=3),
            Column(key="use", title="in use", align=Align.RIGHT, share=1.5),
            Column(key="cost", title="cost", align=Align.RIGHT, share=1.5),
        ),
        rows=tuple(
            Row(
                cells=(
                    called(basis.spec, hours.station),
                    times.working_hours(hours.minutes),
                    figure(hours.cost, currency),
                ),
                trace=f"hired.{hours.station}",
            )
            for hours in basis.costing.stations
        ),
    )


def rates_note(rates: tuple[Rate, ...]) -> Prose:
    """The rates that other currencies were turned by, with the days on which they were told."""
    return Prose(title="Rates", lines=tuple(_rate_text(rate) for rate in rates), points=True)


def _rate_text(rate: Rate) -> str:
    days = ", ".join(times.full_day(line.on) for line in rate.by if line.on is not None)
    return f"1 {rate.sold} = {amounts.brief(rate.rate, 6)} {rate.bought}" + (
        f", told on {days}" if days else ""
    )
