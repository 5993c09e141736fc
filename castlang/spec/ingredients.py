"""The lines of a recipe: ingredients, their order, and what they must be together."""

from castlang.problems.wording import either
from castlang.spec import findings
from castlang.spec.amounts import share_of
from castlang.spec.block import Block, word_of
from castlang.spec.doses import WHOLES, dose_of
from castlang.spec.ledger import Ledger
from castlang.spec.model import DoseKind, Ingredient, Mix, Role
from castlang.spec.names import Names, near_remedy, one_of
from castlang.syntax.model import Statement

ROLES = frozenset(role.value for role in Role)


def ingredients_of(
    ledger: Ledger, block: Block, base: Mix, names: Names
) -> tuple[tuple[Ingredient, ...], bool]:
    """The ingredients, those of the base with this block's changes; and whether every line could be read."""
    omitted = _omitted(ledger, block, base, names)
    lines = {i.stock: i for i in base.ingredients if i.stock not in omitted}
    seen: dict[str, Statement] = {}
    whole = True
    for line in block.all(*sorted(ROLES)):
        made = _ingredient(ledger, line, names)
        if made is None:
            whole = False
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
    return tuple(lines.values()), whole


def _omitted(ledger: Ledger, block: Block, base: Mix, names: Names) -> tuple[str, ...]:
    """The stocks on the `omit` line; one that the base does not hold is told."""
    line = block.one("omit")
    if line is not None and not base.name:
        message = "`omit` stands in a mix that is made from no other"
        ledger.say(findings.OUT_OF_PLACE, message, line.span)
        return ()
    known = _written(base.name, names)
    for word in block.words("omit"):
        if word.text not in known and ledger.is_missing(word.text):
            ledger.say(
                findings.UNKNOWN_NAME,
                f"the mix `{base.name}` has no `{word.text}` to leave out",
                word.span,
                near_remedy(word.text, known),
            )
    return block.names("omit")


def _written(mix: str, names: Names) -> list[str]:
    """Every stock on the lines of a mix and of those that it is made from, readable or not."""
    found: list[str] = []
    seen: list[str] = []
    while mix in names and mix not in seen:
        seen.append(mix)
        statement = names[mix].statement
        found += [word_of(line.body, "thing") or "" for line in statement.under if line.kind in ROLES]
        mix = word_of(statement.body, "base") or ""
    return found


def _ingredient(ledger: Ledger, line: Statement, names: Names) -> Ingredient | None:
    word = line.body.word("thing")
    if word is None:
        return None
    stock = one_of(ledger, names, word.text, word.span, ("stock",))
    dose = dose_of(ledger, line.body, names)
    damp = line.body.part("damp")
    for label in ("damp", "as_solids"):
        for twin in line.body.parts(label)[1:]:
            said = label.replace("_", " ")
            ledger.say(findings.SAID_TWICE, f"`{said}` is said twice on one line", twin.span)
    amount = damp.part("amount") if damp is not None else None
    if stock is None or dose is None:
        return None
    role = Role(line.kind)
    if damp is not None and role not in (Role.SAND, Role.FILLER):
        ledger.say(
            findings.OUT_OF_PLACE, f"`damp` stands on a {role}; only sand and filler are damp", damp.span
        )
    solids = line.body.part("as_solids") is not None
    if solids and role is not Role.LIQUID:
        ledger.say(
            findings.OUT_OF_PLACE, f"`as solids` stands on a {role}; only a liquid has solids", line.span
        )
    return Ingredient(
        role=role,
        stock=stock.name,
        dose=dose,
        as_solids=solids,
        damp=share_of(ledger, amount, least=-20, most=40) if amount is not None else None,
        span=line.span,
    )


def order_of(ledger: Ledger, block: Block, mix: Mix, base: Mix) -> tuple[str, ...]:
    """The order in which the ingredients and `water` go in; without an `order` line the base's, what is new
    here at its end; () for the order of the lines. Only for a mix of which every line could be read."""
    line = block.one("order")
    present = [i.stock for i in mix.ingredients] + (["water"] if mix.water is not None else [])
    if line is None:
        kept = [name for name in base.order if name in present]
        return (*kept, *(name for name in present if name not in kept)) if base.order else ()
    told = block.names("order")
    for word in block.words("order"):
        if word.text not in present:
            ledger.say(
                findings.UNKNOWN_NAME,
                f"`order` names `{word.text}`, which the mix does not hold",
                word.span,
                near_remedy(word.text, present),
            )
    left_out = [name for name in present if name not in told]
    if left_out:
        ledger.say(
            findings.NOT_SAID,
            f"`order` leaves out {', '.join(f'`{n}`' for n in left_out)}",
            line.span,
            "name every ingredient once, and `water`, in the order in which they go in",
        )
    return told


