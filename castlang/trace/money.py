"""What the build costs, and what the client pays.

cost.material    cost.waste    cost.labour    cost.stations    cost.contingency    cost.all
cost.piece.PIECE    hours.OWNER    hours.all    hired.STATION    rate.CURRENCY
quote.cost    quote.overhead    quote.margin    quote.freight    quote.goods    quote.price
quote.piece.PIECE
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from castlang.costing.model import OrderLine, PieceCost, Rate, Sums
from castlang.costing.rates import rates_to, turned
from castlang.costing.sums import net_worth, wages
from castlang.spec.quantity import Dimension
from castlang.trace.buying import key_of
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input

NOUGHT = Fraction(0)
COIN = "to the smallest coin, half to even"
SUMS = ("material", "waste", "labour", "stations", "contingency", "all")


def _names(ground: Ground) -> Iterator[str]:
    costing = ground.costing
    for station in costing.stations:
        yield f"hired.{station.station}"
    for rate in costing.rates:
        yield f"rate.{rate.sold}"
    if costing.sums is not None:
        yield from (f"cost.{word}" for word in SUMS)
    for piece in costing.pieces:
        yield f"cost.piece.{piece.piece}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    costing = ground.costing
    match kind:
        case "hired":
            return _hired(ground, name, rest)
        case "rate":
            rate = next((rate for rate in costing.rates if rate.sold == rest), None)
            return None if rate is None else _rate(ground, name, rate)
        case "cost" if costing.sums is not None:
            if rest.startswith("piece."):
                piece = next((p for p in costing.pieces if f"piece.{p.piece}" == rest), None)
                return None if piece is None else _piece(ground, name, piece, costing.sums)
            return _cost(ground, name, rest, costing.sums) if rest in SUMS else None
        case _:
            return None


MONEY = Subject(names=_names, figure=_figure)


def money_figure(
    name: str,
    value: Fraction,
    currency: str,
    says: str,
    formula: str,
    inputs: tuple[Input, ...],
    source: str = "",
) -> Figure:
    """The figure of a cost or of the quote, by its name; None when it is none."""
    return Figure(
        name=name,
        value=value,
        dimension=Dimension.MONEY,
        word=currency,
        says=says,
        formula=formula,
        inputs=inputs,
        source=source,
    )


def _rates(ground: Ground) -> Mapping[str, Rate]:
    sums = ground.costing.sums
    return {} if sums is None else rates_to(sums.currency, ground.spec.build.exchange)


def _hired(ground: Ground, name: str, station: str) -> Figure | None:
    found = next((hours for hours in ground.costing.stations if hours.station == station), None)
    told = ground.spec.stations.get(station)
    sums = ground.costing.sums
    if found is None or told is None or told.price is None or sums is None:
        return None
    used = Figure(
        name=f"{station} in use",
        value=Fraction(found.minutes * 60),
        dimension=Dimension.TIME,
        source="the plan: worked time of steps, clock time from take to free",
    )
    price = ground.told(
        f"price of {station} an hour",
        told.price.amount,
        Dimension.MONEY,
        told.span,
        "price",
        word=told.price.currency,
    )
    inputs = ground.inputs(("T", used), ("p", price), *_turn(told.price.currency, sums))
    return money_figure(
        name, found.cost, sums.currency, f"{station}, hired by the hour", "T / 60 min x p", inputs, COIN
    )


def _turn(currency: str, sums: Sums) -> list[tuple[str, Figure | str | None]]:
    return [] if currency == sums.currency else [("r", f"rate.{currency}")]


def _rate(ground: Ground, name: str, rate: Rate) -> Figure:
    lines: list[tuple[str, Figure | str | None]] = [
        (
            "r",
            ground.told(
                f"1 {line.sold}" + (f" on {line.on.isoformat()}" if line.on else ""),
                line.rate,
                Dimension.MONEY,
                ground.spec.build.span,
                "exchange",
                word=line.bought,
            ),
        )
        for line in rate.by
    ]
    return money_figure(
        name,
        rate.rate,
        rate.bought,
        f"1 {rate.sold}",
        "r, or 1 / r the other way" if len(lines) == 1 else "product of r, each the way round that leads on",
        ground.inputs(*lines),
    )


# ---------------------------------------------------------------- the sums


def _cost(ground: Ground, name: str, word: str, sums: Sums) -> Figure:
    match word:
        case "material" | "waste":
            return _material(ground, name, sums, waste=word == "waste")
        case "labour":
            return _labour(ground, name, sums)
        case "stations":
            pairs = [("p", f"hired.{s.station}") for s in ground.costing.stations]
            return money_figure(
                name, sums.stations, sums.currency, "priced stations", "sum of p", ground.inputs(*pairs)
            )
        case "contingency":
            build = ground.spec.build
            share = ground.told(
                "contingency", build.contingency or NOUGHT, Dimension.SHARE, build.span, "contingency"
            )
            inputs = ground.inputs(("c", share), *_before(("a", "b", "l", "s")))
            return money_figure(
                name,
                sums.contingency,
                sums.currency,
                "for what is not foreseen",
                "c (a + b + l + s)",
                inputs,
                COIN,
            )
        case _:
            inputs = ground.inputs(*_before(("a", "b", "l", "s")), ("k", "cost.contingency"))
            return money_figure(
                name, sums.total, sums.currency, "the build in all", "a + b + l + s + k", inputs
            )


def _before(symbols: tuple[str, str, str, str]) -> list[tuple[str, Figure | str | None]]:
    return [
        (symbol, f"cost.{word}")
        for symbol, word in zip(symbols, ("material", "waste", "labour", "stations"), strict=True)
    ]


def _material(ground: Ground, name: str, sums: Sums, *, waste: bool) -> Figure:
    rates = _rates(ground)
    inputs = []
    total = NOUGHT
    for order in ground.costing.orders:
        worth = None if order.worth is None else turned(order.worth, rates)
        if worth is None:
            continue
        net = net_worth(order, worth, sums.currency)
        part = worth - net if waste else net
        if part:
            inputs.append(Input(symbol="p", figure=_part(ground, order, part, sums, waste=waste)))
            total += part
    says = "material that is wasted" if waste else "material without its waste"
    return money_figure(name, total, sums.currency, says, "sum of p", tuple(inputs), COIN)


def _part(ground: Ground, order: OrderLine, part: Fraction, sums: Sums, *, waste: bool) -> Figure:
    """What one material costs without its waste, or its waste alone, in the currency of the totals."""
    key = key_of(ground, order)
    currency = order.worth.currency if order.worth is not None else sums.currency
    turn = " r" if currency != sums.currency else ""
    return money_figure(
        f"{'waste' if waste else 'net'} of {key}",
        part,
        sums.currency,
        "",
        f"P{turn} (X - x) / X" if waste else f"P{turn} x / X",
        ground.inputs(
            ("P", f"worth.{key}"), ("X", f"need.{key}"), ("x", f"net.{key}"), *_turn(currency, sums)
        ),
        COIN,
    )


def _labour(ground: Ground, name: str, sums: Sums) -> Figure:
    wage = ground.spec.build.wage
    if wage is None:
        return money_figure(name, sums.labour, sums.currency, "no wage told", "", ())
    told = ground.told(
        "wage an hour", wage.amount, Dimension.MONEY, ground.spec.build.span, "wage", word=wage.currency
    )
    rates = _rates(ground)
    inputs = [
        Input(
            symbol="l",
            figure=money_figure(
                f"labour of {hours.owner}",
                wages(ground.spec.build, hours.minutes, rates),
                sums.currency,
                "",
                "t / 60 min x w",
                ground.inputs(("t", f"hours.{hours.owner}"), ("w", told), *_turn(wage.currency, sums)),
                COIN,
            ),
        )
        for hours in ground.costing.hours
    ]
    return money_figure(name, sums.labour, sums.currency, "work of people", "sum of l", tuple(inputs))


def _piece(ground: Ground, name: str, piece: PieceCost, sums: Sums) -> Figure:
    parts = (
        ("a", "material", piece.material, "its own steps and its molds, by what they take"),
        ("l", "labour", piece.labour, "its own steps and its molds"),
        ("s", "stations", piece.stations, "its own steps and its molds"),
        ("j", "its part of jobs and temporary works", piece.shared, "by what the pieces cost of themselves"),
        ("k", "its part of the contingency", piece.contingency, "by what stands above it"),
    )
    inputs = tuple(
        Input(
            symbol=symbol,
            figure=money_figure(f"{word} of {piece.piece}", value, sums.currency, "", "", (), source),
        )
        for symbol, word, value, source in parts
    )
    says = f"{piece.piece}, all {piece.copies} copies" if piece.copies > 1 else piece.piece
    return money_figure(name, piece.total, sums.currency, says, "a + l + s + j + k", inputs)
