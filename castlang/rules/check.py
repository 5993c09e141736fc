"""Runs the rules."""

from castlang.plan.model import Network
from castlang.problems.model import Problem
from castlang.rules.catalogue import RULES
from castlang.rules.ground import ground_of
from castlang.spec.model import Spec
from castlang.takeoff.model import Takeoff


def check_rules(spec: Spec, takeoff: Takeoff, network: Network) -> tuple[Problem, ...]:
    """What breaks a rule of the trade, rule by rule."""
    ground = ground_of(spec, takeoff, network)
    return tuple(problem for rule in RULES for problem in rule.check(ground))
