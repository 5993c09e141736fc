"""Every finding that castlang can have, by name: what `why` explains."""

from collections.abc import Mapping

import castlang.costing.findings
import castlang.plan.findings
import castlang.plan.network.from_takeoff
import castlang.plan.network.holding
import castlang.plan.records.record_findings
import castlang.rules.waivers
import castlang.spec.findings
import castlang.syntax.findings
import castlang.takeoff.batch_findings
import castlang.takeoff.load_findings
import castlang.takeoff.mix_findings
import castlang.takeoff.range_findings
import castlang.takeoff.shape_findings
import castlang.takeoff.step_findings
from castlang.problems.model import Finding
from castlang.rules.catalogue import RULES

_MODULES = (
    castlang.syntax.findings,
    castlang.spec.findings,
    castlang.takeoff.shape_findings,
    castlang.takeoff.mix_findings,
    castlang.takeoff.range_findings,
    castlang.takeoff.batch_findings,
    castlang.takeoff.step_findings,
    castlang.takeoff.load_findings,
    castlang.plan.network.holding,
    castlang.plan.network.from_takeoff,
    castlang.plan.findings,
    castlang.plan.records.record_findings,
    castlang.costing.findings,
    castlang.rules.waivers,
)

RULE_NAMES: tuple[str, ...] = (
    *(rule.finding.name for rule in RULES),
    *(finding.name for finding in castlang.takeoff.range_findings.USUAL),
    castlang.takeoff.load_findings.LIFT_OVER_LIMIT.name,
    castlang.plan.records.record_findings.WINDOW_NOT_KEPT.name,
    castlang.plan.records.record_findings.WINDOW_PASSED.name,
    castlang.plan.records.record_findings.DONE_AT_ONCE.name,
    castlang.plan.findings.CURE_COLD.name,
    castlang.plan.findings.CURE_HOT.name,
    castlang.plan.findings.CURE_FAR_OFF.name,
    castlang.plan.findings.TEND_CLOSED.name,
)
"""The findings that a builder may waive."""


def _all() -> dict[str, Finding]:
    found = {rule.finding.name: rule.finding for rule in RULES}
    for module in _MODULES:
        for value in vars(module).values():
            if isinstance(value, Finding):
                other = found.setdefault(value.name, value)
                if other is not value:
                    raise AssertionError(f"two findings are called {value.name}")
    return dict(sorted(found.items()))


FINDINGS: Mapping[str, Finding] = _all()
