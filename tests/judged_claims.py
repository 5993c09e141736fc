"""What the planner says of a network, judged by its verifier and by a general-purpose solver on the raw
constraints. Wants the package ortools."""

from dataclasses import dataclass

from raw_constraints import far_minute, plan_ends_by

from castlang.plan.from_network import plan_within
from castlang.plan.model import Network
from castlang.plan.search import Effort
from castlang.plan.verify import verify

EFFORT = Effort(placings=0, fewest=20, most=20, patience=20, units=4.0)
UNDECIDED = "no-plan-found"


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A claim and what came of it. says: "plan", "impossible" or "undecided"; names: the findings; proven:
    that no plan ends sooner; right: None where the solver could not tell either."""

    says: str
    names: tuple[str, ...]
    proven: bool
    right: bool | None


def judged(network: Network) -> Judged:
    """The planner's claim about a network. A plan is right where the verifier accepts it and the solver finds
    none that ends before its bound; an impossibility where the solver finds no plan at all."""
    found = plan_within(network, EFFORT, {})
    names = tuple(sorted({problem.finding.name for problem in found.problems}))
    plan = found.value
    if plan is not None:
        sooner = plan_ends_by(network, plan.bound - 1)
        right = False if verify(plan) else None if sooner is None else not sooner
        return Judged(says="plan", names=names, proven=plan.bound == plan.finish, right=right)
    if UNDECIDED in names:
        return Judged(says="undecided", names=names, proven=False, right=None)
    any_plan = plan_ends_by(network, far_minute(network))
    right = None if any_plan is None else not any_plan
    return Judged(says="impossible", names=names, proven=True, right=right)
