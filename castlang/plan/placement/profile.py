"""What is used of one capacity over time."""

from bisect import bisect_left, bisect_right

from castlang.plan.gaps.paths import NEVER

FOREVER = -NEVER  # above every time
Line = tuple[str, str]  # a capacity: ("crew", role or "") or ("place", resource)


class Profile:
    """A step function of time: how much of `capacity` is taken."""

    __slots__ = ("_levels", "_times", "capacity")

    def __init__(self, capacity: int) -> None:
        self.capacity = capacity
        self._times = [NEVER]
        self._levels = [0]

    def add(self, start: int, end: int, amount: int) -> None:
        """Take `amount` more (less, when below 0) from `start` to `end`."""
        if start >= end or not amount:
            return
        first = self._cut(start)
        last = self._cut(end)
        for k in range(first, last):
            self._levels[k] += amount
        for k in (last, first):
            if self._levels[k] == self._levels[k - 1]:
                del self._levels[k], self._times[k]

    def clash(self, start: int, end: int, amount: int) -> int | None:
        """None where `amount` more fits from `start` to `end`; else when the last stretch in which it does
        not fit is over (FOREVER when it never is)."""
        if start >= end or not amount:
            return None
        first = bisect_right(self._times, start) - 1
        for k in range(bisect_left(self._times, end) - 1, first - 1, -1):
            if self._levels[k] + amount > self.capacity:
                return self._times[k + 1] if k + 1 < len(self._times) else FOREVER
        return None

    def _cut(self, minute: int) -> int:
        k = bisect_left(self._times, minute)
        if k == len(self._times) or self._times[k] != minute:
            self._times.insert(k, minute)
            self._levels.insert(k, self._levels[k - 1])
        return k
