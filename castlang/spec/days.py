"""Dates on lines: a day or a run of days."""

from castlang.spec import findings
from castlang.spec.amounts import date_of
from castlang.spec.block import text_of
from castlang.spec.ledger import Ledger
from castlang.spec.model import Days
from castlang.syntax.model import Statement


def days_of(ledger: Ledger, line: Statement) -> Days | None:
    """The days told on a line; None when there are none or they are wrong (then told)."""
    parts = line.body.parts("date")
    if not parts:
        return None
    first = date_of(ledger, parts[0])
    last = date_of(ledger, parts[1]) if len(parts) > 1 else first
    if first is None or last is None:
        return None
    if last < first:
        ledger.say(findings.BAD_RANGE, "the last day comes before the first", line.span)
        return None
    return Days(first=first, last=last, text=text_of(line.body), span=line.span)
