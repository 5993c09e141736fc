"""Trials: plans made one after another from lists of tasks, counted, of which the best is kept."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from castlang.plan.model import Due
from castlang.plan.placement.placing import Setting, Standing, Unplaced, placed_in, ranks_of, sequence_of
from castlang.plan.ties import Ties


class Score(NamedTuple):
    """What makes one plan better than another, the least first: late, the minutes past the due dates of
    several builds, weighed and added up; its finish in minutes; moved, by how many minutes starts differ
    from the plan before, where one is given, added up; lying, the minutes from the first start to the last
    end of each piece and job, added up."""

    late: int
    finish: int
    moved: int
    lying: int


class Trial(NamedTuple):
    """A plan and what it is worth."""

    score: Score
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """How plans of one network are scored. dues: for several builds the tasks of each, when it is due, and
    the weight of a minute past it. items: the tasks of each piece and job, by copy; none where there is only
    one. previous: starts of the plan before, by task."""

    dues: tuple[tuple[tuple[int, ...], int, int], ...]
    items: tuple[tuple[int, ...], ...]
    previous: tuple[tuple[int, int], ...]

    def score(self, standing: Standing) -> Score:
        start, end = standing.start, standing.end
        late = sum([weight * max(0, max([end[k] for k in own]) - by) for own, by, weight in self.dues])
        lying = sum([max([end[k] for k in item]) - min([start[k] for k in item]) for item in self.items])
        moved = sum([abs(start[k] - minute) for k, minute in self.previous])
        return Score(late, standing.finish, moved, lying)


def scale_of(ties: Ties, previous: Mapping[str, int]) -> Scale:
    """The scale for a network. previous: the starts of the plan before, by the tasks' names."""
    items: dict[tuple[str, str], list[int]] = {}
    for k, task in enumerate(ties.tasks):
        items.setdefault((task.owner, task.copy), []).append(k)
    known = [(k, previous[task.name]) for k, task in enumerate(ties.tasks) if task.name in previous]
    return Scale(
        dues=tuple((tuple(own), due.minute, due.weight) for due, own in due_tasks(ties)),
        items=tuple(map(tuple, items.values())) if len(items) > 1 else (),
        previous=tuple(known),
    )


def due_tasks(ties: Ties) -> list[tuple[Due, list[int]]]:
    """The tasks of each of several builds, with when it is due."""
    found = []
    for due in ties.network.dues:
        own = [k for k, task in enumerate(ties.tasks) if task.name.startswith(due.prefix)]
        if own:
            found.append((due, own))
    return found


class Trials:
    """Plans tried, their count, and how many may be tried yet.

    mirror: the network seen backwards, with the minute at which its time begins; None where it has none.
    enough: a finish that no plan comes before. patience: after so many plans that were no better, no more are
    tried.
    """

    __slots__ = ("_since", "best", "count", "enough", "left", "mirror", "patience", "scale", "setting")

    def __init__(self, setting: Setting, scale: Scale) -> None:
        self.setting = setting
        self.mirror: tuple[Setting, int] | None = None
        self.scale = scale
        self.enough = 0
        self.count = 0
        self.patience = 0
        self._since = 0
        self.left = 0
        self.best: Trial | None = None

    def begin(self, left: int, patience: int) -> None:
        """Let so many plans be tried, with such patience, however many have been."""
        self.left, self.patience = left, patience
        self.again()

    def again(self) -> None:
        """Have patience anew, for another way of trying."""
        self._since = self.count

    @property
    def going(self) -> bool:
        """Whether there is anything left to try for."""
        if self.left <= 0 or self.count - self._since > self.patience:
            return False
        return self.best is None or self.best.score.late > 0 or self.best.score.finish > self.enough

    def tried(self, order: Sequence[int]) -> Trial | None:
        """The plan in which the tasks have their turn in `order`; None where one finds no place."""
        standing = self._placed(self.setting, order, 0)
        return None if standing is None else self.kept(standing)

    def kept(self, standing: Standing) -> Trial:
        """A plan made elsewhere, scored, and kept if it is the best."""
        trial = Trial(self.scale.score(standing), standing)
        if self.best is None or trial.score < self.best.score:
            if self.best is None or trial.score[:2] < self.best.score[:2]:
                self._since = self.count
            self.best = trial
        return trial

    def justified(self, trial: Trial) -> Trial:
        """The plan with all tasks put as late as they go, then as soon as they go; never a worse one."""
        if self.mirror is None:
            return trial
        setting, minute = self.mirror
        end = trial.standing.end
        order = sorted(range(len(end)), key=lambda k: (-end[k], setting.block[k]))
        late = self._placed(setting, order, minute - trial.standing.finish)
        if late is None:
            return trial
        end = late.end
        block = self.setting.block
        again = self.tried(sorted(range(len(end)), key=lambda k: (-end[k], block[k])))
        return trial if again is None or again.score > trial.score else again

    def _placed(self, setting: Setting, order: Sequence[int], since: int) -> Standing | None:
        """The tasks placed in `order`; an order that takes many attempts counts for as many plans."""
        if setting.plain:
            standing = placed_in(setting, [setting.block[k] for k in order], (), since)
        else:
            rank = ranks_of(order)
            standing = placed_in(setting, sequence_of(setting, rank), rank, since)
        self.count += 1
        self.left -= max(1, standing.placings // max(len(order), 1))
        return None if isinstance(standing, Unplaced) else standing

    def order(self, trial: Trial) -> list[int]:
        """The tasks by their starts."""
        start, block = trial.standing.start, self.setting.block
        return sorted(range(len(start)), key=lambda k: (start[k], block[k]))

    def listed(self, rank: Sequence[float]) -> list[int]:
        """The tasks by `rank`, as far as what comes after what lets them."""
        place = sorted(range(len(rank)), key=lambda k: (rank[k], k))
        if not self.setting.plain:
            return place
        whole = ranks_of(place)
        return [self.setting.blocks[number].tasks[0] for number in sequence_of(self.setting, whole)]
