"""What is needed of each stock and fitting, what to buy, by when, and what it costs.

    net.NAME    need.NAME[.OWNER.STEP]    buy.NAME    left.NAME    pay.NAME    worth.NAME
    first-use.NAME    order-by.NAME    laid-out.CURRENCY

A stock that is used both by mass and by volume and does not say how it is sold has `.mass` and `.volume`
behind NAME.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from castlang.costing.model import OrderLine, Packs
from castlang.spec.model import Fitting, Stock
from castlang.spec.quantity import Dimension
from castlang.takeoff.bill import times_done
from castlang.takeoff.model import BillLine
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure
from castlang.trace.panels import for_panels

KINDS = ("net", "need", "buy", "left", "pay", "worth", "first-use", "order-by")
SUFFIX = {Dimension.MASS: "mass", Dimension.VOLUME: "volume", Dimension.AREA: "area"}


def key_in(bill: Sequence[BillLine], line: BillLine | OrderLine) -> str:
    """What a line of the bill is called: its name, with what it is measured by where there are two of it."""
    name = line.stock if isinstance(line, BillLine) else line.name
    same = [other for other in bill if other.stock == name]
    return f"{name}.{SUFFIX[line.dimension]}" if len(same) > 1 and line.dimension in SUFFIX else name


def key_of(ground: Ground, line: BillLine | OrderLine) -> str:
    """The same, in the bill of a build."""
    return key_in(ground.takeoff.bill, line)


def _names(ground: Ground) -> Iterator[str]:
    for line in ground.takeoff.bill:
        key = key_of(ground, line)
        yield f"net.{key}"
        yield f"need.{key}"
        for source, _ in line.of:
            yield f"need.{key}.{source}"
    for order in ground.costing.orders:
        key = key_of(ground, order)
        if order.left is not None:
            yield f"buy.{key}"
            yield f"left.{key}"
        if order.cost is not None:
            yield f"pay.{key}"
        if order.worth is not None:
            yield f"worth.{key}"
        if order.first_use is not None:
            yield f"first-use.{key}"
        if order.order_by is not None:
            yield f"order-by.{key}"
    for currency in ground.costing.material:
        yield f"laid-out.{currency}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    if kind == "laid-out" and rest in ground.costing.material:
        return _laid_out(ground, name, rest)
    if kind not in KINDS:
        return None
    for line in ground.takeoff.bill:
        key = key_of(ground, line)
        if rest == key and kind in ("net", "need"):
            return _needed(ground, name, line, net=kind == "net")
        if kind == "need" and rest.startswith(f"{key}."):
            source = rest.removeprefix(f"{key}.")
            if source in [told for told, _ in line.of]:
                return _from(ground, name, line, source)
    for order in ground.costing.orders:
        if rest == key_of(ground, order):
            return _ordered(ground, name, kind, order)
    return None


BUYING = Subject(names=_names, figure=_figure)


# ---------------------------------------------------------------- needs


def _needed(ground: Ground, name: str, line: BillLine, *, net: bool) -> Figure:
    key = key_of(ground, line)
    inputs = ground.inputs(*(("x", f"need.{key}.{source}") for source, _ in line.of))
    if net:
        inputs = ground.inputs(("X", f"need.{key}"))
    return Figure(
        name=name,
        value=line.net if net else line.gross,
        dimension=line.dimension,
        word="pieces" if line.dimension is Dimension.COUNT else "",
        says=f"{line.stock} for the whole build, {'without' if net else 'with'} waste",
        formula="X, without what was added for waste and offcuts" if net else "sum of x",
        inputs=inputs,
        source="the bill is the sum of its steps",
    )


def _from(ground: Ground, name: str, line: BillLine, source: str) -> Figure:
    """What one step takes for all its copies, or a mold for its panels."""
    gross = next(gross for told, gross in line.of if told == source)
    owner, _, step = source.partition(".")
    if step == "panels":
        return for_panels(ground, name, line.stock, owner, gross)
    told = ground.steps.get((owner, step))
    if told is None:
        fitting = ground.spec.fittings[source]
        bought = ground.told(
            f"number of {source}", fitting.buy or gross, Dimension.COUNT, fitting.span, "buy", word="pieces"
        )
        return Figure(
            name=name,
            value=gross,
            word="pieces",
            says=f"{source}, beyond what the steps build in",
            formula="n, less what the steps take",
            inputs=ground.inputs(("n", bought)),
        )
    times = times_done(ground.measured, told)
    piece = ground.spec.pieces.get(told.each or told.owner)
    pairs: list[tuple[str, Figure | str | None]] = [("x", f"use.{source}.{line.stock}")]
    if times > 1 and piece is not None:
        pairs.append(
            ("n", ground.told(f"copies of {piece.name}", times, Dimension.COUNT, piece.span, "make"))
        )
    taken = ground.takeoff.steps[owner, step].uses
    used = next((use.dimension for use in taken if use.stock == line.stock), line.dimension)
    formula = "x n" if times > 1 else "x"
    if used is not line.dimension:  # the bill tells all of a stock in one measure
        pairs.append(("rho", f"density.{line.stock}"))
        formula += " rho" if line.dimension is Dimension.MASS else " / rho"
    return Figure(
        name=name,
        value=gross,
        dimension=line.dimension,
        word="pieces" if line.dimension is Dimension.COUNT else "",
        says=f"{line.stock} in {source}, all copies, with waste",
        formula=formula,
        inputs=ground.inputs(*pairs),
    )


# ---------------------------------------------------------------- orders


def _ordered(ground: Ground, name: str, kind: str, order: OrderLine) -> Figure | None:
    match kind:
        case "buy":
            return _bought(ground, name, order)
        case "left":
            return _left(ground, name, order)
        case "pay":
            return _paid(ground, name, order)
        case "worth":
            return _worth(ground, name, order)
        case "first-use":
            return _first_use(name, order)
        case _:
            return _order_by(ground, name, order)


def _thing(ground: Ground, order: OrderLine) -> Stock | Fitting:
    return ground.spec.fittings[order.name] if order.fitting else ground.spec.stocks[order.name]


def _sizes(ground: Ground, order: OrderLine) -> list[tuple[str, Figure | str | None]]:
    """The packages and what is on hand, as told."""
    stock = ground.spec.stocks.get(order.name)
    if order.fitting or stock is None:
        return []
    pairs: list[tuple[str, Figure | str | None]] = []
    for pack in order.packs:
        nth = _place(stock, pack)
        said = f"{pack.package.word} of {order.name}"
        size = ground.told(said, pack.size, order.dimension, stock.span, "sold", nth=nth)
        pairs.append(("s", size))
    have = ground.told(
        f"{order.name} on hand", order.have, Dimension.COUNT, stock.span, "have", word=order.package or ""
    )
    return [*pairs, ("h", have)]


def _place(thing: Stock | Fitting, pack: Packs) -> int:
    """Which of the `sold` lines of a stock, from 0, tells a package."""
    more = thing.more if isinstance(thing, Stock) else ()
    return next((n for n, other in enumerate(more, start=1) if other.package is pack.package), 0)


def _bought(ground: Ground, name: str, order: OrderLine) -> Figure | None:
    if order.left is None:
        return None
    several = len(order.packs) > 1
    formula = "x, rounded up" if order.fitting else "x / s - h, rounded up"
    split = ", ".join(
        f"{pack.number} {pack.package.word} of {pack.package.amount.written}"
        for pack in order.packs
        if pack.package.amount is not None and pack.number
    )
    return Figure(
        name=name,
        value=Fraction(order.buy),
        word="pieces" if order.fitting else "packages",
        says=f"{order.name} to buy" + (f": {split}" if several else ""),
        formula="the sizes that cover x - h s at least cost, s the first" if several else formula,
        inputs=ground.inputs(("x", f"need.{key_of(ground, order)}"), *_sizes(ground, order)),
        source="never short, never a package too many",
    )


def _left(ground: Ground, name: str, order: OrderLine) -> Figure | None:
    if order.left is None:
        return None
    key = key_of(ground, order)
    return Figure(
        name=name,
        value=order.left,
        dimension=order.dimension,
        word="pieces" if order.dimension is Dimension.COUNT else "",
        says=f"{order.name} left over of all there is",
        formula="n - x" if order.fitting else "all bought and on hand - x",
        inputs=ground.inputs(("n", f"buy.{key}"), ("x", f"need.{key}"), *_sizes(ground, order)),
    )


def _prices(ground: Ground, order: OrderLine) -> list[tuple[str, Figure | str | None]]:
    thing = _thing(ground, order)
    return [
        (
            "p",
            ground.told(
                f"price of {pack.package.word} of {order.name}",
                pack.price.amount,
                Dimension.MONEY,
                thing.span,
                "price",
                word=pack.price.currency,
                nth=_place(thing, pack),
            ),
        )
        for pack in order.packs
        if pack.price is not None
    ]


def _paid(ground: Ground, name: str, order: OrderLine) -> Figure | None:
    if order.cost is None:
        return None
    return Figure(
        name=name,
        value=order.cost.amount,
        dimension=Dimension.MONEY,
        word=order.cost.currency,
        says=f"to pay for {order.name}",
        formula="sum of n p" if len(order.packs) > 1 else "n p",
        inputs=ground.inputs(("n", f"buy.{key_of(ground, order)}"), *_prices(ground, order)),
    )


def _worth(ground: Ground, name: str, order: OrderLine) -> Figure | None:
    if order.worth is None:
        return None
    key = key_of(ground, order)
    sizes = [pair for pair in _sizes(ground, order) if pair[0] == "s"]
    return Figure(
        name=name,
        value=order.worth.amount,
        dimension=Dimension.MONEY,
        word=order.worth.currency,
        says=f"what the need of {order.name} is worth, on hand or bought",
        formula="x p" if order.fitting else "x p / s, of the packages bought, else of the first",
        inputs=ground.inputs(("x", f"need.{key}"), *_prices(ground, order), *sizes),
        source="to the smallest coin, half to even",
    )


def _laid_out(ground: Ground, name: str, currency: str) -> Figure:
    lines = [o for o in ground.costing.orders if o.cost is not None and o.cost.currency == currency]
    return Figure(
        name=name,
        value=ground.costing.material[currency],
        dimension=Dimension.MONEY,
        word=currency,
        says=f"to pay for all that is bought in {currency}",
        formula="sum of p",
        inputs=ground.inputs(*(("p", f"pay.{key_of(ground, order)}") for order in lines)),
    )


# ---------------------------------------------------------------- days


def _first_use(name: str, order: OrderLine) -> Figure | None:
    if order.first_use is None:
        return None
    return Figure(
        name=name,
        text=order.first_use.isoformat(),
        says=f"the first step that uses {order.name} begins",
        source="the plan",
    )


def _order_by(ground: Ground, name: str, order: OrderLine) -> Figure | None:
    if order.order_by is None:
        return None
    thing = _thing(ground, order)
    lead = ground.told(f"lead of {order.name}", thing.lead, Dimension.TIME, thing.span, "lead")
    return Figure(
        name=name,
        text=order.order_by.isoformat(),
        says=f"the latest day to order {order.name}",
        formula="d - l, in whole days of the calendar; the last day up to then on which the shop is open",
        inputs=ground.inputs(("d", f"first-use.{key_of(ground, order)}"), ("l", lead)),
    )
