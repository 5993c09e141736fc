"""A text to its statements. Each line is read on its own, so each mistake is told once, without followers."""

import re
from dataclasses import dataclass, field
from difflib import get_close_matches

from castlang.problems.model import Finding, Outcome, Problem
from castlang.source.model import SourceFile, Span
from castlang.syntax import findings
from castlang.syntax.grammar import BLOCKS, Refusal, openers, read_line
from castlang.syntax.lines import LogicalLine, logical_lines
from castlang.syntax.mistakes import block_called, refuse
from castlang.syntax.model import Document, Part, Statement

UNDER = {
    "build": "build", "shop": "build", "stock": "stock", "mix": "mix", "mold": "mold", "temp": "mold",
    "station": "station", "fitting": "fitting", "piece": "piece", "job": "job", "shape": "shape",
    "done": "done",
    **dict.fromkeys(
        (
            "layer", "press", "pour", "load", "scrim", "insert", "pass", "work", "test", "place", "move",
            "take", "free", "demold", "release", "wait", "within", "cure", "dry",
        ),
        "step",
    ),
}  # fmt: skip
"""The block that lines under a line of that kind belong to."""

NAMED = ("stock", "mix", "mold", "temp", "station", "fitting", "piece", "job", "size")
"""The kinds of line that give something its name."""

NOTHING_LOST: frozenset[str] = frozenset()
"""One for all lines: an empty one of its own would take as much room as the rest of a line's statement."""

_HEADED = re.compile(r" *\S+ +[^\W\d_]")
"""A first word, and behind it what could be a name."""

LONGEST = 10_000
"""No line is read that is longer, in characters: it would be a slip, and slow."""

STEP_IN = 4
"""How far a line is taken to be indented where no neighbour shows it."""


@dataclass(slots=True)
class _Open:
    """A statement that lines may still be put under.

    block: None when the line could not be understood, so that neither can what stands under it; "" when it
    takes no lines. inner: how far the lines under it are indented, once there is one. depths: every
    indentation met under it, so that a wrong one is told once.
    """

    indent: int
    word: str
    block: str | None
    body: Part | None
    end: int
    comment: str | None = None
    inner: int | None = None
    depths: set[int] = field(default_factory=set)
    under: list[Statement] = field(default_factory=list)
    lost: set[str] = field(default_factory=set)


def document_of(source: SourceFile) -> Outcome[Document]:
    """Read one text. The value is always there, with what could be understood."""
    problems: list[Problem] = []
    reader = _Reader(source.name)
    for line in logical_lines(source, problems):
        if line.undecided:
            reader.leave(line)
        else:
            reader.read(line)
    return Outcome(value=reader.document(), problems=(*problems, *reader.told))


