"""One owner's sequence to tasks and the gaps between neighbours; references are tied afterwards."""

from collections.abc import Collection
from dataclasses import dataclass, field

from castlang.plan.model import GapEdge, Need, Point, Stretch, Task, Why
from castlang.plan.network.waiting import Wait, clocked
from castlang.plan.shop_hours import minute_of, minutes_down, minutes_up
from castlang.plan.warmth.warm_waits import WarmWaits
from castlang.source.model import Span
from castlang.spec.copies import copies_of, task_name
from castlang.spec.defaults import DEFAULTS
from castlang.spec.model import (
    After,
    Gap,
    GapKind,
    Job,
    Mold,
    Piece,
    Spec,
    Step,
    StepKind,
    StepRef,
)
from castlang.takeoff.model import StepPart, Takeoff

WET = frozenset({StepKind.LAYER, StepKind.PRESS, StepKind.POUR})
WHY = {GapKind.WAIT: Why.WAIT, GapKind.WITHIN: Why.WAIT, GapKind.CURE: Why.CURE, GapKind.DRY: Why.DRY}


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A step of one copy as tasks, first to last. ready: the tasks and minutes behind their ends after
    which the step and the waits under it are over."""

    step: Step
    copy: str
    first: str
    last: str
    tasks: tuple[str, ...]


@dataclass(slots=True, kw_only=True)
class Tied:
    """A step that waits for what a reference names: (run of the step, reference, gap or None for `after`)."""

    run: Run
    ref: StepRef
    gap: Gap | None
    span: Span


@dataclass(slots=True, kw_only=True)
class Draft:
    """The network while it is put together; never leaves the stage."""

    spec: Spec
    takeoff: Takeoff
    warm: WarmWaits
    tasks: dict[str, Task] = field(default_factory=dict)
    gaps: list[GapEdge] = field(default_factory=list)
    runs: dict[tuple[str, str, str], Run] = field(default_factory=dict)  # (owner, copy, step)
    runs_of: dict[tuple[str, str], list[Run]] = field(default_factory=dict)  # (owner, step)
    settled: dict[tuple[str, str, str], tuple[tuple[str, Wait], ...]] = field(default_factory=dict)
    ends: dict[tuple[str, str], tuple[tuple[str, int], ...]] = field(default_factory=dict)  # (owner, copy)
    starts: dict[tuple[str, str], str] = field(default_factory=dict)
    tied: list[Tied] = field(default_factory=list)


def chain(draft: Draft, owner: Piece | Job | Mold) -> None:
    """Add the tasks and neighbour gaps of every copy."""
    for copy in copies_of(owner):
        _Chain(draft, owner, copy).run()


class _Chain:
    """Walks one copy's lines, keeping what the next step must wait for."""

    def __init__(self, draft: Draft, owner: Piece | Job | Mold, copy: str) -> None:
        self.draft = draft
        self.owner = owner
        self.copy = copy
        self.above: list[Run] = []  # the last step: one run, or one for each copy in a job
        self.anchor: list[str] = []  # tasks from whose end the next gap counts
        self.wait = Wait()  # what has to pass since the anchor
        self.gaps: list[Gap] = []  # neighbour gaps since the anchor
        self.covers: list[Run] = []  # what covers the cure that the next uncovering ends
        self.bound: tuple[Wait, Gap] | None = (
            None  # longest time from the step above to the next, over a cover
        )
        self.afters: list[After] = []
        self.far: list[Gap] = []

    def run(self) -> None:
        for item in self.owner.sequence:
            if isinstance(item, After):
                self.afters.append(item)
            elif isinstance(item, Gap):
                self._gap(item)
            elif item.kind is StepKind.COVER:
                self._cover(item)
            elif item.kind is StepKind.UNCOVER:
                self._uncover(item)
            else:
                self._step(item)
        self._finish()

    # ------------------------------------------------------------ gaps

    def _gap(self, gap: Gap) -> None:
        if gap.after is not None:
            self.far.append(gap)
            return
        if gap.covered:
            return  # counted when its uncovering comes
        self._add(gap)

    def _add(self, gap: Gap) -> None:
        self.wait = self.wait.then(self.draft.warm.gap(gap))
        self.gaps.append(gap)
        self._settle()

    def _settle(self) -> None:
        """Remember from where on the step above and its waits are over."""
        under: dict[str, list[str]] = {}  # the anchors by all that their names begin with
        for task in self.anchor:
            name = task
            while name:
                under.setdefault(name, []).append(task)
                name = name.rpartition(".")[0]
        for run in self.above:
            anchor = under.get(run.first.rpartition(".")[0], self.anchor)
            key = (self.owner.name, run.copy, run.step.name)
            self.draft.settled[key] = tuple((task, self.wait.at_least().by_itself()) for task in anchor)

    def _cover(self, step: Step) -> None:
        within = self.draft.spec.defaults.get("cover-within")
        longest = minutes_down(within.si if within is not None else DEFAULTS["cover-within"].value)
        self.covers = self._place(step)
        for run in self.covers:
            for task in self.anchor:
                wait = self.wait.just().then(Stretch(least=0, longest=longest))
                self._edge(task, run.first, wait, Why.COVER, f"covering after {task}", step.span)

    def _uncover(self, step: Step) -> None:
        cure = self._cure_of(step)
        runs = self._place(step)
        wait = None if cure is None else self.wait.just().then(self.draft.warm.gap(cure))
        for run in runs:
            for above in self.above:
                if cure is not None and wait is not None:
                    self._edge(
                        above.last, run.first, wait.at_least(), Why.CURE, f"cure of {above.last}", cure.span
                    )
            for cover in self.covers:
                self._edge(cover.last, run.first, Wait(), Why.COVER, f"covered since {cover.last}", step.span)
        if cure is not None and wait is not None and wait.longest is not None:
            self.bound = (wait.at_most(), cure)
        else:
            self.bound = None
        self.anchor = [run.last for run in runs]
        self.wait, self.gaps = Wait(), []
        self._settle()

    def _cure_of(self, step: Step) -> Gap | None:
        """The cure that this uncovering ends: the covered gap right above it in the sequence."""
        position = self.owner.sequence.index(step)
        before = self.owner.sequence[position - 1] if position else None
        return before if isinstance(before, Gap) and before.covered else None

    # ------------------------------------------------------------ steps

    def _step(self, step: Step) -> None:
        runs = self._place(step)
        same: dict[tuple[str | None, str], Run] = {
            (above.step.each, above.copy): above for above in self.above if above.step.each is not None
        }
        anchored = set(self.anchor)
        for run in runs:
            # A run follows its own copy's where both are for each copy, else all.
            paired = same.get((run.step.each, run.copy))
            for above in self.above if paired is None else [paired]:
                self._neighbours(above, run, anchored)
            for after in self.afters:
                for ref in after.refs:
                    self.draft.tied.append(Tied(run=run, ref=ref, gap=None, span=after.span))
            for gap in self.far:
                if gap.after is not None:
                    self.draft.tied.append(Tied(run=run, ref=gap.after, gap=gap, span=gap.span))
        self.above = runs
        self.anchor = [run.last for run in runs]
        self.wait, self.gaps, self.bound = Wait(), [], None
        self.afters, self.far = [], []
        self._settle()
        key = (self.owner.name, self.copy)
        if key not in self.draft.starts and runs:
            self.draft.starts[key] = runs[0].first

    def _neighbours(self, above: Run, run: Run, anchored: Collection[str]) -> None:
        """What lies between two steps that follow one another."""
        step = run.step
        overlap = minutes_up(step.overlap) if step.overlap is not None else 0
        anchors = [t for t in above.tasks if t in anchored] or self.anchor
        wet = not self.bound and self.gaps and self._wet(above, run) and anchors == [above.last]
        begin = clocked(-overlap)
        self._edge(above.last, run.first, begin, Why.SEQUENCE, f"{run.first} follows {above.last}", step.span)
        for task in anchors:
            if task != above.last:
                self._edge(task, run.first, Wait(), Why.SEQUENCE, f"{run.first} follows {task}", step.span)
        if wet:
            self._wet_edges(above, run)
        elif self.gaps:
            gap = self.gaps[-1]
            says = f"{gap.kind} after {above.last}"
            for task in anchors:
                self._edge(task, run.first, self.wait, WHY[gap.kind], says, gap.span)
        if self.bound is not None:
            wait, cure = self.bound
            self._edge(above.last, run.first, wait, Why.CURE, f"cure of {above.last}", cure.span)

    def _wet(self, above: Run, run: Run) -> bool:
        kinds = {above.step.kind, run.step.kind}
        if not kinds <= WET or any(g.kind not in (GapKind.WAIT, GapKind.WITHIN) for g in self.gaps):
            return False
        return share_a_face(self.draft, above, run)

    def _wet_edges(self, above: Run, run: Run) -> None:
        gap = self.gaps[-1]
        wet_edges(self.draft, above, run, self.wait, gap)

    def _place(self, step: Step) -> list[Run]:
        """The tasks of a step: one run, or one for each copy of the piece that a job's step names."""
        copies: tuple[str, ...] = (self.copy,)
        if step.each is not None and step.each in self.draft.spec.pieces:
            copies = copies_of(self.draft.spec.pieces[step.each])
        return [self._run(step, copy) for copy in copies]

    def _run(self, step: Step, copy: str) -> Run:
        done = self.draft.takeoff.steps.get((step.owner, step.name))
        parts = done.parts if done is not None else (StepPart(suffix="", minutes=0),)
        names: list[str] = []
        for part in parts:
            name = task_name(step.owner, copy, step.name, part.suffix)
            self.draft.tasks[name] = self._task(step, copy, part, name)
            if names:
                self._between(step, names[-1], name)
            names.append(name)
        run = Run(step=step, copy=copy, first=names[0], last=names[-1], tasks=tuple(names))
        self.draft.runs[step.owner, copy, step.name] = run
        self.draft.runs_of.setdefault((step.owner, step.name), []).append(run)
        return run

    def _task(self, step: Step, copy: str, part: StepPart, name: str) -> Task:
        build = self.draft.spec.build
        return Task(
            name=name,
            minutes=part.minutes,
            crew=tuple((gang.role, gang.count) for gang in step.gang),
            needs=tuple(Need(resource=station) for station in step.using),
            may_pause=step.may_pause,
            through_breaks=step.through_breaks,
            earliest=None if step.earliest is None else minute_of(build, step.earliest),
            latest=None if step.latest is None else minute_of(build, step.latest),
            owner=step.owner,
            step=step.name,
            copy=copy,
            part=part.suffix,
            kind=str(step.kind),
            span=step.span,
        )

    def _between(self, step: Step, before: str, after: str) -> None:
        """The wait between two coats or lifts of one step."""
        window, mix = step.between, step.recoat_of
        poured = self.draft.spec.mixes.get(step.material or "") if step.kind is StepKind.POUR else None
        if window is None and poured is not None:
            window, mix = poured.recoat, poured.name
        if window is None:
            self._edge(before, after, Wait(), Why.SEQUENCE, f"{after} follows {before}", step.span)
            return
        wait = Wait().then(self.draft.warm.recoat(mix, window))
        self._edge(before, after, wait, Why.RECOAT, f"recoat of {before}", step.span)

    def _edge(self, before: str, after: str, wait: Wait, why: Why, says: str, span: Span) -> None:
        self.draft.gaps.append(wait.edge(before, after, why, says, span))

    def _finish(self) -> None:
        """The end of the sequence; a wait or an order below the last step becomes a point in time."""
        key = (self.owner.name, self.copy)
        if not self.above:
            self.draft.ends[key] = ()
            return
        if self.gaps or self.afters or self.far or self.bound is not None:
            ready = Step(
                kind=StepKind.WORK, owner=self.owner.name, name="ready", span=self.above[0].step.span
            )
            name = task_name(self.owner.name, self.copy, "ready")
            while name in self.draft.tasks:
                name += "-2"
            self.draft.tasks[name] = Task(
                name=name, minutes=0, owner=self.owner.name, step="ready", copy=self.copy, kind="ready",
                span=ready.span,
            )  # fmt: skip
            run = Run(step=ready, copy=self.copy, first=name, last=name, tasks=(name,))
            if self.bound is not None:
                self.bound = None  # nothing follows that could come too late
            self.wait = self.wait.at_least()
            for above in self.above:
                self._neighbours(above, run, self.anchor)
            for after in self.afters:
                for ref in after.refs:
                    self.draft.tied.append(Tied(run=run, ref=ref, gap=None, span=after.span))
            for gap in self.far:
                if gap.after is not None:
                    self.draft.tied.append(Tied(run=run, ref=gap.after, gap=gap, span=gap.span))
            self.draft.ends[key] = ((name, 0),)
            return
        self.draft.ends[key] = tuple((task, 0) for task in self.anchor)


def share_a_face(draft: Draft, one: Run, other: Run) -> bool:
    """Whether two steps lie on a face of the same piece."""
    steps = draft.takeoff.steps
    first = steps.get((one.step.owner, one.step.name))
    then = steps.get((other.step.owner, other.step.name))
    return first is not None and then is not None and not set(first.faces).isdisjoint(then.faces)


def wet_edges(draft: Draft, above: Run, run: Run, wait: Wait, gap: Gap) -> None:
    """A window between two wet layers holds at every spot: start to start, and end to end."""
    says = f"window between {above.last} and {run.first}"
    for points, why, before, after in (
        ((Point.START, Point.START), Why.WAIT, above.first, run.first),
        ((Point.END, Point.END), Why.WINDOW, above.last, run.last),
    ):
        draft.gaps.append(wait.edge(before, after, why, says, gap.span, points=points))
