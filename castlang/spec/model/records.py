"""What stands alone: waivers, measurements, what was done."""

from dataclasses import dataclass, field
from datetime import datetime
from fractions import Fraction

from castlang.source.model import Span
from castlang.spec.model.steps import Gang, StepRef
from castlang.spec.model.times import NOWHERE
from castlang.spec.quantity import Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiver:
    """A finding accepted with a reason, on steps, pieces, mixes: dotted names as written."""

    finding: str
    on: tuple[str, ...]
    reason: str
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A value measured in the shop: `what` is density mass volume area works warmth; amount in SI."""

    what: str
    of: str
    amount: Quantity
    how: str
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """What was really done: a step, from when to when."""

    step: StepRef
    start: datetime
    end: datetime
    at: Fraction | None = None
    gang: tuple[Gang, ...] = ()
    lots: tuple[tuple[str, str], ...] = ()
    text: str | None = None
    span: Span = field(default=NOWHERE, compare=False, repr=False)
