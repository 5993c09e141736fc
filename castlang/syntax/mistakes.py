"""What a builder is told about a line that could not be read: words, not parser states."""

import re
from collections.abc import Iterable
from difflib import get_close_matches
from itertools import takewhile

from castlang.problems.model import Problem
from castlang.problems.wording import either
from castlang.source.model import Span
from castlang.syntax import findings
from castlang.syntax.figures import figures
from castlang.syntax.grammar import BLOCKS, Refusal, openers
from castlang.syntax.wanted import Break, shortened, wanted_words

SAID_OTHERWISE = {
    "colour": "pigment", "color": "pigment", "fibre": "fiber", "mould": "mold", "stones": "sand",
    "gravel": "sand", "aggregate": "sand", "on-hand": "have", "stock": "have", "demould": "demold",
    "people": "by", "duration": "takes", "time": "takes", "temperature": "at", "needs": "after",
    "with": "using",
    "grind": "pass", "hone": "pass", "polish": "pass", "seal": "pass", "spray": "layer", "cast": "pour",
}  # fmt: skip
"""Words that people try, and the word of the language that says it."""


ON_THINGS = {"move": "THINGS", "place": "THINGS on THING", "test": "THINGS"}
"""Lines that say `of` what they are done, and what stands behind it."""

ONCE_EACH = ", with `each PIECE` behind the things for once a copy"


SHORT = 3
"""Letters up to which a word is near to too many others to be one of them with a slip in it."""


def refuse(refusal: Refusal, text: str, block: str, span: Span) -> Problem:
    """The one message for a line that the grammar refused; `span` is the whole line's."""
    rest = text[refusal.column - 1 :]
    found = re.match(r'"[^"]*"?|[^\s,#]+|,', rest)
    at = Break(
        text=text,
        column=refusal.column,
        wanted=refusal.wanted,
        word=shortened(found.group(0)) if found else "",
        block=block,
        line=span,
    )
    for read in (_opening, _text, figures, _ending):
        problem = read(at)
        if problem is not None:
            return problem
    return _word(at)


def block_called(block: str) -> str:
    """Where a line of that block stands, in words."""
    if block == "top":
        return "at the left edge"
    if block == "step":
        return "under a step"
    return f"in a {block} block"


def _opening(at: Break) -> Problem | None:
    """The first word of the line is not one that this block has."""
    if at.before.strip():
        return None
    where = block_called(at.block)
    elsewhere = [block for block in BLOCKS if at.word in openers(block)]
    if elsewhere:
        remedy = f"`{at.word}` belongs {either(block_called(block) for block in elsewhere)}"
        return at.problem(findings.WRONG_PLACE, f"`{at.word}` has no meaning {where}", remedy)
    near = _near(at.word, openers(at.block))
    remedy = f"a line here begins with {either(f'`{word}`' for word in openers(at.block))}"
    if near is not None:
        remedy = f"did you mean `{near}`?"
    message = f"`{at.word}` is not a word that a line {where} begins with"
    return at.problem(findings.UNKNOWN_WORD, message, remedy)


def _text(at: Break) -> Problem | None:
    """Something about quotes."""
    if at.word.startswith('"') and at.word.count('"') == 1:
        span = at.place(at.column, len(at.rest.rstrip()))
        return at.problem(findings.OPEN_TEXT, "the text that begins here is not closed", span=span)
    if at.before.endswith('"') and at.wanted == ("$END",):
        remedy = "a text comes last on its line; put the rest before it or on a line under it"
        return at.problem(findings.NOT_UNDERSTOOD, f"`{at.word}` stands behind the text", remedy)
    return None


def _ending(at: Break) -> Problem | None:
    """The line stops too soon."""
    if at.word:
        return None
    what = f"the line ends{at.behind}, and is not whole"
    span = at.place(len(at.before) + 1, 1)
    remedy = f"add {wanted_words(at)}"
    if at.text.split()[:1] == ["sold"] and "of" in at.words:
        remedy = "say how much one of them holds, as in `sold bag of 25 kg`"
    return at.problem(findings.LINE_TOO_SHORT, what, remedy, span)


def _word(at: Break) -> Problem:
    """A word where another was wanted."""
    near = _near(at.word, at.words)
    remedy = f"here can stand {wanted_words(at)}{_form(at)}"
    if near is not None:
        remedy = f"did you mean `{near}`?"
    if _reads_as_text(at, near):
        remedy = "a text stands in quotes, at the end of its line"
    if not at.words and "$END" not in at.wanted:
        wanted = wanted_words(at)
        unquoted = at.rest.split(" #")[0].strip() if '"' not in at.rest else at.word
        remedy = f'put it in quotes: "{unquoted}"' if at.wanted == ("TEXT",) else f"write {wanted} there"
        message = f"{wanted} is wanted{at.behind}, not `{at.word}`"
        return at.problem(findings.NOT_UNDERSTOOD, message, remedy)
    plain = at.word == "," or at.word.startswith('"')
    finding = findings.NOT_UNDERSTOOD if plain else findings.UNKNOWN_WORD
    return at.problem(finding, f"`{at.word}` is not understood{at.behind}", remedy)


def _reads_as_text(at: Break, near: str | None) -> bool:
    """Whether plain words stand where a text can, and the first is not a keyword with a slip in it."""
    if "TEXT" not in at.wanted or at.wanted == ("TEXT",) or (near is not None and len(at.word) > SHORT):
        return False
    words = takewhile(lambda word: word.isalpha() and word not in at.words, at.rest.split())
    return len(list(words)) > 1


def _form(at: Break) -> str:
    """The whole form of a line on things where its `of` is missing; nothing elsewhere."""
    opener = "".join(at.text.split()[:1])
    if opener not in ON_THINGS or at.words != ("of",):
        return ""
    return f"; the whole is `{opener} NAME of {ON_THINGS[opener]} takes TIME by N`{ONCE_EACH}"


def _near(word: str, among: Iterable[str]) -> str | None:
    words = tuple(among)
    said = SAID_OTHERWISE.get(word.lower())
    if said in words:
        return said
    near = get_close_matches(word.lower(), words, n=1, cutoff=0.6)
    return near[0] if near else None
