"""Levelling: plain rules for who comes first, so that crew, stations and molds suffice."""

from collections.abc import Callable
from dataclasses import dataclass

from castlang.plan.gaps.windows import Times
from castlang.plan.placement.pieces import work_of_pieces
from castlang.plan.placement.placing import Setting, Standing, Unplaced, placed_in, ranks_of, sequence_of
from castlang.plan.ties import Ties


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A priority rule: of the tasks that could come next, that of the least key is placed first."""

    says: str
    keys: Callable[[Ties, Times], list[int]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Levelled:
    """What a rule gave, and the rank by which it placed the tasks."""

    standing: Standing
    rule: Rule
    rank: tuple[int, ...]


def _latest_start(ties: Ties, times: Times) -> list[int]:
    return [times.rows[task.name].latest for task in ties.tasks]


def _latest_end(ties: Ties, times: Times) -> list[int]:
    return [times.rows[task.name].latest_end for task in ties.tasks]


def _soonest_start(ties: Ties, times: Times) -> list[int]:
    return [times.rows[task.name].earliest for task in ties.tasks]


def _name(ties: Ties, times: Times) -> list[int]:
    return list(range(len(ties.tasks)))


def _most_work(ties: Ties, times: Times) -> list[int]:
    """By the latest start, put off the more the less work there is in the piece: what is much work begins
    while others wait for molds."""
    work = work_of_pieces(ties.tasks)
    latest = _latest_start(ties, times)
    most = max(work.values(), default=0)
    span = max(most - min(work.values(), default=0), 1)
    wide = max(latest, default=0) - min(latest, default=0) + 1
    return [
        minute * span + (most - work[task.owner, task.copy]) * wide
        for task, minute in zip(ties.tasks, latest, strict=True)
    ]


RULES = (
    Rule(says="least latest start first", keys=_latest_start),
    Rule(says="least latest end first", keys=_latest_end),
    Rule(says="soonest start first", keys=_soonest_start),
    Rule(says="one piece after the other", keys=_name),
    Rule(says="least latest start and most work in the piece first", keys=_most_work),
)


def levelled(setting: Setting, times: Times) -> tuple[tuple[Levelled, ...], Unplaced | None]:
    """What each rule gives, those that differ, and what the first rule without a plan could not place.

    times: the network by gaps alone."""
    ties = setting.floor.ties
    found: list[Levelled] = []
    first: Unplaced | None = None
    tried: list[tuple[int, ...]] = []
    for rule in RULES:
        rank = _ranks(rule, ties, times)
        if rank in tried:
            continue
        tried.append(rank)
        standing = placed_in(setting, sequence_of(setting, rank), rank)
        if isinstance(standing, Unplaced):
            first = first or standing
        else:
            found.append(Levelled(standing=standing, rule=rule, rank=rank))
    return tuple(found), first


def _ranks(rule: Rule, ties: Ties, times: Times) -> tuple[int, ...]:
    """The place of each task in the order of a rule; equal ones by latest start, then name."""
    keys = rule.keys(ties, times)
    order = sorted(range(len(ties.tasks)), key=lambda k: (keys[k], times.rows[ties.tasks[k].name].latest, k))
    return tuple(ranks_of(order))
