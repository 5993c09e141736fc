"""Public holidays of a country, as the library `holidays` tells them; asked for by the build, never else."""

from collections.abc import Sequence
from datetime import date
from difflib import get_close_matches
from typing import Any

from castlang.spec import findings
from castlang.spec.block import Block
from castlang.spec.ledger import Ledger
from castlang.spec.model import Days
from castlang.syntax.model import Word

YEARS = 4
"""So many calendar years are asked for, from that in which the build starts."""

ENGLISH = "en_US"
EXAMPLE = "holidays DE, or with a part of the country, holidays DE-BY"


def holidays_of(ledger: Ledger, block: Block, start: date | None) -> tuple[Days, ...]:
    """The days of all `holidays` lines of a build that starts on `start`, in order of the calendar.

    Findings: a country or part that the library does not know, and the library missing. An assumption says
    which release of it told the days.
    """
    days: list[Days] = []
    for line in block.all("holidays"):
        word = line.body.word("word")
        if word is not None and start is not None:
            days += _days(ledger, word, start)
    return tuple(sorted(days, key=lambda d: (d.first, d.text or "")))


def _days(ledger: Ledger, word: Word, start: date) -> list[Days]:
    try:
        import holidays
        from holidays.version import __version__ as release
    except ImportError:
        message = f"the public holidays of `{word.text}` are asked for, and what tells them is not installed"
        ledger.say(findings.HOLIDAYS_EXTRA, message, word.span)
        return []
    known: dict[str, list[str]] = holidays.list_supported_countries(include_aliases=False)
    country, _, part = word.text.partition("-")
    if country not in known or (part and part not in known[country]):
        ledger.say(
            findings.UNKNOWN_HOLIDAYS,
            f"no public holidays of `{word.text}` are known",
            word.span,
            _remedy(country, part, known),
        )
        return []
    last = date(min(start.year + YEARS, date.max.year) - 1, 12, 31)
    found = _calendar(holidays, country, part, range(start.year, last.year + 1))
    days = [
        Days(first=day, last=day, text=name, span=word.span)
        for day, name in sorted(found.items())
        if start <= day <= last
    ]
    ledger.assume(
        f"holidays {word.text}",
        f"closed on the public holidays up to {last}, {len(days)} days",
        f"the library `holidays`, release {release}",
        f"closed {days[0].first if days else start}, for each day, in place of `holidays`",
        word.span,
    )
    return days


def _calendar(library: Any, country: str, part: str, years: range) -> dict[date, str]:
    """Days with their names, in English where the library has them so."""
    told = library.country_holidays(country, subdiv=part or None, years=years)
    if ENGLISH in told.supported_languages and told.language != ENGLISH:
        told = library.country_holidays(country, subdiv=part or None, years=years, language=ENGLISH)
    return dict(told)


def _remedy(country: str, part: str, known: dict[str, Sequence[str]] | dict[str, list[str]]) -> str:
    """The near codes: the same in capitals, the parts of the country, or codes spelled alike."""
    upper = country.upper()
    if upper in known:
        parts = known[upper]
        near = [p for p in parts if p.casefold() == part.casefold()] or get_close_matches(part, parts, n=3)
        if not part or near:
            return "write " + " or ".join(f"`holidays {upper}{'-' if part else ''}{p}`" for p in near or [""])
        shown = ", ".join(f"{upper}-{p}" for p in parts[:8])
        return f"write `holidays {upper}` alone" + (f", or a part of it, such as {shown}" if parts else "")
    near = [code for code in (_code(country), *get_close_matches(upper, known, n=3)) if code in known]
    if near:
        return "write the two letters of ISO 3166: " + " or ".join(
            f"`holidays {c}`" for c in dict.fromkeys(near)
        )
    return f"write the two letters of the country by ISO 3166, as in `{EXAMPLE}`"


def _code(name: str) -> str:
    """The code of a country that is told by its name or by three letters; empty where there is none."""
    from holidays.registry import COUNTRIES

    wanted = name.casefold().replace("-", "")
    for key, (called, code, *others) in COUNTRIES.items():
        if wanted in (key.replace("_", ""), called.casefold(), *(other.casefold() for other in others)):
            return code
    return ""
