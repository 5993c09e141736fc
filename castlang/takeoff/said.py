"""What a stage has to say while it works: problems and assumptions, each once, in the order met."""

from dataclasses import dataclass, field
from typing import TypeVar

from castlang.problems.model import Assumption, Outcome, Problem, Severity

T = TypeVar("T")


@dataclass(slots=True)
class Said:
    """Gathers what partial outcomes say, so that one outcome can say it all; the dicts are sets in order."""

    problems: dict[Problem, None] = field(default_factory=dict)
    assumptions: dict[Assumption, None] = field(default_factory=dict)

    def heard(self, outcome: Outcome[T]) -> T | None:
        """Keep what `outcome` says and hand back its value."""
        for problem in outcome.problems:
            self.found(problem)
        for assumption in outcome.assumptions:
            self.assumed(assumption)
        return outcome.value

    def found(self, problem: Problem) -> None:
        self.problems.setdefault(problem)

    def assumed(self, assumption: Assumption) -> None:
        self.assumptions.setdefault(assumption)

    @property
    def failed(self) -> bool:
        """Whether an error was met so far."""
        return any(p.finding.severity is Severity.ERROR for p in self.problems)

    def outcome(self, value: T | None) -> Outcome[T]:
        """`value` with everything said; no value once an error was met."""
        return Outcome(
            value=None if self.failed else value,
            problems=tuple(self.problems),
            assumptions=tuple(self.assumptions),
        )
