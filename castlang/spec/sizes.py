"""Named sizes: sums of lengths and other sizes, in any order of the file."""

from collections.abc import Iterable, Mapping
from fractions import Fraction

from castlang.spec import findings
from castlang.spec.amounts import number_of, positive, quantity_of
from castlang.spec.ledger import Ledger
from castlang.spec.names import is_unit, near_remedy, refuse_unit
from castlang.spec.quantity import Dimension
from castlang.syntax.findings import NO_NUMBER
from castlang.syntax.model import Part, Statement, Word

Sizes = Mapping[str, Fraction | None]
"""Every size by name, in m; None where it could not be worked out (then told)."""


def sizes_of(ledger: Ledger, statements: Iterable[Statement]) -> Sizes:
    """Every `size` line; circles, doubles and sums below zero are told."""
    written: dict[str, Statement] = {}
    for statement in statements:
        word = statement.body.word("name")
        if statement.kind != "size" or word is None:
            continue
        refuse_unit(ledger, word.text, word.span)
        known = written.get(word.text)
        if known is not None:
            ledger.say(
                findings.NAME_TWICE,
                f"the size `{word.text}` is told twice",
                word.span,
                related=((known.span, "the first one"),),
            )
            continue
        written[word.text] = statement
    values: dict[str, Fraction | None] = {}
    for name in written:
        _work_out(ledger, name, written, values, ())
    return dict(sorted(values.items()))


def _work_out(
    ledger: Ledger,
    name: str,
    written: Mapping[str, Statement],
    values: dict[str, Fraction | None],
    above: tuple[str, ...],
) -> Fraction | None:
    if name in values:
        return values[name]
    statement = written[name]
    if name in above:
        circle = [*above[above.index(name) :], name]
        ledger.say(
            findings.CIRCLE,
            f"the sizes {' -> '.join(f'`{n}`' for n in circle)} lead round in a circle",
            statement.span,
            related=tuple((written[n].span, f"the size `{n}`") for n in circle[:-1]),
        )
        values[name] = None
        return None
    total: Fraction | None = Fraction(0)
    sign = 1
    line = statement.body.part("sum")
    for term in line.children if line is not None else ():
        if isinstance(term, Word):
            sign = -1 if term.text == "-" else 1
            continue
        value = _term(ledger, term, written, values, (*above, name))
        total = None if total is None or value is None else total + sign * value
    if name not in values:
        if total is not None and total < 0:
            ledger.say(findings.BAD_VALUE, f"the size `{name}` comes out below zero", statement.span)
            total = None
        values[name] = total
    return values[name]


def _term(
    ledger: Ledger,
    term: Part,
    written: Mapping[str, Statement],
    values: dict[str, Fraction | None],
    above: tuple[str, ...],
) -> Fraction | None:
    if term.label == "amount":
        found = quantity_of(ledger, term, Dimension.LENGTH)
        return None if found is None else found.si
    times = Fraction(1)
    if term.label == "times":
        number = term.word("number")
        inner = term.part("size_name")
        if number is None or inner is None:
            return None
        times, term = number_of(number.text), inner
    word = term.word("name")
    if word is None:
        return None
    if word.text not in written:
        _say_unknown(ledger, word, written)
        return None
    value = _work_out(ledger, word.text, written, values, above)
    return None if value is None else times * value


def length_of(ledger: Ledger, part: Part, sizes: Sizes) -> Fraction | None:
    """A length in m from an amount or a size's name, more than zero; else None, told."""
    amount = part if part.label == "amount" else part.part("amount")
    if amount is not None:
        return positive(ledger, quantity_of(ledger, amount, Dimension.LENGTH), amount)
    named = part if part.label == "size_name" else part.part("size_name")
    word = (named.word("name") or named.word("size")) if named is not None else None
    if word is None:
        return None
    if word.text in sizes:
        value = sizes[word.text]
        if value == 0:
            ledger.say(findings.BAD_VALUE, f"the size `{word.text}` is nothing here", word.span)
            return None
        return value
    _say_unknown(ledger, word, sizes)
    return None


def _say_unknown(ledger: Ledger, word: Word, known: Iterable[str]) -> None:
    """A name that is no size; a unit in its place has lost the number in front of it."""
    if is_unit(word.text):
        ledger.say(
            NO_NUMBER,
            f"`{word.text}` has no number in front of it",
            word.span,
            f"write how many, as in `4 {word.text}`",
        )
    elif ledger.is_missing(word.text, "size"):
        ledger.say(
            findings.UNKNOWN_NAME,
            f"there is no size called `{word.text}`",
            word.span,
            near_remedy(word.text, known),
        )
