"""Whether what is bought still keeps when the last of it is used.

    ordered + keeps >= last use

Counted from the order date: when it was made nobody tells, and it may be no younger than that.
"""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from castlang.costing.findings import KEPT_TOO_LONG
from castlang.costing.model import OrderLine
from castlang.problems.model import Problem
from castlang.spec.model import Stock

DAY = 86400


def kept_too_long(
    stocks: Mapping[str, Stock], orders: Iterable[OrderLine], start: date
) -> tuple[Problem, ...]:
    """A finding for each stock that is bought on its `ordered` date, else on `start`, and is past its shelf
    life on its last day of use."""
    problems = []
    for order in orders:
        stock = stocks.get(order.name)
        if stock is None or stock.keeps is None or not order.buy or order.last_use is None:
            continue
        ordered = stock.ordered or start
        keeps = int(stock.keeps // DAY)
        until = ordered + timedelta(days=keeps)
        if until >= order.last_use:
            continue
        problems.append(
            Problem(
                finding=KEPT_TOO_LONG,
                message=f"{order.name} ordered on {ordered} keeps {keeps} days, to {until}, "
                f"and is last used on {order.last_use}",
                span=stock.span,
                remedy=_remedy(order, keeps),
                about=(order.name,),
            )
        )
    return tuple(problems)


def _remedy(order: OrderLine, keeps: int) -> str:
    """To order late enough, where that is still soon enough; else in two goes."""
    if order.last_use is None:
        return ""
    latest, soonest = order.latest, order.last_use - timedelta(days=keeps)
    if latest is not None and soonest <= latest:
        return f"order it between {soonest} and {latest}, and write `ordered {latest}` under {order.name}"
    return f"order it in two goes: no order serves both {order.first_use} and {order.last_use}"
