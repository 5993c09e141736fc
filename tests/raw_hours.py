"""The hours of a network minute by minute: when a task may be worked, and how many people are there. Shares
no code with the planner but the model."""

from collections.abc import Iterator

from castlang.plan.model import Hours, Network, Task

DAY = 1440
WEEK = 7 * DAY


def people_of(task: Task) -> dict[str, int]:
    """People by role; under "" all of them together."""
    wanted: dict[str, int] = {}
    for role, people in task.crew:
        for key in {"", role or ""} if people else ():
            wanted[key] = wanted.get(key, 0) + people
    return wanted


def there_on(hours: Hours, day: int) -> dict[str, int]:
    there: dict[str, int] = {}
    for role, people in hours.crew:
        for key in {"", role or ""}:
            there[key] = there.get(key, 0) + people
    for role, people in hours.away.get(day, ()):
        for key in {"", role or ""} & set(there):
            there[key] = max(0, there[key] - people)
    return there


def open_minutes(network: Network, task: Task, horizon: int) -> bytearray:
    """For each minute up to the horizon whether the task may be worked then."""
    people = people_of(task)
    minutes = bytearray(horizon)
    if not people:
        minutes = bytearray(b"\1") * horizon
    for day in range(-(-horizon // DAY)) if people else ():
        there = there_on(network.hours, day)
        if day in network.hours.closed or any(n > there.get(role, 0) for role, n in people.items()):
            continue
        spells = network.hours.week[(network.hours.start.weekday() + day) % 7]
        if task.through_breaks and spells:
            spells = ((spells[0][0], spells[-1][1]),)
        for begin, end in spells:
            minutes[day * DAY + begin : min(day * DAY + end, horizon)] = b"\1" * max(
                0, min(day * DAY + end, horizon) - day * DAY - begin
            )
    for resource in network.resources:
        if any(need.resource == resource.name for need in task.needs):
            for begin, end in resource.closed:
                last = min(end, horizon)
                minutes[begin:last] = bytes(max(0, last - begin))
    return minutes


def stretches_of(minutes: bytearray, low: int) -> Iterator[tuple[int, int]]:
    """Each stretch of minutes that are open, from its first, or `low`, to behind its last."""
    at = minutes.find(1, low)
    while at >= 0:
        end = minutes.find(0, at)
        end = len(minutes) if end < 0 else end
        yield at, end
        at = minutes.find(1, end)
