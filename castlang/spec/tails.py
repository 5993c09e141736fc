"""What every line of work may say behind its own words: how long, by whom, with what, when."""

from collections.abc import Mapping
from datetime import datetime
from fractions import Fraction
from typing import Any

from castlang.spec import findings
from castlang.spec.amounts import date_of, moment_of, positive, quantity_of, share_of
from castlang.spec.block import Block, step_name, text_of
from castlang.spec.clauses import first_word
from castlang.spec.crews import gangs_of
from castlang.spec.model import Copies, Step, StepKind
from castlang.spec.names import one_of
from castlang.spec.quantity import Dimension
from castlang.spec.references import Scope, step_refs
from castlang.syntax.model import Part, Statement

Fields = dict[str, Any]
"""Fields of a step, by name. They are gathered, and the step is made once: to change a frozen step of 35
fields takes twice as long as to make it, and was a third of the time in which lines become a spec."""


def tail_of(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> Fields:
    """What every step may say."""
    ledger = scope.ledger
    block = Block(ledger, line, frozenset({"write", "hazard", "under", "note"}))
    pause = clauses.get("pause")
    texts = line.texts()
    if len(texts) > 1:
        ledger.say(
            findings.SAID_TWICE,
            "the step has two texts",
            texts[1].span,
            "put the second one on a `note` line",
        )
    takes = clauses.get("takes")
    rate = clauses.get("rate")
    if takes is not None and rate is not None:
        ledger.say(
            findings.SAID_TWICE,
            "the step says both `takes` and `rate`",
            rate.span,
            "keep the one that is true",
        )
    rate_part = rate.part("amount") if rate is not None else None
    found = (
        quantity_of(ledger, rate_part, Dimension.AREA_RATE, Dimension.VOLUME_RATE)
        if rate_part is not None
        else None
    )
    if rate_part is not None and positive(ledger, found, rate_part) is None:
        found = None
    return {
        "takes": amount_on(scope, takes, Dimension.TIME),
        "rate": found,
        "gang": gangs_of(ledger, clauses["by"]) if "by" in clauses else (),
        "using": _stations(scope, clauses.get("using")),
        "at": _temperature(scope, clauses.get("at")),
        "waste": _share(scope, clauses.get("share_lost")),
        "earliest": _moment(scope, clauses.get("earliest"), end=False),
        "latest": _moment(scope, clauses.get("latest"), end=True),
        "may_pause": pause is not None and first_word(pause) == "may-pause",
        "through_breaks": "through-breaks" in clauses,
        "overlap": amount_on(scope, clauses.get("overlap"), Dimension.TIME),
        "each": _each(scope, clauses.get("each")),
        "batch_with": _batch_with(scope, clauses.get("batch_with")),
        "instruction": texts[0].text[1:-1] if texts else None,
        "notes": block.notes(),
        "writes": tuple(text_of(under.body) or "" for under in block.all("write")),
        "hazards": tuple(
            w.text
            for under in block.all("hazard")
            for names in (under.body.part("names"),)
            if names is not None
            for w in names.words("thing")
        ),
    }


def amount_on(scope: Scope, clause: Part | None, dimension: Dimension) -> Fraction | None:
    """The positive SI value of a clause's amount."""
    part = clause.part("amount") if clause is not None else None
    return None if part is None else positive(scope.ledger, quantity_of(scope.ledger, part, dimension), part)


def _temperature(scope: Scope, clause: Part | None) -> Fraction | None:
    part = clause.part("amount") if clause is not None else None
    found = quantity_of(scope.ledger, part, Dimension.TEMPERATURE) if part is not None else None
    return None if found is None else found.si


def _share(scope: Scope, clause: Part | None) -> Fraction | None:
    part = clause.part("amount") if clause is not None else None
    return None if part is None else share_of(scope.ledger, part, most=300)


def _moment(scope: Scope, clause: Part | None, *, end: bool) -> datetime | None:
    part = clause.part("date") if clause is not None else None
    if clause is None or part is None:
        return None
    return moment_of(scope.ledger, date_of(scope.ledger, part), clause.part("time"), end_of_day=end)


def _stations(scope: Scope, clause: Part | None) -> tuple[str, ...]:
    names = clause.part("names") if clause is not None else None
    found: list[str] = []
    for word in names.words("thing") if names is not None else ():
        station = one_of(scope.ledger, scope.names, word.text, word.span, ("station",))
        if station is not None and station.name not in found:
            found.append(station.name)
    return tuple(found)


def _each(scope: Scope, clause: Part | None) -> str | None:
    word = clause.word("word") if clause is not None else None
    if word is None:
        return None
    if scope.own is not None and scope.own.kind != "job":
        scope.ledger.say(
            findings.OUT_OF_PLACE,
            "`each` stands on a job's step; a piece's step is done for each copy anyway",
            word.span,
        )
        return None
    piece = one_of(scope.ledger, scope.names, word.text, word.span, ("piece",))
    return piece.name if piece is not None else None


def _batch_with(scope: Scope, clause: Part | None) -> tuple[tuple[str, str], ...]:
    """The steps that are served by the same batches: whole steps, of all copies."""
    found: list[tuple[str, str]] = []
    for ref in step_refs(scope, clause.part("things") if clause is not None else None, fittings=False):
        whole = ref.copies == Copies() and not (ref.part or ref.gap or ref.point)
        if ref.step is None or not whole:
            scope.ledger.say(
                findings.OUT_OF_PLACE,
                "batches are shared with a whole step, and with all copies of it",
                ref.span,
                "write piece and step, as in `batch-with stool.body`",
            )
        elif (ref.owner, ref.step) not in found:
            found.append((ref.owner, ref.step))
    return tuple(found)


def need_work(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> None:
    """Work says how long and by how many; taking a mold or a station from its place does not."""
    free = step.kind in (StepKind.TAKE, StepKind.FREE, StepKind.RELEASE)
    if free and step.target is not None:
        named = scope.names.get(step.target)
        free = named is None or named.kind != "temp"
    missing = []
    if "takes" not in clauses and "rate" not in clauses:
        missing.append("`takes` or `rate`")
    if "by" not in clauses:
        missing.append("`by`")
    half = len(missing) == 1
    if not missing or line.broken or (free and not half):
        return
    scope.ledger.say(
        findings.NOT_SAID,
        f"the step `{step.name}` does not say {' nor '.join(missing)}",
        line.span,
        "say how long it takes and by how many people, as in `takes 35 min by 2`",
    )


def need(scope: Scope, line: Statement, present: bool, what: str, example: str) -> None:
    """Tell that a step does not say something that it must."""
    if not present and not line.broken:
        scope.ledger.say(
            findings.NOT_SAID,
            f"the step `{step_name(line)}` does not say {what}",
            line.span,
            f"add it, as in `{example}`",
        )
