"""A place that is none, and spans of time."""

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from castlang.source.model import Span

NOWHERE = Span(file="", line=0, column=0, end=0)
"""The place of what stands in no file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A least time and, where there is one, a longest, in s."""

    least: Fraction
    longest: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """Calendar days, first and last, both in it."""

    first: date
    last: date
    text: str | None = None
    span: Span = field(default=NOWHERE, compare=False, repr=False)
