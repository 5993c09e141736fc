"""Stock, fitting and station blocks."""

from datetime import date
from fractions import Fraction

from castlang.spec import findings
from castlang.spec.amounts import (
    count_of,
    date_of,
    money_an_hour,
    money_of,
    positive,
    quantity_of,
    share_of,
)
from castlang.spec.block import Block, text_of, word_of
from castlang.spec.days import days_of
from castlang.spec.ledger import Ledger
from castlang.spec.model import Acts, Fitting, Kit, Station, Stock
from castlang.spec.names import Names, one_of
from castlang.spec.packages import on_hand, sold_of
from castlang.spec.quantity import Dimension, Money, Quantity
from castlang.spec.sizes import Sizes
from castlang.syntax.model import Statement


def value_of(
    ledger: Ledger, block: Block, kind: str, *dimensions: Dimension, zero: bool = False
) -> Fraction | None:
    """The positive SI value on the line of that kind."""
    part = block.amount(kind)
    if part is None:
        return None
    return positive(ledger, quantity_of(ledger, part, *dimensions), part, zero=zero)


def share_on(ledger: Ledger, block: Block, kind: str, *, least: int = 0, most: int = 100) -> Fraction | None:
    """The share on the line of that kind."""
    part = block.amount(kind)
    return None if part is None else share_of(ledger, part, least=least, most=most)


def price_on(ledger: Ledger, block: Block) -> Money | None:
    """The price on the `price` line."""
    part = block.amount("price")
    return None if part is None else money_of(ledger, part)


def date_on(ledger: Ledger, block: Block, kind: str) -> date | None:
    """The date on the line of that kind."""
    line = block.one(kind)
    part = line.body.part("date") if line is not None else None
    return None if part is None else date_of(ledger, part)


def stock_of(ledger: Ledger, statement: Statement, sizes: Sizes, names: Names) -> Stock:
    """A stock block."""
    block = Block(ledger, statement, frozenset({"sold", "price"}))
    sold = sold_of(ledger, block, sizes)
    return Stock(
        name=word_of(statement.body, "name") or "",
        label=text_of(statement.body),
        density=value_of(ledger, block, "density", Dimension.DENSITY),
        areal=value_of(ledger, block, "weight", Dimension.AREAL_MASS),
        solids=share_on(ledger, block, "solids"),
        volume_solids=share_on(ledger, block, "volume_solids"),
        package=sold.package,
        price=sold.price,
        more=sold.more,
        kit=_kit(ledger, block, names),
        have=on_hand(ledger, block, sold.package),
        lead=value_of(ledger, block, "lead", Dimension.TIME, zero=True) or Fraction(0),
        ordered=date_on(ledger, block, "ordered"),
        keeps=value_of(ledger, block, "keeps", Dimension.TIME),
        covers=value_of(ledger, block, "covers", Dimension.COVERAGE),
        hazards=block.names("hazard"),
        waste=share_on(ledger, block, "waste", most=300),
        thick=_thick(ledger, block),
        kerf=value_of(ledger, block, "kerf", Dimension.LENGTH, zero=True),
        grain=_grain(ledger, block),
        acts=acts_on(ledger, block),
        notes=block.notes(),
        span=statement.span,
    )


def _kit(ledger: Ledger, block: Block, names: Names) -> Kit | None:
    """The kit that a part comes in, which is a stock of its own; a part of a kit is not sold alone."""
    line = block.one("kit")
    word = line.body.word("thing") if line is not None else None
    part = line.body.part("amount") if line is not None else None
    if line is None or word is None or part is None:
        return None
    found = one_of(ledger, names, word.text, word.span, ("stock",))
    amount = quantity_of(ledger, part, Dimension.MASS, Dimension.VOLUME)
    sold = block.one("sold")
    if sold is not None:
        ledger.say(
            findings.OUT_OF_PLACE,
            f"`{word_of(block.statement.body, 'name')}` comes in a kit, and is told to be sold alone too",
            sold.span,
            "keep the line that is true",
            related=((line.span, "its kit"),),
        )
    if found is None or amount is None or positive(ledger, amount, part) is None:
        return None
    if all(under.kind != "sold" for under in found.statement.under) and not found.statement.broken:
        ledger.say(
            findings.NOT_SAID,
            f"the kit `{found.name}` does not say how it is sold",
            found.span,
            f"add a line such as `sold kit of 6.5 kg` to the stock `{found.name}`",
        )
        return None
    return Kit(name=found.name, amount=amount)


