"""What the front of the compiler has to say about a text, for tests of its messages."""

from collections.abc import Mapping
from pathlib import Path

from castlang.documents import read_all
from castlang.problems.as_text import in_order
from castlang.problems.model import Problem, Severity
from castlang.source.files import Texts
from castlang.spec.from_syntax import spec_of

CASES = Path(__file__).parent / "cases"
BENCH = (CASES / "good" / "bench.pour").read_text(encoding="utf-8")
PANEL = (CASES / "good" / "panel.pour").read_text(encoding="utf-8")


def told(text: str | bytes, files: Mapping[str, bytes] | None = None) -> tuple[Problem, ...]:
    """The findings of reading and resolving a text called a.pour, in order, notes left out."""
    library = Texts(texts=files or {})
    read = read_all("a.pour", text if isinstance(text, bytes) else text.encode(), library)
    assert read.value is not None
    meant = spec_of(read.value.documents, library.read).problems if read.value.documents else ()
    every = in_order((*read.problems, *meant), tuple(read.value.texts))
    return tuple(p for p in every if p.finding.severity is not Severity.NOTE)


def names(text: str | bytes, files: Mapping[str, bytes] | None = None) -> list[str]:
    """The names of those findings."""
    return [p.finding.name for p in told(text, files)]


def lines(text: str | bytes, files: Mapping[str, bytes] | None = None) -> list[str]:
    """`COLUMN NAME: MESSAGE; REMEDY` of each of those findings."""
    return [
        f"{p.span.column} {p.finding.name}: {p.message}; {p.remedy or p.finding.remedy}"
        for p in told(text, files)
    ]


def changed(old: str, new: str, text: str = BENCH) -> str:
    """The text with one place changed, which must be there once; an empty `old` adds `new` at the end."""
    if not old:
        return f"{text}{new}\n"
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the text"
    return text.replace(old, new)
