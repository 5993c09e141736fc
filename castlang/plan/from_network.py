"""A plan for a network, by plain rules, in the shop's hours, with its people, stations and molds."""

from castlang.plan.blocks import blocks_of
from castlang.plan.bound import finish_bound, hold_lengths
from castlang.plan.chain import critical_chain
from castlang.plan.clock import duration_text, moment_text
from castlang.plan.findings import DUE_MISSED, NO_PLAN_FOUND
from castlang.plan.graph import reach_of
from castlang.plan.hours import Shop
from castlang.plan.levelling import RULES, Levelled, Unplaced, level
from castlang.plan.limits import circle_problems, date_problems, shut_problem, task_problems
from castlang.plan.model import Network, Placed, Plan
from castlang.plan.profile import FOREVER
from castlang.plan.sentence import place_text
from castlang.plan.slack import latest_starts
from castlang.plan.soonest import Shut, soonest_of
from castlang.plan.ties import Ties, ties_of
from castlang.plan.uses import hands_of, uses_of
from castlang.plan.windows import times_of_ties
from castlang.problems.model import Outcome, Problem
from castlang.spec.model import NOWHERE


def plan_of(network: Network) -> Outcome[Plan]:
    """A plan that keeps everything in `network`, the same whatever the order of its tasks, gaps and holds.

    Three answers: a plan (with a warning when it ends past the due date); no plan because there can be none,
    with what proves it; no plan because the search found none, which it says. Raises ValueError or KeyError
    for a network that names what it does not hold.
    """
    ties = ties_of(network)
    shop = Shop(network.hours, network.resources)
    problems = circle_problems(ties) + task_problems(ties, shop)
    if problems:
        return Outcome(value=None, problems=problems)
    soonest = soonest_of(ties, shop)
    if isinstance(soonest, Shut):
        return Outcome(value=None, problems=(shut_problem(soonest, shop),))
    problems = date_problems(ties, soonest)
    if problems:
        return Outcome(value=None, problems=problems)
    times = times_of_ties(ties)
    if isinstance(times, tuple):
        raise AssertionError("a circle was overlooked")
    lengths = hold_lengths(ties, blocks_of(ties))
    levelled = level(ties, shop, times, soonest, lengths)
    if isinstance(levelled, Unplaced):
        return Outcome(value=None, problems=(_unplaced_problem(ties, levelled),))
    bound = finish_bound(ties, shop, times, soonest, lengths)
    return Outcome(value=_plan(ties, shop, levelled, bound), problems=_due_problems(ties, levelled.finish))


def _plan(ties: Ties, shop: Shop, levelled: Levelled, bound: int) -> Plan:
    start = levelled.start
    uses = uses_of(ties, shop, start)
    hands = hands_of(ties, uses, reach_of(ties))
    latest = latest_starts(ties, shop, start, hands, levelled.finish)
    placed = [
        Placed(
            task=task.name,
            start=start[k],
            end=shop.end(task, start[k]),
            spells=shop.worked(task, start[k]),
            latest=latest[k],
            slack=latest[k] - start[k],
        )
        for k, task in enumerate(ties.tasks)
    ]
    return Plan(
        network=ties.network,
        placed=tuple(sorted(placed, key=lambda p: (p.start, ties.index[p.task]))),
        critical=critical_chain(ties, shop, start, uses),
        finish=levelled.finish,
        bound=bound,
        made=f"the soonest finish of {len(RULES)} plain rules: {levelled.rule.says}",
    )


def _due_problems(ties: Ties, finish: int) -> tuple[Problem, ...]:
    due, start = ties.network.due, ties.network.hours.start
    if due is None or finish <= due:
        return ()
    message = (
        f"the plan ends on {moment_text(start, finish)}, {duration_text(finish - due)} after the due date "
        f"{moment_text(start, due)}"
    )
    return (Problem(finding=DUE_MISSED, message=message, span=NOWHERE),)


def _unplaced_problem(ties: Ties, unplaced: Unplaced) -> Problem:
    """Which task found no place, what stood in its way, and that this proves nothing."""
    start = ties.network.hours.start
    task, gap, clash = unplaced.task, unplaced.gap, unplaced.clash
    place = f" ({place_text(task.span)})" if task.span.file else ""
    told = []
    if unplaced.late is not None and task.latest is not None:
        told.append(
            f"it would end on {moment_text(start, unplaced.late)}, past {moment_text(start, task.latest)}"
        )
    if gap is not None and gap.longest is not None:
        line = f" ({place_text(gap.span)})" if gap.span.file else ""
        told.append(f"{gap.after} has to follow {gap.before} within {duration_text(gap.longest)}{line}")
    if clash is not None:
        what = clash.line[1] or "the crew"
        until = "for good" if clash.until >= FOREVER else f"until {moment_text(start, clash.until)}"
        told.append(f"{what} was taken {until} when it was last tried")
    ways = "; ".join(told) or "nothing that could be named stood in its way"
    message = (
        f"no place was found for {task.name}{place}: {ways}; {len(RULES)} rules were tried, "
        f"which does not prove that there is no plan"
    )
    span = task.span if task.span.file or gap is None else gap.span
    about = tuple(dict.fromkeys([task.name, *([gap.before, gap.after] if gap is not None else [])]))
    return Problem(finding=NO_PLAN_FOUND, message=message, span=span, about=about)
