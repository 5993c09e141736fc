"""The main file and every file that it uses, read once each."""

from collections.abc import Mapping
from dataclasses import dataclass

from castlang.problems.model import Outcome, Problem
from castlang.source.files import Library
from castlang.source.model import SourceFile, Span
from castlang.spec.findings import CIRCLE, FILE_OUTSIDE, NO_FILE
from castlang.syntax.findings import NOT_TEXT
from castlang.syntax.from_source import document_of
from castlang.syntax.model import Document, Statement, Word


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """What was read: the documents, main file first, and the texts by name, to show lines from."""

    documents: tuple[Document, ...]
    texts: Mapping[str, str]


def read_all(name: str, data: bytes, library: Library) -> Outcome[Read]:
    """Read `data` (the main file, called `name`) and what it uses, in the order of the `use` lines."""
    reader = _Reader(library)
    reader.read(name, data, (), Span(file=name, line=1, column=1, end=2))
    read = Read(documents=tuple(reader.documents), texts=reader.texts)
    return Outcome(value=read, problems=tuple(reader.problems))


class _Reader:
    def __init__(self, library: Library) -> None:
        self.library = library
        self.documents: list[Document] = []
        self.texts: dict[str, str] = {}
        self.problems: list[Problem] = []

    def read(self, name: str, data: bytes, above: tuple[tuple[str, Span], ...], span: Span) -> None:
        try:
            text = data.decode("utf-8")
        except UnicodeDecodeError as error:
            line = data[: error.start].count(b"\n") + 1
            column = error.start - (data.rfind(b"\n", 0, error.start) + 1) + 1
            place = Span(file=name, line=line, column=column, end=column + 1)
            self.problems.append(Problem(finding=NOT_TEXT, message="the file is not UTF-8 text here", span=place))
            text = data.decode("utf-8", errors="replace")
        if "\0" in text:
            line = text[: text.index("\0")].count("\n") + 1
            place = Span(file=name, line=line, column=1, end=2)
            self.problems.append(Problem(finding=NOT_TEXT, message="the file holds a zero byte here", span=place))
            text = text.replace("\0", " ")
        self.texts[name] = text
        outcome = document_of(SourceFile(name=name, text=text))
        self.problems += outcome.problems
        if outcome.value is None:
            return
        self.documents.append(outcome.value)
        for statement in outcome.value.statements:
            word = statement.body.word("text")
            if statement.kind == "use" and word is not None:
                self._use(name, statement, word, above)

    def _use(self, name: str, statement: Statement, word: Word, above: tuple[tuple[str, Span], ...]) -> None:
        wanted = word.text[1:-1]
        known = self.library.resolve(wanted, name)
        chain = (*above, (name, statement.span))
        for index, (file, _) in enumerate(chain):
            if file == known:
                self.problems.append(
                    Problem(
                        finding=CIRCLE,
                        message=f"the files use one another in a circle: {' -> '.join([f for f, _ in chain[index:]] + [known])}",
                        span=word.span,
                        related=tuple((place, f"{f} uses the next one") for f, place in chain[index:]),
                    )
                )
                return
        if known in self.texts:
            return
        data = self.library.read(wanted, name)
        if isinstance(data, str):
            finding = FILE_OUTSIDE if "outside" in data or "link" in data else NO_FILE
            self.problems.append(Problem(finding=finding, message=f'the file "{wanted}" {data}', span=word.span))
            return
        self.read(known, data, chain, word.span)
