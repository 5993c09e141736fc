"""A spec with its quantities to the network of tasks, gaps and holds."""

from collections.abc import Mapping, Sequence

from castlang.plan.model import GapEdge, Network, Point, Why
from castlang.plan.network.arrivals import tie_arrival, tie_arrivals
from castlang.plan.network.chain_of_steps import WET, Draft, Run, Tied, chain, share_a_face, wet_edges
from castlang.plan.network.holding import holding_of
from castlang.plan.network.shared_batches import shared_gaps
from castlang.plan.network.waiting import NO_WAIT, Wait, clocked
from castlang.plan.shop_hours import DAY, day_of, hours_of
from castlang.plan.warmth.warm_waits import WarmWaits
from castlang.problems.model import Finding, Outcome, Problem, Severity
from castlang.spec.copies import chosen, copies_of
from castlang.spec.model import GapKind, Job, Mold, Piece, Spec, Step, StepKind, StepRef, ThingRef
from castlang.takeoff.model import Takeoff

NO_SUCH_PART = Finding(
    name="no-such-part",
    severity=Severity.ERROR,
    says="a coat, lift or grit is named that the step does not have",
    why="the step would wait for something that never happens",
    remedy="name a part that the step has",
    source="the language's rules",
)


def network_of(spec: Spec, takeoff: Takeoff) -> Outcome[Network]:
    """The network of a build.

    Findings: a mold that does not fit or is worn, a part of a step that there is none of.
    """
    hours = hours_of(spec.build)
    draft = Draft(spec=spec, takeoff=takeoff, warm=WarmWaits(spec, hours))
    problems: list[Problem] = []
    for owner in spec.owners():
        chain(draft, owner)
    owners = {owner.name: owner for owner in spec.owners()}
    for tied in draft.tied:
        _tie(draft, owners, tied, problems)
    for key in sorted(draft.runs):
        _tie_things(draft, owners, draft.runs[key])
    draft.gaps += shared_gaps(spec, takeoff)
    tie_arrivals(draft)
    holding = holding_of(draft)
    build = spec.build
    network = Network(
        tasks=tuple(sorted(draft.tasks.values(), key=lambda t: t.name)),
        gaps=tuple(dict.fromkeys(draft.gaps)),
        holds=holding.holds,
        resources=holding.resources,
        hours=hours,
        due=None if build.due is None else (day_of(build, build.due) + 1) * DAY,
        priority=build.priority,
        assumptions=draft.warm.assumptions,
    )
    problems += [*draft.warm.problems, *holding.problems]
    told = tuple(dict.fromkeys(problems))  # all copies of a step tell the same
    return Outcome(value=network, problems=told, assumptions=network.assumptions)


def _tie(
    draft: Draft,
    owners: Mapping[str, Piece | Job | Mold],
    tied: Tied,
    problems: list[Problem],
) -> None:
    """The gaps that one reference brings to one run."""
    ref, run = tied.ref, tied.run
    if ref.fitting:
        tie_arrival(draft, ref.owner, run)
        return
    owner = owners[ref.owner]
    own = ref.owner == run.step.owner and ref.copies.first is None
    copies = (run.copy,) if own and run.copy in copies_of(owner) else chosen(owner, ref.copies, run.copy)
    for copy in copies or copies_of(owner):  # none is meant by an `each` that has no copy of that number
        if ref.step is None:
            _tie_whole(draft, ref.owner, copy, tied)
            continue
        for before in _runs(draft, ref, copy, run):
            if ref.part is not None and _part(before, ref.part) is None:
                problems.append(
                    Problem(
                        finding=NO_SUCH_PART,
                        message=f"`{before.step.owner}.{before.step.name}` has no `{ref.part}`",
                        span=ref.span,
                        about=(f"{before.step.owner}.{before.step.name}",),
                    )
                )
                break
            _tie_step(draft, before, tied)


