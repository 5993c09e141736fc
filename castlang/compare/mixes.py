"""What changed in a recipe, and which variants changed only because their base did."""

from collections.abc import Iterator, Mapping

from castlang.compare import shown
from castlang.compare.kinds import ChangeKind as Kind
from castlang.compare.lines import Place, block_place, changed, come_or_gone, facts_changed
from castlang.compare.model import Change
from castlang.compare.shown import told_pair
from castlang.spec.model import Ingredient, Mix, Water


def mixes_changed(old: Mapping[str, Mix], new: Mapping[str, Mix], units: str) -> Iterator[Change]:
    """Of every mix that both builds have. A variant tells what its base does not tell already; what came with
    the base is told in one line."""
    own = {
        name: tuple(_mix_changed(old[name], new[name], units))
        for name in sorted(new, key=lambda name: (_depth(new, name), name))
        if name in old and old[name] != new[name]
    }
    for name, changes in own.items():
        base = new[name].base
        through = (
            frozenset(_said(c) for c in own.get(base or "", ())) if old[name].base == base else frozenset()
        )
        inherited = [c for c in changes if _said(c) in through]
        if inherited and base is not None:
            yield _through_base(name, base, inherited)
        yield from (c for c in changes if _said(c) not in through)


def _depth(mixes: Mapping[str, Mix], name: str) -> int:
    """How many bases stand behind a mix; a base is told before its variants."""
    base = mixes[name].base
    return 0 if base is None or base not in mixes else 1 + _depth(mixes, base)


def _said(change: Change) -> tuple[object, ...]:
    """What a change says, whichever mix it stands in."""
    return (change.kind, change.what, change.old, change.new)


def _through_base(name: str, base: str, changes: list[Change]) -> Change:
    told = "; ".join(change.says.removeprefix(f"{name}: ") for change in changes)
    olds = "; ".join(f"{c.what} {c.old}" for c in changes if c.old is not None)
    news = "; ".join(f"{c.what} {c.new}" for c in changes if c.new is not None)
    return Change(
        kind=Kind.MIX_THROUGH_BASE,
        block=name,
        what=base,
        old=olds or None,
        new=news or None,
        says=f"{name}: through its base {base}: {told.replace(f'{base}: ', '')}",
    )


def _mix_changed(old: Mix, new: Mix, units: str) -> Iterator[Change]:
    place = block_place(new.name)
    yield from _ingredients_changed(old, new, place, units)
    yield from _water_changed(old.water, new.water, place, units)
    told = [line.stock for line in old.ingredients] != [line.stock for line in new.ingredients]
    for change in facts_changed(old, new, place, units):
        if change.what == "order" and told and _follows(old, new):
            continue  # an ingredient more or less is told already; the others are added as before
        yield change


def _follows(old: Mix, new: Mix) -> bool:
    """Whether both are mixed in one order, those left out that only one of them has."""
    before = [name for name in old.order if name in new.order]
    return before == [name for name in new.order if name in old.order] and sorted(
        {*old.order} ^ {*new.order}
    ) == sorted({line.stock for line in old.ingredients} ^ {line.stock for line in new.ingredients})


def _ingredients_changed(old: Mix, new: Mix, place: Place, units: str) -> Iterator[Change]:
    before, after = _by_stock(old), _by_stock(new)
    for key in [*before, *(k for k in after if k not in before)]:
        one, other = before.get(key), after.get(key)
        if one == other:
            continue
        if one is None or other is None:
            there = one or other
            kind = Kind.INGREDIENT_ADDED if one is None else Kind.INGREDIENT_DROPPED
            if there is not None:
                yield come_or_gone(kind, place, there.stock, _ingredient(there, units), added=one is None)
            continue
        # The ingredient's name is part of what is told, so that a variant can be held against its base.
        for change in facts_changed(one, other, place.at(other.stock), units):
            yield _about(change, other.stock)
    common = [[k for k in side if k in before and k in after] for side in (before, after)]
    if common[0] != common[1]:
        names = [", ".join(stock for stock, _ in side) for side in common]
        yield changed(Kind.SHARE, place, "order of ingredients:", names[0], names[1])


def _about(change: Change, stock: str) -> Change:
    what = stock if change.what == str(change.kind) else f"{stock} {change.what}"
    return Change(
        kind=change.kind,
        block=change.block,
        what=what,
        old=change.old,
        new=change.new,
        says=change.says,
    )


def _by_stock(mix: Mix) -> dict[tuple[str, int], Ingredient]:
    """Each line by its stock, and how often that stock stood above it."""
    found: dict[tuple[str, int], Ingredient] = {}
    for line in mix.ingredients:
        number = sum(1 for stock, _ in found if stock == line.stock)
        found[(line.stock, number)] = line
    return found


def _ingredient(line: Ingredient, units: str) -> str:
    damp = f" damp {shown.share(line.damp, units)}" if line.damp is not None else ""
    return f"{shown.dose(line.dose, units)}{' as solids' if line.as_solids else ''}{damp}"


def _water_changed(old: Water | None, new: Water | None, place: Place, units: str) -> Iterator[Change]:
    if old == new:
        return
    if old is None or new is None:
        there = new or old
        kind = Kind.INGREDIENT_ADDED if old is None else Kind.INGREDIENT_DROPPED
        if there is not None:
            yield come_or_gone(kind, place, "water", shown.water(there, units), added=old is None)
        return
    a, b = told_pair(_water, old, new, units)
    yield changed(Kind.SHARE, place, "water", a, b)


def _water(value: Water, units: str) -> str:
    return shown.water(value, units)
