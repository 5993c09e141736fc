"""One line set in the style: one space between words, clauses in one order, units in their own spelling."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from castlang.spec.clauses import CLAUSES
from castlang.syntax import grammar
from castlang.syntax.grammar import keywords
from castlang.tidy.spelling import own_spelling

KEYWORD_WIDTH = 10
"""Columns that the first word of a line in a block is padded to; a longer one is followed by one space."""

TAIL = (
    "wet", "dry", "on", "into", "sprayed", "laid", "brushed", "rolled", "laps", "at", "covered", "open",
    "tend", "each", "batch-with", "using", "takes", "rate", "by", "between", "overlap", "waste", "earliest",
    "latest", "may-pause", "no-pause", "through-breaks",
)  # fmt: skip
"""The order of what stands behind a line of work: where, how, with what, how long, by whom, when."""

ORDERS: Mapping[str, Sequence[str]] = {
    **dict.fromkeys((*CLAUSES, "under"), TAIL),
    **dict.fromkeys(("plus", "less"), ("on", "placed")),
    **dict.fromkeys(("binder", "sand", "filler", "liquid", "fiber", "pigment"), ("as", "damp")),
}
"""By kind of line, the first words of its clauses in their order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    """One word as it stands. kind: its terminal; keyword: the word of the language that it is; end: the
    place behind it, from the line's first word."""

    kind: str
    text: str
    end: int
    keyword: str | None


def tidy_line(body: str, block: str, kind: str) -> str:
    """The line in the style, without indentation.

    body: as written, from its first word to its last character. block: the block that it stands in ("top",
    "piece"). kind: its label in the tree ("layer", "under"). Texts and comments are kept to the letter.
    """
    tokens = tokens_of(body, block)
    comment = body[tokens[-1].end :].strip(" \t")
    ordered = _in_order(tokens, kind)
    first, rest = ordered[0].text, _spaced(ordered, counted_in_packages=kind == "have_packages")
    if rest:
        first = first.ljust(KEYWORD_WIDTH - 1 if block != "top" else 0) + " "
    return first + rest + (f"  {comment}" if comment else "")


def tokens_of(body: str, block: str) -> list[Token]:
    """The words of a line that can be read; a comment is none."""
    words = keywords()
    return [
        Token(kind=kind, text=body[start:end], end=end, keyword=words.get(kind))
        for kind, start, end in grammar.tokens_of(body.replace("\t", " "), block)
    ]


def _in_order(tokens: Sequence[Token], kind: str) -> list[Token]:
    """The line's own words, its clauses, its text; two clauses of one word keep their order."""
    places = {word: place for place, word in enumerate(ORDERS.get(kind, ()))}
    head: list[Token] = []
    clauses: list[list[Token]] = []
    text: list[Token] = []
    for number, token in enumerate(tokens):
        opens = token.keyword in places and (number > 0 or kind == "under")
        if token.kind == "TEXT" and clauses:
            text.append(token)
        elif opens and not (token.keyword == "by" and _tends_alone(clauses)):
            clauses.append([token])
        else:
            (clauses[-1] if clauses else head).append(token)
    clauses.sort(key=lambda clause: places[clause[0].keyword or ""])
    return [*head, *(token for clause in clauses for token in clause), *text]


def _tends_alone(clauses: Sequence[Sequence[Token]]) -> bool:
    """Whether the last clause is a `tend` that has not said by how many yet."""
    return bool(clauses) and clauses[-1][0].keyword == "tend" and all(t.keyword != "by" for t in clauses[-1])


def _spaced(tokens: Sequence[Token], *, counted_in_packages: bool) -> str:
    """All words but the first, one space between them. A package's word is no unit."""
    told = ""
    for before, token in pairwise(tokens):
        unit = token.kind == "UNIT" and not counted_in_packages
        word = own_spelling(before.text, token.text) if unit else token.text
        told += word if token.kind == "COMMA" else f" {word}"
    return told.removeprefix(" ")
