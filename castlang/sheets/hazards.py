"""Which hazards a piece of work brings: those that the build names, and those of the kind of work itself."""

from collections.abc import Iterable

from castlang.spec.model import Gap, Mix, Mold, Role, Spec, Step, StepKind

SETTING = frozenset({Role.BINDER, Role.PART})
LIFTED = frozenset({StepKind.DEMOLD, StepKind.MOVE, StepKind.PLACE})


def unique(words: Iterable[str]) -> tuple[str, ...]:
    """Each word once, in the order of its first appearance."""
    return tuple(dict.fromkeys(words))


def hazards_of_mix(spec: Spec, mix: Mix) -> tuple[str, ...]:
    """Those of the mix and of every stock in it, in the order of the recipe."""
    stocks = [line.stock for line in mix.ingredients]
    if mix.water is not None and mix.water.stock is not None:
        stocks.append(mix.water.stock)
    return unique([*mix.hazards, *(word for name in stocks for word in _of_stock(spec, name))])


def untold_in(spec: Spec, mix: Mix) -> tuple[str, ...]:
    """What makes a mix set and has no hazard told in the build; nothing where the mix tells its own."""
    if mix.hazards:
        return ()
    stocks = (spec.stocks.get(line.stock) for line in mix.ingredients if line.role in SETTING)
    return unique(stock.name for stock in stocks if stock is not None and not stock.hazards)


def hazards_of_step(spec: Spec, step: Step) -> tuple[str, ...]:
    """Every hazard of a step, its own words first, then those of its kind, its material and its things."""
    words = [*step.hazards, *_of_kind(spec, step)]
    words += _of_material(spec, step.material)
    for thing in (*step.things, *((step.onto,) if step.onto else ())):
        words += _of_thing(spec, thing.name, thing.kind)
    if step.target is not None:
        words += _of_thing(spec, step.target, "mold")
    owner = spec.molds.get(step.owner)
    if owner is not None:
        words += _of_mold_work(spec, owner)
    return unique(words)


def hazards_of_gap(gap: Gap) -> tuple[str, ...]:
    """Those that a wait, cure or drying time names."""
    return unique(gap.hazards)


def hazards_of_build(spec: Spec) -> tuple[str, ...]:
    """Every hazard of any step or wait, in the order of the build."""
    words: list[str] = []
    for owner in spec.owners():
        for item in owner.sequence:
            if isinstance(item, Step):
                words += hazards_of_step(spec, item)
            elif isinstance(item, Gap):
                words += hazards_of_gap(item)
    return unique(words)


def _of_kind(spec: Spec, step: Step) -> list[str]:
    if step.kind in LIFTED:
        return ["lifting"]
    if step.grits:
        return ["electricity-near-water", "grinding-slurry"] if step.wet else ["silica-dust"]
    if step.kind is StepKind.POUR and step.material is not None:
        mix = spec.mixes.get(step.material)
        if mix is not None and mix.measure is not None:
            return ["exotherm"]
    return []


def _of_stock(spec: Spec, name: str) -> tuple[str, ...]:
    stock = spec.stocks.get(name)
    return stock.hazards if stock is not None else ()


def _of_material(spec: Spec, name: str | None) -> tuple[str, ...]:
    if name is None:
        return ()
    mix = spec.mixes.get(name)
    if mix is not None:
        return hazards_of_mix(spec, mix)
    if name in spec.stocks:
        return _of_stock(spec, name)
    return _of_thing(spec, name, "fitting")


def _of_thing(spec: Spec, name: str, kind: str) -> tuple[str, ...]:
    if kind == "fitting":
        fitting = spec.fittings.get(name)
        return fitting.hazards if fitting is not None else ()
    if kind == "mold":
        mold = spec.molds.get(name)
        return mold.hazards if mold is not None else ()
    return ()


def _of_mold_work(spec: Spec, mold: Mold) -> tuple[str, ...]:
    """Work on a mold handles its sheet stock."""
    boards = [mold.board, *(panel.stock for panel in mold.panels)]
    return (*mold.hazards, *(word for board in boards if board for word in _of_stock(spec, board)))
