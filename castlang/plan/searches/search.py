"""The search for the best plan: plain rules first, then as many trials as the effort allows, then the solver.

How hard it looks is named, and counted, never timed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from random import Random

from castlang.plan.bounds.bound import finish_bound, hold_lengths
from castlang.plan.clock import DAY, WEEK
from castlang.plan.gaps.windows import Times
from castlang.plan.hours import Shop
from castlang.plan.placement.blocks import blocks_of
from castlang.plan.placement.mirror import mirrored
from castlang.plan.placement.placing import Setting, Standing, Unplaced, setting_of
from castlang.plan.placement.soonest import Shut, soonest_of
from castlang.plan.searches.breeding import breed
from castlang.plan.searches.due_orders import due_ranks
from castlang.plan.searches.levelling import RULES, Levelled, levelled
from castlang.plan.searches.trials import Trials, due_tasks, scale_of
from castlang.plan.searches.weighing import Weighed, alike, weigh
from castlang.plan.solving.solver import Solved, solved
from castlang.plan.ties import Ties, ties_of

SEED = 20270301
SOLVED = 600  # tasks up to which the solver is asked; with more it does not get beyond its first plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How hard a search looks. placings: tasks placed in all. fewest, most: plans tried, however large or
    small the build. patience: plans tried since the last that finished sooner, before the search gives up.
    units: the solver's deterministic units; 0 leaves it alone. telling: its units for each question that
    tells what clashes where there is no plan. first: what is tried before, to the end, so that a search that
    looks harder never finds less.
    """

    placings: int
    fewest: int
    most: int
    patience: int
    units: float = 0.0
    telling: float = 0.5
    first: "Effort | None" = None

    def plans(self, tasks: int) -> int:
        """How many plans are tried of a network of that many tasks."""
        return min(max(self.placings // max(tasks, 1), self.fewest), self.most)

    @property
    def stages(self) -> "tuple[Effort, ...]":
        """What is tried one after the other."""
        return (self,) if self.first is None else (*self.first.stages, self)


QUICK = Effort(placings=0, fewest=0, most=0, patience=0)
NORMAL = Effort(placings=150_000, fewest=80, most=400, patience=100)
THOROUGH = Effort(placings=600_000, fewest=200, most=4000, patience=300, units=4.0, first=NORMAL)
EFFORTS = {"quick": QUICK, "normal": NORMAL, "thorough": THOROUGH}


@dataclass(frozen=True, slots=True, kw_only=True)
class Best:
    """The best plan found, a minute before which no plan can finish, and how it was found."""

    standing: Standing
    bound: int
    made: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Failed:
    """No plan. unplaced: what the first rule could not place; tried: orders that were tried; impossible: the
    solver has shown that there is none; part: the part of the network that has none by itself."""

    unplaced: Unplaced
    tried: int
    impossible: bool
    part: Setting | None = None


def best_plan(setting: Setting, times: Times, effort: Effort, previous: Mapping[str, int]) -> Best | Failed:
    """The best plan that rules, trials and solver find. times: the network by gaps alone; previous: the
    starts of the plan before, by task."""
    ties = setting.floor.ties
    ruled, unplaced = levelled(setting, times)
    trials = Trials(setting, scale_of(ties, previous))
    for plan in ruled:
        trials.kept(plan.standing)
    orders = [trials.listed(plan.rank) for plan in ruled]
    latest = [times.rows[task.name].latest for task in ties.tasks]
    for due, own in due_tasks(ties):
        # Count each build's latest starts back from its own due date, not from the last of all.
        for k in own:
            latest[k] += due.minute - times.finish
    by_due = len(orders)
    orders += [trials.listed(rank) for rank in due_ranks(ties, latest)]
    if previous:
        by = [previous.get(task.name, late) for task, late in zip(ties.tasks, latest, strict=True)]
        orders.append(trials.listed(by))
    dated = [trials.tried(order) for order in orders[by_due:]]
    bound = finish_bound(setting, trials.best.score.finish if trials.best is not None else None)
    trials.enough = bound
    made = [_told(trials, ruled, kept=bool(previous) and dated[-1] is not None and trials.best is dated[-1])]
    chance = Random(SEED)
    weighed: Weighed | None = None
    for stage in effort.stages:
        trials.begin(stage.plans(len(ties.tasks)), stage.patience)
        if trials.going:
            weighed = _try(trials, chance, orders, latest, weighed)
            made = [f"the best of {trials.count} plans tried, the first by {len(RULES)} plain rules"]
            if trials.best is not None:
                orders.append(trials.order(trials.best))
    answer = _ask(trials, bound, effort, made)
    if answer is not None:
        bound = max(bound, answer.bound)
    if trials.best is None:
        if unplaced is None:
            raise AssertionError("no rule was tried")
        impossible = answer is not None and answer.impossible
        part = answer.part if answer is not None else None
        return Failed(unplaced=unplaced, tried=len(RULES) + trials.count, impossible=impossible, part=part)
    standing = trials.best.standing
    return Best(standing=standing, bound=min(bound, standing.finish), made=", ".join(made))


def _told(trials: Trials, ruled: Sequence[Levelled], *, kept: bool) -> str:
    """kept: whether the best plan came of the order of the plan before."""
    says = [plan.rule.says for plan in ruled if trials.best and plan.standing is trials.best.standing]
    if not says:
        return "the order of the plan before" if kept else "the order of the due dates"
    return f"the soonest finish of {len(RULES)} plain rules: {says[0]}"


def _try(
    trials: Trials,
    chance: Random,
    orders: Sequence[list[int]],
    latest: Sequence[int],
    weighed: Weighed | None,
) -> Weighed | None:
    """Try plans until none is left to try, begun with `orders`. latest: the latest start of each task by gaps
    alone; weighed: the best by weights so far; given back as it is then."""
    first = [*orders]
    if trials.mirror is None:
        best = trials.best and trials.best.score.finish
        trials.mirror = _mirror_of(trials.setting.floor.ties, max(trials.setting.soonest), best)
    if alike(trials):
        weighed = weigh(trials, chance, latest, trials.left * 3 // 4, weighed)
        first += [trials.order(weighed.trial)] if weighed is not None else []
    trials.again()
    breed(trials, chance, first, latest)
    return weighed


def _mirror_of(ties: Ties, last: int, finish: int | None) -> tuple[Setting, int] | None:
    """The network seen backwards from a minute well behind `finish` (the `last` soonest start, where there is
    none yet), ready for placing, and that minute."""
    far = max([finish or last, *(task.latest or 0 for task in ties.tasks)])
    days = (2 * far // WEEK + 2) * 7
    back = ties_of(mirrored(ties.network, days))
    shop = Shop(back.network.hours, back.network.resources)
    soonest = soonest_of(back, shop)
    if isinstance(soonest, Shut):
        return None
    return setting_of(back, shop, soonest, hold_lengths(back, blocks_of(back))), days * DAY


def _ask(trials: Trials, bound: int, effort: Effort, made: list[str]) -> Solved | None:
    """Ask the solver, if that is wanted and anything is left to find; what it finds is placed again, so that
    nothing starts later than it has to."""
    best = trials.best
    if not effort.units or (best is not None and not best.score.late and best.score.finish <= bound):
        return None
    if len(trials.setting.soonest) > SOLVED:
        made.append("too large for the solver")
        return None
    answer = solved(trials.setting, best and best.standing, bound, effort.units)
    made.append("then by the solver")
    if answer.standing is not None:
        found = trials.kept(answer.standing)
        again = trials.tried(trials.order(found))
        if again is not None and again.score[:2] <= found.score[:2]:
            # Pulled to the front, the plan begins things no later; better than the solver's loose starts.
            trials.best = min(again, best, key=lambda t: t.score) if best is not None else again
    return answer
