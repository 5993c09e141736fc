"""The lines of a build as they were written: words, labelled parts, statements with lines under them."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from castlang.source.model import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """One token; `kind` is its terminal in small letters ("name", "number", "unit", "sprayed").

    line: the place of the whole line, column: where the word begins in it. A build has many words, and few of
    them are ever told of, so places are made when they are asked for.
    """

    kind: str
    text: str
    line: Span = field(compare=False)
    column: int = field(compare=False)

    @property
    def end(self) -> int:
        """The column behind the word."""
        return self.column + len(self.text)

    @property
    def span(self) -> Span:
        """Where the word stands."""
        return Span(file=self.line.file, line=self.line.line, column=self.column, end=self.end)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Some tokens with the label of the grammar's rule that holds them. line: the place of the whole line."""

    label: str
    children: "tuple[Word | Part, ...]"
    line: Span = field(compare=False)

    @property
    def column(self) -> int:
        """The column of the first token; the line's where keywords alone stand, which leave none."""
        return self.children[0].column if self.children else self.line.column

    @property
    def end(self) -> int:
        """The column behind the last token, or the line's."""
        return self.children[-1].end if self.children else self.line.end

    @property
    def span(self) -> Span:
        """From the first token to the last."""
        return Span(file=self.line.file, line=self.line.line, column=self.column, end=self.end)

    def word(self, kind: str) -> Word | None:
        """The first word of that kind directly in this part."""
        for child in self.children:
            if isinstance(child, Word) and child.kind == kind:
                return child
        return None

    def words(self, kind: str) -> tuple[Word, ...]:
        """Every word of that kind directly in this part."""
        return tuple(c for c in self.children if isinstance(c, Word) and c.kind == kind)

    def part(self, label: str) -> "Part | None":
        """The first part of that label directly in this part."""
        for child in self.children:
            if isinstance(child, Part) and child.label == label:
                return child
        return None

    def parts(self, label: str) -> "tuple[Part, ...]":
        """Every part of that label directly in this part."""
        return tuple(c for c in self.children if isinstance(c, Part) and c.label == label)


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """One logical line and the lines under it. `body.label` is its kind ("layer", "under"). end: the column
    behind the keyword. lost: the first words of lines under it that could not be read ("" for one that could
    have been any); what such a line may have said is not missing for sure."""

    body: Part
    end: int = field(compare=False)
    comment: str | None = None
    under: "tuple[Statement, ...]" = ()
    lost: frozenset[str] = frozenset()

    @property
    def span(self) -> Span:
        """The keyword's place."""
        line = self.body.line
        return Span(file=line.file, line=line.line, column=line.column, end=self.end)

    @property
    def broken(self) -> bool:
        """Whether something on the line, or under it, could not be read."""
        return bool(self.lost)

    def lacks(self, *words: str) -> bool:
        """Whether it is sure that none of the lines that could not be read begins with one of `words`."""
        return not self.lost & {"", *words}

    @property
    def kind(self) -> str:
        return self.body.label

    def clauses(self) -> Iterator[Part]:
        """The labelled parts of the line itself, then those of its continuation lines."""
        for child in self.body.children:
            if isinstance(child, Part):
                yield child
        for line in self.under:
            if line.kind == "under":
                for child in line.body.children:
                    if isinstance(child, Part):
                        yield child

    def texts(self) -> tuple[Word, ...]:
        """The text of the line, then those of its continuation lines."""
        lines = (self.body, *(line.body for line in self.under if line.kind == "under"))
        return tuple(text for line in lines for text in line.words("text"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """One file, read.

    unread: words that stand on lines that could not be read; a name among them is not reported as unknown.
    lost: kinds of block ("stock", "piece") of which one could not be read and its name not be found;
    "build" when that block could not be read.
    """

    file: str
    statements: tuple[Statement, ...]
    unread: frozenset[str] = frozenset()
    lost: frozenset[str] = frozenset()