SAID_OTHERWISE = {"colour": "`color`", "sealer": "`film` or `penetrating`"}
"""Words that people try behind `acts`, and what says it."""


def acts_on(ledger: Ledger, block: Block) -> Acts | None:
    """What a stock or mix does where it is put on, on its `acts` line."""
    line = block.one("acts")
    word = line.body.word("word") if line is not None else None
    if word is None:
        return None
    if word.text not in tuple(Acts):
        known = ", ".join(f"`{acts}`" for acts in Acts)
        near = SAID_OTHERWISE.get(word.text)
        ledger.say(
            findings.BAD_VALUE,
            f"a material acts as one of {known}, not `{word.text}`",
            word.span,
            f"write {near}" if near is not None else None,
        )
        return None
    return Acts(word.text)


def _thick(ledger: Ledger, block: Block) -> Fraction | None:
    line = block.one("thick")
    if line is not None and len(line.body.parts("amount")) > 1:
        message = "a board has one thickness, not a range"
        ledger.say(findings.BAD_VALUE, message, line.span, "write `thick 18 mm`")
        return None
    return value_of(ledger, block, "thick", Dimension.LENGTH)


def _grain(ledger: Ledger, block: Block) -> str | None:
    line = block.one("grain")
    word = line.body.word("word") if line is not None else None
    if word is None:
        return None
    if word.text not in ("long", "wide", "none"):
        ledger.say(
            findings.BAD_VALUE, f"the grain runs `long`, `wide` or `none`, not `{word.text}`", word.span
        )
        return None
    return word.text


def fitting_of(ledger: Ledger, statement: Statement) -> Fitting:
    """A fitting block."""
    block = Block(ledger, statement)
    buy = block.count("buy")
    return Fitting(
        name=word_of(statement.body, "name") or "",
        label=text_of(statement.body),
        buy=None if buy is None else count_of(ledger, buy, least=0),
        price=price_on(ledger, block),
        lead=value_of(ledger, block, "lead", Dimension.TIME, zero=True) or Fraction(0),
        ordered=date_on(ledger, block, "ordered"),
        weight=value_of(ledger, block, "weight", Dimension.MASS, zero=True),
        carries=value_of(ledger, block, "carries", Dimension.MASS),
        hazards=block.names("hazard"),
        notes=block.notes(),
        span=statement.span,
    )


def station_of(ledger: Ledger, statement: Statement) -> Station:
    """A station block."""
    block = Block(ledger, statement, frozenset({"closed"}))
    have = block.count("have")
    price = block.amount("price")
    closed = tuple(d for d in (days_of(ledger, line) for line in block.all("closed")) if d is not None)
    return Station(
        name=word_of(statement.body, "name") or "",
        label=text_of(statement.body),
        have=(None if have is None else count_of(ledger, have)) or 1,
        holds=_holds(ledger, block, "holds"),
        lifts=value_of(ledger, block, "lifts", Dimension.MASS),
        least=_holds(ledger, block, "least"),
        scale=_scale(ledger, block),
        price=None if price is None else money_an_hour(ledger, price),
        closed=closed,
        notes=block.notes(),
        span=statement.span,
    )


def _holds(ledger: Ledger, block: Block, kind: str) -> Quantity | None:
    part = block.amount(kind)
    if part is None:
        return None
    found = quantity_of(ledger, part, Dimension.VOLUME, Dimension.MASS, Dimension.COUNT)
    if positive(ledger, found, part) is None or found is None:
        return None
    if found.dimension is Dimension.COUNT and (found.word != "pieces" or found.si.denominator != 1):
        ledger.say(
            findings.WRONG_UNIT, f"`{found.written}`: a station holds pieces, a volume or a mass", part.span
        )
        return None
    return found


def _scale(ledger: Ledger, block: Block) -> tuple[Fraction, Fraction, Fraction] | None:
    line = block.one("scale")
    if line is None:
        return None
    values = [
        positive(ledger, quantity_of(ledger, part, Dimension.MASS), part)
        for part in line.body.parts("amount")
    ]
    if len(values) != 3 or any(v is None for v in values):
        return None
    least, greatest, step = (Fraction(v or 0) for v in values)
    if greatest < least:
        ledger.say(findings.BAD_RANGE, "the scale's range ends before it begins", line.span)
        return None
    return least, greatest, step
