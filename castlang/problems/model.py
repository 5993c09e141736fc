"""Findings are declared once, as data; a problem is one finding met at one place."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Generic, TypeVar

from castlang.source.model import Span


class Severity(StrEnum):
    """How much a finding weighs. Errors and warnings make the exit status 1; notes do not."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One kind of thing that can be wrong. `name` is stable for ever and never reused. dated: what it says of
    a build follows from the plan's dates."""

    name: str
    severity: Severity
    says: str
    why: str
    remedy: str
    source: str
    dated: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One finding at one place.

    `message` names the thing, what was found and what was wanted: lower case, no full stop.
    `remedy` is the one next step here; when None the finding's own remedy is shown.
    `related` are further places with what stands there. `about` are the names of the steps, mixes or
    pieces concerned (what `waive` matches).
    """

    finding: Finding
    message: str
    span: Span
    remedy: str | None = None
    related: tuple[tuple[Span, str], ...] = ()
    about: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """Something that the compiler needed and the spec did not say.

    `subject` is the thing ("mix face"), `says` what was taken ("air 3 %"), `source` where the value comes
    from, `line` the line of castlang that would settle it.
    """

    subject: str
    says: str
    source: str
    line: str
    span: Span | None = field(default=None, compare=False)


T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome(Generic[T]):
    """What a stage made (None when it could not) and what it has to say."""

    value: T | None
    problems: tuple[Problem, ...] = ()
    assumptions: tuple[Assumption, ...] = ()

    @property
    def failed(self) -> bool:
        """Whether an error stands among the problems."""
        return any(p.finding.severity is Severity.ERROR for p in self.problems)
