"""Rules accepted with a reason: a waiver takes a rule's finding away where it matches, and must match."""

from collections.abc import Sequence
from dataclasses import dataclass

from castlang.problems.model import Finding, Problem, Severity
from castlang.spec.model import Waiver

WAIVER_IDLE = Finding(
    name="waiver-idle",
    severity=Severity.WARNING,
    says="a waiver matches nothing",
    why="what it was written for is gone, and it would hide the next slip",
    remedy="take the line out, or write the step or piece that is meant",
    source="the language's rules",
)
UNKNOWN_RULE = Finding(
    name="unknown-rule",
    severity=Severity.ERROR,
    says="a waiver names a rule that there is none of",
    why="it would waive nothing",
    remedy="write the rule's name as the finding shows it in brackets",
    source="the language's rules",
)
NOT_WAIVED = Finding(
    name="not-waived",
    severity=Severity.ERROR,
    says="a waiver names a finding that is not a rule of the trade",
    why="what cannot be understood or cannot be done is not a matter of judgement",
    remedy="mend the finding itself",
    source="the language's rules",
)
ALL = (WAIVER_IDLE, UNKNOWN_RULE, NOT_WAIVED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Waived:
    """What remains, and which problem each waiver took away."""

    remaining: tuple[Problem, ...]
    taken: tuple[tuple[Waiver, Problem], ...]


def waive(
    problems: Sequence[Problem], waivers: Sequence[Waiver], rules: Sequence[str], known: Sequence[str]
) -> Waived:
    """Apply the waivers. rules: names that may be waived; known: the names of all findings."""
    remaining: list[Problem] = []
    taken: list[tuple[Waiver, Problem]] = []
    for problem in problems:
        waiver = next((w for w in waivers if problem.finding.name in rules and matches(w, problem)), None)
        if waiver is None:
            remaining.append(problem)
        else:
            taken.append((waiver, problem))
    used = [id(waiver) for waiver, _ in taken]
    for waiver in waivers:
        if waiver.finding not in known:
            remaining.append(_problem(UNKNOWN_RULE, f"there is no rule called `{waiver.finding}`", waiver))
        elif waiver.finding not in rules:
            remaining.append(
                _problem(NOT_WAIVED, f"`{waiver.finding}` is not a rule that can be waived", waiver)
            )
        elif id(waiver) not in used:
            what = ", ".join(waiver.on)
            remaining.append(_problem(WAIVER_IDLE, f"`{waiver.finding}` is not found on {what}", waiver))
    return Waived(remaining=tuple(remaining), taken=tuple(taken))


def matches(waiver: Waiver, problem: Problem) -> bool:
    """Whether the waiver means this problem: a name given, or one that lies under it."""
    if waiver.finding != problem.finding.name:
        return False
    return any(about == on or about.startswith(f"{on}.") for on in waiver.on for about in problem.about)


def _problem(finding: Finding, message: str, waiver: Waiver) -> Problem:
    return Problem(finding=finding, message=message, span=waiver.span, about=waiver.on)
