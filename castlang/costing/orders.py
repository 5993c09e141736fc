"""The order list: one line for each stock and fitting that the shop keeps or buys."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from castlang.costing.days_of_use import DaysOfUse
from castlang.costing.model import OrderLine, Packs
from castlang.costing.order_dates import days_of, order_by
from castlang.costing.packages import bought, cheapest
from castlang.plan.model import Hours
from castlang.spec.minor_units import paid
from castlang.spec.model import Fitting, Package, Stock
from castlang.spec.quantity import Dimension, Money
from castlang.takeoff.model import BillLine

NOUGHT = Fraction(0)
PIECE = Package(word="piece")


def orders_of(
    stocks: Mapping[str, Stock],
    fittings: Mapping[str, Fitting],
    bill: tuple[BillLine, ...],
    uses: Mapping[str, DaysOfUse],
    shops: Sequence[Hours] = (),
) -> tuple[OrderLine, ...]:
    """One line for each line of the bill that the shop keeps or buys; tap water is not ordered. shops: when
    those are open who order."""
    lines = []
    for line in bill:
        used = uses.get(line.stock)
        if line.dimension is Dimension.COUNT and line.stock in fittings:
            lines.append(_fitting_order(fittings[line.stock], line, used, shops))
        elif line.stock in stocks:
            lines.append(_stock_order(stocks[line.stock], line, used, shops))
    return tuple(lines)


def _fitting_order(
    fitting: Fitting, line: BillLine, used: DaysOfUse | None, shops: Sequence[Hours]
) -> OrderLine:
    whole = bought(line.gross, Fraction(1), NOUGHT)
    return OrderLine(
        name=fitting.name,
        fitting=True,
        dimension=Dimension.COUNT,
        need=line.gross,
        net=line.net,
        package=None,
        package_size=None,
        have=NOUGHT,
        buy=whole.packages,
        left=whole.left,
        price=fitting.price,
        cost=cost_of(fitting.price, whole.packages),
        lead_days=days_of(fitting.lead),
        first_use=None if used is None else used.first,
        last_use=None if used is None else used.last,
        order_by=None if used is None else order_by(used.first, fitting.lead, shops),
        packs=(_packs(PIECE, Fraction(1), whole.packages, fitting.price),),
        worth=None if fitting.price is None else _worth(fitting.price, line.gross),
    )


def _stock_order(stock: Stock, line: BillLine, used: DaysOfUse | None, shops: Sequence[Hours]) -> OrderLine:
    packs = packs_for(stock, line.dimension, line.gross)
    size = package_size(stock.package, line.dimension)
    number = sum(pack.number for pack in packs)
    there = None if size is None else stock.have * size + sum((p.number * p.size for p in packs), NOUGHT)
    needed = size is None or number > 0
    return OrderLine(
        name=stock.name,
        fitting=False,
        dimension=line.dimension,
        need=line.gross,
        net=line.net,
        package=stock.package.word if stock.package else None,
        package_size=size,
        have=stock.have,
        buy=number,
        left=None if there is None else there - line.gross,
        price=stock.price,
        cost=_together(packs),
        lead_days=days_of(stock.lead),
        first_use=None if used is None else used.first,
        last_use=None if used is None else used.last,
        order_by=order_by(used.first, stock.lead, shops) if used is not None and needed else None,
        packs=packs,
        worth=_worth_of(packs, line.gross),
    )


def packs_for(stock: Stock, dimension: Dimension, need: Fraction) -> tuple[Packs, ...]:
    """What to buy of each size: the first size always, further ones where some are bought; nothing where the
    stock is not sold by `dimension`."""
    first = package_size(stock.package, dimension)
    if stock.package is None or first is None:
        return ()
    if stock.price is None or not stock.more:
        number = bought(need, first, stock.have).packages
        return (_packs(stock.package, first, number, stock.price),)
    offers = [(stock.package, first, stock.price)]
    for more in stock.more:
        size = package_size(more.package, dimension)
        if size is not None:
            offers.append((more.package, size, more.price))
    short = need - stock.have * first
    counts = cheapest(short, [size for _, size, _ in offers], [price.amount for _, _, price in offers])
    return tuple(
        _packs(package, size, number, price)
        for at, ((package, size, price), number) in enumerate(zip(offers, counts, strict=True))
        if number or at == 0
    )


def _packs(package: Package, size: Fraction, number: int, price: Money | None) -> Packs:
    return Packs(package=package, size=size, number=number, price=price, cost=cost_of(price, number))


def package_size(package: Package | None, dimension: Dimension) -> Fraction | None:
    """What one package holds in the SI unit of `dimension`; None when it is not sold by it."""
    if package is None:
        return None
    if package.sheet is not None:
        return package.sheet[0] * package.sheet[1] if dimension is Dimension.AREA else None
    if package.amount is None:  # a kit: counted as a whole
        return Fraction(1) if dimension is Dimension.COUNT else None
    if package.amount.dimension is not dimension or package.amount.si <= 0:
        return None
    return package.amount.si


def cost_of(price: Money | None, packages: int) -> Money | None:
    """What `packages` cost; nothing to buy costs nothing only where a price is told."""
    return None if price is None else Money(amount=price.amount * packages, currency=price.currency)


def _together(packs: tuple[Packs, ...]) -> Money | None:
    """The cost of all packs: the prices of one stock are told in one currency."""
    costs = [pack.cost for pack in packs if pack.cost is not None]
    if not costs or len(costs) != len(packs):
        return None
    return Money(amount=sum((cost.amount for cost in costs), NOUGHT), currency=costs[0].currency)


def _worth_of(packs: tuple[Packs, ...], amount: Fraction) -> Money | None:
    """What `amount` is worth at the price of the packages bought; where none is, at that of the first."""
    cost = _together(packs)
    if cost is None or packs[0].price is None:
        return None
    size = sum((pack.size * pack.number for pack in packs), NOUGHT)
    if not size:
        return _worth(packs[0].price, amount / packs[0].size)
    return _worth(cost, amount / size)


def _worth(price: Money, number: Fraction) -> Money:
    return Money(amount=paid(price.amount * number, price.currency), currency=price.currency)
