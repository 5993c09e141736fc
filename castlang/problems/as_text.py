"""Problems as lines for a person: `FILE:LINE:COLUMN: error: MESSAGE [name]` (GNU Coding Standards, "Formatting
Error Messages"), the line with the place marked, and one next step."""

from collections.abc import Mapping, Sequence

from castlang.problems.model import Problem, Severity
from castlang.source.model import Span

BOLD, PLAIN = "\033[1m", "\033[0m"


def problem_text(problem: Problem, sources: Mapping[str, str], *, bold: bool = False) -> str:
    """One problem. sources: file name to its text, to show the line from; bold: use a terminal's bold face."""
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
    rows = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if span.line > len(rows):
        return []
    row = printable(rows[span.line - 1])
    width = max(1, min(span.end, len(row) + 2) - span.column)
    return [f"    | {row}".rstrip(), f"    | {' ' * (span.column - 1)}{'^' * width}"]


def printable(text: str) -> str:
    """The text without characters that would steer a terminal; a tab becomes one space."""
    return "".join(c if c.isprintable() else " " if c == "\t" else "?" for c in text)


def tally(problems: Sequence[Problem]) -> str:
    """`2 errors, 1 warning`, or `clean`."""
    counts = [
        (sum(p.finding.severity is severity for p in problems), severity) for severity in (Severity.ERROR, Severity.WARNING)
    ]
    told = [f"{n} {severity}{'' if n == 1 else 's'}" for n, severity in counts if n]
    return ", ".join(told) or "clean"


def in_order(problems: Sequence[Problem], files: Sequence[str]) -> tuple[Problem, ...]:
    """By file (in the order in which they were read), line and column."""
    rank = {name: n for n, name in enumerate(files)}
    return tuple(
        sorted(
            problems,
            key=lambda p: (rank.get(p.span.file, len(rank)), p.span.line, p.span.column, p.finding.name, p.message),
        )
    )
