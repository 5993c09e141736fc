"""What the client pays.

quote.cost    quote.overhead    quote.margin    quote.freight    quote.goods    quote.price
quote.piece.PIECE
"""

from collections.abc import Iterator
from fractions import Fraction

from castlang.costing.model import Quote
from castlang.spec.quantity import Dimension, Money
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure
from castlang.trace.money import COIN, money_figure

NOUGHT = Fraction(0)
QUOTED = ("cost", "overhead", "margin", "freight", "goods", "price")


def _names(ground: Ground) -> Iterator[str]:
    if ground.costing.quote is not None:
        yield from (f"quote.{word}" for word in QUOTED)
        for name, _, _ in ground.costing.quote.pieces:
            yield f"quote.piece.{name}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    quote = ground.costing.quote
    return _quote(ground, name, rest, quote) if kind == "quote" and quote is not None else None


QUOTES = Subject(names=_names, figure=_figure)


def _quote(ground: Ground, name: str, word: str, quote: Quote) -> Figure | None:
    build, currency = ground.spec.build, quote.currency
    share = {"overhead": build.overhead, "margin": build.margin}.get(word)
    if word == "cost":
        return money_figure(
            name, quote.cost, currency, "what it costs", "c", ground.inputs(("c", "cost.all"))
        )
    if word in ("overhead", "margin"):
        told = ground.told(word, share or NOUGHT, Dimension.SHARE, build.span, word)
        of = [("c", "quote.cost")] + ([("o", "quote.overhead")] if word == "margin" else [])
        value = quote.overhead if word == "overhead" else quote.margin
        formula = "m (c + o)" if word == "margin" else "m c"
        return money_figure(
            name, value, currency, f"{word}, added on", formula, ground.inputs(("m", told), *of), COIN
        )
    if word == "freight":
        freight = build.freight or Money(amount=NOUGHT, currency=currency)
        told = ground.told(
            "freight told", freight.amount, Dimension.MONEY, build.span, "freight", word=freight.currency
        )
        turn = [] if freight.currency == currency else [("r", f"rate.{freight.currency}")]
        formula = "f r" if turn else "f"
        return money_figure(
            name, quote.freight, currency, "freight", formula, ground.inputs(("f", told), *turn), COIN
        )
    parts = ground.inputs(("c", "quote.cost"), ("o", "quote.overhead"), ("m", "quote.margin"))
    if word == "goods":
        return money_figure(name, quote.goods, currency, "the price without freight", "c + o + m", parts)
    if word == "price":
        inputs = ground.inputs(("g", "quote.goods"), ("f", "quote.freight"))
        return money_figure(name, quote.price, currency, "what the client pays", "g + f", inputs)
    found = next((p for p in quote.pieces if f"piece.{p[0]}" == word), None)
    if found is None:
        return None
    inputs = ground.inputs(("g", "quote.goods"), ("c", f"cost.piece.{found[0]}"), ("C", "quote.cost"))
    return money_figure(
        name, found[2], currency, f"{found[0]}, all copies, without freight", "g c / C", inputs, COIN
    )
