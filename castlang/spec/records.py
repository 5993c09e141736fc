"""Top-level lines that stand alone: waive, measured, done, assume."""

from collections.abc import Iterable, Mapping

from castlang.spec import findings
from castlang.spec.amounts import date_of, moment_of, positive, quantity_of
from castlang.spec.block import text_of, word_of
from castlang.spec.clauses import clauses_of
from castlang.spec.crews import gangs_of
from castlang.spec.defaults import DEFAULTS
from castlang.spec.ledger import Ledger
from castlang.spec.model import Done, Measured, Waiver
from castlang.spec.names import BLOCKS, near_remedy, one_of
from castlang.spec.quantity import Dimension, Quantity
from castlang.spec.references import Scope, step_ref, things_of
from castlang.syntax.findings import NO_UNIT
from castlang.syntax.model import Statement, Word

WHAT: Mapping[str, tuple[tuple[Dimension, ...], tuple[str, ...]]] = {
    "density": ((Dimension.DENSITY,), ("mix", "stock")),
    "mass": ((Dimension.MASS,), ("piece", "fitting")),
    "volume": ((Dimension.VOLUME,), ("piece",)),
    "area": ((Dimension.AREA,), ("piece",)),
    "works": ((Dimension.TIME,), ("mix",)),
    "warmth": ((Dimension.TEMPERATURE,), ("mix", "stock")),
}
"""What can be measured, its dimensions, and of which kinds of thing."""


def waivers_of(scope: Scope, statements: Iterable[Statement]) -> tuple[Waiver, ...]:
    """The `waive` lines, sorted. Whether a rule of that name exists is checked where the rules are known."""
    found: list[Waiver] = []
    for line in statements:
        if line.kind != "waive":
            continue
        name = line.body.word("name")
        on = []
        for first, last in things_of(line.body.part("things")):
            head = first.text.split(".")[0]
            if head not in scope.names and scope.ledger.is_missing(head, *BLOCKS):
                scope.ledger.say(
                    findings.UNKNOWN_NAME,
                    f"there is nothing called `{head}`",
                    first.span,
                    near_remedy(head, scope.names),
                )
                continue
            on.append(first.text)
            if last is not None:
                on.append(last.text)
        if name is not None and on:
            found.append(
                Waiver(finding=name.text, on=tuple(on), reason=text_of(line.body) or "", span=line.span)
            )
    return tuple(sorted(found, key=lambda w: (w.finding, w.on, w.reason)))


def measured_of(scope: Scope, statements: Iterable[Statement]) -> tuple[Measured, ...]:
    """The `measured` lines, sorted by what is measured; one thing measured twice is told."""
    ledger = scope.ledger
    found: list[Measured] = []
    for line in statements:
        if line.kind != "measured":
            continue
        what, thing, part = line.body.word("name"), line.body.word("thing"), line.body.part("amount")
        if what is None or thing is None or part is None:
            continue
        if what.text not in WHAT:
            ledger.say(
                findings.UNKNOWN_NAME,
                f"`{what.text}` is not something that is measured",
                what.span,
                near_remedy(what.text, WHAT),
            )
            continue
        dimensions, kinds = WHAT[what.text]
        amount = quantity_of(ledger, part, *dimensions)
        if not _is_water(what.text, thing.text) or "water" in scope.names:
            of = one_of(ledger, scope.names, thing.text.split(".")[0], thing.span, kinds)
            if of is None or not _whole(scope, what.text, thing):
                continue
        if amount is None:
            continue
        if what.text != "warmth" and positive(ledger, amount, part) is None:
            continue
        twin = next((m for m in found if (m.what, m.of) == (what.text, thing.text)), None)
        if twin is not None:
            ledger.say(
                findings.SAID_TWICE,
                f"the {what.text} of `{thing.text}` is measured twice",
                line.span,
                "keep the measurement that counts",
                related=((twin.span, "the first one"),),
            )
            continue
        found.append(
            Measured(
                what=what.text, of=thing.text, amount=amount, how=text_of(line.body) or "", span=line.span
            )
        )
    return tuple(sorted(found, key=lambda m: (m.what, m.of)))


