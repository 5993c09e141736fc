"""The form of a rule of the trade: what it says, as data, and what finds where it is broken."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from castlang.plan.graph import Order, order_of
from castlang.plan.model import Network
from castlang.problems.model import Finding, Problem
from castlang.spec.model import Gap, Spec, Step, StepRef
from castlang.takeoff.model import Takeoff

Key = tuple[str, str]
"""A step by its owner and its name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Waited:
    """A gap where it stands: `place` in its owner's sequence, the steps above and below it there.

    above: the step whose work it counts from, coverings left out; None when it counts from a whole owner.
    """

    gap: Gap
    place: int
    above: Step | None
    below: Step | None


@dataclass(frozen=True, kw_only=True)
class Ground:
    """What a rule may look at.

    work: by piece, the steps that touch it, its own first. place: where each step stands in its owner's
    sequence. waits: by owner, its gaps. afters: by step, the steps that an `after` line puts behind it.
    """

    spec: Spec
    takeoff: Takeoff
    network: Network
    work: Mapping[str, tuple[Step, ...]] = field(default_factory=dict)
    place: Mapping[Key, int] = field(default_factory=dict)
    waits: Mapping[str, tuple[Waited, ...]] = field(default_factory=dict)
    afters: Mapping[Key, tuple[tuple[Step, StepRef], ...]] = field(default_factory=dict)

    @cached_property
    def order(self) -> Order:
        """Which tasks come before which; worked out when a rule first asks across two sequences."""
        return order_of(self.network)

    @cached_property
    def ends(self) -> Mapping[str, Mapping[str, str]]:
        """By owner and copy, the point in time at which the waits below its last step are over."""
        found: dict[str, dict[str, str]] = {}
        for task in self.network.tasks:
            if task.kind == "ready":
                found.setdefault(task.owner, {})[task.copy] = task.name
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A rule. breaks and keeps are small builds, the lines that follow `examples.BASE`: the first must be
    found to break this rule and no other, the second to keep them all."""

    finding: Finding
    check: Callable[[Ground], Iterator[Problem]]
    breaks: str
    keeps: str
