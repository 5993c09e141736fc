"""What a builder is told about a line that could not be read: words, not parser states."""

import re
from difflib import get_close_matches

from castlang.problems.model import Finding, Problem
from castlang.source.model import Span
from castlang.syntax import findings
from castlang.syntax.grammar import BLOCKS, Refusal, keywords, openers

_PLAIN = {
    "NUMBER": "a number",
    "NEGATIVE": "a number",
    "FEET_INCHES": "a length in feet and inches",
    "UNIT": "a unit",
    "NAME": "a name",
    "THING": "a name",
    "MATERIAL": "the name of a mix, stock or fitting",
    "WORD": "a word",
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

SAID_OTHERWISE = {
    "colour": "pigment", "color": "pigment", "fibre": "fiber", "mould": "mold", "stones": "sand",
    "gravel": "sand", "aggregate": "sand", "on-hand": "have", "stock": "have", "demould": "demold",
    "people": "by", "duration": "takes", "time": "takes", "temperature": "at", "needs": "after",
    "grind": "pass", "hone": "pass", "polish": "pass", "seal": "pass", "spray": "layer", "cast": "pour",
}  # fmt: skip
"""Words that people try, and the word of the language that says it."""


def refuse(refusal: Refusal, text: str, block: str, span: Span) -> Problem:
    """The one message for a line that the grammar refused; `span.line` and file are the line's."""
    column = refusal.column
    rest = text[column - 1 :]
    found = re.match(r'"[^"]*"?|[^\s,]+|,|', rest)
    word = found.group(0) if found else ""
    here = Span(file=span.file, line=span.line, column=column, end=column + max(1, len(word)))
    before = text[: column - 1].rstrip()
    for read in (_opening, _text, _figures, _ending):
        problem = read(refusal, text, before, word, block, here)
        if problem is not None:
            return problem
    return _word(refusal, before, word, here)


def _problem(finding: Finding, message: str, span: Span, remedy: str | None = None) -> Problem:
    return Problem(finding=finding, message=message, span=span, remedy=remedy)


def _opening(r: Refusal, text: str, before: str, word: str, block: str, span: Span) -> Problem | None:
    """The first word of the line is not one that this block has."""
    if before.strip():
        return None
    where = "at the left edge" if block == "top" else f"in a {block} block" if block != "step" else "under a step"
    elsewhere = [b for b in BLOCKS if word in openers(b)]
    if elsewhere:
        places = " or ".join(_block_name(b) for b in elsewhere)
        return _problem(
            findings.WRONG_PLACE, f"`{word}` has no meaning {where}", span, f"`{word}` belongs {places}"
        )
    near = _near(word, openers(block))
    remedy = f"did you mean `{near}`?" if near else f"a line here begins with {_list(openers(block))}"
    return _problem(findings.UNKNOWN_WORD, f"`{word}` is not a word that a line {where} begins with", span, remedy)


def _block_name(block: str) -> str:
    return "at the left edge" if block == "top" else "under a step" if block == "step" else f"in a {block} block"


def _text(r: Refusal, text: str, before: str, word: str, block: str, span: Span) -> Problem | None:
    """Something about quotes."""
    if word.startswith('"') and word.count('"') == 1:
        return _problem(findings.OPEN_TEXT, "the text that begins here is not closed", span)
    if before.rstrip().endswith('"') and "TEXT" not in r.wanted and r.wanted == ("$END",):
        return _problem(
            findings.NOT_UNDERSTOOD,
            f"`{word}` stands behind the text",
            span,
            "a text comes last on its line; put the rest before it or on a line under it",
        )
    return None


def _figures(r: Refusal, text: str, before: str, word: str, block: str, span: Span) -> Problem | None:
    """Something about numbers and units."""
    if re.match(r"[$€£¥]", word):
        return _problem(findings.MONEY_SIGN, f"`{word}` has a currency sign", span)
    joined = re.search(r"[^\s]*$", before).group(0) + word if before == text[: len(before)] else word  # type: ignore[union-attr]
    if re.match(r"\d{4}[-./]\d", joined):
        return _problem(
            findings.BAD_DATE, f"`{joined}` is not a date", Span(file=span.file, line=span.line, column=span.end - len(joined), end=span.end)
        )
    if re.match(r"\d[\d:.]*[-–]\d[\d:.]*$", joined) and not re.search(r"\s$", text[: span.column - 1]):
        return _problem(
            findings.RANGE_BY_HYPHEN,
            f"`{joined}` is written with a hyphen",
            Span(file=span.file, line=span.line, column=span.end - len(joined), end=span.end),
        )
    if re.match(r"\d+[-–]\d", word):
        return _problem(findings.RANGE_BY_HYPHEN, f"`{word}` is written with a hyphen", span)
    rest = text[span.column - 1 :]
    grouped = re.match(r"\d+,\d+", rest)
    if grouped or re.match(r"[\d.]+[.,/'\"]", word):
        shown = grouped.group(0) if grouped else word
        return _problem(findings.BAD_NUMBER, f"`{shown}` cannot be read as a number", span)
    numeric = bool(re.match(r"[-+]?\d", word))
    if "UNIT" in r.wanted and not numeric:
        number = re.search(r"\S+$", before)
        what = f"`{number.group(0)}` has no unit" if number else "a unit is missing"
        if word:
            what += f", `{word}` stands in its place"
        return _problem(findings.NO_UNIT, what, span)
    if "UNIT" in r.wanted and numeric:
        number = re.search(r"\S+$", before)
        return _problem(findings.NO_UNIT, f"`{number.group(0) if number else ''}` has no unit", span)
    wants_number = {"NUMBER", "FEET_INCHES"} & set(r.wanted)
    plain = [w for w in r.wanted if w in keywords()]
    if word and wants_number and not numeric and not plain and not {"NAME", "THING"} & set(r.wanted):
        last = re.search(r"\S+$", before)
        behind = f" behind `{last.group(0)}`" if last else ""
        return _problem(findings.NO_NUMBER, f"a number is wanted{behind}, not `{word}`", span)
    if numeric and not wants_number:
        return _problem(
            findings.NOT_UNDERSTOOD,
            f"the number `{word}` has no place here",
            span,
            f"here can stand {_wanted(r.wanted)}",
        )
    return None


def _ending(r: Refusal, text: str, before: str, word: str, block: str, span: Span) -> Problem | None:
    """The line stops too soon."""
    if word and not word.startswith("#"):
        return None
    last = re.search(r"\S+$", before)
    what = f"the line ends behind `{last.group(0)}`" if last else "the line ends"
    here = Span(file=span.file, line=span.line, column=len(before) + 1, end=len(before) + 2)
    return _problem(findings.LINE_TOO_SHORT, f"{what}, and is not whole", here, f"add {_wanted(r.wanted)}")


def _word(r: Refusal, before: str, word: str, span: Span) -> Problem:
    """A word where another was wanted."""
    words = [keywords()[w] for w in r.wanted if w in keywords()]
    near = _near(word, tuple(words))
    last = re.search(r"\S+$", before)
    behind = f" behind `{last.group(0)}`" if last else ""
    if near:
        return _problem(findings.UNKNOWN_WORD, f"`{word}` is not understood{behind}", span, f"did you mean `{near}`?")
    finding = findings.NOT_UNDERSTOOD if word == "," else findings.UNKNOWN_WORD
    return _problem(finding, f"`{word}` is not understood{behind}", span, f"here can stand {_wanted(r.wanted)}")


def _near(word: str, among: tuple[str, ...]) -> str | None:
    said = SAID_OTHERWISE.get(word.lower())
    if said in among:
        return said
    near = get_close_matches(word.lower(), among, n=1, cutoff=0.6)
    return near[0] if near else None


def _wanted(terminals: tuple[str, ...]) -> str:
    words = sorted({f"`{keywords()[t]}`" for t in terminals if t in keywords()})
    plain = sorted({_PLAIN[t] for t in terminals if t in _PLAIN})
    return _join([*plain, *words])


def _list(words: tuple[str, ...]) -> str:
    return _join([f"`{w}`" for w in words])


def _join(names: list[str]) -> str:
    if not names:
        return "nothing more"
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " or " + names[-1]
