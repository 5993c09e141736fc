"""Mistakes in figures: numbers, units, ranges, dates, times, money."""

import re

from castlang.problems.model import Problem
from castlang.problems.wording import either
from castlang.syntax import findings
from castlang.syntax.grammar import keywords
from castlang.syntax.wanted import Break, wanted_words

_RANGE = re.compile(
    r"(?<![\w-])(?P<first>\d[\d.:/]*) ?(?P<unit>[A-Za-z°%]*) ?[-–—] ?"
    r"(?P<last>\d[\d.:]*)(?![\d/]) ?(?P<behind>[A-Za-z°%][\w/]*)?"
)
_GROUPED = re.compile(r"(?<![\w.,])\d+(?:,\d+)+(?:\.\d+)?")
_DATE = re.compile(
    r"(?<![\w-])(?:\d{4}[-./]\d+(?:[-./]\d+)?|\d+[-./]\d+[-./]\d+|\d+ [A-Za-z]+ \d{4}|[A-Za-z]+ \d+ \d{4})"
)
_NUMBER = r"(?<![\w-])(?P<number>-?\d[\d./-]*)"
NEAR = 200
"""How far from the place a mistake is looked for, in characters."""

_COUNTED = ("part", "layer", "piece")
"""Keywords that are also counted words: `1 layer of`."""

_SPELLED = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def figures(at: Break) -> Problem | None:
    """The mistake, when it is one of figures."""
    for read in (_money, _date, _range, _sign, _time, _number, _no_unit, _no_number, _no_place):
        problem = read(at)
        if problem is not None:
            return problem
    return None


def _around(at: Break, pattern: re.Pattern[str]) -> re.Match[str] | None:
    """The match in the line that holds the place or ends just in front of it."""
    start, end = max(0, at.column - NEAR), at.column + NEAR
    for found in pattern.finditer(at.text, start, end):
        if found.start() <= at.column - 1 < found.end() or (found.end() == at.column - 1 and at.word):
            return found
    return None


def _money(at: Break) -> Problem | None:
    found = _around(at, re.compile(r"[^\s,]*[$€£¥][^\s,]*"))
    if found is None:
        return None
    span = at.place(found.start() + 1, len(found.group(0)))
    return at.problem(findings.MONEY_SIGN, f"`{found.group(0)}` has a currency sign", span=span)


def _date(at: Break) -> Problem | None:
    found = _around(at, _DATE)
    if found is None or (":" in found.group(0)):
        return None
    if "DATE" not in at.wanted and not re.match(r"\d{4}[-./]\d+[-./]\d", found.group(0)):
        return None
    span = at.place(found.start() + 1, len(found.group(0)))
    return at.problem(findings.BAD_DATE, f"`{found.group(0)}` is not a date", span=span)


def _range(at: Break) -> Problem | None:
    found = _around(at, _RANGE)
    if found is None or "SIGN" in at.wanted:
        return None
    shown = re.sub(r" ?[A-Za-z°%][\w/]*$", "", found.group(0)).rstrip()
    unit = found["unit"] or found["behind"] or ""
    if ":" in shown:
        unit = ""
    amounts = [f"{value} {unit}".rstrip() for value in (found["first"], found["last"])]
    span = at.place(found.start() + 1, len(shown))
    return at.problem(
        findings.RANGE_BY_HYPHEN,
        f"`{shown}` is written with a hyphen",
        f"say the range with `to`: `{amounts[0]} to {amounts[1]}`",
        span,
    )


def _sign(at: Break) -> Problem | None:
    if "SIGN" not in at.wanted or at.word[:1] not in ("+", "-"):
        return None
    remedy = f"write it as in `long {at.word[0]} 2 * wall`"
    return at.problem(findings.NOT_UNDERSTOOD, "plus and minus stand between two spaces", remedy)


def _time(at: Break) -> Problem | None:
    if "TIME" not in at.wanted or not at.word[:1].isdigit():
        return None
    return at.problem(findings.BAD_TIME, f"`{at.word}` is not a time of day")


