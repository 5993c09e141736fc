"""Which currency the totals are told in, and whether every other one can be turned into it."""

from collections.abc import Iterable, Mapping

from castlang.costing.findings import TWO_CURRENCIES
from castlang.costing.model import OrderLine, Rate
from castlang.costing.rates import rates_to
from castlang.problems.model import Problem
from castlang.source.model import Span
from castlang.spec.model import Fitting, Spec, Station, Stock


def priced_in(spec: Spec, orders: Iterable[OrderLine]) -> dict[str, str]:
    """Every currency of the build with the first thing that is priced in it: the wage's is the first."""
    first: dict[str, str] = {}
    if spec.build.wage is not None:
        first[spec.build.wage.currency] = "wage"
    for order in orders:
        for price in (order.price, *(pack.price for pack in order.packs)):
            if price is not None:
                first.setdefault(price.currency, order.name)
    for station in spec.stations.values():
        if station.price is not None:
            first.setdefault(station.price.currency, station.name)
    if spec.build.freight is not None:
        first.setdefault(spec.build.freight.currency, "freight")
    return first


def base_of(spec: Spec, orders: Iterable[OrderLine]) -> str | None:
    """The currency of the totals: the wage's, else that of the first thing with a price; None without any."""
    return next(iter(priced_in(spec, orders)), None)


def used_rates(spec: Spec, orders: Iterable[OrderLine], rates: Mapping[str, Rate]) -> tuple[Rate, ...]:
    """The rates that turn something of this build, in order of currency."""
    return tuple(rates[code] for code in sorted(priced_in(spec, orders)) if code in rates and rates[code].by)


def apart(spec: Spec, orders: Iterable[OrderLine]) -> tuple[Problem, ...]:
    """A finding for each currency that no `exchange` line joins to that of the totals."""
    first = priced_in(spec, orders)
    if not first:
        return ()
    base = next(iter(first))
    joined = rates_to(base, spec.build.exchange)
    return tuple(
        Problem(
            finding=TWO_CURRENCIES,
            message=f"{first[currency]} is priced in {currency} and {first[base]} in {base}, "
            "with no rate between them",
            span=_priced(spec, first[currency]),
            remedy=f"write `exchange {currency} N {base} on DATE` in the build",
            related=((_priced(spec, first[base]), f"{first[base]}, in {base}"),),
            about=(first[currency],),
        )
        for currency in first
        if currency not in joined
    )


def _priced(spec: Spec, name: str) -> Span:
    """Where the price of `name` stands; the build for a wage or freight."""
    thing: Stock | Fitting | Station | None = (
        spec.stocks.get(name) or spec.fittings.get(name) or spec.stations.get(name)
    )
    return spec.build.span if thing is None else thing.span
