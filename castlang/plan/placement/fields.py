"""Fields: how much there is of each line, all lines side by side in one whole number."""

from castlang.plan.hours import people_of, people_wanted
from castlang.plan.model import Hold, Need
from castlang.plan.placement.profile import Line
from castlang.plan.ties import Ties


class Fields:
    """Where each line stands in the packed number."""

    __slots__ = ("capacity", "guards", "place")

    def __init__(self, capacity: dict[Line, int]) -> None:
        self.capacity = capacity
        self.place: dict[Line, int] = {}
        self.guards = 0
        bit = 0
        for line, room in capacity.items():
            self.place[line] = bit
            bit += room.bit_length() + 1
            self.guards |= 1 << bit - 1

    def room(self) -> int:
        return self.guards + sum(room << self.place[line] for line, room in self.capacity.items())

    def beyond(self, demand: dict[Line, int]) -> Line | None:
        """The first line of which `demand` wants more than there is."""
        return next((line for line, amount in demand.items() if amount > self.capacity[line]), None)

    def place_of(self, resource: str, amount: int) -> dict[Line, int]:
        """What is taken of a resource; nothing of one that has room for all at once."""
        line = ("place", resource)
        return {line: amount} if line in self.place else {}

    def pack(self, demand: dict[Line, int]) -> int:
        return sum(amount << self.place[line] for line, amount in demand.items())


def capacities_of(ties: Ties) -> dict[Line, int]:
    """The lines that can be short: the crew's, and resources of which all tasks and holds together ask for
    more than there is."""
    network = ties.network
    crew = people_of(network.hours)
    roles = {role for task in network.tasks for role, _ in people_wanted(task)}
    capacity: dict[Line, int] = {}
    for role in sorted(roles | set(crew), key=lambda r: r or ""):
        capacity["crew", role or ""] = crew.get(role, 0)
    asked: dict[str, int] = {}
    takes: list[Need | Hold] = [need for task in network.tasks for need in task.needs]
    for take in [*takes, *network.holds]:
        asked[take.resource] = asked.get(take.resource, 0) + take.amount
    for resource in network.resources:
        if asked.get(resource.name, 0) > resource.capacity:
            capacity["place", resource.name] = resource.capacity
    return capacity


def added(demands: list[dict[Line, int]]) -> dict[Line, int]:
    """What several demands come to."""
    total: dict[Line, int] = {}
    for demand in demands:
        for line, amount in demand.items():
            total[line] = total.get(line, 0) + amount
    return total
