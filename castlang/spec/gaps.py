"""Lines that wait: wait, within, cure, dry; and `after`, which orders."""

from collections.abc import Mapping
from fractions import Fraction

from castlang.spec import findings
from castlang.spec.amounts import positive, quantity_of, window_of
from castlang.spec.block import Block, text_of
from castlang.spec.clauses import clauses_of
from castlang.spec.crews import gangs_of
from castlang.spec.model import After, Gang, Gap, GapKind, Mix, Window
from castlang.spec.quantity import Dimension
from castlang.spec.references import Scope, step_ref, step_refs
from castlang.syntax.model import Part, Statement, Word


def after_of(scope: Scope, line: Statement) -> After:
    """An `after` line."""
    owner = scope.own.name if scope.own is not None else ""
    return After(owner=owner, refs=step_refs(scope, line.body.part("things")), span=line.span)


def gap_of(scope: Scope, line: Statement, mix: Mix | None, put_on: str | None) -> Gap | None:
    """A wait; `mix` is what was laid or poured last, for a cure told by strength; `put_on` the mix or stock
    that was put on last."""
    clauses = clauses_of(scope, line)
    told = line.body.part("from_step")
    word = told.word("thing") if told is not None else None
    after = step_ref(scope, word, fittings=False) if word is not None else None
    if word is not None and after is None:
        return None
    at = clauses["at"].part("amount") if "at" in clauses else None
    temperature = quantity_of(scope.ledger, at, Dimension.TEMPERATURE) if at is not None else None
    window, strength, told_at = _window(scope, line, mix, None if temperature is None else temperature.si)
    if window is None:
        return None
    block = Block(scope.ledger, line, frozenset({"write", "hazard", "under", "note"}))
    gap = Gap(
        kind=GapKind(line.kind),
        owner=scope.own.name if scope.own is not None else "",
        window=window,
        after=after,
        at=None if temperature is None else temperature.si,
        told_at=told_at,
        of=put_on if after is None else None,
        covered=_covered(scope, line, clauses),
        until=strength,
        tend=_tend(scope, clauses.get("tend")),
        text=text_of(line.body),
        notes=block.notes(),
        writes=tuple(text_of(under.body) or "" for under in block.all("write")),
        hazards=tuple(name for under in block.all("hazard") for name in _names(under)),
        span=line.span,
    )
    if line.kind == "cure" and at is None and not line.broken:
        scope.ledger.say(
            findings.NOT_SAID,
            "the cure does not say at what temperature it is told",
            line.span,
            "add it, as in `cure 18 h to 3 days at 20 degC covered`",
        )
    return gap


def _names(line: Statement) -> tuple[str, ...]:
    part = line.body.part("names")
    return tuple(w.text for w in part.words("thing")) if part is not None else ()


def _window(
    scope: Scope, line: Statement, mix: Mix | None, at: Fraction | None
) -> tuple[Window | None, Fraction | None, Fraction | None]:
    """The time that is told or, for a strength, the age by which the mix has it; the strength; and the
    temperature of that age. Of lines about a strength those told nearest to the cure's temperature count."""
    if line.kind == "within":
        part = line.body.part("amount")
        longest = (
            positive(scope.ledger, quantity_of(scope.ledger, part, Dimension.TIME), part)
            if part is not None
            else None
        )
        return (None if longest is None else Window(least=Fraction(0), longest=longest)), None, None
    until = line.body.part("until")
    if until is None:
        return window_of(scope.ledger, line.body), None, None
    part = until.part("amount")
    found = quantity_of(scope.ledger, part, Dimension.PRESSURE) if part is not None else None
    if found is None:
        return None, None, None
    told = mix.strength if mix is not None else ()
    times = [
        (Fraction(0) if at is None else abs(warmth - at), age, warmth)
        for strength, age, warmth in told
        if strength >= found.si
    ]
    if not times:
        who = f"the mix `{mix.name}`" if mix is not None else "the mix"
        scope.ledger.say(
            findings.NOT_SAID,
            f"the cure waits for a strength, and {who} does not say when it is reached",
            line.span,
            "add to the mix a line such as `reaches 15 MPa after 18 h at 20 degC`",
        )
        return None, None, None
    _, age, warmth = min(times)
    return Window(least=age), found.si, warmth


def _covered(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> bool | None:
    if line.kind != "cure":
        return None
    part = clauses.get("shelter")
    if part is None:
        if not line.broken:
            scope.ledger.say(
                findings.NOT_SAID,
                "the cure does not say whether it is `covered` or `open`",
                line.span,
                "add the word at the end of the line",
            )
        return None
    first = part.children[0]
    return isinstance(first, Word) and first.text == "covered"


def _tend(scope: Scope, clause: Part | None) -> tuple[Fraction, tuple[Gang, ...]] | None:
    part = clause.part("amount") if clause is not None else None
    if clause is None or part is None:
        return None
    every = positive(scope.ledger, quantity_of(scope.ledger, part, Dimension.TIME), part)
    return None if every is None else (every, gangs_of(scope.ledger, clause))
