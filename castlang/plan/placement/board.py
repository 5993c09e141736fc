"""The planning board: which tasks are placed, and what that takes of crew, stations and molds."""

from bisect import bisect_left
from dataclasses import dataclass

from castlang.plan.placement.floor import Claim, Floor
from castlang.plan.placement.profile import FOREVER, Line
from castlang.plan.placement.soonest import start_for

OFF = -1  # the start of a task that is not on the board


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """What was full when a task was to be placed, and until when (FOREVER: it is never free again)."""

    line: Line
    until: int


class Board:
    """Tasks placed one by one, each in the shop's hours and within every capacity.

    start, end: minutes of each task, start OFF when it is not placed. busy: no task has ended later so far.
    placings: how often a task was placed.
    The room left stands in one list for all lines, from each minute at which it changes to the next.
    """

    __slots__ = (
        "_clash", "_freed", "_held", "_lifts", "_room", "_seen", "_times", "busy", "end", "floor", "placings",
        "start",
    )  # fmt: skip

    def __init__(self, floor: Floor) -> None:
        self.floor = floor
        self.start = [OFF] * len(floor.claims)
        self.end = [0] * len(floor.claims)
        self.busy = 0
        self.placings = 0
        self._clash: tuple[int, int, int] | None = None
        self._times = list(floor.times)
        self._room = list(floor.room)
        self._held: list[tuple[int, int] | None] = [None] * len(floor.kept)
        self._freed: list[tuple[int, int]] = []
        self._lifts = 0
        self._seen: dict[int, tuple[int, int, int]] = {}

    @property
    def clash(self) -> Clash | None:
        """What was full when a place was last sought in vain, or a hold found no room."""
        if self._clash is None:
            return None
        room, demand, until = self._clash
        return Clash(line=self.floor.line_short(room, demand), until=until)

    def earliest(self, k: int, minute: int) -> int:
        """The minute from `minute` on before which the gaps from placed tasks keep task k from starting."""
        start, end = self.start, self.end
        for tail, weight, at_end in self.floor.before[k]:
            since = start[tail]
            if since >= 0:
                by = (end[tail] if at_end else since) + weight
                if by > minute:
                    minute = by
        for arc in self.floor.odd[k]:
            if start[arc.tail] >= 0:
                by = start_for(self.floor.ties, self.floor.shop, arc, start[arc.tail], end[arc.tail])
                minute = max(minute, by)
        return minute

    def seek(self, k: int, minute: int) -> int | None:
        """The first start of task k at or after `minute` in hours and capacities; None when there is none."""
        claim = self.floor.claims[k]
        self._clash = None
        if claim.never is not None:
            return None
        if claim.pauses:
            return self._seek_paused(claim, minute)
        if not claim.checks:
            return minute if claim.spells is None else claim.spells.first(minute, claim.piece)
        if claim.core is not None:
            found = self._first(self.floor.cores[claim.core], minute)
            if found is None:
                return None
            minute = found
        return self._first(claim, minute)

    def _first(self, claim: Claim, minute: int) -> int | None:
        since, full = self._known(claim.shape, claim.checks[0][1])
        known = since <= minute <= full
        found = self._seek(claim, full if known else minute)
        if found is not None and (known or minute <= since or full < since):
            self._seen[claim.shape] = (since if known else minute), found, self._lifts
        return found

    def _known(self, shape: int, reach: int) -> tuple[int, int]:
        """From when to when no task of this shape finds a place, as far as earlier tasks have shown."""
        seen = self._seen.get(shape)
        if seen is None:
            return 0, OFF
        since, full, lifts = seen
        if lifts < self._lifts:
            _, freed = self._freed[bisect_left(self._freed, (lifts, OFF))]
            full = min(full, freed - reach + 1)
        return since, full

    def _seek(self, claim: Claim, minute: int) -> int | None:
        times, room, guards = self._times, self._room, self.floor.guards
        spells, piece, checks = claim.spells, claim.piece, claim.checks
        reach = checks[0][1]
        while True:
            if spells is not None:
                opens = spells.first(minute, piece)
                if opens is None:
                    return None
                minute = opens
            j = bisect_left(times, min(minute + reach, FOREVER)) - 1
            for begin, _, demand in checks:
                lowest = minute + begin
                while (room[j] - demand) & guards == guards:
                    if times[j] <= lowest:
                        break
                    j -= 1
                else:
                    break
                if times[j] == lowest:
                    j -= 1
            else:
                return minute
            short = room[j]
            j += 1
            while (room[j] - demand) & guards != guards:
                j += 1
            minute = times[j]
            self._clash = (short, demand, minute)
            if minute >= FOREVER:
                return None

    def _seek_paused(self, claim: Claim, minute: int) -> int | None:
        spells = claim.spells
        if spells is None:
            raise ValueError("a task by the clock does not pause")
        while True:
            start = spells.first(minute, claim.piece)
            if start is None:
                return None
            worked = spells.worked(start, claim.minutes)
            until = self._full_paused(claim, start, worked)
            if until is None:
                return start
            if until >= FOREVER:
                return None
            minute = until

    def _full_paused(self, claim: Claim, start: int, worked: tuple[tuple[int, int], ...]) -> int | None:
        """`_full` for a task that pauses."""
        if not claim.run and not claim.checks:
            for begin, end in reversed(worked):
                until = self._short(begin, end, claim.crew)
                if until is not None:
                    return until
            return None
        asks = [(begin, end, claim.crew) for begin, end in worked]
        asks.append((start, worked[-1][1], claim.run))
        asks += [(start + b, min(start + e, FOREVER), demand) for b, e, demand in claim.checks]
        return self._full(asks)

    def put(self, k: int, start: int) -> tuple[tuple[int, int], ...]:
        """Place task k at a start that `seek` gave.

        For the holds that this completes and that find no room: the task that begins the hold, and the
        minute before which it cannot start. Such a hold is not on the board; the task has to be lifted."""
        claim = self.floor.claims[k]
        self.placings += 1
        self.start[k] = start
        end = start + claim.minutes
        if claim.pauses and claim.spells is not None:
            worked = claim.spells.worked(start, claim.minutes)
            end = worked[-1][1]
            for spell in worked:
                self._take(*spell, claim.crew)
        self.end[k] = end
        if end > self.busy:
            self.busy = end
        if claim.run:
            self._take(start, end, claim.run)
        held = self.floor.holds[k]
        return self._hold(held) if held else ()

    def _hold(self, held: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
        over = []
        for n in held:
            span = self._span(n)
            if span is None:
                continue
            kept = self.floor.kept[n]
            until = self._full([(*span, kept.demand)])
            if until is None:
                self._take(*span, kept.demand)
                self._held[n] = span
            else:
                over.append((kept.first, until))
        return tuple(over)

    def lift(self, k: int) -> None:
        """Take task k off the board."""
        claim, start = self.floor.claims[k], self.start[k]
        for n in self.floor.holds[k]:
            span = self._held[n]
            if span is not None:
                self._take(*span, -self.floor.kept[n].demand)
                self._held[n] = None
        if claim.run:
            self._take(start, self.end[k], -claim.run)
        if claim.crew and claim.spells is not None:
            for spell in claim.spells.worked(start, claim.minutes):
                self._take(*spell, -claim.crew)
        self.start[k] = OFF

    def hold_end(self, k: int) -> int | None:
        """When the first of what is held from task k on is given back; None where nothing is, or never."""
        lasts = [self.floor.kept[n].last for n in self.floor.begun[k]]
        return min((self.end[last] for last in lasts if last is not None and last != k), default=None)

    def _span(self, n: int) -> tuple[int, int] | None:
        """From when to when hold n lasts; None until both its ends are placed, and for no time at all."""
        kept = self.floor.kept[n]
        start = self.start[kept.first]
        if start == OFF:
            return None
        if kept.last is None:
            return start, FOREVER
        return (start, self.end[kept.last]) if self.start[kept.last] != OFF else None

    def _full(self, asks: list[tuple[int, int, int]]) -> int | None:
        """None where all that is asked fits; else when the last stretch in which it does not is over."""
        if len(asks) == 1:
            return self._short(*asks[0])
        points = sorted({minute for begin, end, _ in asks if begin < end for minute in (begin, end)})
        for low, high in zip(points[-2::-1], points[:0:-1], strict=True):
            until = self._short(low, high, sum(a for begin, end, a in asks if begin <= low and high <= end))
            if until is not None:
                return until
        return None

    def _short(self, begin: int, end: int, demand: int) -> int | None:
        """None where `demand` fits between two minutes; else when the last stretch in which it does not is
        over, and all that follow it and are too full as well."""
        times, room, guards = self._times, self._room, self.floor.guards
        if begin >= end:
            return None
        j = bisect_left(times, end) - 1
        while (room[j] - demand) & guards == guards:
            if times[j] <= begin:
                return None
            j -= 1
        short = room[j]
        j += 1
        while (room[j] - demand) & guards != guards:
            j += 1
        self._clash = (short, demand, times[j])
        return times[j]

    def _take(self, begin: int, end: int, demand: int) -> None:
        """Take `demand` from the room between two minutes; below 0, give it back."""
        times, room = self._times, self._room
        if begin >= end:
            return
        i = bisect_left(times, begin)
        if times[i] != begin:
            times.insert(i, begin)
            room.insert(i, room[i - 1])
        j = bisect_left(times, end, i)
        if times[j] != end:
            times.insert(j, end)
            room.insert(j, room[j - 1])
        for k in range(i, j):
            room[k] -= demand
        if demand < 0:
            # Of what has been given back, only what lies before all that is given back later.
            while self._freed and self._freed[-1][1] >= begin:
                self._freed.pop()
            self._freed.append((self._lifts, begin))
            self._lifts += 1
            for k in (j, i):
                if room[k] == room[k - 1] and 0 < k < len(times) - 1:
                    del times[k], room[k]
