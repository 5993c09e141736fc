"""Whether two texts mean the same: the lines as written, and the build that they make."""

from collections.abc import Sequence

from castlang.problems.model import Assumption
from castlang.source.model import SourceFile
from castlang.spec.clauses import CLAUSES
from castlang.spec.from_syntax import spec_of
from castlang.spec.model import Spec
from castlang.spec.shapes import Bytes
from castlang.spec.units import unit_of
from castlang.syntax.from_source import document_of
from castlang.syntax.model import Document, Part, Statement, Word

Meaning = tuple[Spec | None, tuple[str, ...], tuple[Assumption, ...]]

_FREE = frozenset().union(*CLAUSES.values(), ("at_face", "placed", "as_solids", "damp"))
"""Parts of a line that may stand in any order."""


def meaning(documents: Sequence[Document], read: Bytes) -> Meaning:
    """What the documents mean together: the spec, the findings by name, what is assumed.

    A set of files without a build (a shop's stores) is given an empty one, so that it means something.
    read: gives the bytes of a mesh file.
    """
    if not any(s.kind == "build" for d in documents for s in d.statements):
        empty = document_of(SourceFile(name="", text="build stores\n")).value
        documents = [*documents, *([empty] if empty is not None else [])]
    outcome = spec_of(documents, read)
    names = tuple(sorted(problem.finding.name for problem in outcome.problems))
    return outcome.value, names, outcome.assumptions


def written(document: Document) -> tuple[object, ...]:
    """The lines of a document such that two are equal when they say the same, whatever the order of their
    clauses and the spelling of their units. Comments and texts count to the letter."""
    return tuple(_statement(s) for s in document.statements)


def _statement(statement: Statement) -> object:
    return (
        _part(statement.body),
        statement.comment,
        statement.broken,
        tuple(_statement(s) for s in statement.under),
    )


def _part(part: Part) -> object:
    children = [_part(c) if isinstance(c, Part) else _word(c) for c in part.children]
    labels = [c.label if isinstance(c, Part) else "" for c in part.children]
    fixed = [c for c, label in zip(children, labels, strict=True) if label not in _FREE]
    free = [c for c, label in zip(children, labels, strict=True) if label in _FREE]
    return part.label, tuple(fixed), tuple(sorted(free, key=_label))


def _label(part: object) -> str:
    """What the parts in free order are sorted by; two of one kind keep their order."""
    return (part[0] + repr(part[1]) if part[0] == "pause" else part[0]) if isinstance(part, tuple) else ""


def _word(word: Word) -> object:
    if word.kind != "unit":
        return word.kind, word.text
    unit = unit_of(word.text)
    known = unit is not None
    return word.kind, (unit.factor, unit.offset, unit.dimension, unit.word) if known and unit else word.text
