"""Texts that tell apart what they say of the plan's dates from what they say of the work.

Such a text is a text like any other: it is printed whole. What it keeps beside is for the stamps of a sheet.
An f-string makes a plain text of it, all of which counts as facts: put texts together with `sentence`.
"""

from collections.abc import Iterable
from typing import Self


class DatedText(str):
    """A text with dates, clock times or slack in it. facts: what it says without them; dates: they alone.
    Both are empty for what is no part of what a sheet says."""

    __slots__ = ("dates", "facts")
    facts: str
    dates: str

    def __new__(cls, text: str, *, facts: str = "", dates: str = "") -> Self:
        made = super().__new__(cls, text)
        made.facts = facts
        made.dates = dates
        return made


def dated(text: str) -> DatedText:
    """A text that says nothing but dates; it would be another if the plan were."""
    return DatedText(text, dates=str(text))


def aside(text: str) -> DatedText:
    """A text by which a sheet is not known: the build's name, a line of its file, another sheet's stamp."""
    return DatedText(text)


def sentence(*parts: str) -> DatedText:
    """The parts as one text, with nothing between them."""
    return DatedText(
        "".join(parts), facts="".join(map(facts_of, parts)), dates=_listed(map(dates_of, parts), " ")
    )


def joined(*texts: str) -> DatedText:
    """Those that say something, on one line."""
    return DatedText(
        _listed(texts, "; "),
        facts=_listed(map(facts_of, texts), "; "),
        dates=_listed(map(dates_of, texts), " "),
    )


def facts_of(text: str) -> str:
    """What a text says beside dates; all of a plain text."""
    return text.facts if isinstance(text, DatedText) else text


def dates_of(text: str) -> str:
    """The dates in a text; none in a plain one."""
    return text.dates if isinstance(text, DatedText) else ""


def _listed(texts: Iterable[str], between: str) -> str:
    return between.join(text for text in texts if text)
