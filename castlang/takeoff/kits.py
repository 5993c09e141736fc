"""Parts that are bought together: what a mix takes of them, counted in kits.

    k = max(m_i / K_i)          m_i of part i, K_i what one kit holds of it

So many kits are used up, in parts of a kit; whole ones are counted where they are bought.
"""

from collections.abc import Sequence
from fractions import Fraction

from castlang.problems.model import Outcome, Problem
from castlang.spec.model import Mix, Spec, Stock
from castlang.spec.quantity import Dimension
from castlang.takeoff import mix_findings, wording
from castlang.takeoff.conversions import as_measured_by
from castlang.takeoff.model import Use
from castlang.takeoff.said import Said

OFF = Fraction(2, 100)  # of the ratio; common practice, no source


def in_kits(spec: Spec, mix: Mix, uses: Sequence[Use]) -> Outcome[tuple[Use, ...]]:
    """`uses` with the parts that come in a kit taken together as that kit, in the order first met.

    Findings: a density that is needed and not told; a mix that takes the parts in another ratio than the kit.
    """
    said = Said()
    kits: dict[str, dict[str, Fraction]] = {}  # kit: part: how many kits it asks for
    loss = Fraction(1)
    kept: dict[str, Use | None] = {}
    for use in uses:
        stock = spec.stocks.get(use.stock)
        if stock is None or stock.kit is None:
            kept[use.stock] = use
            continue
        held = stock.kit.amount
        factor = said.heard(as_measured_by(stock, use.dimension, held.dimension, mix.span))
        kits.setdefault(stock.kit.name, {})[stock.name] = use.net * (factor or 0) / held.si
        kept.setdefault(stock.kit.name, None)
        loss = use.gross / use.net if use.net else loss
    return said.outcome(
        tuple(use or _kit_use(spec.stocks[name], kits[name], loss, mix, said) for name, use in kept.items())
    )


def _kit_use(kit: Stock, asked: dict[str, Fraction], loss: Fraction, mix: Mix, said: Said) -> Use:
    most, least = max(asked.values()), min(asked.values())
    if most and (most - least) / most > OFF:
        scarce = max(asked, key=lambda part: asked[part])
        spare = min(asked, key=lambda part: asked[part])
        said.found(
            Problem(
                finding=mix_findings.KIT_OFF_RATIO,
                message=f"mix {mix.name} uses up {scarce} of {kit.name} when "
                f"{wording.percent(1 - least / most)} of its {spare} are left",
                span=mix.span,
                related=((kit.span, f"stock {kit.name}"),),
                about=(mix.name, kit.name),
            )
        )
    amount = kit.package.amount if kit.package is not None else None
    if amount is None:
        return Use(stock=kit.name, dimension=Dimension.COUNT, net=most, gross=most * loss)
    net = most * amount.si
    return Use(stock=kit.name, dimension=amount.dimension, net=net, gross=net * loss)
