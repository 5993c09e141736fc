"""Who is called what: every block's name with its kind, and the near name where one is unknown."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from castlang.problems.wording import either
from castlang.source.model import Span
from castlang.spec import findings
from castlang.spec.ledger import Ledger
from castlang.spec.units import SPELLED, currencies, unit_of
from castlang.syntax.model import Statement

BLOCKS = ("stock", "mix", "mold", "temp", "station", "fitting", "piece", "job")


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A block and where its name stands."""

    kind: str
    name: str
    statement: Statement
    span: Span


Names = Mapping[str, Named]


def names_of(ledger: Ledger, statements: Iterable[Statement]) -> dict[str, Named]:
    """The index of all blocks by name; a name borne twice is told with both places."""
    found: dict[str, Named] = {}
    for statement in statements:
        word = statement.body.word("name")
        if statement.kind not in BLOCKS or word is None:
            continue
        refuse_unit(ledger, word.text, word.span)
        known = found.get(word.text)
        if known is not None:
            ledger.say(
                findings.NAME_TWICE,
                f"`{word.text}` is the name of a {known.kind} already",
                word.span,
                related=((known.span, f"the {known.kind} `{word.text}`"),),
            )
            continue
        found[word.text] = Named(kind=statement.kind, name=word.text, statement=statement, span=word.span)
    return found


def is_unit(name: str) -> bool:
    """Whether the word is a unit or a currency code. Counted words (`coats`) and other spellings of a unit
    (`feet`) may be names as well."""
    unit = unit_of(name)
    return unit is not None and name not in SPELLED and (unit.word is None or name in currencies())


def refuse_unit(ledger: Ledger, name: str, span: Span) -> None:
    """A unit cannot be a name."""
    if is_unit(name):
        ledger.say(findings.UNIT_AS_NAME, f"`{name}` is a unit and cannot be a name", span)


def one_of(
    ledger: Ledger, names: Names, text: str, span: Span, kinds: tuple[str, ...], *, what: str | None = None
) -> Named | None:
    """The block called `text`, when it is of one of `kinds`; else None, told with the near name."""
    wanted = what or either(kinds)
    found = names.get(text)
    if found is not None and found.kind in kinds:
        return found
    among = sorted(n for n, named in names.items() if named.kind in kinds)
    if found is not None:
        ledger.say(
            findings.WRONG_KIND,
            f"`{text}` is a {found.kind}; a {wanted} is wanted here",
            span,
            _list_remedy(among),
            related=((found.span, f"the {found.kind} `{text}`"),),
        )
    elif ledger.is_missing(text, *kinds):
        ledger.say(
            findings.UNKNOWN_NAME, f"there is no {wanted} called `{text}`", span, near_remedy(text, among)
        )
    return None


def near_remedy(text: str, among: Iterable[str]) -> str | None:
    """`did you mean ...?` with the nearest of `among`, or a short list, or None."""
    names = sorted(among)
    near = get_close_matches(text, names, n=1, cutoff=0.6)
    if near:
        return f"did you mean `{near[0]}`?"
    return _list_remedy(names)


def _list_remedy(names: list[str]) -> str | None:
    if 0 < len(names) <= 12:
        return f"there is {', '.join(f'`{n}`' for n in names)}"
    return None
