"""The quote: what the client pays, for which pieces, and how the price is made."""

from fractions import Fraction

from castlang.costing.model import Quote
from castlang.sheets import amounts, times
from castlang.sheets.basis import Basis, called
from castlang.sheets.cost import figure, rates_note, unpriced
from castlang.sheets.dated_text import aside, sentence
from castlang.sheets.instructions import body_text
from castlang.sheets.model import Align, Block, Column, Facts, Prose, Row, Sheet, Table

CODE = "QUOTE"


def quote_sheets(basis: Basis) -> tuple[Sheet, ...]:
    """The quote, where the build tells a margin, an overhead or a freight; else nothing."""
    quote = basis.costing.quote
    if quote is None:
        return ()
    blocks: list[Block] = [_facts(basis, quote)]
    if quote.pieces:
        blocks.append(prices_table(basis, quote))
    blocks.append(quote_table(basis, quote))
    if basis.costing.rates:
        blocks.append(rates_note(basis.costing.rates))
    missing = unpriced(basis)
    if missing:
        blocks.append(Prose(lines=("The price is not whole: some of it has no price told.",)))
    blocks += missing
    build = basis.spec.build
    return (
        Sheet(
            code=CODE,
            title=sentence("Quote, ", aside(build.label or build.name)),
            subtitle="for the office, not for the crew",
            blocks=tuple(blocks),
            outline=0,
            section="Materials",
        ),
    )


def _facts(basis: Basis, quote: Quote) -> Facts:
    build = basis.spec.build
    pairs = [("price", f"{figure(quote.price, quote.currency)} {quote.currency}")]
    if build.due is not None:
        pairs.append(("delivered by", times.full_day(build.due)))
    return Facts(pairs=tuple(pairs))


def prices_table(basis: Basis, quote: Quote) -> Table:
    """A price a piece; overhead and margin are in it."""
    rows = []
    for name, copies, price in quote.pieces:
        rows.append(
            Row(
                cells=(
                    called(basis.spec, name),
                    body_text(basis.spec.pieces[name], basis.units),
                    str(copies),
                    amounts.paid_figure(price / copies if copies else Fraction(0), quote.currency),
                    figure(price, quote.currency),
                ),
                trace=f"quote.piece.{name}",
            )
        )
    if basis.spec.build.freight is not None:
        freight = figure(quote.freight, quote.currency)
        rows.append(Row(cells=("freight", "", "", "", freight), trace="quote.freight"))
    whole = figure(quote.price, quote.currency)
    rows.append(Row(cells=("in all", "", "", "", whole), strong=True, trace="quote.price"))
    return Table(
        key="prices",
        title=f"Prices, {quote.currency}",
        columns=(
            Column(key="piece", title="piece", share=2.4),
            Column(key="shape", title="what", share=4, spare=2),
            Column(key="copies", title="copies", align=Align.RIGHT, share=0.8),
            Column(key="each", title="each, about", align=Align.RIGHT, share=1.3),
            Column(key="price", title="price", align=Align.RIGHT, share=1.4),
        ),
        rows=tuple(rows),
    )


def quote_table(basis: Basis, quote: Quote) -> Table:
    build = basis.spec.build
    told: list[tuple[str, Fraction, str]] = [("what it costs", quote.cost, "cost")]
    if build.overhead is not None:
        told.append((f"overhead, {amounts.share(build.overhead)} of it", quote.overhead, "overhead"))
    if build.margin is not None:
        told.append((f"margin, {amounts.share(build.margin)} of both, added on", quote.margin, "margin"))
    if build.freight is not None:
        told += [("without freight", quote.goods, "goods"), ("freight", quote.freight, "freight")]
    rows = [
        Row(cells=(what, figure(amount, quote.currency), quote.currency), trace=f"quote.{word}")
        for what, amount, word in told
    ]
    whole = (figure(quote.price, quote.currency), quote.currency)
    rows.append(Row(cells=("price", *whole), strong=True, trace="quote.price"))
    return Table(
        key="quote",
        title="How the price is made",
        columns=(
            Column(key="what", title="what", share=4),
            Column(key="amount", title="amount", align=Align.RIGHT, share=1.5),
            Column(key="currency", title="currency", share=1),
        ),
        rows=tuple(rows),
    )
