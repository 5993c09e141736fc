"""A network with done work as the planner sees it: what is done stands still, the rest comes behind it."""

from dataclasses import replace

from castlang.plan.model import Network, Task


def as_planned(network: Network) -> Network:
    """The network as the planner sees it: a done task is a length of time that nobody works at, which can
    stand nowhere else, and nothing else begins before the last record's end."""
    if all(task.done is None for task in network.tasks) and not network.since:
        return network
    return replace(network, tasks=tuple(_as_planned(task, network.since) for task in network.tasks))


def is_point(task: Task) -> bool:
    """Whether a task is a mere point in time, which passes by itself: an arrival, the end of a last wait."""
    return task.kind in ("arrival", "ready")


def _as_planned(task: Task, since: int) -> Task:
    if task.done is not None:
        start, end = task.done
        return replace(
            task,
            minutes=end - start,
            crew=(),
            needs=(),
            may_pause=False,
            through_breaks=False,
            earliest=start,
            latest=end,
        )
    if is_point(task):
        return task
    return replace(task, earliest=max(task.earliest or 0, since))
