"""A text with a name, and a place in it."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceFile:
    """One text. `name` is how a person calls it (a path as given, or `<stdin>`)."""

    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Span:
    """A place: file, line and columns, all counted from 1; `end` is the column after the last character."""

    file: str
    line: int
    column: int
    end: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"
