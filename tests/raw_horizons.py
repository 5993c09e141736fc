"""How far a plan of a network has to be looked for, and the room of each task in it. Shares no code with the
planner but the model."""

from dataclasses import replace

from raw_hours import DAY, WEEK, open_minutes, people_of, stretches_of

from castlang.plan.model import GapEdge, Network, Point, Task

MILLION = 10**6


def far_minute(network: Network) -> int:
    """A minute by which a network that has a plan has one that ends.

    Behind the last date, exception in the calendar and change of the weather each week is like the one
    before. Tasks that are bound to one another by windows make a block, which lasts no longer than its
    windows and tasks together; where no task of any block is going on for a week and the longest of the
    other waits, a week could be taken out of the plan.
    """
    days = [*network.hours.closed, *network.hours.away]
    dates = [
        minute for task in network.tasks for minute in (task.earliest, task.latest) if minute is not None
    ]
    closings = [end for resource in network.resources for _, end in resource.closed]
    warm = [part.ageing.settled for gap in network.gaps for part in gap.stretches if part.ageing is not None]
    last = max([0, *((day + 1) * DAY for day in days), *closings, *dates, *warm])
    blocks = blocks_of(network)
    waits, spans = [0], [_span(network, task) for task in network.tasks]
    for gap in network.gaps:
        if blocks[gap.before] == blocks[gap.after]:
            spans.append(_most(gap))
        else:
            waits.append(_most(gap))
    return last + sum(spans) + (len(set(blocks.values())) + 1) * (WEEK + max(waits))


def _most(gap: GapEdge) -> int:
    """Minutes that a gap takes at the most."""
    if not gap.stretches:
        return max(abs(gap.least), abs(gap.longest or 0))
    most = 0
    for part in gap.stretches:
        told = max(part.least, part.longest or 0)
        rates = [rate for _, _, rate in part.ageing.spells] if part.ageing is not None else [MILLION]
        most += told if part.ageing is None else told * MILLION // max(1, min(rates)) + 1
    return most


def _span(network: Network, task: Task) -> int:
    """Minutes from the start of a task to its end at the most, in weeks like one another."""
    if not task.may_pause or not people_of(task):
        return task.minutes
    hours = replace(network.hours, closed=frozenset(), away={})
    weeks = 2
    while True:
        week = open_minutes(replace(network, hours=hours, resources=()), task, weeks * WEEK)
        worked = sum(week) // weeks
        if not worked or worked * (weeks - 1) >= task.minutes:
            break
        weeks += 1
    most, done = task.minutes, [0]
    stretches = list(stretches_of(week, 0))
    for a, b in stretches:
        done.append(done[-1] + b - a)
    for n, (a, b) in enumerate(stretches):
        if a >= WEEK:
            break
        # Begun in the last minute of a stretch, the rest of it is done at the latest.
        wanted = done[n + 1] - 1 + task.minutes
        k = next((k for k in range(n, len(stretches)) if done[k + 1] >= wanted), None)
        if k is not None:
            most = max(most, stretches[k][0] + wanted - done[k] - b + 1)
    return most


def blocks_of(network: Network) -> dict[str, str]:
    """For each task the first of those that windows bind it to, and that bind themselves to it."""
    ahead: dict[str, set[str]] = {task.name: set() for task in network.tasks}
    for gap in network.gaps:
        ahead[gap.before].add(gap.after)
        if gap.longest is not None:
            ahead[gap.after].add(gap.before)
    reach = {name: _reached(ahead, name) for name in ahead}
    return {name: min(other for other in reach[name] if name in reach[other]) for name in ahead}


def _reached(ahead: dict[str, set[str]], name: str) -> set[str]:
    found, new = {name}, [name]
    while new:
        fresh = ahead[new.pop()] - found
        found |= fresh
        new += fresh
    return found


def rooms_of(network: Network, horizon: int) -> dict[str, tuple[int, int]]:
    """For each task a minute before which it does not start and one after which it does not end, as far as
    lengths, dates and waits by the clock tell in a few rounds; it has room to begin with at least."""
    low = {task.name: task.earliest or 0 for task in network.tasks}
    high = {
        task.name: horizon if task.latest is None else min(horizon, task.latest) for task in network.tasks
    }
    least = {task.name: task.minutes for task in network.tasks}
    for _ in range(len(network.tasks)):
        before = dict(low), dict(high)
        for gap in network.gaps:
            if gap.stretches and gap.least < 0:
                continue
            # From the start of the one to the end of the other, at least.
            wait = 0 if gap.stretches else gap.least
            lead = least[gap.before] if gap.before_point is Point.END else 0
            tail = least[gap.after] if gap.after_point is Point.START else 0
            if gap.after_point is Point.START:
                low[gap.after] = max(low[gap.after], low[gap.before] + lead + wait)
            if gap.before_point is Point.END:
                high[gap.before] = min(high[gap.before], high[gap.after] - tail - wait)
            if gap.longest is not None and not gap.stretches and gap.after_point is Point.END:
                high[gap.after] = min(high[gap.after], high[gap.before] + gap.longest)
        if before == (low, high):
            break
    return {name: (low[name], max(high[name], low[name] + least[name])) for name in low}
