"""A text to its statements. Every line is read on its own, so each mistake is told, once, without followers."""

import re
from dataclasses import dataclass, field
from difflib import get_close_matches

from lark import Token, Tree

from castlang.problems.model import Outcome, Problem
from castlang.source.model import SourceFile, Span
from castlang.syntax import findings
from castlang.syntax.grammar import Refusal, openers, read_line
from castlang.syntax.lines import LogicalLine, logical_lines
from castlang.syntax.mistakes import refuse
from castlang.syntax.model import Document, Part, Statement, Word

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


@dataclass(slots=True)
class _Open:
    """A statement that lines may still be put under. block None: the line could not be understood, so
    neither can what stands under it."""

    indent: int
    block: str | None
    body: Part | None
    span: Span
    comment: str | None = None
    under: list[Statement] = field(default_factory=list)
    broken: bool = False


def document_of(source: SourceFile) -> Outcome[Document]:
    """Read one text. The value is always there, with what could be understood."""
    lines, problems = logical_lines(source)
    told = list(problems)
    statements: list[Statement] = []
    unread: set[str] = set()
    stack: list[_Open] = []
    for line in lines:
        span = Span(file=source.name, line=line.number, column=line.indent + 1, end=len(line.text) + 1)
        _close(stack, line.indent, statements)
        block = _block_of(line, stack, span, told)
        if block is None:
            if stack:
                stack[-1].broken = True
            unread.update(_words(line.text))
            stack.append(_Open(indent=line.indent, block=None, body=None, span=span))
            continue
        stack.append(_open(line, block, span, stack, told, unread))
    _close(stack, -1, statements)
    document = Document(file=source.name, statements=tuple(statements), unread=frozenset(unread))
    return Outcome(value=document, problems=tuple(told))


def _block_of(line: LogicalLine, stack: list[_Open], span: Span, told: list[Problem]) -> str | None:
    """The block that a line stands in, by its indentation; None when that cannot be known."""
    if not stack:
        if line.indent:
            told.append(
                Problem(finding=findings.BAD_INDENT, message="the line is indented and has no block above", span=span)
            )
        return "top"
    above = stack[-1]
    if above.block is None:
        return None
    if above.block == "":
        kind = above.body.label if above.body else "line"
        told.append(
            Problem(finding=findings.NOTHING_UNDER, message=f"nothing can stand under `{kind.replace('_', '-')}`", span=span)
        )
        return None
    first = above.under[0].span.column if above.under else None
    if first is not None and first != line.indent + 1:
        told.append(
            Problem(
                finding=findings.BAD_INDENT,
                message=f"the line is indented by {line.indent}, its neighbours by {first - 1}",
                span=span,
            )
        )
    return above.block


def _open(
    line: LogicalLine, block: str, span: Span, stack: list[_Open], told: list[Problem], unread: set[str]
) -> _Open:
    """Read the line; a line that is refused still opens the block that it most likely meant."""
    read = read_line(line.text, block)
    if isinstance(read, Refusal):
        told.append(refuse(read, line.text, block, span))
        unread.update(_words(line.text))
        if stack:
            stack[-1].broken = True
        word = line.text.split()[0]
        near = get_close_matches(word, openers(block), n=1, cutoff=0.6)
        meant = UNDER.get(near[0].replace("-", "_")) if near else None
        return _Open(indent=line.indent, block=meant, body=None, span=span)
    body = _part(read, span)
    text = body.word("text")
    if text is not None and re.search(r'" +#', text.text[:-1]):
        told.append(
            Problem(finding=findings.QUOTE_IN_COMMENT, message="the comment behind the text holds a quote", span=text.span)
        )
    last = _last_column(body)
    comment = line.text[last - 1 :].strip() or None
    keyword = re.match(r" *([\w-]+)", line.text)
    end = keyword.end() + 1 if keyword else span.end
    head = Span(file=span.file, line=span.line, column=span.column, end=end)
    comment = comment if comment and comment.startswith("#") else _comment(line.text)
    return _Open(indent=line.indent, block=UNDER.get(body.label, ""), body=body, span=head, comment=comment)


def _comment(text: str) -> str | None:
    """The comment of a line whose last words are keywords (which leave no token behind)."""
    quoted = re.match(r'.*(?:^|\s)"[^\r\n]*"', text)
    rest = text[quoted.end() :] if quoted else text
    found = re.search(r"#.*$", rest)
    return found.group(0) if found else None


def _close(stack: list[_Open], indent: int, statements: list[Statement]) -> None:
    """Finish every open statement that a line of this indentation does not stand under."""
    while stack and stack[-1].indent >= indent:
        done = stack.pop()
        if done.body is None:
            continue
        made = Statement(
            body=done.body, span=done.span, comment=done.comment, under=tuple(done.under), broken=done.broken
        )
        if stack:
            if stack[-1].body is not None:
                stack[-1].under.append(made)
                stack[-1].broken |= done.broken
        else:
            statements.append(made)


def _part(tree: Tree[Token], line: Span) -> Part:
    children = tuple(
        _word(child, line) if isinstance(child, Token) else _part(child, line) for child in tree.children
    )
    if children:
        span = Span(
            file=line.file, line=line.line, column=children[0].span.column, end=children[-1].span.end
        )
    else:
        span = line
    return Part(label=str(tree.data), children=children, span=span)


def _word(token: Token, line: Span) -> Word:
    column = token.column or 1
    span = Span(file=line.file, line=line.line, column=column, end=column + len(token))
    return Word(kind=token.type.lower(), text=str(token), span=span)


def _last_column(part: Part) -> int:
    return max((c.span.end for c in part.children), default=1)


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W\d_][^\W_]*(?:-[^\W_]+)*", text)