def _runs(draft: Draft, ref: StepRef, copy: str, then: Run) -> Sequence[Run]:
    """The runs of a step that `then` waits for. Of one that a job does for each copy of a piece that of its
    own copy, where `each` says so or the same job does both for each copy of that piece; else all."""
    step = ref.step or ""
    run = draft.runs.get((ref.owner, copy, step))
    if run is not None:
        return (run,)
    own = draft.runs.get((ref.owner, then.copy, step))
    alike = own is not None and (own.step.owner, own.step.each) == (then.step.owner, then.step.each)
    if own is not None and (ref.copies.each or alike):
        return (own,)
    return draft.runs_of.get((ref.owner, step), ())


def _part(run: Run, part: str) -> str | None:
    return next((task for task in run.tasks if task.endswith(f".{part}")), None)


def _tie_whole(draft: Draft, owner: str, copy: str, tied: Tied) -> None:
    run = tied.run
    if tied.ref.point == "start":
        start = draft.starts.get((owner, copy))
        ends: tuple[tuple[str, int], ...] = ((start, 0),) if start is not None else ()
        point = Point.START
    else:
        ends = draft.ends.get((owner, copy), ())
        point = Point.END
    for task, least in ends:
        _edge(draft, task, run, tied, wait=clocked(least), point=point)


def _tie_step(draft: Draft, before: Run, tied: Tied) -> None:
    """A gap from a step: from the point told; a wait from its end; an order from the end of its waits."""
    ref, run, gap = tied.ref, tied.run, tied.gap
    part = _part(before, ref.part) if ref.part is not None else None
    if ref.point == "start":
        _edge(draft, part or before.first, run, tied, point=Point.START)
    elif ref.point == "end" or part is not None or (gap is not None and ref.gap is None):
        plain = ref.point is None and part is None and gap is not None
        if (
            plain
            and gap is not None
            and _spotwise(before.step, run.step, gap.kind)
            and share_a_face(draft, before, run)
        ):
            wet_edges(draft, before, run, Wait().then(draft.warm.gap(gap)), gap)
            return
        _edge(draft, part or before.last, run, tied)
    else:
        key = (before.step.owner, before.copy, before.step.name)
        for task, wait in draft.settled.get(key, ((before.last, Wait()),)):
            _edge(draft, task, run, tied, wait=wait)


def _spotwise(before: Step, after: Step, kind: GapKind) -> bool:
    return (
        {before.kind, after.kind} <= WET
        and before.owner == after.owner
        and kind in (GapKind.WAIT, GapKind.WITHIN)
    )


def _edge(
    draft: Draft, task: str, run: Run, tied: Tied, *, wait: Wait = NO_WAIT, point: Point = Point.END
) -> None:
    gap = tied.gap
    why = Why.AFTER
    says = f"{run.first} comes after {task}"
    if gap is not None:
        wait = wait.just().then(draft.warm.gap(gap))
        why = Why.WAIT if gap.kind in (GapKind.WAIT, GapKind.WITHIN) else Why(str(gap.kind))
        says = f"{gap.kind} after {task}"
    draft.gaps.append(wait.edge(task, run.first, why, says, tied.span, points=(point, Point.START)))


def _tie_things(draft: Draft, owners: Mapping[str, Piece | Job | Mold], run: Run) -> None:
    """`place`, `move` and `test` wait for the last line of each thing that they name."""
    if run.step.kind not in (StepKind.PLACE, StepKind.MOVE, StepKind.TEST):
        return
    things: list[ThingRef] = [*run.step.things]
    if run.step.onto is not None:
        things.append(run.step.onto)
    for thing in things:
        owner = owners.get(thing.name)
        if owner is None or thing.name == run.step.owner:
            continue
        copies = chosen(owner, thing.copies, run.copy) or copies_of(owner)
        if run.step.each == thing.name:
            copies = (run.copy,)
        for copy in copies:
            for task, least in draft.ends.get((thing.name, copy), ()):
                draft.gaps.append(
                    GapEdge(
                        before=task,
                        after=run.first,
                        least=least,
                        why=Why.AFTER,
                        says=f"{run.first} waits for the last line of {thing.name}",
                        span=run.step.span,
                    )
                )
