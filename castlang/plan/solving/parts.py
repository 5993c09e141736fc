"""Parts of a network that can be planned without the rest: without a plan for one there is none for all.

A block of tasks tied by windows and holds that fits into an empty shop fits behind all others, any number of
weeks later, since exceptions in the calendar only ever close. So a network without latest dates, and of which
nothing is held for good, has a plan just where each of its blocks has one (for gaps from start to start:
Neumann & Zhan, "Heuristics for the minimum project-duration problem with minimal and maximal time lags under
fixed resource constraints", Journal of Intelligent Manufacturing 6, 1995). What has a latest date, and what
comes before it, is one part.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from castlang.plan.bounds.bound import hold_lengths
from castlang.plan.clock import WEEK
from castlang.plan.placement.blocks import blocks_of
from castlang.plan.placement.placing import Setting, Standing, setting_of
from castlang.plan.placement.soonest import Shut, soonest_of
from castlang.plan.ties import ties_of


def parts_of(setting: Setting) -> tuple[Setting, ...]:
    """The parts of a network that the solver is to look at by themselves, the smallest first; the network
    itself where it is one."""
    dated = _dated(setting)
    parts: list[tuple[int, ...]] = [tuple(k for n in sorted(dated) for k in setting.blocks[n].tasks)]
    parts += [b.tasks for n, b in enumerate(setting.blocks) if n not in dated and len(b.tasks) > 1]
    return tuple(part_of(setting, part) for part in sorted(filter(None, parts), key=lambda p: (len(p), p)))


def part_of(setting: Setting, tasks: Iterable[int]) -> Setting:
    """The tasks of some blocks, with all that ties them to one another, ready for placing."""
    ties = setting.floor.ties
    kept = tuple(ties.tasks[k] for k in sorted(tasks))
    if len(kept) == len(ties.tasks):
        return setting
    names = {task.name for task in kept}
    network = replace(
        ties.network,
        tasks=kept,
        gaps=tuple(gap for gap in ties.network.gaps if gap.before in names and gap.after in names),
        holds=tuple(hold for hold in ties.network.holds if hold.first in names),
        dues=(),
    )
    own, shop = ties_of(network), setting.floor.shop
    soonest = soonest_of(own, shop)
    if isinstance(soonest, Shut):
        raise AssertionError("a part that its hours leave no room for")
    return setting_of(own, shop, soonest, hold_lengths(own, blocks_of(own)))


def in_a_row(setting: Setting, plans: Sequence[tuple[Setting, Standing]]) -> Standing | None:
    """The plans of all parts one behind the other, what has dates where it is and each other block some weeks
    later, or minutes in a shop that never closes. None where what is held for good may be in the way, or a
    wait that passes by warmth may change with the week."""
    floor, ties = setting.floor, setting.floor.ties
    if any(setting.last) or any(arc.passing is not None for arc in ties.arcs):
        return None
    start = list(setting.soonest)
    for part, plan in plans:
        for task, minute in zip(part.floor.ties.tasks, plan.start, strict=True):
            start[ties.index[task.name]] = minute
    end = [floor.ends(k, minute) for k, minute in enumerate(start)]
    clock = all(claim.spells is None for claim in floor.claims)
    dated = _dated(setting)
    done = max([0, *(end[k] for n in dated for k in setting.blocks[n].tasks)])
    for number, block in enumerate(setting.blocks):
        if number in dated:
            continue
        wait = done - min(start[k] for k in block.tasks)
        for arc in (arc for k in block.tasks for arc in ties.into[k] if setting.block[arc.tail] != number):
            tail = (end if arc.tail_end else start)[arc.tail] + arc.weight
            wait = max(wait, tail - (end if arc.head_end else start)[arc.head])
        if wait > 0:
            wait = max(wait, floor.shop.settled - min(start[k] for k in block.tasks))
            wait = wait if clock else -(-wait // WEEK) * WEEK
            for k in block.tasks:
                start[k] += wait
                end[k] = floor.ends(k, start[k])
        done = max([done, *(end[k] for k in block.tasks)])
    return Standing(start=tuple(start), end=tuple(end), found=tuple(start), finish=done)


def _dated(setting: Setting) -> set[int]:
    """The blocks with a latest date, and those that come before them."""
    tasks = setting.floor.ties.tasks
    found = {
        n for n, block in enumerate(setting.blocks) if any(tasks[k].latest is not None for k in block.tasks)
    }
    waiting = sorted(found)
    while waiting:
        for before in setting.blocks[waiting.pop()].after:
            if before not in found:
                found.add(before)
                waiting.append(before)
    return found
