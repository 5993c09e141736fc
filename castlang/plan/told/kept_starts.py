"""A plan that stays where the one before was: each step waits for its old start, where that costs nothing."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from castlang.plan.bounds.bound import hold_lengths
from castlang.plan.gaps.limits import date_problems
from castlang.plan.gaps.windows import times_of_ties
from castlang.plan.graph import reach_of
from castlang.plan.model import Network
from castlang.plan.placement.blocks import blocks_of
from castlang.plan.placement.placing import Setting, Standing, setting_of
from castlang.plan.placement.soonest import Shut, soonest_of
from castlang.plan.searches.search import EFFORTS, Best, best_plan
from castlang.plan.searches.trials import scale_of
from castlang.plan.ties import ties_of
from castlang.plan.told.slack import latest_starts
from castlang.plan.told.uses import hands_of, uses_of

MADE = "with steps kept where the plan before had them"


def kept(setting: Setting, best: Best, previous: Mapping[str, int]) -> Best:
    """`best`, or a plan as good by due dates and finish that moves less against `previous` (by task)."""
    ties, shop = setting.floor.ties, setting.floor.shop
    network, standing = ties.network, best.standing
    hands = hands_of(ties, uses_of(ties, shop, standing.start), reach_of(ties))
    latest = latest_starts(ties, shop, standing.start, hands, standing.finish)
    old = [previous.get(task.name, 0) for task in ties.tasks]
    scale = scale_of(ties, previous)
    # At their old starts; and, where that would end later, no later than the new plan's finish allows each.
    trials = (old, [min(pair) for pair in zip(old, latest, strict=True)])
    found = [trial for starts in trials if (trial := _waiting(setting, network, starts)) is not None]
    nearest = min([standing, *found], key=scale.score)
    if nearest is standing:
        return best
    return Best(standing=nearest, bound=best.bound, made=f"{best.made}, {MADE}")


def _waiting(setting: Setting, network: Network, starts: Sequence[int]) -> Standing | None:
    """The plan of plain rules in which no task begins before its minute in `starts`; None where none is.

    What is done is left alone.
    """
    shop = setting.floor.shop
    later = [
        task if task.done is not None else replace(task, earliest=max(task.earliest or 0, minute))
        for task, minute in zip(setting.floor.ties.tasks, starts, strict=True)
    ]
    ties = ties_of(replace(network, tasks=tuple(later)))
    soonest = soonest_of(ties, shop)
    if isinstance(soonest, Shut) or date_problems(ties, soonest):
        return None
    times = times_of_ties(ties)
    if isinstance(times, tuple):
        return None
    waiting = setting_of(ties, shop, soonest, hold_lengths(ties, blocks_of(ties)))
    found = best_plan(waiting, times, EFFORTS["quick"], {})
    return found.standing if isinstance(found, Best) else None
