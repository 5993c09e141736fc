"""The main file and every file that it uses, read once each."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import PurePath

from castlang.problems.model import Outcome, Problem
from castlang.source.files import Library
from castlang.source.model import SourceFile, Span
from castlang.spec.findings import CIRCLE, FILE_OUTSIDE, NO_FILE
from castlang.syntax.findings import NOT_TEXT
from castlang.syntax.from_source import document_of
from castlang.syntax.model import Document, Statement, Word

HEAD = 8000  # bytes in which a zero byte tells what is no text, as git has it (from memory)
LOST = "\N{REPLACEMENT CHARACTER}"
MOST_LOST = 0.1  # of the letters of a text; more are lost where it is none, or in another encoding throughout


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """What was read: the documents, main file first, and the texts by name, to show lines from. Where a file
    is no text at all there are no documents: nothing in them would mean what somebody wrote."""

    documents: tuple[Document, ...]
    texts: Mapping[str, str]


def read_all(name: str, data: bytes, library: Library) -> Outcome[Read]:
    """Read `data` (the main file, called `name`) and what it uses, in the order of the `use` lines."""
    reader = _Reader(library)
    reader.read(_File(name=name, known=library.resolve(PurePath(name).name, name)), data, ())
    documents = () if reader.strange else tuple(reader.documents)
    read = Read(documents=documents, texts=reader.texts)
    return Outcome(value=read, problems=tuple(reader.problems))


def _is_strange(data: bytes, text: str) -> bool:
    """Whether a file is no text at all, such as a picture, rather than text with a wrong letter in it."""
    return data.find(b"\0", 0, HEAD) >= 0 or text.count(LOST) > len(text) * MOST_LOST


@dataclass(frozen=True, slots=True, kw_only=True)
class _File:
    """A file: `name` as a person calls it, `known` as it is told apart from others."""

    name: str
    known: str


class _Reader:
    def __init__(self, library: Library) -> None:
        self._library = library
        self.documents: list[Document] = []
        self.texts: dict[str, str] = {}
        self.problems: list[Problem] = []
        self.strange = False
        self._known: set[str] = set()

    def read(self, file: _File, data: bytes, above: tuple[tuple[_File, Span], ...]) -> None:
        """Take in one file and what it uses; `above` are the files that led here, with their `use` lines."""
        self._known.add(file.known)
        self.texts[file.name] = self._text(file.name, data)
        if _is_strange(data, self.texts[file.name]):
            self.strange = True
            return
        outcome = document_of(SourceFile(name=file.name, text=self.texts[file.name]))
        self.problems += outcome.problems
        if outcome.value is None:
            return
        self.documents.append(outcome.value)
        for statement in outcome.value.statements:
            word = statement.body.word("text")
            if statement.kind == "use" and word is not None:
                self._use(file, statement, word, above)

    def _text(self, name: str, data: bytes) -> str:
        """The text of a file; a byte that is no text is told, once, at its place."""
        message = "the file is not UTF-8 text here"
        try:
            text, start = data.decode("utf-8"), data.find(b"\0")
            message = "the file holds a zero byte here"
        except UnicodeDecodeError as error:
            text, start = data.decode("utf-8", errors="replace"), error.start
        if start >= 0:
            row = data.rfind(b"\n", 0, start) + 1
            column = len(data[row:start].decode("utf-8", errors="replace")) + 1
            place = Span(file=name, line=data[:start].count(b"\n") + 1, column=column, end=column + 1)
            self.problems.append(Problem(finding=NOT_TEXT, message=message, span=place))
        return text.replace("\0", " ")

    def _use(
        self, file: _File, statement: Statement, word: Word, above: tuple[tuple[_File, Span], ...]
    ) -> None:
        wanted = word.text[1:-1]
        known = self._library.resolve(wanted, file.name)
        chain = (*above, (file, statement.span))
        circle = next((chain[n:] for n, (link, _) in enumerate(chain) if link.known == known), None)
        if circle is not None:
            names = " -> ".join([*(link.name for link, _ in circle), circle[0][0].name])
            self.problems.append(
                Problem(
                    finding=CIRCLE,
                    message=f"the files use one another in a circle: {names}",
                    span=word.span,
                    related=tuple((place, f"{link.name} uses the next one") for link, place in circle),
                )
            )
            return
        if known in self._known:
            return
        data = self._library.read(wanted, file.name)
        if isinstance(data, str):
            finding = FILE_OUTSIDE if data.startswith("lies ") else NO_FILE
            self.problems.append(
                Problem(finding=finding, message=f'the file "{wanted}" {data}', span=word.span)
            )
            return
        self.read(_File(name=known, known=known), data, chain)
