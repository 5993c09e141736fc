"""The orders in which several builds with due dates are tried first: one build before the other."""

from collections.abc import Sequence

from castlang.plan.searches.trials import due_tasks
from castlang.plan.ties import Ties

ONE_FIRST = 6  # builds up to which each in turn goes before all others


def due_ranks(ties: Ties, latest: Sequence[int]) -> list[list[int]]:
    """Ranks by which tasks have their turn, none for builds without due dates. latest: the latest start of
    each task, counted back from its own build's due date.

    Side by side by those; then whole builds one after another, by date and by weight; then each build before
    all the others: a build that could keep its date alone is not late for one that has none.
    """
    dues = due_tasks(ties)
    if not dues:
        return []
    places = range(len(dues))
    by_date = sorted(places, key=lambda n: (dues[n][0].minute, n))
    rows = [by_date, sorted(places, key=lambda n: (-dues[n][0].weight, dues[n][0].minute, n))]
    if len(dues) <= ONE_FIRST:
        rows += [[first, *(n for n in by_date if n != first)] for first in by_date]
    least = min(latest)
    wide = max(latest) - least + 1
    ranks = [list(latest)]
    for row in dict.fromkeys(map(tuple, rows)):
        turn = [len(dues)] * len(latest)
        for place, n in enumerate(row):
            for k in dues[n][1]:
                turn[k] = place
        ranks.append([turn[k] * wide + minute - least for k, minute in enumerate(latest)])
    return ranks
