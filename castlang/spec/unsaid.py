"""What the spec did not say and was taken all the same, listed with the line that would set it."""

from castlang.spec import findings
from castlang.spec.defaults import COMMON
from castlang.spec.ledger import Ledger
from castlang.spec.model import After, Fitting, Gap, Spec, Step, Stock


def list_unsaid(ledger: Ledger, spec: Spec, *, told_units: bool) -> None:
    """Add the assumptions about the build and the stores, and the notes on what is not worked out yet."""
    build = spec.build
    if not build.name:
        return
    name = f"build {build.name}"
    if not build.night and build.air:
        ledger.assume(name, "the nights are as warm as the days", COMMON, "night 12 degC", build.span)
    if build.air and all(air.days is not None for air in build.air):
        says = "on days that no `air` line tells it is as cold as on the coldest of those that one tells"
        ledger.assume(name, says, COMMON, "air 20 degC", build.span)
    if not build.humidity:
        ledger.assume(name, "the air holds 50 % of humidity", COMMON, "humidity 50 %", build.span)
    if build.draft is None:
        ledger.assume(name, "there is no draft", COMMON, "draft 0.2 m/s", build.span)
    if build.waste is None:
        ledger.assume(
            name, "no waste is added where no line says it", "the language", "waste 8 %", build.span
        )
    if build.wage is None:
        ledger.assume(
            name, "labour is told in hours, without money", "the language", "wage 44 EUR/h", build.span
        )
    if not told_units:
        ledger.assume(
            name,
            f"the sheets print {build.units} units, which the files mostly use",
            "computed",
            f"print {build.units}",
            build.span,
        )
    _stores(ledger, spec)
    _molds(ledger, spec)
    _steps(ledger, spec)
    _not_yet(ledger, spec)


def _stores(ledger: Ledger, spec: Spec) -> None:
    """Of what this build uses alone: the stores may hold far more."""
    used = _used(spec)
    stocks = [s for s in spec.stocks.values() if s.package is not None and s.name in used]
    fittings = [f for f in spec.fittings.values() if f.buy is not None or f.name in used]
    none = [s.name for s in stocks if s.have == 0]
    if none:
        ledger.assume(
            "stores", f"none on hand of {', '.join(none)}", "the language", "have 2 bags, under the stock"
        )
    both: list[Stock | Fitting] = [*stocks, *fittings]
    at_once = [thing.name for thing in both if thing.lead == 0]
    if at_once:
        ledger.assume(
            "stores",
            f"at hand on the day of order: {', '.join(at_once)}",
            "the language",
            "lead 5 days, under the stock or fitting",
        )
    waiting = [thing.name for thing in both if thing.lead and thing.ordered is None]
    if waiting:
        ledger.assume(
            "stores",
            f"ordered on the first day of the build: {', '.join(waiting)}",
            "the language",
            "ordered 2027-02-01, under it",
        )


def _used(spec: Spec) -> frozenset[str]:
    """The stocks and fittings that steps, the mixes of steps, molds and orders of work name."""
    found: set[str] = set()
    for owner in spec.owners():
        for item in owner.sequence:
            if isinstance(item, After):
                found |= {ref.owner for ref in item.refs if ref.fitting}
            elif isinstance(item, Step):
                found |= _named(item, spec)
    for mold in spec.molds.values():
        found |= {name for name in (mold.board, *(panel.stock for panel in mold.panels)) if name}
    return frozenset(found)


def _named(step: Step, spec: Spec) -> set[str]:
    refs = (*step.things, *((step.onto,) if step.onto is not None else ()))
    found = {ref.name for ref in refs if ref.kind == "fitting"}
    if step.material is None:
        return found
    mix = spec.mixes.get(step.material)
    if mix is None:
        return found | {step.material}
    water = {mix.water.stock or "water"} if mix.water is not None else set()
    return found | water | {line.stock for line in mix.ingredients}


def _molds(ledger: Ledger, spec: Spec) -> None:
    endless = [m.name for m in spec.molds.values() if m.lasts is None and not m.temporary]
    if endless:
        ledger.assume(
            "molds",
            f"castings are not counted: {', '.join(endless)}",
            "the language",
            "lasts 20 castings, under the mold",
        )


def _steps(ledger: Ledger, spec: Spec) -> None:
    steps = [i for o in spec.owners() for i in o.sequence if isinstance(i, Step)]
    if any(not s.may_pause and s.gang for s in steps):
        ledger.assume(
            "steps",
            "a step that does not say `may-pause` is done in one go",
            "the language",
            "may-pause, on the step",
        )


def _not_yet(ledger: Ledger, spec: Spec) -> None:
    """Say plainly, at its line, what is carried and not worked out."""
    for owner in spec.owners():
        for item in owner.sequence:
            _not_yet_step(ledger, item)


def _not_yet_step(ledger: Ledger, item: object) -> None:
    if isinstance(item, Gap) and item.tend is not None:
        message = "the sheets say when each visit of `tend` is due; the plan keeps nobody free for it"
        ledger.say(findings.NOT_YET, message, item.span)
