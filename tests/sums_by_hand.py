"""What a build takes from the stores, added up a second time: batches, coats, cloth, boards, fittings."""

from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.model import Spec, Step, StepKind, Stock
from castlang.spec.quantity import Dimension
from castlang.takeoff.model import StepTakeoff, Takeoff

Amount = tuple[str, Dimension, Fraction]
NOUGHT = Fraction(0)
LAPS = Fraction(1, 20)  # m, the shop default of the language


def sums(spec: Spec, takeoff: Takeoff) -> dict[tuple[str, Dimension], Fraction]:
    """The whole need with waste, by stock and by what the stock is sold by."""
    total: dict[tuple[str, Dimension], Fraction] = {}
    for name, dimension, amount in (*_steps(spec, takeoff), *_shared(takeoff), *_boards(spec, takeoff)):
        sold, there = _as_sold(spec.stocks.get(name), dimension, amount)
        total[name, sold] = total.get((name, sold), NOUGHT) + there
    for fitting in spec.fittings.values():
        key = (fitting.name, Dimension.COUNT)
        least = Fraction(_handled(spec, fitting.name) if fitting.buy is None else fitting.buy)
        if max(total.get(key, NOUGHT), least) > 0:
            total[key] = max(total.get(key, NOUGHT), least)
    return _weighed_once(spec, total)


def _weighed_once(
    spec: Spec, total: dict[tuple[str, Dimension], Fraction]
) -> dict[tuple[str, Dimension], Fraction]:
    """Tap water that is weighed into mixes and measured into others is one amount, by mass."""
    for name, stock in spec.stocks.items():
        if stock.density is not None and {(name, Dimension.MASS), (name, Dimension.VOLUME)} <= total.keys():
            total[name, Dimension.MASS] += total.pop((name, Dimension.VOLUME)) * stock.density
    return total


def _steps(spec: Spec, takeoff: Takeoff) -> Iterator[Amount]:
    """What all doings of each step take: from its batches, else from its coats, cloth or fittings; a load
    takes nothing."""
    for owner in spec.owners():
        for step in owner.sequence:
            if not isinstance(step, Step) or step.kind is StepKind.LOAD:
                continue
            done = takeoff.steps[step.owner, step.name]
            stock = spec.stocks.get(step.material or "")
            if stock is not None:
                taken = [_put_on(step, done, stock, spec)]
            elif step.kind is StepKind.INSERT and step.amount is not None and step.material is not None:
                taken = [(step.material, Dimension.COUNT, step.amount.si)]
            else:
                taken = [
                    (line.stock, Dimension.VOLUME if batch.by_volume else Dimension.MASS, line.exact)
                    for part in done.parts
                    for batch in part.batches
                    for line in batch.lines
                ]
            for name, dimension, amount in taken:
                yield name, dimension, amount * times_done(spec, step)


def _shared(takeoff: Takeoff) -> Iterator[Amount]:
    """What batches take that serve several steps or copies: each of them once."""
    for shared in takeoff.shared:
        for batch in shared.batches:
            for line in batch.lines:
                yield line.stock, Dimension.VOLUME if batch.by_volume else Dimension.MASS, line.exact


def times_done(spec: Spec, step: Step) -> int:
    """How often a step is done: for each copy of its piece, or of the piece behind `each`."""
    piece = spec.pieces.get(step.each or step.owner)
    return 1 if piece is None else piece.count + piece.mirrored


def _put_on(step: Step, done: StepTakeoff, stock: Stock, spec: Spec) -> Amount:
    """One doing of coats (area over coverage), of cloth with its laps; with the nearest waste."""
    told = (step.waste, stock.waste, spec.build.waste)
    waste = next((w for w in told if w is not None), NOUGHT)
    number = step.amount.si if step.amount is not None else Fraction(1)
    area = done.area or NOUGHT
    if step.kind is StepKind.SCRIM:
        shop = spec.defaults["laps"].si if "laps" in spec.defaults else LAPS
        laps = shop if step.laps is None else step.laps
        return stock.name, Dimension.AREA, area * number * (1 + laps) * (1 + waste)
    assert stock.covers is not None
    return stock.name, Dimension.VOLUME, area / stock.covers * number * (1 + waste)


def _as_sold(stock: Stock | None, dimension: Dimension, amount: Fraction) -> tuple[Dimension, Fraction]:
    if stock is None or stock.package is None or stock.package.amount is None:
        return dimension, amount
    sold = stock.package.amount.dimension
    if sold is dimension:
        return sold, amount
    weights = {Dimension.MASS: Fraction(1), Dimension.VOLUME: stock.density, Dimension.AREA: stock.areal}
    here, there = weights[dimension], weights[sold]
    assert here is not None
    assert there is not None
    return sold, amount * here / there


def _boards(spec: Spec, takeoff: Takeoff) -> Iterator[Amount]:
    """m2 of board of every mold and temporary work, all copies: whole sheets where it is sold in sheets, with
    their offcuts; else the panels, or where there are none the faces of the piece, with waste."""
    whole = {nest.stock for nest in takeoff.nests}
    for nest in takeoff.nests:
        yield nest.stock, Dimension.AREA, nest.number * nest.long * nest.wide
    for panel in takeoff.panels:
        if panel.stock not in whole:
            area = panel.long * panel.wide * panel.count * panel.molds
            yield panel.stock, Dimension.AREA, area * (1 + _waste(spec, panel.stock))
    for mold in spec.molds.values():
        if mold.board is not None and all(panel.mold != mold.name for panel in takeoff.panels):
            faces = max(takeoff.pieces[piece].faces["all"] for piece in mold.fits)
            area = faces * (mold.count + mold.mirrored)
            yield mold.board, Dimension.AREA, area * (1 + _waste(spec, mold.board))


def _waste(spec: Spec, stock: str) -> Fraction:
    told = (spec.stocks[stock].waste, spec.build.waste, NOUGHT)
    return next(w for w in told if w is not None)


def _handled(spec: Spec, fitting: str) -> bool:
    steps = (item for owner in spec.owners() for item in owner.sequence if isinstance(item, Step))
    return any(ref.name == fitting for s in steps for ref in (*s.things, *([s.onto] if s.onto else [])))
