"""What the planner says of a network or a build, judged by its verifier and by a general-purpose solver on
the raw constraints. Wants the package ortools."""

from dataclasses import dataclass

from network_by_hand import misread
from random_networks import network_of
from raw_constraints import plan_ends_by, there_is_a_plan
from tight_builds import tight_build

from castlang.pipeline import compile_build
from castlang.plan.from_network import plan_within
from castlang.plan.model import Network
from castlang.plan.searches.search import Effort
from castlang.plan.verify import verify
from castlang.problems.model import Problem, Severity
from castlang.source.files import Texts

FIRST = Effort(placings=0, fewest=20, most=20, patience=20, units=0.3, telling=0.02)
HARDER = Effort(placings=0, fewest=20, most=20, patience=20, units=4.0, telling=0.02)
UNDECIDED = "no-plan-found"


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A claim and what came of it. says: "plan", "impossible" or "undecided"; names: the findings; proven:
    that no plan ends sooner; right: None where the solver could not tell either; wrong: why it is not."""

    says: str
    names: tuple[str, ...] = ()
    proven: bool = False
    right: bool | None = None
    wrong: str = ""


def judged(network: Network) -> Judged:
    """The planner's claim about a network. A plan is right where the verifier accepts it and the solver finds
    none that ends before its bound; an impossibility where the solver finds no plan at all. The planner is
    given more of its own solver's time where it has found nothing at first."""
    found = plan_within(network, FIRST, {})
    if found.value is None and UNDECIDED in _names(found.problems):
        found = plan_within(network, HARDER, {})
    names = _names(found.problems)
    plan = found.value
    if plan is not None:
        broken = verify(plan)
        sooner = plan_ends_by(network, plan.bound - 1)
        wrong = "; ".join(broken) or f"a plan ends before {plan.bound}" * bool(sooner)
        right = False if wrong else None if sooner is None else True
        return Judged(says="plan", names=names, proven=plan.bound == plan.finish, right=right, wrong=wrong)
    if UNDECIDED in names:
        return Judged(says="undecided", names=names)
    about = {name for problem in found.problems for name in problem.about}
    any_plan = there_is_a_plan(network, about & {task.name for task in network.tasks})
    right = None if any_plan is None else not any_plan
    wrong = "there is a plan" * bool(any_plan)
    return Judged(says="impossible", names=names, proven=True, right=right, wrong=wrong)


def judged_network(seed: int) -> Judged:
    """What is said of the random network of a seed."""
    return judged(network_of(seed))


def judged_build(seed: int) -> Judged:
    """What is said of the random build of a seed: its network has to ask what its lines ask, no more and no
    less. "refused" is one that the stages before the planner refuse."""
    build = tight_build(seed)
    made = compile_build("main.pour", build.text.encode(), Texts(), search="quick")
    if made.network is None:
        return Judged(says="refused", names=_names(made.problems))
    apart = misread(build.facts, made.network)
    if apart:
        return Judged(says="misread", names=("misread",), right=False, wrong="; ".join(apart))
    return judged(made.network)


def _names(problems: tuple[Problem, ...]) -> tuple[str, ...]:
    return tuple(sorted({p.finding.name for p in problems if p.finding.severity is Severity.ERROR}))
