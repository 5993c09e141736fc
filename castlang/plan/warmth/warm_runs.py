"""The waits of a plan that pass by the shop's warmth: when each really runs, and how warm it is meanwhile."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from castlang.plan.clock import WEEK, duration_text
from castlang.plan.findings import CURE_COLD, CURE_FAR_OFF, CURE_HOT
from castlang.plan.model import Ageing, GapEdge, Plan, Point, Stretch, Task
from castlang.plan.warmth.ageing import over_at
from castlang.problems.model import Finding, Problem
from castlang.takeoff import wording

COLD, HOT = wording.ICE_POINT + 10, wording.ICE_POINT + 35
REACH = {"doubling": Fraction(15), "arrhenius": Fraction(25), "nurse-saul": Fraction(25)}
"""K from the temperature told, past which a rule is not used without a word; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WarmRun:
    """A wait as it runs: what is told, the minutes of the plan in which its least time passes, and how warm
    it is in them: (K, minutes) from the coldest on."""

    told: Stretch
    ageing: Ageing
    begin: int
    over: int
    warmth: tuple[tuple[Fraction, int], ...]

    @property
    def coldest(self) -> Fraction:
        return self.warmth[0][0]

    @property
    def warmest(self) -> Fraction:
        return self.warmth[-1][0]


def runs_of(gap: GapEdge, begin: int) -> tuple[WarmRun, ...]:
    """The waits of a gap that pass by warmth and have a least time, the gap beginning at a minute."""
    found = []
    for n, part in enumerate(gap.stretches):
        before, until = (
            over_at(GapEdge(before="", after="", least=0, stretches=gap.stretches[:m]), begin)
            for m in (n, n + 1)
        )
        if part.ageing is not None and until > before:
            warmth = _warmth(part.ageing, before, until)
            found.append(WarmRun(told=part, ageing=part.ageing, begin=before, over=until, warmth=warmth))
    return tuple(found)


def _warmth(ageing: Ageing, begin: int, end: int) -> tuple[tuple[Fraction, int], ...]:
    """How many minutes it is how warm."""
    minutes: dict[int, int] = {}
    ends = [*(minute for minute, _, _ in ageing.spells[1:]), ageing.settled + WEEK]
    for (minute, warmth, _), until in zip(ageing.spells, ends, strict=True):
        # The settled week again and again, as long as it lasts.
        weeks = (end - ageing.settled) // WEEK + 1 if until > ageing.settled else 1
        for again in range(max(weeks, 1)):
            low = max(minute, ageing.settled if again else 0) + again * WEEK
            shared = min(until + again * WEEK, end) - max(low, begin)
            if shared > 0:
                minutes[warmth] = minutes.get(warmth, 0) + shared
    return tuple((Fraction(warmth, 1000), minutes[warmth]) for warmth in sorted(minutes))


def run_problems(plan: Plan, units: str) -> tuple[Problem, ...]:
    """Waits of a plan that run colder or hotter than their rules are good for; of the copies of a line the
    one that does so longest."""
    placed = {p.task: p for p in plan.placed}
    tasks = {task.name: task for task in plan.network.tasks}
    worst: dict[tuple[Finding, object], tuple[int, Problem, dict[str, None]]] = {}
    for gap in plan.network.gaps:
        before = placed[gap.before]
        begin = before.end if gap.before_point is Point.END else before.start
        for run in runs_of(gap, begin) if gap.stretches else ():
            for finding, minutes, message in _wrong(gap, run, units):
                key = (finding, gap.span if gap.span.file else gap.says)
                about = dict.fromkeys(_about(tasks, gap))
                known = worst.get(key)
                if known is not None:
                    about = known[2] | about
                if known is None or minutes > known[0]:
                    problem = Problem(finding=finding, message=message, span=gap.span)
                    worst[key] = (minutes, problem, about)
                else:
                    worst[key] = (*known[:2], about)
    return tuple(
        Problem(finding=p.finding, message=p.message, span=p.span, about=tuple(about))
        for _, p, about in worst.values()
    )


def _wrong(gap: GapEdge, run: WarmRun, units: str) -> Iterable[tuple[Finding, int, str]]:
    """What is wrong with a run, for how many minutes, in a sentence."""
    told = run.ageing.told_at
    reach = REACH[run.ageing.rule]
    coldest = wording.temperature(run.coldest, units)
    warmest = wording.temperature(run.warmest, units)
    all_of = duration_text(run.over - run.begin)
    cold = sum(minutes for warmth, minutes in run.warmth if warmth < COLD and warmth != told)
    if cold:
        limit = wording.temperature(COLD, units)
        yield (
            CURE_COLD,
            cold,
            (f"{gap.says} runs below {limit} for {duration_text(cold)} of {all_of}, down to {coldest}"),
        )
    hot = sum(minutes for warmth, minutes in run.warmth if warmth > HOT and warmth != told)
    if hot:
        limit = wording.temperature(HOT, units)
        yield (
            CURE_HOT,
            hot,
            (f"{gap.says} runs above {limit} for {duration_text(hot)} of {all_of}, up to {warmest}"),
        )
    far = sum(minutes for warmth, minutes in run.warmth if abs(warmth - told) > reach)
    if far:
        step = wording.temperature_step(reach, units)
        yield (
            CURE_FAR_OFF,
            far,
            (
                f"{gap.says} is told at {wording.temperature(told, units)}, and for {duration_text(far)} of "
                f"{all_of} the shop is more than {step} off, from {coldest} to {warmest}"
            ),
        )


def _about(tasks: dict[str, Task], gap: GapEdge) -> tuple[str, ...]:
    ends = (tasks[gap.before], tasks[gap.after])
    return tuple(f"{task.owner}.{task.step}" for task in ends)
