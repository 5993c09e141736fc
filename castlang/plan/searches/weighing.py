"""Weighing: a few numbers that say which step, and which piece, has its turn first, changed by and by.

In a build of many alike pieces a list of tasks has far too many places to be mended one by one. Each task
ranks by its latest start, by its place among the pieces, by how much work its piece is, and by a weight of
its step and of its piece; the weights are moved at random, and a move is kept where the plan is no worse (a
random local search).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random
from typing import NamedTuple

from castlang.plan.placement.pieces import work_of_pieces
from castlang.plan.searches.chance import bell
from castlang.plan.searches.trials import Trial, Trials
from castlang.plan.ties import name_key

BY_PIECE = 0.4  # the chance that the weights of pieces are moved, not those of steps
MIXES = (  # of turn, late and load
    (0.0, 1.0, 0.0),
    (1.0, 0.0, 0.0),
    (0.0, 0.0, 1.0),
    (0.0, 1.0, 1.0),
    (1.0, 1.0, 0.0),
    (0.3, 1.0, 0.0),
    (1.0, 0.3, 0.0),
    (0.0, 0.3, 1.0),
    (3.0, 1.0, 0.0),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """turn: weight of the piece's place; late: of the latest start; load: of the piece's work, the most of it
    first; by_step, by_piece: what is added for
    each step and each piece, in shares of the span of latest starts."""

    turn: float
    late: float
    load: float
    by_step: tuple[float, ...]
    by_piece: tuple[float, ...]


class Weighed(NamedTuple):
    """A plan, and the weights that gave it."""

    trial: Trial
    weights: Weights


class _Labels:
    """Which step and which piece each task belongs to."""

    __slots__ = ("latest", "light", "piece", "pieces", "step", "steps", "wide")

    def __init__(self, trials: Trials, latest: Sequence[int]) -> None:
        tasks = trials.setting.floor.ties.tasks
        work = work_of_pieces(tasks)
        pieces = sorted(work, key=lambda p: (name_key(p[0]), name_key(p[1])))
        steps = sorted({(t.step, t.part) for t in tasks})
        by_piece = {piece: n for n, piece in enumerate(pieces)}
        by_step = {step: n for n, step in enumerate(steps)}
        self.pieces = len(pieces)
        self.steps = len(steps)
        self.piece = [by_piece[t.owner, t.copy] for t in tasks]
        self.step = [by_step[t.step, t.part] for t in tasks]
        most, span = max(work.values()), max(max(work.values()) - min(work.values()), 1)
        self.light = [(most - work[piece]) / span for piece in pieces]
        self.latest = latest
        self.wide = max(latest, default=0) - min(latest, default=0) + 1

    def ranks(self, weights: Weights) -> list[float]:
        turn = weights.turn * self.wide / self.pieces
        step = [share * self.wide for share in weights.by_step]
        load = weights.load * self.wide
        piece = [
            turn * n + load * self.light[n] + share * self.wide for n, share in enumerate(weights.by_piece)
        ]
        late = weights.late
        return [
            late * minute + step[s] + piece[p]
            for minute, s, p in zip(self.latest, self.step, self.piece, strict=True)
        ]


def weigh(
    trials: Trials, chance: Random, latest: Sequence[int], times: int, best: Weighed | None
) -> Weighed | None:
    """Try weights for at most `times` plans; the best plan found this way, if any. latest: the latest start
    of each task by gaps alone; best: what was found before, to go on from."""
    labels = _Labels(trials, latest)
    until = max(trials.left - times, 0)
    none = Weights(
        turn=0.0, late=0.0, load=0.0, by_step=(0.0,) * labels.steps, by_piece=(0.0,) * labels.pieces
    )
    mixes = iter(MIXES if best is None else ())
    while trials.going and trials.left > until:
        mix = next(mixes, None)
        if mix is not None:
            weights = replace(none, turn=mix[0], late=mix[1], load=mix[2])
        else:
            weights = _moved(chance, none if best is None else best.weights)
        trial = trials.tried(trials.listed(labels.ranks(weights)))
        if trial is not None and (best is None or trial.score <= best.trial.score):
            best = Weighed(trial, weights)
    return best


def alike(trials: Trials) -> bool:
    """Whether there are pieces with the same steps, which weights tell from one another."""
    tasks = trials.setting.floor.ties.tasks
    pieces = {(t.owner, t.copy) for t in tasks}
    return len(pieces) > 1 and 2 * len({(t.step, t.part) for t in tasks}) <= len(tasks)


def _moved(chance: Random, weights: Weights) -> Weights:
    if chance.random() < BY_PIECE:
        return replace(weights, by_piece=_nudged(chance, weights.by_piece, (0.02, 0.1, 0.4)))
    dice = chance.random()
    if dice < 0.2:
        return replace(weights, turn=abs(weights.turn + 0.3 * bell(chance)))
    if dice < 0.4:
        return replace(weights, late=weights.late + 0.3 * bell(chance))
    if dice < 0.55:
        return replace(weights, load=weights.load + 0.3 * bell(chance))
    return replace(weights, by_step=_nudged(chance, weights.by_step, (0.05, 0.2, 0.7)))


def _nudged(chance: Random, shares: Sequence[float], widths: Sequence[float]) -> tuple[float, ...]:
    moved = list(shares)
    for _ in range(chance.choice((1, 1, 2, 3))):
        moved[chance.randrange(len(moved))] += bell(chance) * chance.choice(widths)
    return tuple(moved)