def _number(at: Break) -> Problem | None:
    found = _around(at, _GROUPED)
    if found is not None:
        shown = found.group(0)
        if "grit" in at.before.split():
            remedy = f"write `{shown.replace(',', ', ')}`, with a space behind the comma"
        elif re.fullmatch(r"\d{1,3}(?:,\d{3})+(?:\.\d+)?", shown):
            remedy = f"write `{shown.replace(',', '')}` without the comma"
        else:
            remedy = f"write `{shown.replace(',', '.')}`, with a point"
        span = at.place(found.start() + 1, len(shown))
        return at.problem(findings.BAD_NUMBER, f"`{shown}` cannot be read as a number", remedy, span)
    if re.match(r"\.\d", at.word):
        return at.problem(
            findings.BAD_NUMBER, f"`{at.word}` cannot be read as a number", f"write `0{at.word}`"
        )
    if re.match(r"[\d.]+[.,:/'\"]", at.word):
        return at.problem(findings.BAD_NUMBER, f"`{at.word}` cannot be read as a number")
    return None


def _no_unit(at: Break) -> Problem | None:
    """A number, and behind it no unit: nothing, another number, or a word that belongs to what follows."""
    language = [w for w in keywords().values() if w not in _COUNTED]
    pair = "UNIT" not in at.wanted and "NUMBER" in at.wanted and not at.amount_wanted
    taken = _at_end(at, rf"{_NUMBER} +(?P<word>[\w-]+)( +[\d./-]+)?$")
    if taken is not None and taken["word"] in language and ("UNIT" in at.wanted or pair):
        return _lacks_unit(at, taken["number"], taken.start("number"), taken["word"])
    swallowed = None if "takes" in at.words else _at_end(at, rf"{_NUMBER} +(?P<word>[\w-]+) +\d\S* +\S+$")
    if swallowed is not None and swallowed["word"] in at.words:
        return _lacks_unit(at, swallowed["number"], swallowed.start("number"), swallowed["word"])
    if "UNIT" not in at.wanted:
        return None
    last = _at_end(at, rf"{_NUMBER}$")
    number, start = (last["number"], last.start("number")) if last else (at.last, at.column - 1)
    return _lacks_unit(at, number, start, at.word if at.word and not at.word[0].isdigit() else "")


def _at_end(at: Break, pattern: str) -> re.Match[str] | None:
    """The match that ends just in front of the place."""
    return re.compile(pattern).search(at.before, max(0, len(at.before) - NEAR))


def _lacks_unit(at: Break, number: str, start: int, instead: str) -> Problem:
    stands = f", `{instead}` stands in its place" if instead else ""
    remedy = None
    if at.block == "mix" and instead in ("total", "added"):
        remedy = f"write `{number} of binder {instead}`, or the unit behind the number"
    span = at.place(start + 1, len(number))
    return at.problem(findings.NO_UNIT, f"`{number}` has no unit{stands}", remedy, span)


def _no_number(at: Break) -> Problem | None:
    """A word where nothing but a number can stand."""
    others = set(at.wanted) - {"NUMBER", "NEGATIVE", "FEET_INCHES"}
    if not at.word or at.word[0].isdigit() or "NUMBER" not in at.wanted or others:
        return None
    remedy = None
    if at.word.lower() in _SPELLED:
        remedy = f"write `{_SPELLED.index(at.word.lower()) + 1}`"
    elif at.amount_wanted:
        remedy = "write the number in figures, with its unit behind it, as in 15 min or 3/8 in"
    return at.problem(findings.NO_NUMBER, f"a number is wanted{at.behind}, not `{at.word}`", remedy)


def _no_place(at: Break) -> Problem | None:
    """A number where none can stand."""
    if not re.match(r"-?\d", at.word) or "NUMBER" in at.wanted:
        return None
    remedy = f"here can stand {wanted_words(at)}"
    if {"NAME", "THING", "MATERIAL", "BASE"} & set(at.wanted):
        remedy = "a name begins with a letter"
    if "COMMA" in at.wanted and at.last[:1].isdigit():
        remedy = f"is a comma missing between `{at.last}` and `{at.word}`?"
        return at.problem(findings.NOT_UNDERSTOOD, f"`{at.word}` stands{at.behind}", remedy)
    in_front = [word for word in ("takes", "by", "of") if word in at.words]
    if in_front:
        remedy = f"is {either(f'`{w}`' for w in in_front)} missing in front of it?"
    return at.problem(findings.NOT_UNDERSTOOD, f"the number `{at.word}` has no place here", remedy)
