"""Problems as lines for a person: `FILE:LINE:COLUMN: error: MESSAGE [name]`, the line with the place marked,
and one next step. Form of messages: GNU Coding Standards, "Formatting Error Messages"."""

from collections.abc import Mapping, Sequence
from functools import lru_cache

from castlang.problems.model import Problem, Severity
from castlang.source.model import Span

SHOWN = 160
"""How much of a line is shown, in characters."""

BOLD, PLAIN = "\033[1m", "\033[0m"


def problem_text(problem: Problem, sources: Mapping[str, str], *, bold: bool = False) -> str:
    """One problem. sources: file name to its text, to show the line from; bold: in a terminal's bold face."""
    on, off = (BOLD, PLAIN) if bold else ("", "")
    finding = problem.finding
    lines = [f"{on}{problem.span}: {finding.severity}:{off} {printable(problem.message)} [{finding.name}]"]
    lines += _marked(problem.span, sources)
    for span, what in problem.related:
        lines.append(f"    {span}: {printable(what)}")
    lines.append(f"    next: {printable(problem.remedy or finding.remedy)}")
    return "\n".join(lines)


def _marked(span: Span, sources: Mapping[str, str]) -> list[str]:
    """The line of the source with the place under it marked."""
    text = sources.get(span.file)
    if text is None or span.line < 1:
        return []
    rows = _rows(text)
    if span.line > len(rows):
        return []
    row = printable(rows[span.line - 1])
    first = 0 if span.column < SHOWN else span.column - SHOWN // 2
    front = "... " if first else ""
    behind = " ..." if len(row) > first + SHOWN else ""
    shown = f"{front}{row[first : first + SHOWN]}{behind}"
    column = span.column - first + len(front)
    width = max(1, min(span.end - span.column, len(shown) + 2 - column))
    return [f"    | {shown}".rstrip(), f"    | {' ' * (column - 1)}{'^' * width}"]


@lru_cache(maxsize=4)
def _rows(text: str) -> list[str]:
    """The lines of a source, kept: to cut them anew for each problem takes the square of the build."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")


def printable(text: str) -> str:
    """The text without characters that would steer a terminal; a tab becomes one space."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else " " if c == "\t" else "?" for c in text)


def tally(problems: Sequence[Problem]) -> str:
    """`2 errors, 1 warning`, or `clean`; notes are counted behind."""
    counts = [(sum(p.finding.severity is severity for p in problems), severity) for severity in Severity]
    told = [f"{n} {severity}{'' if n == 1 else 's'}" for n, severity in counts if n]
    weighs = any(p.finding.severity is not Severity.NOTE for p in problems)
    return ", ".join(told if weighs else ["clean", *told])


def in_order(problems: Sequence[Problem], files: Sequence[str]) -> tuple[Problem, ...]:
    """By file (in the order in which they were read), line and column."""
    rank = {name: n for n, name in enumerate(files)}
    return tuple(
        sorted(
            problems,
            key=lambda p: (
                rank.get(p.span.file, len(rank)),
                p.span.line,
                p.span.column,
                p.finding.name,
                p.message,
            ),
        )
    )
