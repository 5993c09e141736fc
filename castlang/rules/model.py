"""The form of a rule of the trade: what it says, as data, and a plain function that looks for where it is broken."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from castlang.plan.model import Network
from castlang.problems.model import Finding, Problem
from castlang.spec.model import Spec
from castlang.takeoff.model import Takeoff


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What a rule may look at."""

    spec: Spec
    takeoff: Takeoff
    network: Network


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A rule. breaks and keeps are small builds, the lines that follow `examples.BASE`: the first must be
    found to break this rule and no other, the second to keep them all."""

    finding: Finding
    check: Callable[[Ground], Iterator[Problem]]
    breaks: str
    keeps: str
