"""The lines of one block, sorted by kind, with what is said twice told."""

from collections.abc import Iterator

from castlang.spec import findings
from castlang.spec.ledger import Ledger
from castlang.syntax.model import Part, Statement, Word

STEP_LINES = frozenset(
    {
        "layer", "press", "pour", "load", "scrim", "insert", "pass", "work", "test", "place", "move", "take",
        "free", "demold", "wait", "within", "cure", "dry", "after",
    }
)  # fmt: skip


class Block:
    """The lines under one statement. `repeating` kinds may stand more than once."""

    def __init__(self, ledger: Ledger, statement: Statement, repeating: frozenset[str] = frozenset()) -> None:
        self.statement = statement
        self._lines: dict[str, list[Statement]] = {}
        for line in statement.under:
            known = self._lines.setdefault(line.kind, [])
            free = line.kind in repeating or line.kind in STEP_LINES or line.kind == "note"
            if known and not free:
                word = line.kind.replace("_packages", "").replace("entrained", "air").replace("_", "-")
                ledger.say(
                    findings.SAID_TWICE,
                    f"`{word}` is said twice in one block",
                    line.span,
                    related=((known[0].span, "the first one"),),
                )
                continue
            known.append(line)

    def one(self, kind: str) -> Statement | None:
        """The line of that kind, if there is one."""
        found = self._lines.get(kind)
        return found[0] if found else None

    def all(self, *kinds: str) -> Iterator[Statement]:
        """Every line of those kinds, in the order of the file."""
        for line in self.statement.under:
            if line.kind in kinds:
                yield line

    def amount(self, kind: str) -> Part | None:
        """The (first) amount on the line of that kind."""
        line = self.one(kind)
        return line.body.part("amount") if line is not None else None

    def count(self, kind: str) -> Part | None:
        """The count on the line of that kind."""
        line = self.one(kind)
        return line.body.part("count") if line is not None else None

    def words(self, kind: str) -> tuple[Word, ...]:
        """The names on the line of that kind, with their places."""
        line = self.one(kind)
        part = line.body.part("names") if line is not None else None
        return part.words("thing") if part is not None else ()

    def names(self, kind: str) -> tuple[str, ...]:
        """The names on the line of that kind."""
        return tuple(word.text for word in self.words(kind))

    def notes(self) -> tuple[str, ...]:
        """The texts of the note lines."""
        return tuple(text_of(line.body) or "" for line in self.all("note"))


def text_of(part: Part) -> str | None:
    """The text in quotes of a line, without its quotes."""
    word = part.word("text")
    return word.text[1:-1] if word is not None else None


def word_of(part: Part, kind: str) -> str | None:
    """The text of the first word of that kind."""
    word = part.word(kind)
    return word.text if word is not None else None


def step_name(line: Statement) -> str | None:
    """The name that people call a step by; None for lines that are no steps."""
    if line.kind in ("wait", "within", "cure", "dry", "after"):
        return None
    if line.kind in ("take", "free"):
        target = word_of(line.body, "thing")
        return None if target is None else f"{line.kind}-{target}"
    if line.kind in ("demold", "release"):
        return line.kind
    return word_of(line.body, "name")
