"""The planning board: which tasks are placed, and what that takes of crew, stations and molds."""

from dataclasses import dataclass

from castlang.plan.clock import DAY
from castlang.plan.hours import Shop, people_away, people_of, people_wanted
from castlang.plan.model import Hold, Network
from castlang.plan.profile import FOREVER, Profile
from castlang.plan.ties import Ties

Line = tuple[str, str]  # ("crew", role or "") or ("place", resource)


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """What was full when a task was to be placed, and until when (FOREVER: it is never free again)."""

    line: Line
    until: int


class Board:
    """Tasks placed one by one, each in the shop's hours and within every capacity."""

    __slots__ = ("_firsts", "_holds", "_least", "_lines", "_spells", "clash", "end", "shop", "start", "ties")

    def __init__(self, ties: Ties, shop: Shop, least: dict[Hold, int]) -> None:
        self.ties = ties
        self.shop = shop
        self.start: list[int | None] = [None] * len(ties.tasks)
        self.end: list[int] = [0] * len(ties.tasks)
        self.clash: Clash | None = None
        self._least = least
        self._spells: list[tuple[tuple[int, int], ...]] = [()] * len(ties.tasks)
        self._lines = _profiles(ties.network)
        self._holds: list[list[Hold]] = [[] for _ in ties.tasks]
        self._firsts: list[list[Hold]] = [[] for _ in ties.tasks]
        for hold in sorted(ties.network.holds, key=lambda h: (h.resource, h.first, h.last or "")):
            ends = {ties.index[hold.first], ties.index[hold.last or hold.first]}
            self._firsts[ties.index[hold.first]].append(hold)
            for k in sorted(ends):
                self._holds[k].append(hold)

    def seek(self, k: int, minute: int) -> int | None:
        """The first start of task k at or after `minute` in hours and capacities; None when there is none."""
        task = self.ties.tasks[k]
        at = minute
        while True:
            start = self.shop.soonest(task, at)
            if start is None:
                return None
            until = self._full(k, start)
            if until is None:
                return start
            if until >= FOREVER:
                return None
            at = max(until, start + 1)

    def fits(self, k: int, start: int) -> bool:
        """Whether task k, which is not placed, can start at `start`, one of its starts in the hours."""
        return self._full(k, start) is None

    def put(self, k: int, start: int) -> None:
        """Place task k."""
        task = self.ties.tasks[k]
        self.start[k] = start
        self.end[k] = self.shop.end(task, start)
        self._spells[k] = self.shop.worked(task, start)
        self._mark(k, 1)

    def lift(self, k: int) -> None:
        """Take task k off the board."""
        self._mark(k, -1)
        self.start[k] = None

    def overfull_holds(self, k: int) -> list[tuple[int, int]]:
        """For the holds that placing task k has completed and that find no room: the task that begins the
        hold, and the minute before which it cannot start."""
        found = []
        for hold in self._holds[k]:
            span = self._span(hold)
            if span is None:
                continue
            line = ("place", hold.resource)
            profile = self._lines[line]
            profile.add(*span, -hold.amount)
            until = profile.clash(*span, hold.amount)
            profile.add(*span, hold.amount)
            if until is not None:
                self.clash = Clash(line=line, until=until)
                found.append((self.ties.index[hold.first], until))
        return found

    def begins_hold(self, k: int) -> bool:
        """Whether a mold, station or temporary work is held from task k on."""
        return bool(self._firsts[k])

    def _full(self, k: int, start: int) -> int | None:
        """None where task k fits; else when the last thing that is full is free again."""
        task = self.ties.tasks[k]
        end = self.shop.end(task, start)
        wanted = people_wanted(task)
        worked = self.shop.worked(task, start) if wanted else ()
        asks = [(("crew", role or ""), spell, people) for role, people in wanted for spell in worked]
        asks += [(("place", need.resource), (start, end), need.amount) for need in task.needs]
        for hold in self._firsts[k]:
            until = start + self._least.get(hold, 0)
            asks.append((("place", hold.resource), (start, max(until, start)), hold.amount))
        latest: Clash | None = None
        for line, span, amount in asks:
            free = self._lines[line].clash(*span, amount)
            if free is not None and (latest is None or free > latest.until):
                latest = Clash(line=line, until=free)
        if latest is None:
            return None
        self.clash = latest
        return latest.until

    def _mark(self, k: int, sign: int) -> None:
        task, start = self.ties.tasks[k], self.start[k]
        if start is None:
            raise ValueError(f"{task.name} is not on the board")
        for role, people in people_wanted(task):
            for spell in self._spells[k]:
                self._lines["crew", role or ""].add(*spell, sign * people)
        for need in task.needs:
            self._lines["place", need.resource].add(start, self.end[k], sign * need.amount)
        for hold in self._holds[k]:
            span = self._span(hold)
            if span is not None:
                self._lines["place", hold.resource].add(*span, sign * hold.amount)

    def _span(self, hold: Hold) -> tuple[int, int] | None:
        """From when to when a hold lasts; None until both its ends are placed."""
        start = self.start[self.ties.index[hold.first]]
        if start is None:
            return None
        if hold.last is None:
            return start, FOREVER
        last = self.ties.index[hold.last]
        return None if self.start[last] is None else (start, self.end[last])


def _profiles(network: Network) -> dict[Line, Profile]:
    lines: dict[Line, Profile] = {}
    crew = people_of(network.hours)
    roles = {role for task in network.tasks for role, _ in people_wanted(task)}
    for role in sorted(roles | set(crew), key=lambda r: r or ""):
        lines["crew", role or ""] = Profile(crew.get(role, 0))
    for day in sorted(network.hours.away):
        for role, people in sorted(people_away(network.hours, day).items(), key=lambda item: item[0] or ""):
            if role in crew:
                lines["crew", role or ""].add(day * DAY, (day + 1) * DAY, people)
    for resource in network.resources:
        lines["place", resource.name] = Profile(resource.capacity)
    return lines
