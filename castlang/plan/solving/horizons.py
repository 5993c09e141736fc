"""Horizons: minutes by which a plan may well end, and by which there is one if there is any at all."""

from castlang.plan.clock import WEEK
from castlang.plan.placement.floor import Claim
from castlang.plan.placement.placing import Setting


def horizons_of(setting: Setting) -> tuple[int, int]:
    """A minute by which a plan may well end, and one by which a network that has any plan has one that ends.

    Tasks tied by windows stand together in groups, each no longer than its windows and work. Where no group
    stands, an idle week behind every exception in the calendar can be taken out, unless a least gap runs on
    through it: so no idle time is longer than a week, but for what waits for a group, which is over a week
    after the longest wait at the latest. By the clock any idle minute can be taken out.
    """
    floor, ties = setting.floor, setting.floor.ties
    clock = all(claim.spells is None for claim in floor.claims)
    week = 0 if clock else WEEK
    base = max(floor.shop.settled, ties.settled) + week + max(setting.soonest, default=0)
    lasting = [_lasting(claim, floor.shop.settled) for claim in floor.claims]
    far = single = 0
    group_of = {
        k: (n, m)
        for n, block in enumerate(setting.blocks)
        for m, group in enumerate(block.tight)
        for k in group
    }
    for block in setting.blocks:
        for group in block.tight:
            arcs = [arc for k in group for arc in ties.out[k]]
            own = group_of[group[0]]
            inner = [arc for arc in arcs if group_of[arc.head] == own]
            wait = max([0, *(arc.weight for arc in arcs if group_of[arc.head] != own)])
            far += sum(lasting[k] for k in group) + sum(max(0, -arc.weight) for arc in inner)
            far += week + (wait + week if wait else 0)
    for k in range(len(ties.tasks)):
        wait = max([0, *(arc.weight for arc in ties.out[k] if not arc.longest)])
        single += lasting[k] + week + (wait + week if wait else 0)
    far = base + min(far, single)
    near = base + sum(claim.minutes for claim in floor.claims) + 4 * WEEK
    return (far, far) if clock else (min(near, far), far)


def _lasting(claim: Claim, settled: int) -> int:
    """The most minutes from the start of a task to its end in a settled week: begun at the end of a spell."""
    if not claim.pauses or claim.spells is None:
        return claim.minutes
    spells = claim.spells.between(settled + WEEK, settled + 2 * WEEK)
    return max(claim.spells.worked(end - 1, claim.minutes)[-1][1] - end + 1 for _, end in spells)
