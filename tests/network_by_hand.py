"""The network of a build held against what its lines ask, as worked out beside the text: nothing is
missing, nothing is added, and every figure is the one written."""

from collections.abc import Iterator, Mapping

from tight_builds import Asked, Ends, Facts, Waited

from castlang.plan.model import GapEdge, Network, Task


def misread(facts: Facts, network: Network) -> tuple[str, ...]:
    """What the network asks that the text does not, and what the text asks that the network does not."""
    return (
        *_tasks(facts, network),
        *_apart("gap", facts.gaps, _plain(network)),
        *_apart("warm wait", dict.fromkeys(facts.warm), dict.fromkeys(_warm(network))),
        *_apart(
            "hold",
            dict.fromkeys(facts.held),
            dict.fromkeys((h.resource, h.first, h.last) for h in network.holds),
        ),
        *_apart("thing", facts.there, {r.name: (r.capacity, r.closed) for r in network.resources}),
        *_shop(facts, network),
    )


def _tasks(facts: Facts, network: Network) -> Iterator[str]:
    yield from _apart("task", facts.tasks, {task.name: _asked(task) for task in network.tasks})


def _asked(task: Task) -> Asked:
    return Asked(
        task.minutes,
        task.crew,
        tuple(need.resource for need in task.needs for _ in range(need.amount)),
        task.may_pause,
        task.through_breaks,
        task.earliest,
        task.latest,
    )


def _plain(network: Network) -> dict[Ends, tuple[int, int | None]]:
    """The gaps by the clock, the tightest between two points."""
    found: dict[Ends, tuple[int, int | None]] = {}
    for gap in network.gaps:
        if not gap.stretches:
            least, longest = found.get(_ends(gap), (gap.least, None))
            most = [m for m in (longest, gap.longest) if m is not None]
            found[_ends(gap)] = max(least, gap.least), min(most, default=None)
    return found


def _warm(network: Network) -> Iterator[tuple[Ends, tuple[Waited, ...]]]:
    for gap in network.gaps:
        if gap.stretches:
            waits = tuple(Waited(s.least, s.longest, s.ageing is not None) for s in gap.stretches)
            yield _ends(gap), waits


def _ends(gap: GapEdge) -> Ends:
    return gap.before, gap.before_point.value, gap.after, gap.after_point.value


def _shop(facts: Facts, network: Network) -> Iterator[str]:
    hours = network.hours
    told = {"week": facts.week, "closed": facts.closed, "crew": facts.crew, "away": facts.away}
    found = {"week": hours.week, "closed": hours.closed, "crew": hours.crew, "away": dict(hours.away)}
    yield from _apart("hours", told, found)


def _apart(what: str, told: Mapping[object, object], found: Mapping[object, object]) -> Iterator[str]:
    for key in sorted(told.keys() | found.keys(), key=str):
        if key not in found:
            yield f"{what} {key} is told as {told[key]}, and not in the network"
        elif key not in told:
            yield f"{what} {key} is in the network as {found[key]}, and not told"
        elif told[key] != found[key]:
            yield f"{what} {key} is told as {told[key]}, and in the network as {found[key]}"