def _whole(scope: Scope, what: str, thing: Word) -> bool:
    """Whether a whole thing is meant, or the area of one of its faces; else told. Copies are alike, and none
    has a measure of its own."""
    name, _, rest = thing.text.partition(".")
    if not rest:
        return True
    owner = scope.owners.get(name)
    if what != "area" or owner is None:
        scope.ledger.say(
            findings.OUT_OF_PLACE,
            f"the {what} of `{name}` is measured as a whole, not of `{rest}`",
            thing.span,
            f"write `measured {what} of {name}`",
        )
        return False
    if rest not in owner.faces and owner.shaped:
        scope.ledger.say(
            findings.UNKNOWN_FACE,
            f"`{name}` has no face called `{rest}`",
            thing.span,
            near_remedy(rest, owner.faces) or f"its faces are {', '.join(owner.faces)}",
        )
        return False
    return True


def _is_water(what: str, of: str) -> bool:
    """Whether the warmth of the water in the mixes is meant, which is no stock of that name."""
    return (what, of) == ("warmth", "water")


def done_of(scope: Scope, statements: Iterable[Statement]) -> tuple[Done, ...]:
    """The `done` lines, by their time."""
    ledger = scope.ledger
    found: list[Done] = []
    for line in statements:
        if line.kind != "done":
            continue
        word = line.body.word("thing")
        days, times = line.body.parts("date"), line.body.parts("time")
        ref = step_ref(scope, word, fittings=False) if word is not None else None
        first = moment_of(ledger, date_of(ledger, days[0]), times[0]) if days and times else None
        last_day = date_of(ledger, days[-1]) if days else None
        last = moment_of(ledger, last_day, times[-1]) if len(times) > 1 else None
        if ref is None or first is None or last is None:
            continue
        if last < first:
            ledger.say(
                findings.BAD_RANGE,
                "the work ends before it begins",
                line.span,
                "write the earlier time first; with a second date where it runs past midnight",
            )
            continue
        clauses = clauses_of(scope, line)
        at = clauses["at"].part("amount") if "at" in clauses else None
        warm = quantity_of(ledger, at, Dimension.TEMPERATURE) if at is not None else None
        found.append(
            Done(
                step=ref,
                start=first,
                end=last,
                at=None if warm is None else warm.si,
                gang=gangs_of(ledger, clauses["by"]) if "by" in clauses else (),
                lots=_lots(scope, line),
                text=text_of(line.body),
                span=line.span,
            )
        )
    return tuple(sorted(found, key=lambda d: (d.start, d.end, str(d.step))))


def _lots(scope: Scope, line: Statement) -> tuple[tuple[str, str], ...]:
    lots: list[tuple[str, str]] = []
    for under in line.under:
        if under.kind != "lot":
            continue
        word = under.body.word("thing")
        stock = (
            one_of(scope.ledger, scope.names, word.text, word.span, ("stock",)) if word is not None else None
        )
        if stock is not None:
            lots.append((stock.name, text_of(under.body) or ""))
    return tuple(lots)


def defaults_of(ledger: Ledger, statements: Iterable[Statement]) -> dict[str, Quantity]:
    """The `assume` lines: the shop's own defaults."""
    told: dict[str, Quantity] = {}
    for line in statements:
        if line.kind != "assume":
            continue
        word, part = line.body.word("name"), line.body.part("amount")
        if word is None:
            continue
        if word.text not in DEFAULTS:
            ledger.say(
                findings.UNKNOWN_NAME, f"there is no default called `{word.text}`", word.span,
                near_remedy(word.text, DEFAULTS),
            )  # fmt: skip
            continue
        if part is None:
            count = line.body.part("count")
            number = word_of(count, "number") if count is not None else None
            ledger.say(NO_UNIT, f"`{number}` has no unit", count.span if count is not None else line.span)
            continue
        amount = quantity_of(ledger, part, DEFAULTS[word.text].dimension)
        if positive(ledger, amount, part, zero=True) is None or amount is None:
            continue
        if word.text in told and told[word.text] != amount:
            ledger.say(
                findings.SAID_TWICE,
                f"`{word.text}` is assumed with two values",
                line.span,
                "keep one of the two",
            )
            continue
        told[word.text] = amount
    return told
