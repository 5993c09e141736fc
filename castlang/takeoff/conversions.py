"""From mass to volume to area and back, through a stock's density and weight.

kg = m3 x density = m2 x weight
"""

from fractions import Fraction

from castlang.problems.model import Finding, Outcome, Problem
from castlang.source.model import Span
from castlang.spec.model import Stock
from castlang.spec.quantity import Dimension
from castlang.takeoff import mix_findings

ONE = Fraction(1)


def as_measured_by(stock: Stock, dimension: Dimension, wanted: Dimension, span: Span) -> Outcome[Fraction]:
    """What one SI unit of `dimension` of `stock` comes to in that of `wanted`.

    Finding: the density or weight needed for that is not told.
    """
    if dimension is wanted:
        return Outcome(value=ONE)
    weights = {Dimension.MASS: ONE, Dimension.VOLUME: stock.density, Dimension.AREA: stock.areal}
    here, there = weights.get(dimension), weights.get(wanted)
    if here and there:
        return Outcome(value=here / there)
    volume = Dimension.VOLUME in (dimension, wanted)
    finding: Finding = mix_findings.MISSING_DENSITY if volume else mix_findings.MISSING_WEIGHT
    problem = Problem(
        finding=finding,
        message=f"{stock.name} is used by {dimension.value} and sold by {wanted.value}, "
        f"and its {'density' if volume else 'weight'} is not told",
        span=stock.span if stock.span.line else span,
        remedy=f"write `{'density N kg/m3' if volume else 'weight N g/m2'}` under stock {stock.name}",
        about=(stock.name,),
    )
    return Outcome(value=None, problems=(problem,))
