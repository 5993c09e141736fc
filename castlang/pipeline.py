"""The whole compiler on one screen: the stages, called in order.

A stage that found errors ends the run before the next begins, so that no error follows from another.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any, TypeVar

from castlang.catalogue import FINDINGS, RULE_NAMES
from castlang.costing.from_plan import costing_of
from castlang.costing.model import Costing
from castlang.documents import Read, read_all
from castlang.plan.model import Network, Plan
from castlang.plan.network.from_takeoff import network_of
from castlang.plan.records.passed_windows import plan_on
from castlang.plan.records.recorded import with_records
from castlang.plan.shop_hours import minute_of
from castlang.plan.told.tending import tending_problems
from castlang.plan.verify import verify
from castlang.plan.warmth.warm_runs import run_problems
from castlang.problems.as_text import in_order
from castlang.problems.model import Assumption, Outcome, Problem, Severity
from castlang.rules.check import check_rules
from castlang.rules.waivers import waive
from castlang.source.files import Library
from castlang.spec.findings import FILE_OUTSIDE, NO_FILE, UNKNOWN_NAME
from castlang.spec.from_syntax import spec_of
from castlang.spec.model import NOWHERE, Spec, Waiver
from castlang.takeoff.from_spec import takeoff_of
from castlang.takeoff.model import Takeoff

Stage = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Compiled:
    """A build as far as it could be compiled; a stage that was not reached is None.

    problems: in order of file and line, waived ones taken out. waived: (waiver, what it took away).
    texts: every file read, by name. sound: what was found before a plan was looked for, nothing waived yet.
    """

    spec: Spec | None = None
    takeoff: Takeoff | None = None
    network: Network | None = None
    plan: Plan | None = None
    costing: Costing | None = None
    problems: tuple[Problem, ...] = ()
    waived: tuple[tuple[Waiver, Problem], ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    texts: Mapping[str, str] = field(default_factory=dict)
    sound: tuple[Problem, ...] = ()

    @property
    def clean(self) -> bool:
        """No error and no warning remains."""
        return all(p.finding.severity is Severity.NOTE for p in self.problems)


class PlanNotKept(Exception):  # noqa: N818  (a bug of ours, told as one)
    """The verifier refused a plan: a bug of castlang's, never a builder's mistake."""


def compile_build(
    name: str,
    data: bytes,
    library: Library,
    stage: Stage = lambda _: None,
    *,
    search: str = "normal",
    previous: Mapping[str, datetime] | None = None,
    units: str | None = None,
    since: datetime | None = None,
) -> Compiled:
    """Compile the build in `data`. `stage` is told each stage's name as it begins. search: how hard to look
    for a plan; previous: the starts of the plan before, by step; units: "metric" or "us" in place of the
    build's own, in all that is told and rounded; since: up to when the shop's work is told in other builds.

    Raises PlanNotKept when the plan does not pass the independent check.
    """
    stage("reading")
    run = _Run()
    read = run.heard(read_all(name, data, library)) or Read(documents=(), texts={})
    texts = read.texts
    if not read.documents:
        return run.done(texts)
    spec = run.heard(_told_in(units, spec_of(read.documents, library.read)))
    run.without_followers()
    del read  # the lines as written are the greater part of what is held, and nobody asks for them any more
    if spec is None or run.failed:
        return run.done(texts, spec=spec)
    stage("measuring")
    takeoff = run.heard(takeoff_of(spec))
    if takeoff is None or run.failed:
        return run.done(texts, spec=spec, takeoff=takeoff)
    stage("checking")
    network = run.heard(network_of(spec, takeoff))
    if network is None:
        return run.done(texts, spec=spec, takeoff=takeoff)
    run.problems += check_rules(spec, takeoff, network)
    if run.failing(spec):
        return run.done(texts, spec=spec, takeoff=takeoff, network=network)
    up_to = None if since is None else max(0, minute_of(spec.build, since))
    recorded = run.heard(with_records(network, spec, takeoff, since=up_to))
    if recorded is None:
        return run.done(texts, spec=spec, takeoff=takeoff, network=network)
    network, sound = recorded, tuple(run.problems)
    stage("planning")
    before = {step: minute_of(spec.build, at) for step, at in (previous or {}).items()}
    plan = run.heard(plan_on(network, search=search, previous=before))
    if plan is None:
        return run.done(texts, spec=spec, takeoff=takeoff, network=network, sound=sound)
    broken = verify(plan)
    if broken:
        raise PlanNotKept("; ".join(broken))
    stage("costing")
    return _judged(run, texts, spec, takeoff, network, plan, sound)


def judged_by(build: Compiled, plan: Plan | None, told: tuple[Problem, ...] = ()) -> Compiled:
    """A build that was planned together with others: what follows from dates is judged by its part of that
    plan, and no longer by the plan that it had alone. told: what the joint planning found of it. plan None:
    there is none, and nothing follows from dates."""
    if build.spec is None or build.takeoff is None or build.network is None:
        return build
    run = _Run()
    run.problems += [*build.sound, *told]
    run.assumptions += build.assumptions
    if plan is None:
        return run.done(build.texts, spec=build.spec, takeoff=build.takeoff, network=build.network)
    return _judged(run, build.texts, build.spec, build.takeoff, build.network, plan, build.sound)


def _judged(
    run: "_Run",
    texts: Mapping[str, str],
    spec: Spec,
    takeoff: Takeoff,
    network: Network,
    plan: Plan,
    sound: tuple[Problem, ...],
) -> Compiled:
    """The last stages, with all that follows from the dates of a plan."""
    run.problems += run_problems(plan, spec.build.units)
    run.problems += tending_problems(plan)
    costing = run.heard(costing_of(spec, takeoff, plan))
    return run.done(
        texts, spec=spec, takeoff=takeoff, network=network, plan=plan, costing=costing, sound=sound
    )


T = TypeVar("T")


class _Run:
    """Collects what the stages say."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []
        self.assumptions: list[Assumption] = []

    def heard(self, outcome: Outcome[T]) -> T | None:
        """The stage's value, its problems and assumptions noted."""
        self.problems += outcome.problems
        known = set(self.assumptions)
        self.assumptions += [a for a in outcome.assumptions if a not in known]
        return outcome.value

    def without_followers(self) -> None:
        """Names that nobody defines are left out where a file is missing that may define them."""
        if any(p.finding in (NO_FILE, FILE_OUTSIDE) for p in self.problems):
            self.problems = [p for p in self.problems if p.finding != UNKNOWN_NAME]

    @property
    def failed(self) -> bool:
        return any(p.finding.severity is Severity.ERROR for p in self.problems)

    def failing(self, spec: Spec) -> bool:
        """Whether an error remains once the waivers are applied."""
        remaining = waive(self.problems, spec.waivers, RULE_NAMES, tuple(FINDINGS)).remaining
        return any(p.finding.severity is Severity.ERROR for p in remaining)

    def done(self, texts: Mapping[str, str], **stages: Any) -> Compiled:
        """Everything found, waivers applied, in the order of the files."""
        spec: Spec | None = stages.get("spec")
        files = tuple(texts)
        problems = self.problems if spec is None else [_placed(p, spec) for p in self.problems]
        if spec is not None and stages.get("network") is not None:
            waived = waive(problems, spec.waivers, RULE_NAMES, tuple(FINDINGS))
            remaining, taken = waived.remaining, waived.taken
        else:
            remaining, taken = tuple(problems), ()
        return Compiled(
            problems=in_order(remaining, files),
            waived=taken,
            assumptions=tuple(self.assumptions),
            texts=texts,
            **stages,
        )


def _told_in(units: str | None, outcome: Outcome[Spec]) -> Outcome[Spec]:
    """The build as if it told its units, where others are asked for."""
    spec = outcome.value
    if units is None or spec is None or units == spec.build.units:
        return outcome
    said = replace(
        spec,
        build=replace(spec.build, units=units),
        assumptions=tuple(a for a in spec.assumptions if not _of_units(a)),
    )
    return replace(outcome, value=said, assumptions=tuple(a for a in outcome.assumptions if not _of_units(a)))


def _of_units(assumption: Assumption) -> bool:
    return assumption.line.startswith("print ")


def _placed(problem: Problem, spec: Spec) -> Problem:
    """A problem that no one line brings about stands at the build."""
    return replace(problem, span=spec.build.span) if problem.span == NOWHERE else problem
