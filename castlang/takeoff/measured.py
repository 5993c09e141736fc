"""What was measured in the shop, put in the place of what was told or would be computed."""

from dataclasses import replace
from fractions import Fraction

from castlang.spec.model import Spec, Window


def measured_value(spec: Spec, what: str, of: str) -> Fraction | None:
    """The measured `what` of the thing named `of`, in SI; the last line wins; None when not measured."""
    values = [m.amount.si for m in spec.measured if m.what == what and m.of == of]
    return values[-1] if values else None


def as_measured(spec: Spec) -> Spec:
    """`spec` with the measured densities of stocks, masses of fittings and working times of mixes.

    A mix that tells no air gets the shop's, where an `assume` line tells one. The density of a mix, and
    volume, area and mass of a piece, are asked for where they are worked out.
    """
    stocks = {
        name: replace(stock, density=measured_value(spec, "density", name) or stock.density)
        for name, stock in spec.stocks.items()
    }
    fittings = {
        name: replace(fitting, weight=measured_value(spec, "mass", name) or fitting.weight)
        for name, fitting in spec.fittings.items()
    }
    air = spec.defaults.get("entrapped-air")
    mixes = {}
    for name, mix in spec.mixes.items():
        works = measured_value(spec, "works", name)
        if works is not None:
            mix = replace(mix, works=Window(least=works), works_at=None)
        if mix.air is None and air is not None:
            mix = replace(mix, air=air.si)
        mixes[name] = mix
    return replace(spec, stocks=stocks, fittings=fittings, mixes=mixes)
