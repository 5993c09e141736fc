"""What could have stood where a line stopped making sense, in words."""

from dataclasses import dataclass

from castlang.problems.model import Finding, Problem
from castlang.problems.wording import either
from castlang.source.model import Span
from castlang.syntax.grammar import keywords

_PLAIN = {
    "UNIT": "a unit",
    "NAME": "a name",
    "SIZE": "the name of a size",
    "THING": "a name",
    "MATERIAL": "the name of a mix, stock or fitting",
    "BASE": "the name of a mix",
    "DAY": "a day such as mon",
    "ROLE": "a role",
    "TEXT": 'a text in "quotes"',
    "DATE": "a date such as 2027-02-01",
    "TIME": "a time such as 07:30",
    "SIGN": "+ or - with a space on each side",
    "COMMA": "a comma",
    "STAR": "*",
    "$END": "the end of the line",
}

_WORD_BEHIND = {
    "print": "metric or us",
    "sold": "a package such as bag",
    "shape": "a shape such as slab",
    "plus": "a shape such as box",
    "less": "a shape such as box",
    "mesh": "a unit such as mm",
    "measure": "mass or volume",
    "edge": "a kind of edge such as fillet",
    "grain": "long, wide or none",
    "ages": "nurse-saul or arrhenius",
    "exchange": "a currency code",
    "each": "the name of a piece",
    "from": "an edge such as left",
    "of": "binder, mix or the name of a stock",
}
"""What a free word means behind each keyword."""

_NUMBERS = {"NUMBER", "NEGATIVE", "FEET_INCHES"}
_CLAUSES = {"takes", "by", "on", "using"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """Where a line stopped making sense. column: from 1; wanted: the terminals that could have stood there;
    word: what stands there, "" at the end of the line; block: the block that the line stands in."""

    text: str
    column: int
    wanted: tuple[str, ...]
    word: str
    block: str
    line: Span

    @property
    def before(self) -> str:
        """The line in front of the place, without the spaces next to it."""
        return self.text[: self.column - 1].rstrip()

    @property
    def rest(self) -> str:
        """The line from the place on."""
        return self.text[self.column - 1 :]

    @property
    def last(self) -> str:
        """The last word in front of the place."""
        return shortened("".join(self.before.rsplit(maxsplit=1)[-1:]))

    @property
    def behind(self) -> str:
        """` behind ...`, to stand in a message."""
        return f" behind `{self.last}`" if self.last else ""

    @property
    def words(self) -> tuple[str, ...]:
        """The keywords that could have stood there."""
        known = keywords()
        return tuple(sorted(known[t] for t in self.wanted if t in known))

    @property
    def amount_wanted(self) -> bool:
        """Whether a number with a unit could have stood there."""
        return {"NUMBER", "FEET_INCHES"} <= set(self.wanted)

    def place(self, start: int, length: int) -> Span:
        """The span of `length` characters from column `start`."""
        return Span(file=self.line.file, line=self.line.line, column=start, end=start + max(1, length))

    def problem(
        self, finding: Finding, message: str, remedy: str | None = None, span: Span | None = None
    ) -> Problem:
        """A problem at the place, or at `span`."""
        here = self.place(self.column, len(self.word))
        return Problem(finding=finding, message=message, span=span or here, remedy=remedy)


def shortened(word: str) -> str:
    """A word as a message shows it."""
    return word if len(word) <= 60 else f"{word[:57]}..."


def wanted_words(at: Break) -> str:
    """What could have stood there: `a comma, a text in "quotes" or the end of the line`."""
    terminals = set(at.wanted)
    if at.amount_wanted:
        terminals -= _NUMBERS
        told = ["an amount with its unit"]
    elif "NUMBER" in terminals:
        # Behind an amount a second one may stand (5 ft 2 in); it is seldom what is missing.
        told = ["a number"] if terminals == {"NUMBER"} else []
    else:
        told = []
    names = {_PLAIN[t] for t in terminals if t in _PLAIN}
    if "WORD" in terminals:
        names.add(_WORD_BEHIND.get(at.last, "a word"))
    told += sorted(names)
    if set(at.words) >= _CLAUSES:
        told.append("a clause such as `takes 35 min`, `by 2`, `on show` or `using mixer`")
    else:
        told += [f"`{word}`" for word in at.words]
    return either(told)
