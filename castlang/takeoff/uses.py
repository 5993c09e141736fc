"""What steps take from the stores, each stock in the unit that it is sold in."""

from collections.abc import Sequence
from fractions import Fraction

from castlang.problems.model import Outcome
from castlang.source.model import Span
from castlang.spec.model import Mix, Spec, Step, Stock
from castlang.spec.quantity import Dimension
from castlang.takeoff.conversions import as_measured_by
from castlang.takeoff.kits import in_kits
from castlang.takeoff.model import Recipe, Use
from castlang.takeoff.said import Said

NOUGHT = Fraction(0)
ONE = Fraction(1)


def waste_of(spec: Spec, step: Step | None, material: str | None) -> Fraction:
    """The waste to add, as a share: of the step, else of its mix or stock, else of the build."""
    if step is not None and step.waste is not None:
        return step.waste
    named: Mix | Stock | None = None
    if material is not None:
        named = spec.mixes.get(material) or spec.stocks.get(material)
    if named is not None and named.waste is not None:
        return named.waste
    return spec.build.waste or NOUGHT


def sold_by(stock: Stock) -> Dimension | None:
    """What `stock` is sold by; None when no package is told."""
    if stock.package is None:
        return None
    if stock.package.sheet is not None:
        return Dimension.AREA
    return stock.package.amount.dimension if stock.package.amount else None


def use_of(stock: Stock, dimension: Dimension, net: Fraction, waste: Fraction, span: Span) -> Outcome[Use]:
    """`net` of `stock` in the SI unit of `dimension`, turned into what it is sold by, with waste.

    kg = m3 x density = m2 x weight. Findings: the density or weight needed for that is not told.
    """
    said = Said()
    wanted = sold_by(stock) or dimension
    amount = net
    if wanted is not dimension:
        factor = said.heard(as_measured_by(stock, dimension, wanted, span))
        amount = net * (factor or NOUGHT)
    return said.outcome(Use(stock=stock.name, dimension=wanted, net=amount, gross=amount * (ONE + waste)))


def uses_of_mix(
    spec: Spec, mix: Mix, recipe: Recipe, volume: Fraction, waste: Fraction, span: Span
) -> Outcome[tuple[Use, ...]]:
    """What `volume` m3 of `mix` takes, net and with waste: by mass, or by volume where it is so measured."""
    said = Said()
    uses = []
    for line in recipe.lines:
        stock = spec.stocks.get(line.stock, Stock(name=line.stock))
        if mix.measure == "volume":
            amount, dimension = volume * (line.volume or NOUGHT), Dimension.VOLUME
        else:
            amount, dimension = volume * line.mass, Dimension.MASS
        use = said.heard(use_of(stock, dimension, amount, waste, span))
        if use is not None:
            uses.append(use)
    return said.outcome(said.heard(in_kits(spec, mix, together(uses))))


def together(uses: Sequence[Use]) -> tuple[Use, ...]:
    """One use for each stock and dimension, in the order first met."""
    found: dict[tuple[str, Dimension], Use] = {}
    for use in uses:
        key = (use.stock, use.dimension)
        before = found.get(key)
        net, gross = (before.net, before.gross) if before else (NOUGHT, NOUGHT)
        found[key] = Use(stock=use.stock, dimension=use.dimension, net=net + use.net, gross=gross + use.gross)
    return tuple(found.values())
