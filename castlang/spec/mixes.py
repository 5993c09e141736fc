"""Mix blocks, with variants worked out from their base."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from castlang.spec import findings
from castlang.spec.amounts import count_of, number_of, positive, quantity_of, range_of, share_of, window_of
from castlang.spec.block import Block, text_of, word_of
from castlang.spec.ledger import Ledger
from castlang.spec.model import Dose, DoseKind, Ingredient, Mix, Role, Water
from castlang.spec.names import Named, Names, one_of
from castlang.spec.quantity import Dimension
from castlang.spec.stocks import share_on, value_of
from castlang.syntax.model import Part, Statement

ROLES = frozenset(role.value for role in Role)


def mixes_of(ledger: Ledger, names: Names) -> dict[str, Mix]:
    """Every mix by name, sorted; bases before variants, circles told once."""
    written = {name: named for name, named in names.items() if named.kind == "mix"}
    done: dict[str, Mix | None] = {}
    for name in sorted(written):
        _mix(ledger, name, written, names, done, ())
    return {name: mix for name, mix in sorted(done.items()) if mix is not None}


def _mix(
    ledger: Ledger,
    name: str,
    written: Mapping[str, Named],
    names: Names,
    done: dict[str, Mix | None],
    above: tuple[str, ...],
) -> Mix | None:
    if name in done:
        return done[name]
    statement = written[name].statement
    if name in above:
        circle = [*above[above.index(name) :], name]
        ledger.say(
            findings.CIRCLE,
            f"the mixes {' -> '.join(f'`{n}`' for n in circle)} are made from one another in a circle",
            statement.span,
            related=tuple((written[n].span, f"the mix `{n}`") for n in circle[:-1]),
        )
        done[name] = None
        return None
    base: Mix | None = None
    word = statement.body.word("base")
    if word is not None:
        meant = one_of(ledger, names, word.text, word.span, ("mix",))
        if meant is not None:
            base = _mix(ledger, meant.name, written, names, done, (*above, name))
        if base is None:
            done.setdefault(name, None)
            return done[name]
    if name not in done:
        done[name] = _read(ledger, statement, base, names)
    return done[name]


def _read(ledger: Ledger, statement: Statement, base: Mix | None, names: Names) -> Mix:
    block = Block(ledger, statement, ROLES | {"reaches"})
    start = base or Mix(name="")
    ingredients = _ingredients(ledger, block, start, names)
    works = block.one("works")
    told: dict[str, object] = {
        "density": value_of(ledger, block, "density", Dimension.DENSITY),
        "air": share_on(ledger, block, "entrained", most=30),
        "yields": value_of(ledger, block, "yields", Dimension.VOLUME),
        "mixing": value_of(ledger, block, "mixing", Dimension.TIME, zero=True),
        "carry": value_of(ledger, block, "carry", Dimension.TIME, zero=True),
        "wet_edge": value_of(ledger, block, "wet_edge", Dimension.TIME),
        "lift": value_of(ledger, block, "lift", Dimension.LENGTH),
        "covers": value_of(ledger, block, "covers", Dimension.COVERAGE),
        "doubles": value_of(ledger, block, "doubles", Dimension.TEMPERATURE_STEP),
        "waste": share_on(ledger, block, "waste", most=300),
        "water": _water(ledger, block, names),
        "measure": _measure(ledger, block),
    }
    for kind, read in (("thick", Dimension.LENGTH), ("recoat", Dimension.TIME), ("works", Dimension.TIME)):
        line = block.one(kind)
        if line is None:
            continue
        if kind == "thick":
            told["thick"] = range_of(ledger, line.body, read)
        elif kind == "recoat":
            told["recoat"] = window_of(ledger, line.body)
        else:
            told.update(_works(ledger, line.body))
    if block.names("hazard"):
        told["hazards"] = block.names("hazard")
    if works is None and base is None and any(i.role is Role.BINDER for i in ingredients):
        ledger.say(
            findings.NOT_SAID,
            f"the mix `{word_of(statement.body, 'name')}` sets, and does not say how long it can be worked",
            statement.span,
            "add a line such as `works 40 min at 20 degC`",
        ) if not statement.broken else None
    told.update(_ageing(ledger, block))
    kept = {key: value for key, value in told.items() if value is not None}
    mix = replace(
        start,
        name=word_of(statement.body, "name") or "",
        label=text_of(statement.body),
        base=base.name if base is not None else None,
        ingredients=ingredients,
        notes=(*start.notes, *block.notes()),
        span=statement.span,
        order=(),
        **kept,  # type: ignore[arg-type]
    )
    _check(ledger, statement, mix)
    return replace(mix, order=_order(ledger, block, mix, start))


def _works(ledger: Ledger, line: Part) -> dict[str, object]:
    amounts = line.parts("amount")
    at = quantity_of(ledger, amounts[-1], Dimension.TEMPERATURE)
    trimmed = Part(label="works", children=amounts[:-1], span=line.span)
    return {"works": window_of(ledger, trimmed), "works_at": None if at is None else at.si}


def _ageing(ledger: Ledger, block: Block) -> dict[str, object]:
    told: dict[str, object] = {}
    line = block.one("ages")
    if line is not None:
        word = line.body.word("word")
        amount = line.body.part("amount")
        value = (
            quantity_of(ledger, amount, Dimension.TEMPERATURE, Dimension.TEMPERATURE_STEP) if amount else None
        )
        if word is not None and word.text not in ("nurse-saul", "arrhenius"):
            ledger.say(
                findings.BAD_VALUE,
                f"a mix ages by `nurse-saul` (with a datum) or `arrhenius` (with a constant in K), not `{word.text}`",
                word.span,
            )
        elif word is not None:
            told["ages"] = (word.text, None if value is None else value.si)
    reached = []
    for line in block.all("reaches"):
        parts = line.body.parts("amount")
        values = [
            quantity_of(ledger, part, dim)
            for part, dim in zip(
                parts, (Dimension.PRESSURE, Dimension.TIME, Dimension.TEMPERATURE), strict=True
            )
        ]
        if all(v is not None for v in values):
            reached.append(tuple(v.si for v in values if v is not None))
    if reached:
        told["strength"] = tuple(reached)
    return told


def _measure(ledger: Ledger, block: Block) -> str | None:
    line = block.one("measure")
    word = line.body.word("word") if line is not None else None
    if word is None:
        return None
    if word.text not in ("mass", "volume"):
        ledger.say(findings.BAD_VALUE, f"parts are measured by `mass` or by `volume`, not `{word.text}`", word.span)
        return None
    return word.text


def _ingredients(ledger: Ledger, block: Block, base: Mix, names: Names) -> tuple[Ingredient, ...]:
    omitted = block.names("omit")
    if omitted and not base.name:
        line = block.one("omit")
        ledger.say(
            findings.OUT_OF_PLACE, "`omit` stands in a mix that is made from no other", line.span if line else block.statement.span
        )
    known = {i.stock for i in base.ingredients}
    for name in omitted:
        line = block.one("omit")
        if base.name and name not in known and line is not None:
            ledger.say(findings.UNKNOWN_NAME, f"the mix `{base.name}` has no `{name}` to leave out", line.span)
    lines = {i.stock: i for i in base.ingredients if i.stock not in omitted}
    seen: dict[str, Statement] = {}
    for line in block.all(*sorted(ROLES)):
        made = _ingredient(ledger, line, names)
        if made is None:
            continue
        if made.stock in seen:
            ledger.say(
                findings.SAID_TWICE,
                f"`{made.stock}` stands twice in the mix",
                line.span,
                related=((seen[made.stock].span, "the first line"),),
            )
            continue
        seen[made.stock] = line
        lines[made.stock] = made
    return tuple(lines.values())


def _ingredient(ledger: Ledger, line: Statement, names: Names) -> Ingredient | None:
    word = line.body.word("thing")
    if word is None:
        return None
    stock = one_of(ledger, names, word.text, word.span, ("stock",))
    dose = _dose(ledger, line.body, names)
    damp = line.body.part("damp")
    amount = damp.part("amount") if damp is not None else None
    if stock is None or dose is None:
        return None
    role = Role(line.kind)
    if damp is not None and role not in (Role.SAND, Role.FILLER):
        ledger.say(findings.OUT_OF_PLACE, f"`damp` stands on a {role}; only sand and filler are damp", damp.span)
    solids = line.body.part("as_solids") is not None
    if solids and role is not Role.LIQUID:
        ledger.say(findings.OUT_OF_PLACE, f"`as solids` stands on a {role}; only a liquid has solids", line.span)
    return Ingredient(
        role=role,
        stock=stock.name,
        dose=dose,
        as_solids=solids,
        damp=share_of(ledger, amount, least=-20, most=40) if amount is not None else None,
        span=line.span,
    )


def _dose(ledger: Ledger, line: Part, names: Names) -> Dose | None:
    if line.part("fill") is not None:
        return Dose(kind=DoseKind.FILL)
    of = line.part("of")
    base = of.word("word") if of is not None else None
    if base is not None and base.text not in ("binder", "mix"):
        meant = one_of(ledger, names, base.text, base.span, ("stock",), what="`binder`, `mix` or stock")
        if meant is None:
            return None
    count = line.part("count")
    if count is not None:
        number = count.word("number")
        try:
            value = number_of(number.text) if number is not None else Fraction(0)
        except ZeroDivisionError:
            count_of(ledger, count)
            return None
        return Dose(kind=DoseKind.SHARE, value=value, of=base.text if base is not None else None)
    amount = line.part("amount")
    if amount is None:
        return None
    found = quantity_of(ledger, amount, Dimension.COUNT, Dimension.MASS, Dimension.VOLUME, Dimension.SHARE)
    value_ = positive(ledger, found, amount)
    if found is None or value_ is None:
        return None
    if found.dimension is Dimension.COUNT and found.word != "parts":
        ledger.say(findings.WRONG_UNIT, f"`{found.written}`: a mix is told in parts", amount.span)
        return None
    if found.dimension is Dimension.SHARE and base is None:
        ledger.say(
            findings.NOT_SAID,
            f"`{found.written}` does not say of what",
            amount.span,
            f"write `{found.written} of binder`, `of mix`, or `of` a stock's name",
        )
        return None
    if found.dimension is not Dimension.SHARE and base is not None:
        ledger.say(findings.OUT_OF_PLACE, f"`of {base.text}` belongs behind a share, not behind `{found.written}`", base.span)
        return None
    kind = {
        Dimension.COUNT: DoseKind.PARTS,
        Dimension.MASS: DoseKind.MASS,
        Dimension.VOLUME: DoseKind.VOLUME,
        Dimension.SHARE: DoseKind.SHARE,
    }[found.dimension]
    return Dose(kind=kind, value=value_, of=base.text if base is not None else None)


def _water(ledger: Ledger, block: Block, names: Names) -> Water | None:
    line = block.one("water")
    if line is None:
        return None
    dose = _dose(ledger, line.body, names)
    if dose is None:
        return None
    return Water(dose=dose, total=line.body.part("total") is not None, span=line.span)


def _order(ledger: Ledger, block: Block, mix: Mix, base: Mix) -> tuple[str, ...]:
    line = block.one("order")
    present = {i.stock for i in mix.ingredients} | ({"water"} if mix.water is not None else set())
    if line is None:
        return tuple(name for name in base.order if name in present)
    told = block.names("order")
    for name in told:
        if name not in present:
            ledger.say(findings.UNKNOWN_NAME, f"`order` names `{name}`, which the mix does not hold", line.span)
    left_out = sorted(present - set(told))
    if left_out:
        ledger.say(
            findings.NOT_SAID,
            f"`order` leaves out {', '.join(f'`{n}`' for n in left_out)}",
            line.span,
            "name every ingredient once, and `water`, in the order in which they go in",
        )
    return told


def _check(ledger: Ledger, statement: Statement, mix: Mix) -> None:
    """What the lines of a mix must be together."""
    if statement.broken:
        return
    parts = [i for i in mix.ingredients if i.role is Role.PART]
    if not mix.ingredients:
        ledger.say(findings.NOT_SAID, f"the mix `{mix.name}` holds nothing", statement.span, "add its ingredients, a line each")
    if parts and mix.measure is None:
        ledger.say(
            findings.NOT_SAID,
            f"the mix `{mix.name}` is told in parts, and not whether by mass or by volume",
            statement.span,
            "add `measure mass` or `measure volume`, as the data sheet says",
        )
    if parts and len(parts) != len(mix.ingredients):
        ledger.say(
            findings.BAD_RECIPE,
            f"the mix `{mix.name}` holds `part` lines beside others",
            statement.span,
            "use `part` for all of a two-part mix, or for none",
        )
    if mix.measure is not None and not parts:
        ledger.say(findings.OUT_OF_PLACE, "`measure` belongs to a mix of `part` lines", statement.span)
    for line in parts:
        if line.dose.kind is not DoseKind.PARTS:
            ledger.say(findings.BAD_RECIPE, f"`part {line.stock}` is not told in parts", line.span, "write it as in `part resin 100 parts`")
    doses = [(i.stock, i.dose, i.span) for i in mix.ingredients]
    if mix.water is not None:
        doses.append(("water", mix.water.dose, mix.water.span))
    has_parts = [d for d in doses if d[1].kind is DoseKind.PARTS]
    fixed = [d for d in doses if d[1].kind in (DoseKind.MASS, DoseKind.VOLUME, DoseKind.FILL)]
    if has_parts and fixed:
        ledger.say(
            findings.BAD_RECIPE,
            f"the mix `{mix.name}` is told in parts and in amounts at once (`{has_parts[0][0]}`, `{fixed[0][0]}`)",
            fixed[0][2],
            "tell all of it in parts, or all of it in amounts for one `yields`",
        )
    present = {i.stock for i in mix.ingredients}
    for _name, dose, span in doses:
        if dose.of is not None and dose.of not in ("binder", "mix") and dose.of not in present:
            ledger.say(findings.UNKNOWN_NAME, f"the mix `{mix.name}` holds no `{dose.of}` to take a share of", span)
        if dose.of == "binder" and not any(i.role is Role.BINDER for i in mix.ingredients):
            ledger.say(findings.BAD_RECIPE, f"the mix `{mix.name}` has no binder to take a share of", span)
