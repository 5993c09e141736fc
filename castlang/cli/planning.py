"""`castlang plan` for several builds: one plan for all of them, against the same shop."""

import sys
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from castlang.cli.builds import compiled, status, tell
from castlang.cli.terminal import Progress
from castlang.problems.as_text import problem_text

if TYPE_CHECKING:
    from castlang.plan.model import Network, Plan


def joint_plan(specs: Sequence[str], search: str, units: str | None) -> "tuple[Plan | None, str, int]":
    """The plan of all `specs` together, None where there is none; the units it is shown in; and the exit
    status."""
    from castlang.pipeline import PlanNotKept
    from castlang.plan.from_network import plan_of
    from castlang.plan.several import joined
    from castlang.plan.verify import verify

    builds = [compiled(spec, "quick") for spec in specs]
    networks: list[tuple[str, Network]] = []
    spans = []
    texts: dict[str, str] = {}
    shown = units
    worst = 0
    for build in builds:
        tell(build, notes=False)
        worst = max(worst, status(build))
        if build.spec is not None and build.network is not None and build.plan is not None:
            networks.append((_unlike(build.spec.build.name, [name for name, _ in networks]), build.network))
            shown = shown or build.spec.build.units
            spans.append(build.spec.build.span)
            texts |= build.texts
    shown = shown or "metric"
    if len(networks) < len(builds):
        return None, shown, 1
    joint = joined(networks)
    problems = joint.problems
    plan = None
    if joint.value is not None:
        with Progress() as progress:
            progress("planning")
            found = plan_of(joint.value, search=search)
        problems, plan = found.problems, found.value
    place = spans[0]
    for problem in problems:
        print(problem_text(replace(problem, span=place), texts), file=sys.stderr)
    if plan is None:
        return None, shown, 1
    broken = verify(plan)
    if broken:
        raise PlanNotKept("; ".join(broken))
    return plan, shown, max(worst, 1 if problems else 0)


def _unlike(name: str, taken: Sequence[str]) -> str:
    """The build's name, numbered where an earlier build has it."""
    number = 2
    unlike = name
    while unlike in taken:
        unlike = f"{name}-{number}"
        number += 1
    return unlike
