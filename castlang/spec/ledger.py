"""What is found out while a build is read: problems, assumptions, and which units were used."""

from dataclasses import dataclass, field

from castlang.problems.model import Assumption, Finding, Problem
from castlang.source.model import Span


@dataclass(slots=True, kw_only=True)
class Ledger:
    """Collects while one spec is made; never leaves the stage.

    unread: words that stand on lines that could not be read. lost: kinds of block of which one could not be
    read at all. What may stand there is not reported as missing.
    """

    unread: frozenset[str] = frozenset()
    lost: frozenset[str] = frozenset()
    problems: list[Problem] = field(default_factory=list)
    assumptions: list[Assumption] = field(default_factory=list)
    metric: int = 0
    us: int = 0
    _told: set[Problem] = field(default_factory=set)

    def say(
        self,
        finding: Finding,
        message: str,
        span: Span,
        remedy: str | None = None,
        related: tuple[tuple[Span, str], ...] = (),
    ) -> None:
        """Note a problem once: the same thing at the same place is not told twice."""
        problem = Problem(finding=finding, message=message, span=span, remedy=remedy, related=related)
        if problem not in self._told:
            self._told.add(problem)
            self.problems.append(problem)

    def is_missing(self, name: str, *kinds: str) -> bool:
        """Whether it is sure that no block of these kinds bears the name, once none was found."""
        return name not in self.unread and not self.lost & set(kinds)

    def assume(self, subject: str, says: str, source: str, line: str, span: Span | None = None) -> None:
        """Note that a default was taken."""
        self.assumptions.append(Assumption(subject=subject, says=says, source=source, line=line, span=span))
