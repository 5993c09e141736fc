"""A plan for a network, in the shop's hours, with its people, stations and molds."""

from collections.abc import Mapping
from dataclasses import replace

from castlang.plan.bounds.bound import hold_lengths
from castlang.plan.bounds.crowds import crowd_problems
from castlang.plan.clock import duration_text, moment_text
from castlang.plan.findings import NO_PLAN_FOUND, SOLVER_MISSING
from castlang.plan.gaps.limits import circle_problems, date_problems, shut_problem, task_problems
from castlang.plan.gaps.sentence import place_text
from castlang.plan.gaps.windows import times_of_ties
from castlang.plan.graph import reach_of
from castlang.plan.hours import Shop
from castlang.plan.model import Network, Placed, Plan
from castlang.plan.placement.blocks import blocks_of
from castlang.plan.placement.placing import Setting, setting_of
from castlang.plan.placement.profile import FOREVER
from castlang.plan.placement.soonest import Shut, soonest_of
from castlang.plan.records.work_done import as_planned
from castlang.plan.searches.search import EFFORTS, SOLVED, Best, Effort, Failed, best_plan
from castlang.plan.solving.room import room_problem, taken_text
from castlang.plan.solving.solver import INSTALL, solver_there
from castlang.plan.ties import ties_of
from castlang.plan.told.chain import critical_chain
from castlang.plan.told.due_missed import due_problems
from castlang.plan.told.kept_starts import kept
from castlang.plan.told.slack import latest_starts
from castlang.plan.told.uses import hands_of, uses_of
from castlang.problems.model import Outcome, Problem
from castlang.spec.model import NOWHERE


def plan_of(
    network: Network, *, search: str = "normal", previous: Mapping[str, int] | None = None
) -> Outcome[Plan]:
    """A plan that keeps everything in `network`, the same whatever the order of its tasks, gaps and holds.

    search: how hard to look: "quick", "normal" or "thorough". previous: the starts of the plan before, by
    task; of plans that finish alike with as little work lying about, that which moves the least is kept.

    Four answers: a plan (with a warning when it ends past the due date); no plan because there can be none,
    with what proves it; no plan because the search found none, which it says; no plan because a thorough
    search wants the solver, which is not there. Raises ValueError or KeyError for a network that names what
    it does not hold.
    """
    return plan_within(network, EFFORTS[search], previous or {})


def plan_within(network: Network, effort: Effort, previous: Mapping[str, int]) -> Outcome[Plan]:
    """`plan_of` with an effort of its own."""
    whole, network = network, as_planned(network)
    if effort.units and not solver_there():
        message = f"a thorough search wants the solver: {INSTALL}"
        return _none(Problem(finding=SOLVER_MISSING, message=message, span=NOWHERE))
    ties = ties_of(network)
    shop = Shop(network.hours, network.resources)
    circles = circle_problems(ties)
    lengths = {} if circles else hold_lengths(ties, blocks_of(ties))
    problems = circles + task_problems(ties, shop, lengths)
    if problems:
        return _none(*problems)
    soonest = soonest_of(ties, shop)
    if isinstance(soonest, Shut):
        return _none(shut_problem(soonest, shop))
    problems = date_problems(ties, soonest)
    if problems:
        return _none(*problems)
    times = times_of_ties(ties)
    if isinstance(times, tuple):
        raise AssertionError("a circle was overlooked")
    setting = setting_of(ties, shop, soonest, lengths)
    problems = crowd_problems(setting)
    if problems:
        return _none(*problems)
    found = best_plan(setting, times, effort, previous)
    if isinstance(found, Failed):
        if found.impossible:
            return _none(room_problem(found.part or setting, effort.telling))
        return _none(_unplaced_problem(setting, found, effort))
    if previous:
        found = kept(setting, found, previous)
    plan = replace(_plan(setting, found), network=whole)
    return Outcome(value=plan, problems=due_problems(ties, found.standing, plan.critical))


def _none(*problems: Problem) -> Outcome[Plan]:
    return Outcome(value=None, problems=problems)


def _plan(setting: Setting, best: Best) -> Plan:
    ties, shop = setting.floor.ties, setting.floor.shop
    standing = best.standing
    start = standing.start
    uses = uses_of(ties, shop, start)
    hands = hands_of(ties, uses, reach_of(ties))
    latest = latest_starts(ties, shop, start, hands, standing.finish)
    placed = [
        Placed(
            task=task.name,
            start=start[k],
            end=standing.end[k],
            spells=shop.worked(task, start[k]),
            latest=latest[k],
            slack=latest[k] - start[k],
        )
        for k, task in enumerate(ties.tasks)
    ]
    return Plan(
        network=ties.network,
        placed=tuple(sorted(placed, key=lambda p: (p.start, ties.index[p.task]))),
        critical=critical_chain(ties, shop, standing.found, start),
        finish=standing.finish,
        bound=best.bound,
        made=best.made,
    )


def _unplaced_problem(setting: Setting, failed: Failed, effort: Effort) -> Problem:
    """Which task found no place, what stood in its way, what may mend it, and that this proves nothing."""
    start = setting.floor.ties.network.hours.start
    unplaced = failed.unplaced
    task, gap, clash = unplaced.task, unplaced.gap, unplaced.clash
    place = f" ({place_text(task.span)})" if task.span.file else ""
    about = tuple(dict.fromkeys([task.name, *([gap.before, gap.after] if gap is not None else [])]))
    told, ways = [], []
    if unplaced.late is not None and task.latest is not None:
        told.append(
            f"it would end on {moment_text(start, unplaced.late)}, past {moment_text(start, task.latest)}"
        )
        ways.append("move that date")
    if gap is not None and gap.longest is not None:
        line = f" ({place_text(gap.span)})" if gap.span.file else ""
        told.append(f"{gap.after} has to follow {gap.before} within {duration_text(gap.longest)}{line}")
        ways.append(f"widen the window of {duration_text(gap.longest)}")
    if clash is not None:
        what = clash.line[1] or "the crew"
        never = clash.until >= FOREVER
        told.append(f"{what} is never free again" if never else f"{what} was taken when it was tried")
        told.append(taken_text(setting, clash.line, about))
        ways.append(f"have one more {clash.line[1] or 'person'}")
    tried = f"{failed.tried} orders were tried"
    if not effort.units:
        ways.append("plan with `--search thorough`, which finds a plan or shows that there is none")
    elif len(setting.soonest) <= SOLVED:
        tried += ", and the solver did not find out either within its limit"
    if len(ways) > 1:
        ways[-1] = f"or {ways[-1]}"
    message = (
        f"no place was found for {task.name}{place}: "
        f"{'; '.join(told) or 'nothing that could be named stood in its way'}; {tried}, "
        f"which does not prove that there is no plan"
    )
    return Problem(
        finding=NO_PLAN_FOUND,
        message=message,
        span=task.span if task.span.file or gap is None else gap.span,
        remedy=", ".join(ways) or None,
        about=about,
    )
