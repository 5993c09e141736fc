"""The clauses of a line, and which of them mean something on which line."""

from collections.abc import Mapping

from castlang.spec import findings
from castlang.spec.references import Scope
from castlang.syntax.model import Part, Statement, Word

TAIL = frozenset(
    {"takes", "rate", "by", "using", "at", "share_lost", "earliest", "latest", "pause", "each", "overlap"}
)


CLAUSES: Mapping[str, frozenset[str]] = {
    "layer": TAIL | {"on", "method", "batch_with"},
    "press": TAIL | {"on", "batch_with"},
    "pour": TAIL | {"into", "batch_with"},
    "scrim": TAIL | {"on", "laps"},
    "insert": TAIL | {"on"},
    "pass": TAIL | {"on", "method", "wetness", "between", "batch_with"},
    "work": TAIL | {"on", "wetness"},
    "test": TAIL,
    "place": TAIL | {"on"},
    "move": TAIL,
    "load": TAIL | {"on"},
    "take": TAIL,
    "free": TAIL,
    "demold": TAIL,
    "release": TAIL | {"on", "method"},
    "cure": frozenset({"at", "shelter", "takes", "by", "tend"}),
    "dry": frozenset({"at"}),
    "wait": frozenset(),
    "within": frozenset(),
    "done": frozenset({"at", "by"}),
}
"""Which clauses mean something on which line."""


KNOWN = frozenset().union(*CLAUSES.values())
"""The clauses that mean something on some line."""

CHOICES = ("method", "wetness", "shelter", "pause")
"""Clauses of one word out of several."""


def clauses_of(scope: Scope, line: Statement) -> dict[str, Part]:
    """The clauses of a line by label; doubled ones and ones without meaning there are told."""
    found: dict[str, Part] = {}
    allowed = CLAUSES[line.kind]
    for part in line.clauses():
        if part.label not in KNOWN:
            continue
        word = _called(part)
        label = "through-breaks" if word == "through-breaks" else part.label
        if part.label not in allowed:
            scope.ledger.say(
                findings.OUT_OF_PLACE, f"`{word}` means nothing on a `{line.kind}` line", part.span
            )
        elif label in found:
            other = _called(found[label])
            twice = f"`{word}` is said twice" if word == other else f"`{other}` and `{word}` are both said"
            scope.ledger.say(
                findings.SAID_TWICE,
                f"{twice} on one step",
                part.span,
                related=((found[label].span, "the first one"),),
            )
        else:
            found[label] = part
    return found


def _called(part: Part) -> str:
    """How the builder calls the clause."""
    if part.label in CHOICES:
        return first_word(part)
    return {"share_lost": "waste", "batch_with": "batch-with"}.get(part.label, part.label)


def first_word(part: Part) -> str:
    """The first word of a clause that is a choice of words."""
    child = part.children[0] if part.children else None
    return child.text if isinstance(child, Word) else ""
