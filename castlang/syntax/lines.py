"""Logical lines: indentation measured, blank and comment lines set aside."""

from collections.abc import Iterator
from dataclasses import dataclass

from castlang.problems.model import Problem
from castlang.source.model import SourceFile, Span
from castlang.syntax import findings
from castlang.syntax.conflicts import undecided


@dataclass(frozen=True, slots=True, kw_only=True)
class LogicalLine:
    """A line with something on it: number from 1, spaces in front, the whole text without its end.

    undecided: it stands in a place that a merge left undecided, and is not read.
    """

    number: int
    indent: int
    text: str
    undecided: bool = False


def logical_lines(source: SourceFile, problems: list[Problem]) -> Iterator[LogicalLine]:
    """The lines that say something, one after another; what is wrong with their indentation is put to
    `problems`."""
    text = source.text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    rows = text.split("\n")
    unread, told = undecided(rows, source.name)
    problems += told
    for number, raw in enumerate(rows, 1):
        stripped = raw.strip()
        if not stripped or stripped.startswith("#"):
            continue
        front = raw[: len(raw) - len(raw.lstrip(" \t"))]
        if "\t" in front:
            column = front.index("\t") + 1
            span = Span(file=source.name, line=number, column=column, end=len(front) + 1)
            problems.append(
                Problem(finding=findings.TAB_INDENT, message="a tab stands in the indentation", span=span)
            )
            front = front.expandtabs(4)
        body = raw.lstrip(" \t").rstrip(" \t").replace("\t", " ")
        yield LogicalLine(
            number=number, indent=len(front), text=" " * len(front) + body, undecided=number in unread
        )
