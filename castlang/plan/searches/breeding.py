"""Breeding: lists of tasks crossed, changed a little, placed and justified, the best of them kept.

Lists are crossed at two points (Hartmann, "A competitive genetic algorithm for resource-constrained project
scheduling", Naval Research Logistics 45, 1998); every plan is pushed to the back and to the front again
(Valls, Ballestín & Quintanilla, "Justification and RCPSP: A technique that pays", European Journal of
Operational Research 165, 2005).
"""

from bisect import insort
from collections.abc import Iterable, Sequence
from random import Random

from castlang.plan.searches.chance import bell
from castlang.plan.searches.trials import Score, Trial, Trials

SPREAD = 0.15  # how far a drawn list strays from the rule, as a share of the span of latest starts
MISSES = 40  # lists drawn in vain, after which no more are
SWAPPED = 0.05  # the chance that two neighbours in a list change places

_Member = tuple[Score, int, list[int]]


def breed(trials: Trials, chance: Random, orders: Iterable[Sequence[int]], latest: Sequence[int]) -> None:
    """Try lists until nothing is left to try for. orders: lists to begin with; latest: the latest start of
    each task by gaps alone, by which others are drawn."""
    population: list[_Member] = []
    size = min(100, max(10, trials.left // 40))
    for order in orders:
        if trials.going:
            _enter(population, trials, trials.tried(order))
    wide = max(latest, default=0) - min(latest, default=0) + 1
    misses = 0
    while trials.going and len(population) < size and misses < MISSES:
        rank = [minute + SPREAD * bell(chance) * wide for minute in latest]
        trial = trials.tried(trials.listed(rank))
        misses += trial is None
        _enter(population, trials, trial)
    while trials.going and population:
        mother, father = (population[_drawn(chance, len(population))][2] for _ in range(2))
        child = _swapped(trials, chance, _crossed(chance, mother, father))
        _enter(population, trials, trials.tried(child), size)


def _enter(population: list[_Member], trials: Trials, trial: Trial | None, size: int | None = None) -> None:
    """A plan joins in, justified, unless it is there already. size: as many are kept; None keeps all."""
    if trial is None:
        return
    trial = trials.justified(trial)
    order = trials.order(trial)
    if any(score == trial.score and known == order for score, _, known in population):
        return
    insort(population, (trial.score, -trials.left, order))
    if size is not None and len(population) > size:
        population.pop()


def _drawn(chance: Random, count: int) -> int:
    """The better of two drawn at random."""
    return min(chance.randrange(count), chance.randrange(count))


def _crossed(chance: Random, mother: Sequence[int], father: Sequence[int]) -> list[int]:
    """The mother's list with its middle in the father's order."""
    first, then = sorted(chance.randrange(len(mother) + 1) for _ in range(2))
    child = list(mother[:first])
    seen = set(child)
    child += [k for k in father if k not in seen][: then - first]
    seen.update(child)
    child += [k for k in mother if k not in seen]
    return child


def _swapped(trials: Trials, chance: Random, order: list[int]) -> list[int]:
    """The list with some neighbours changed that do not come after one another."""
    before = trials.setting.floor.before
    for n in range(len(order) - 1):
        if chance.random() < SWAPPED:
            one, other = order[n], order[n + 1]
            if all(tail != one for tail, _, _ in before[other]):
                order[n], order[n + 1] = other, one
    return order
