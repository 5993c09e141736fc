"""Stock, fitting and station blocks."""

from collections.abc import Callable
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
from castlang.spec.model import Fitting, Package, Station, Stock
from castlang.spec.quantity import Dimension, Money, Quantity
from castlang.spec.sizes import Sizes, length_of
from castlang.syntax.model import Part, Statement


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


def stock_of(ledger: Ledger, statement: Statement, sizes: Sizes) -> Stock:
    """A stock block."""
    block = Block(ledger, statement)
    weight = value_of(ledger, block, "weight", Dimension.AREAL_MASS)
    package = _package(ledger, block, sizes)
    return Stock(
        name=word_of(statement.body, "name") or "",
        label=text_of(statement.body),
        density=value_of(ledger, block, "density", Dimension.DENSITY),
        areal=weight,
        solids=share_on(ledger, block, "solids"),
        package=package,
        price=price_on(ledger, block),
        have=_have(ledger, block, package),
        lead=value_of(ledger, block, "lead", Dimension.TIME, zero=True) or Fraction(0),
        ordered=date_on(ledger, block, "ordered"),
        keeps=value_of(ledger, block, "keeps", Dimension.TIME),
        covers=value_of(ledger, block, "covers", Dimension.COVERAGE),
        hazards=block.names("hazard"),
        waste=share_on(ledger, block, "waste", most=300),
        kerf=value_of(ledger, block, "kerf", Dimension.LENGTH, zero=True),
        grain=_grain(ledger, block),
        notes=block.notes(),
        span=statement.span,
    )


def _grain(ledger: Ledger, block: Block) -> str | None:
    line = block.one("grain")
    word = line.body.word("word") if line is not None else None
    if word is None:
        return None
    if word.text not in ("long", "wide", "none"):
        ledger.say(findings.BAD_VALUE, f"the grain runs `long`, `wide` or `none`, not `{word.text}`", word.span)
        return None
    return word.text


def _package(ledger: Ledger, block: Block, sizes: Sizes) -> Package | None:
    line = block.one("sold")
    word = word_of(line.body, "word") if line is not None else None
    if line is None or word is None:
        return None
    rectangle = line.body.part("rectangle")
    if rectangle is not None:
        sides = sides_of(ledger, rectangle, sizes)
        return Package(word=word, sheet=sides) if sides is not None else None
    part = line.body.part("amount")
    if part is None:
        return None
    amount = quantity_of(
        ledger, part, Dimension.MASS, Dimension.VOLUME, Dimension.AREA, Dimension.LENGTH, Dimension.COUNT
    )
    if positive(ledger, amount, part) is None:
        return None
    return Package(word=word, amount=amount)


def sides_of(ledger: Ledger, rectangle: Part, sizes: Sizes) -> tuple[Fraction, Fraction] | None:
    """The two sides of `L x L`, in m."""
    sides = [
        length_of(ledger, part, sizes)
        for part in rectangle.children
        if isinstance(part, Part) and part.label in ("amount", "size_name")
    ]
    if len(sides) != 2 or sides[0] is None or sides[1] is None:
        return None
    return sides[0], sides[1]


def _have(ledger: Ledger, block: Block, package: Package | None) -> Fraction:
    part = block.amount("have_packages")
    if part is None:
        return Fraction(0)
    if package is None:
        ledger.say(
            findings.NOT_SAID,
            "`have` counts packages, and the stock does not say how it is sold",
            part.span,
            "add a line such as `sold bag of 25 kg`",
        )
        return Fraction(0)
    found = quantity_of(ledger, part, Dimension.COUNT, word=package.word)
    return positive(ledger, found, part, zero=True) or Fraction(0)


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
        ledger.say(findings.WRONG_UNIT, f"`{found.written}`: a station holds pieces, a volume or a mass", part.span)
        return None
    return found


def _scale(ledger: Ledger, block: Block) -> tuple[Fraction, Fraction, Fraction] | None:
    line = block.one("scale")
    if line is None:
        return None
    values = [
        positive(ledger, quantity_of(ledger, part, Dimension.MASS), part) for part in line.body.parts("amount")
    ]
    if len(values) != 3 or any(v is None for v in values):
        return None
    least, greatest, step = (Fraction(v or 0) for v in values)
    if greatest < least:
        ledger.say(findings.BAD_RANGE, "the scale's range ends before it begins", line.span)
        return None
    return least, greatest, step


