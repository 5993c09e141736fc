"""Tasks that pause overnight, told to the solver: when they end, and when they take people."""

from collections.abc import Sequence

from ortools.sat.python import cp_model

from castlang.plan.placement.floor import Claim


class Paused:
    """The start and the end of a task that pauses, as minutes worked since the first of its spells.

    begins, finishes: one literal for each spell in which it may start and end; place: minutes of spells
    before its start."""

    __slots__ = ("begins", "end", "finishes", "place", "spells", "start")

    def __init__(
        self, model: cp_model.CpModel, start: cp_model.IntVar, spells: Sequence[tuple[int, int]], minutes: int
    ) -> None:
        name = start.name
        self.spells = tuple(spells)
        self.start = start
        self.end = model.new_int_var(0, max((b for _, b in spells), default=0), f"{name}e")
        self.place = model.new_int_var(0, sum(b - a for a, b in spells), f"{name}w")
        self.begins = [model.new_bool_var(f"{name}p{n}") for n in range(len(spells))]
        self.finishes = [model.new_bool_var(f"{name}q{n}") for n in range(len(spells))]
        model.add_exactly_one(self.begins)
        model.add_exactly_one(self.finishes)
        done = 0
        for (a, b), begins, finishes in zip(spells, self.begins, self.finishes, strict=True):
            model.add_linear_constraint(start, a, b - 1).only_enforce_if(begins)
            model.add(self.place == start - a + done).only_enforce_if(begins)
            model.add_linear_constraint(self.end, a + 1, b).only_enforce_if(finishes)
            model.add(self.place + minutes == self.end - a + done).only_enforce_if(finishes)
            done += b - a

    def intervals(self, model: cp_model.CpModel) -> list[cp_model.IntervalVar]:
        """An interval in each spell, there if the task is worked in it."""
        found = []
        for n, (a, b) in enumerate(self.spells):
            name = f"{self.start.name}.{n}"
            begins, finishes = self.begins[n], self.finishes[n]
            there = model.new_bool_var(f"t{name}")
            model.add(there == sum(self.begins[: n + 1]) + sum(self.finishes[n:]) - 1)
            start = model.new_int_var(a, b, f"a{name}")
            end = model.new_int_var(a, b, f"b{name}")
            size = model.new_int_var(0, b - a, f"c{name}")
            model.add(start == self.start).only_enforce_if(begins)
            model.add(start == a).only_enforce_if(begins.negated())
            model.add(end == self.end).only_enforce_if(finishes)
            model.add(end == b).only_enforce_if(finishes.negated())
            found.append(model.new_optional_interval_var(start, size, end, there, f"o{name}"))
        return found

    def hint(self, model: cp_model.CpModel, start: int, end: int) -> None:
        """When the task runs in a plan to begin from; its start itself is told elsewhere."""
        done = 0
        model.add_hint(self.end, end)
        for n, (a, b) in enumerate(self.spells):
            model.add_hint(self.begins[n], a <= start < b)
            model.add_hint(self.finishes[n], a < end <= b)
            if a <= start < b:
                model.add_hint(self.place, start - a + done)
            done += b - a


def alike(claims: Sequence[Claim], since: int, horizon: int) -> bool:
    """Whether all tasks that pause do so alike from minute `since` on, and no other is worked meanwhile.

    Those that are paused at once were then at work at once when they stopped: their pauses may count as work.
    """
    times: dict[int, tuple[tuple[int, int], ...]] = {}
    pausing: set[int] = set()
    for claim in claims:
        spells = claim.spells
        if id(spells) not in times:
            times[id(spells)] = ((since, horizon),) if spells is None else spells.between(since, horizon)
        if claim.pauses:
            pausing.add(id(spells))
    return all(_inside(own, times[one]) for one in pausing for own in times.values())


def _inside(inner: Sequence[tuple[int, int]], outer: Sequence[tuple[int, int]]) -> bool:
    """Whether each of some sorted spells lies in one of others."""
    n = 0
    for a, b in inner:
        while n < len(outer) and outer[n][1] < b:
            n += 1
        if n == len(outer) or outer[n][0] > a:
            return False
    return True