class _Reader:
    """Puts one line after the other under the line that it belongs to."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.told: list[Problem] = []
        self._statements: list[Statement] = []
        self._unread: set[str] = set()
        self._lost: set[str] = set()
        self._stack: list[_Open] = []

    def document(self) -> Document:
        """What was read, every statement finished."""
        self._close(0)
        return Document(
            file=self.file,
            statements=tuple(self._statements),
            unread=frozenset(self._unread),
            lost=frozenset(self._lost),
        )

    def leave(self, line: LogicalLine) -> None:
        """Pass over a line: what it would have said is not missed."""
        self._unread.update(_names(line.text))
        for head in self._stack:
            head.lost.add("")

    def read(self, line: LogicalLine) -> None:
        """Take the next line in."""
        span = Span(file=self.file, line=line.number, column=line.indent + 1, end=len(line.text) + 1)
        word = line.text.split(maxsplit=1)[0]
        if len(line.text) > LONGEST:
            self._tell(findings.LINE_TOO_LONG, f"the line is {len(line.text)} characters long", span)
            self._set_aside(line, word, span, 0)
            return
        depth = len(self._stack)
        while depth and self._stack[depth - 1].indent >= line.indent:
            depth -= 1
        block = self._block(depth)
        read = read_line(line.text, block, span) if block and word in openers(block) else None
        meant = None if block is None else self._seat(line, word, span, depth, read)
        if meant is None:
            self._set_aside(line, word, span, depth)
            return
        self._close(meant)
        self._open(line, word, span, read if meant == depth else None)

    def _block(self, depth: int) -> str | None:
        """The block of a line that stands under the first `depth` open ones."""
        return self._stack[depth - 1].block if depth else "top"

    def _seat(
        self, line: LogicalLine, word: str, span: Span, depth: int, read: Part | Refusal | None
    ) -> int | None:
        """Under how many open lines the line belongs. Where its indentation says one thing and its words
        another, that is told and the words are followed; None when nothing can be made of it."""
        block = self._block(depth)
        elsewhere = None
        if read is None or (isinstance(read, Refusal) and not self._beside_others(line, depth)):
            elsewhere = self._elsewhere(line, word, span, depth, read)
        if block == "":
            self._tell(
                findings.NOTHING_UNDER, f"nothing can stand under `{self._stack[depth - 1].word}`", span
            )
            return elsewhere
        if elsewhere is not None:
            self._stray(word, span, depth, elsewhere)
            return elsewhere
        if not depth:
            if line.indent:
                self._tell(findings.BAD_INDENT, "the line is indented, and stands under nothing", span)
            return depth
        head = self._stack[depth - 1]
        if head.inner is not None and line.indent not in head.depths:
            message = f"the line is indented by {line.indent}, its neighbours by {head.inner}"
            self._tell(findings.BAD_INDENT, message, span)
        head.depths.add(line.indent)
        return depth

    def _beside_others(self, line: LogicalLine, depth: int) -> bool:
        """Whether the line is indented like others that stand there already."""
        return line.indent in self._stack[depth - 1].depths if depth else not line.indent

    def _elsewhere(
        self, line: LogicalLine, word: str, span: Span, depth: int, read: Refusal | None
    ) -> int | None:
        """Under how many open lines this one makes sense, when it makes none where it stands."""
        for other in range(len(self._stack), -1, -1):
            there = self._block(other)
            if other == depth or not there or word not in openers(there):
                continue
            if read is None or isinstance(read_line(line.text, there, span), Part):
                return other
        return None

    def _stray(self, word: str, span: Span, depth: int, meant: int) -> None:
        """A line whose words belong to another block than its indentation."""
        where = f"under `{self._stack[depth - 1].word}`" if depth else "at the left edge"
        head = self._stack[meant - 1] if meant else None
        remedy = "take its indentation away"
        if head is not None:
            indent = head.indent + STEP_IN if head.inner is None else head.inner
            remedy = f"indent it by {indent}, to stand {block_called(head.block or '')}"
        self._tell(findings.BAD_INDENT, f"`{word}` stands {where}, where it does not belong", span, remedy)

    def _tell(self, finding: Finding, message: str, span: Span, remedy: str | None = None) -> None:
        self.told.append(Problem(finding=finding, message=message, span=span, remedy=remedy))

    def _set_aside(self, line: LogicalLine, word: str, span: Span, depth: int) -> None:
        """A line that cannot be read, because what it stands under cannot: told with that, not again."""
        self._close(depth)
        if self._stack:
            self._stack[-1].lost.add(word)
        self._unread.update(_names(line.text))
        self._stack.append(_Open(indent=line.indent, word=word, block=None, body=None, end=span.end))

    def _open(self, line: LogicalLine, word: str, span: Span, read: Part | Refusal | None) -> None:
        """Put the line under the last one that is open; `read` is None when it was not read for there yet."""
        head = self._stack[-1] if self._stack else None
        block = (head.block if head is not None else "top") or ""
        indent = 0
        if head is not None:
            if head.inner is None:
                head.inner = line.indent if line.indent > head.indent else head.indent + STEP_IN
            indent = head.inner
        read = read or read_line(line.text, block, span)
        if isinstance(read, Refusal):
            self._stack.append(self._refused(read, line, word, span, block, indent))
            return
        self._quotes(read)
        end = span.column + len(word)
        kind = UNDER.get(read.label, "")
        comment = _comment(line.text, read)
        self._stack.append(_Open(indent=indent, word=word, block=kind, body=read, end=end, comment=comment))

    def _refused(
        self, read: Refusal, line: LogicalLine, word: str, span: Span, block: str, indent: int
    ) -> _Open:
        """A line that is refused still opens the block that it most likely meant."""
        problem = refuse(read, line.text, block, span)
        self.told.append(problem)
        self._unread.update(_names(line.text))
        near = get_close_matches(word, openers(block), n=1, cutoff=0.6)
        kind = near[0] if near else ""
        meant = UNDER.get(kind)
        body = _front(line.text[: problem.span.column - 1], block, span) if meant else None
        if body is None and self._stack:
            known = any(word in openers(other) for other in BLOCKS)
            self._stack[-1].lost.add(kind or (word if known else ""))
        if kind == "build" or (body is None and kind in NAMED and not _HEADED.match(line.text)):
            self._lost.add(kind)
        return _Open(indent=indent, word=word, block=meant, body=body, end=span.end, lost={""})

    def _quotes(self, body: Part) -> None:
        """A text runs to the last quote of its line; what it may have swallowed is told."""
        text = body.word("text")
        if text is None:
            return
        if re.search(r'" +#', text.text[:-1]):
            self._tell(findings.QUOTE_IN_COMMENT, "the comment behind the text holds a quote", text.span)
        elif re.search(r'" +"', text.text):
            self._tell(findings.TWO_TEXTS, "two texts stand on one line", text.span)

    def _close(self, depth: int) -> None:
        """Finish every open statement beyond the first `depth`."""
        while len(self._stack) > depth:
            done = self._stack.pop()
            head = self._stack[-1] if self._stack else None
            if done.body is None:
                continue
            made = Statement(
                body=done.body,
                end=done.end,
                comment=done.comment,
                under=tuple(done.under),
                lost=frozenset(done.lost) if done.lost else NOTHING_LOST,
            )
            if head is None:
                self._statements.append(made)
            elif head.body is not None:
                head.under.append(made)


def _front(text: str, block: str, span: Span) -> Part | None:
    """The front of a heading or a step, as much as makes sense: its name is known then, and the lines under
    it have a home."""
    for _ in range(4):
        read = read_line(text, block, span)
        if isinstance(read, Part):
            return read if read.label in UNDER else None
        text = " ".join(text.rstrip().rsplit(maxsplit=1)[:-1])
    return None


def _comment(text: str, body: Part) -> str | None:
    """The comment of a line: behind its last word, or, where keywords come last, which leave no word
    behind, from the first `#` that is in no text."""
    if "#" not in text:
        return None
    last = max((child.end for child in body.children), default=1)
    rest = text[last - 1 :].strip()
    if rest.startswith("#"):
        return rest
    quoted = re.match(r'.*(?:^|\s)"[^\r\n]*"', text)
    found = re.search(r"#.*$", text[quoted.end() :] if quoted else text)
    return found.group(0) if found else None


def _names(text: str) -> list[str]:
    """Every word of the text that could be a name."""
    return re.findall(r"[^\W\d_][^\W_]*(?:-[^\W_]+)*", text.strip())
