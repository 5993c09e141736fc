"""How a stock is sold: its packages, the price of each, and how many of the first are on hand."""

from dataclasses import dataclass, replace
from fractions import Fraction

from castlang.spec import findings
from castlang.spec.amounts import money_of, positive, quantity_of
from castlang.spec.block import Block, word_of
from castlang.spec.ledger import Ledger
from castlang.spec.model import Pack, Package
from castlang.spec.quantity import Dimension, Money
from castlang.spec.sizes import Sizes, length_of
from castlang.syntax.model import Part, Statement


@dataclass(frozen=True, slots=True, kw_only=True)
class Sold:
    """The first package and its price, and the further ones."""

    package: Package | None = None
    price: Money | None = None
    more: tuple[Pack, ...] = ()


@dataclass(slots=True)
class _Line:
    """A `sold` line with the `price` line that belongs to it."""

    statement: Statement
    package: Package | None
    price: Money | None = None
    priced: Statement | None = None


def sold_of(ledger: Ledger, block: Block, sizes: Sizes) -> Sold:
    """The `sold` and `price` lines of a stock.

    One package: its price may stand anywhere. Several: each `sold` is followed by its own `price`.
    """
    lines = [_Line(s, package_of(ledger, s, sizes)) for s in block.all("sold")]
    prices = list(block.all("price"))
    if len(lines) <= 1:
        for second in prices[1:]:
            _twice(ledger, second, prices[0])
        part = prices[0].body.part("amount") if prices else None
        price = money_of(ledger, part) if part is not None else None
        return Sold(package=lines[0].package if lines else None, price=price)
    _give_prices(ledger, block, lines)
    return _several(ledger, block, lines)


def _give_prices(ledger: Ledger, block: Block, lines: list[_Line]) -> None:
    above: _Line | None = None
    for statement in block.all("sold", "price"):
        if statement.kind == "sold":
            above = next(line for line in lines if line.statement is statement)
            continue
        part = statement.body.part("amount")
        if above is None:
            ledger.say(
                findings.NOT_SAID,
                "the stock is sold in several packages, and this `price` stands above them all",
                statement.span,
                "write each `price` right under its `sold`",
            )
        elif above.priced is not None:
            _twice(ledger, statement, above.priced)
        elif part is not None:
            above.priced, above.price = statement, money_of(ledger, part)


def _several(ledger: Ledger, block: Block, lines: list[_Line]) -> Sold:
    known = [line for line in lines if line.package is not None]
    first = Sold(package=known[0].package, price=known[0].price) if known else Sold()
    for line in known:
        package = line.package
        if package is not None and package.sheet is not None:
            ledger.say(
                findings.BAD_VALUE,
                "a sheet is sold in one size, and this stock tells several",
                line.statement.span,
                "write the other size as a stock of its own",
            )
            return first
        if line.priced is None and block.statement.lacks("price"):
            ledger.say(
                findings.NOT_SAID,
                "the stock is sold in several packages, and this one has no price to choose by",
                line.statement.span,
                "write its `price` on the line under it",
            )
    measured = list(
        dict.fromkeys(line.package.amount.dimension for line in known if line.package and line.package.amount)
    )
    if len(measured) > 1:
        ledger.say(
            findings.WRONG_UNIT,
            f"one package is sold by {measured[0]}, another by {measured[-1]}",
            known[-1].statement.span,
            "write all packages of a stock by mass, or all by volume",
        )
        return first
    coins = list(dict.fromkeys(line.price.currency for line in known if line.price is not None))
    if len(coins) > 1:
        ledger.say(
            findings.WRONG_UNIT,
            f"one package is priced in {coins[0]}, another in {coins[1]}",
            known[-1].statement.span,
            "write all prices of a stock in one currency",
        )
        return first
    more = tuple(
        Pack(package=line.package, price=line.price)
        for line in known[1:]
        if line.package is not None and line.price is not None
    )
    return replace(first, more=more)


def _twice(ledger: Ledger, second: Statement, first: Statement) -> None:
    ledger.say(
        findings.SAID_TWICE,
        f"`{second.kind}` is said twice for one package",
        second.span,
        related=((first.span, "the first one"),),
    )


def package_of(ledger: Ledger, line: Statement, sizes: Sizes) -> Package | None:
    """The package on a `sold` line."""
    word = word_of(line.body, "word")
    if word is None:
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


def on_hand(ledger: Ledger, block: Block, package: Package | None) -> Fraction:
    """How many of the first package are on hand."""
    part = block.amount("have_packages")
    if part is None:
        return Fraction(0)
    if package is None:
        if block.one("sold") is not None or not block.statement.lacks("sold"):
            return Fraction(0)
        ledger.say(
            findings.NOT_SAID,
            "`have` counts packages, and the stock does not say how it is sold",
            part.span,
            "add a line such as `sold bag of 25 kg`",
        )
        return Fraction(0)
    found = quantity_of(ledger, part, Dimension.COUNT, word=package.word)
    return positive(ledger, found, part, zero=True) or Fraction(0)
