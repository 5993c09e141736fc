"""What changed between two builds, and what follows from it. Amounts exact, in SI; money in its currency."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction

from castlang.compare.kinds import ChangeKind
from castlang.costing.model import Costing
from castlang.plan.model import Plan
from castlang.problems.model import Problem
from castlang.sheets.stamps import SheetStamp
from castlang.spec.model import Done, Spec
from castlang.spec.quantity import Dimension, Money
from castlang.takeoff.model import Takeoff


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that is meant otherwise.

    block: the block that it stands in, by its present name, "" for the build and lines of their own; step:
    the line of work, "" where it is none. what: which fact. old, new: its values in words and in the units
    asked for, None where there is none. says: all of it in one line.
    """

    kind: ChangeKind
    block: str
    what: str
    old: str | None
    new: str | None
    says: str
    step: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One of the two builds, planned. called: how it is told apart ("HEAD~1", "old.pour"). problems: what
    remains after waiving. stamps: of its binder's sheets."""

    called: str
    spec: Spec
    takeoff: Takeoff
    plan: Plan
    costing: Costing
    problems: tuple[Problem, ...]
    stamps: tuple[SheetStamp, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """A material or fitting: net and with waste, on either side, in the SI unit of `dimension`.
    label: how the shop calls it. old_sold, new_sold: how it is sold; old_buy, new_buy: packages to buy; both
    None where it is not bought. order_by: when to order what is bought now."""

    name: str
    label: str
    dimension: Dimension
    old_net: Fraction
    new_net: Fraction
    old_need: Fraction
    new_need: Fraction
    old_sold: str | None
    new_sold: str | None
    old_buy: int | None
    new_buy: int | None
    order_by: date | None = None

    @property
    def more(self) -> int | None:
        """Packages more (or, below zero, fewer) to buy; None where the packages are others, or none."""
        others = self.old_sold and self.new_sold and self.old_sold != self.new_sold
        if others or self.old_buy is None or self.new_buy is None:
            return None
        return self.new_buy - self.old_buy


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """One copy of a piece, finished, kg; None on the side where it is not cast."""

    piece: str
    label: str
    old: Fraction | None
    new: Fraction | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """What something costs; None on the side where it has no price."""

    what: str
    old: Money | None
    new: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Person-minutes of a block, all copies; 0 where it is not there."""

    block: str
    label: str
    old: int
    new: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending:
    """When the build ends and is due, as minutes from midnight of `start`."""

    start: date
    finish: int
    due: int | None

    @property
    def late(self) -> int:
        """Minutes past due; below zero what is to spare, 0 where nothing is due."""
        return 0 if self.due is None else self.finish - self.due


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """The critical chain by the names of its steps; joined and left in order of time."""

    old: tuple[str, ...]
    new: tuple[str, ...]
    joined: tuple[str, ...]
    left: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cast:
    """What was done already, and is reached by a change: the record, and the lines of the changes."""

    done: Done
    step: str
    changes: tuple[str, ...]


class Swap(StrEnum):
    """What to do with a sheet of the printed binder."""

    PULL = "pull"  # it is gone
    PUT_IN = "put-in"  # it is new
    REPLACE = "replace"  # what it says is otherwise
    DATES = "dates"  # only its dates are


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSwap:
    """A sheet that is not what it was. old, new: the stamps printed on it, "" where there is none."""

    swap: Swap
    code: str
    title: str
    old: str
    new: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Two builds compared. shift: by how many minutes every step moved, where all moved by the same; None
    where they did not. found, gone: findings that are new, and those that are gone. records: how many
    records of work done the new build has."""

    old: str
    new: str
    name: str
    label: str
    changes: tuple[Change, ...]
    amounts: tuple[Amount, ...]
    weights: tuple[Weight, ...]
    sums: tuple[Sum, ...]
    work: tuple[Work, ...]
    old_end: Ending
    new_end: Ending
    chain: Chain
    shift: int | None
    found: tuple[Problem, ...]
    gone: tuple[Problem, ...]
    cast: tuple[Cast, ...]
    swaps: tuple[SheetSwap, ...]
    records: int = 0

    @property
    def same(self) -> bool:
        """Whether both builds mean the same."""
        return not self.changes
