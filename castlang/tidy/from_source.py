"""A text in the style, line for line: nothing is aligned, joined, split or lost."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from castlang.problems.model import Outcome
from castlang.source.model import SourceFile
from castlang.syntax.from_source import UNDER, document_of
from castlang.syntax.model import Document, Statement
from castlang.tidy.line import tidy_line
from castlang.tidy.meaning import written
from castlang.tidy.model import MeaningNotKept

STEP_IN = 4
TAB_STOPS = (4, 8)
"""What tabs in an indentation are tried as; they are mended when both give the same build."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """A line of the tree: how deep it lies, and in which block."""

    depth: int
    block: str
    kind: str


def tidied(source: SourceFile) -> Outcome[str]:
    """The text in the style; None, with what is wrong, when a line of it cannot be read.

    Raises MeaningNotKept when the result would not read as the same lines.
    """
    lines = _lines(source.text)
    readings = [[_indented(line, stop) for line in lines] for stop in TAB_STOPS]
    if readings[0] == readings[1]:
        readings.pop()
    trees = [document_of(replace(source, text="\n".join(reading))) for reading in readings]
    document = trees[0].value
    if document is None or any(tree.problems or tree.value != document for tree in trees):
        return Outcome(value=None, problems=document_of(source).problems)
    text = "".join(f"{line}\n" for line in _set(readings[0], document))
    after = document_of(replace(source, text=text))
    if after.value is None or after.problems or written(after.value) != written(document):
        raise MeaningNotKept(f"{source.name} would read otherwise when tidied")
    return Outcome(value=text)


def _lines(text: str) -> list[str]:
    """The lines without ends, marks of byte order, spaces at the end, or empty lines at the foot."""
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    lines = [line.rstrip(" \t") for line in plain.split("\n")]
    while lines and not lines[-1]:
        lines.pop()
    return lines


def _indented(line: str, stop: int) -> str:
    """The line with the tabs of its indentation made spaces."""
    body = line.lstrip(" \t")
    return line[: len(line) - len(body)].expandtabs(stop) + body


def _set(lines: Sequence[str], document: Document) -> Iterator[str]:
    places = dict(_places(document.statements, 0, "top"))
    below = _below(lines, places)
    above: list[int] = []  # how far the line above, and each line that it lies under, is indented
    for number, line in enumerate(lines, 1):
        body = line.lstrip(" ")
        indent = len(line) - len(body)
        place = places.get(number)
        if place is not None:
            above = [*above[: place.depth], indent]
            yield " " * (STEP_IN * place.depth) + tidy_line(body, place.block, place.kind)
        elif body:
            yield " " * (STEP_IN * _comment_depth(indent, above, below[number - 1])) + body
        else:
            yield ""


def _places(statements: Sequence[Statement], depth: int, block: str) -> Iterator[tuple[int, _Place]]:
    for statement in statements:
        yield statement.span.line, _Place(depth=depth, block=block, kind=statement.kind)
        yield from _places(statement.under, depth + 1, UNDER.get(statement.kind, ""))


def _below(lines: Sequence[str], places: Mapping[int, _Place]) -> list[tuple[int, int]]:
    """For each line the (depth, indentation) of the next one that says something, at the end 0."""
    below = [(0, 0)] * (len(lines) + 1)
    for number in range(len(lines), 0, -1):
        line = lines[number - 1]
        told = places.get(number)
        here = below[number] if told is None else (told.depth, len(line) - len(line.lstrip(" ")))
        below[number - 1] = here
    return below


def _comment_depth(indent: int, above: Sequence[int], below: tuple[int, int]) -> int:
    """How deep a comment on its own line lies: as deep as the deepest line around it that is not indented
    further than the comment is."""
    around = {**dict(enumerate(above)), below[0]: below[1]}
    return max((depth for depth, far in around.items() if far <= indent), default=0)
