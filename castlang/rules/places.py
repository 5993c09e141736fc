"""A rule broken at one place: a step on a piece."""

from collections.abc import Iterable

from castlang.problems.model import Finding, Problem
from castlang.spec.model import Step


def name_of(step: Step) -> str:
    """`stool.hone`."""
    return f"{step.owner}.{step.name}"


def problem_at(
    finding: Finding,
    step: Step,
    piece: str,
    message: str,
    *,
    remedy: str | None = None,
    related: Iterable[Step] = (),
    about: Iterable[str] = (),
) -> Problem:
    """`finding` at the line of `step`, one for all copies; a waiver may name the step or the piece."""
    return Problem(
        finding=finding,
        message=message,
        span=step.span,
        remedy=remedy,
        related=tuple((other.span, name_of(other)) for other in related),
        about=tuple(dict.fromkeys((name_of(step), piece, *about))),
    )
