"""`castlang plan` for several builds: one plan for all of them, against the same shop."""

import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from typing import TYPE_CHECKING

from castlang.cli.builds import compiled, status, tell
from castlang.cli.terminal import Progress
from castlang.problems.as_text import problem_text

if TYPE_CHECKING:
    from castlang.pipeline import Compiled
    from castlang.plan.model import Plan
    from castlang.problems.model import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """What came of planning several builds. plan: of all of them, None where there is none. builds: by the
    name that each has in it, judged by its part of the plan. units: in which the plan is shown. status: the
    exit status."""

    plan: "Plan | None"
    builds: "dict[str, Compiled]"
    units: str
    status: int


def joint_plan(specs: Sequence[str], search: str, units: str | None) -> Joint:
    """The plan of all `specs` together. What is found is told, what follows from dates by the joint plan."""
    from castlang.pipeline import PlanNotKept, judged_by
    from castlang.plan.network.several import joined, part_of
    from castlang.plan.records.passed_windows import plan_on
    from castlang.plan.verify import verify

    alone = [compiled(spec, "quick", units) for spec in specs]
    if all(build.plan is not None for build in alone):
        alone = _up_to_the_last_record(specs, alone, units)
    shown = units or next((b.spec.build.units for b in alone if b.spec is not None), "metric")
    if any(build.plan is None for build in alone):
        for build in alone:
            tell(build, notes=False)
        return Joint(plan=None, builds={}, units=shown, status=1)
    builds = _named(alone)
    joint = joined([(name, build.network) for name, build in builds.items() if build.network is not None])
    found, plan = joint.problems, None
    if joint.value is not None:
        with Progress() as progress:
            progress("planning")
            outcome = plan_on(joint.value, search=search)
        found, plan = outcome.problems, outcome.value
    broken = () if plan is None else verify(plan)
    if broken:
        raise PlanNotKept("; ".join(broken))
    worst = 0 if plan is not None else 1
    judged = {}
    for name, build in builds.items():
        own = tuple(_own(problem, name) for problem in found if _is_of(problem, name))
        network = build.network
        part = None if plan is None or network is None else part_of(plan, name, network)
        if part is not None:
            part = replace(part, beside=tuple(other for other in builds if other != name))
        judged[name] = judged_by(build, part, own)
        tell(judged[name], notes=False)
        worst = max(worst, status(judged[name]))
    first = next(iter(builds.values()))
    place = first.spec.build.span if first.spec is not None else None
    texts = {file: text for build in builds.values() for file, text in build.texts.items()}
    for problem in found:
        if not any(_is_of(problem, name) for name in builds):
            somewhere = problem.span if problem.span.file or place is None else place
            print(problem_text(replace(problem, span=somewhere), texts), file=sys.stderr)
            worst = 1
    return Joint(plan=plan, builds=judged, units=shown, status=worst)


def _up_to_the_last_record(
    specs: "Sequence[str]", builds: "Sequence[Compiled]", units: str | None
) -> "list[Compiled]":
    """The builds, none of them with anything planned before the last record of any: the shop is one."""
    told = [_told_up_to(build) for build in builds]
    last = max((moment for moment in told if moment is not None), default=None)
    return [
        build if last is None or moment == last else compiled(spec, "quick", units, since=last, again=build)
        for spec, build, moment in zip(specs, builds, told, strict=True)
    ]


def _told_up_to(build: "Compiled") -> datetime | None:
    network = build.network
    if network is None or not network.since:
        return None
    return datetime.combine(network.hours.start, time()) + timedelta(minutes=network.since)


def _named(builds: "Sequence[Compiled]") -> "dict[str, Compiled]":
    """The builds by name, numbered where an earlier build has it."""
    named: dict[str, Compiled] = {}
    for build in builds:
        name = unlike = "" if build.spec is None else build.spec.build.name
        number = 2
        while unlike in named:
            unlike = f"{name}-{number}"
            number += 1
        named[unlike] = build
    return named


def _is_of(problem: "Problem", name: str) -> bool:
    """Whether a problem of the joint plan is about one build alone."""
    return bool(problem.about) and all(about.startswith(f"{name}/") for about in problem.about)


def _own(problem: "Problem", name: str) -> "Problem":
    """A problem of the joint plan as the build would name what it is about."""
    about = tuple(word for about in problem.about if (word := about.removeprefix(f"{name}/")))
    return replace(problem, about=about)
