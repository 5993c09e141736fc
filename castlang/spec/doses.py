"""Doses: how much of an ingredient, and how much water."""

from fractions import Fraction

from castlang.spec import findings
from castlang.spec.amounts import number_of, positive, quantity_of
from castlang.spec.block import Block, word_of
from castlang.spec.ledger import Ledger
from castlang.spec.model import Dose, DoseKind, Water
from castlang.spec.names import Names, one_of
from castlang.spec.quantity import Dimension
from castlang.syntax.findings import NO_UNIT
from castlang.syntax.model import Part

WHOLES = ("binder", "mix", "parts")
"""What a share can be of, beside a stock: all binders, everything, all parts A, B and so on."""


def dose_of(ledger: Ledger, line: Part, names: Names) -> Dose | None:
    """The dose on the line of an ingredient; None when it makes no sense (then told)."""
    if line.part("fill") is not None:
        return Dose(kind=DoseKind.FILL)
    of = line.part("of")
    base = of.word("word") if of is not None else None
    if base is not None and base.text not in WHOLES:
        meant = one_of(
            ledger, names, base.text, base.span, ("stock",), what="`binder`, `mix`, `parts` or stock"
        )
        if meant is None:
            return None
    count = line.part("count")
    if count is not None:
        return _plain_share(ledger, line, count, base.text if base is not None else "")
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
        ledger.say(
            findings.OUT_OF_PLACE,
            f"`of {base.text}` belongs behind a share, not behind `{found.written}`",
            base.span,
        )
        return None
    kind = {
        Dimension.COUNT: DoseKind.PARTS,
        Dimension.MASS: DoseKind.MASS,
        Dimension.VOLUME: DoseKind.VOLUME,
        Dimension.SHARE: DoseKind.SHARE,
    }[found.dimension]
    return Dose(kind=kind, value=value_, of=base.text if base is not None else None)


def _plain_share(ledger: Ledger, line: Part, count: Part, of: str) -> Dose | None:
    """`0.36 of binder`: a share as a plain number, which only water may be told in."""
    number = word_of(count, "number") or ""
    if line.label != "water":
        ledger.say(
            NO_UNIT,
            f"`{number}` has no unit",
            count.span,
            f"write the share in percent, as in `6 % of {of}`; only water is told as `0.36 of binder`",
        )
        return None
    try:
        value = number_of(number)
    except ZeroDivisionError:
        value = Fraction(0)
    if not 0 < value <= 2:
        ledger.say(
            findings.BAD_VALUE,
            f"`{number} of {of}` is no share of water",
            count.span,
            f"write it as in `0.36 of {of}` or `36 % of {of}`",
        )
        return None
    return Dose(kind=DoseKind.SHARE, value=value, of=of)


def water_of(ledger: Ledger, block: Block, names: Names) -> Water | None:
    """The `water` line."""
    line = block.one("water")
    if line is None:
        return None
    dose = dose_of(ledger, line.body, names)
    if dose is None:
        return None
    return Water(dose=dose, total=line.body.part("total") is not None, span=line.span)