def check_recipe(ledger: Ledger, statement: Statement, mix: Mix) -> None:
    """What the lines of a mix must be together; only for a mix of which every line could be read."""
    parts = [i for i in mix.ingredients if i.role is Role.PART]
    if not mix.ingredients:
        ledger.say(
            findings.NOT_SAID,
            f"the mix `{mix.name}` holds nothing",
            statement.span,
            "add its ingredients, a line each",
        )
    if parts and mix.measure is None:
        ledger.say(
            findings.NOT_SAID,
            f"the mix `{mix.name}` is told in parts, and not whether by mass or by volume",
            statement.span,
            "add `measure mass` or `measure volume`, as the data sheet says",
        )
    if parts:
        _check_beside_parts(ledger, mix)
    if mix.measure is not None and not parts:
        ledger.say(findings.OUT_OF_PLACE, "`measure` belongs to a mix of `part` lines", statement.span)
    for line in parts:
        if line.dose.kind is not DoseKind.PARTS:
            ledger.say(
                findings.BAD_RECIPE,
                f"`part {line.stock}` is not told in parts",
                line.span,
                "write it as in `part resin 100 parts`",
            )
    doses = [(i.stock, i.dose, i.span) for i in mix.ingredients]
    if mix.water is not None:
        doses.append(("water", mix.water.dose, mix.water.span))
    has_parts = [d for d in doses if d[1].kind is DoseKind.PARTS]
    fixed = [d for d in doses if d[1].kind in (DoseKind.MASS, DoseKind.VOLUME, DoseKind.FILL)]
    if has_parts and fixed and not parts:
        ledger.say(
            findings.BAD_RECIPE,
            f"the mix `{mix.name}` is told in parts (`{has_parts[0][0]}`) and in amounts (`{fixed[0][0]}`)",
            fixed[0][2],
            "tell all of it in parts, or all of it in amounts for one `yields`",
        )
    present = {i.stock for i in mix.ingredients}
    for _, dose, span in doses:
        if dose.of is not None and dose.of not in WHOLES and dose.of not in present:
            ledger.say(
                findings.UNKNOWN_NAME,
                f"the mix `{mix.name}` holds no `{dose.of}` to take a share of",
                span,
                f"take a share of binder, of mix or of {either(sorted(present))}",
            )
    apart = [span for _, dose, span in doses if dose.of == "parts"]
    if apart and not parts:
        ledger.say(
            findings.BAD_RECIPE,
            f"the mix `{mix.name}` has no `part` lines to take a share of",
            apart[0],
            "take a share of binder, of mix or of a stock",
        )
    unbound = [span for _, dose, span in doses if dose.of == "binder"]
    if unbound and not any(i.role is Role.BINDER for i in mix.ingredients):
        ledger.say(
            findings.BAD_RECIPE,
            f"the mix `{mix.name}` has no binder to take a share of",
            unbound[0],
            "add a line such as `binder cement 100 parts`",
            tuple((span, "another share of binder") for span in unbound[1:]),
        )


BESIDE_PARTS = (Role.LIQUID, Role.PIGMENT, Role.FILLER, Role.FIBER)


def _check_beside_parts(ledger: Ledger, mix: Mix) -> None:
    """Beside parts A and B only shares stand: thinner, accelerator, pigment, filler; by volume, liquids."""
    if mix.water is not None:
        ledger.say(
            findings.BAD_RECIPE,
            f"the mix `{mix.name}` holds `water` beside `part` lines",
            mix.water.span,
            "tell the water as a part, or as a liquid in percent of the parts",
        )
    for line in mix.ingredients:
        if line.role is Role.PART:
            continue
        share = line.dose.kind is DoseKind.SHARE and not line.as_solids and line.damp is None
        if line.role not in BESIDE_PARTS or not share:
            ledger.say(
                findings.BAD_RECIPE,
                f"`{line.role} {line.stock}` stands beside `part` lines and is no plain share",
                line.span,
                f"write it as a part, or as in `liquid {line.stock} 5 % of parts`",
            )
        elif mix.measure == "volume" and line.role is not Role.LIQUID:
            ledger.say(
                findings.BAD_RECIPE,
                f"`{line.role} {line.stock}` cannot be measured by volume with the parts",
                line.span,
                "use `measure mass` where the data sheet tells the ratio by mass",
            )
