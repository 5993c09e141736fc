"""Quantities of the build, in SI (m, m2, m3, kg); exact fractions, so that sums are equal exactly.

Geometry with roots or pi is worked in floating point and then held on a grid of 1e-12 (m2, m3), so that
every machine prints the same figures.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from castlang.problems.model import Assumption
from castlang.source.model import Span
from castlang.spec.model import NOWHERE
from castlang.spec.quantity import Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipeLine:
    """One material of a mix, for 1 m3 of mix in place: mass kg, and volume m3 where the density is known."""

    stock: str
    role: str
    mass: Fraction
    volume: Fraction | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """A mix for 1 m3 in place, in order of addition. density kg/m3; how it was found is `density_from`
    ("recipe", "told" or "measured"). water_total kg counts what liquids and damp sand bring; binder kg."""

    mix: str
    density: Fraction
    density_from: str
    lines: tuple[RecipeLine, ...]
    air: Fraction
    binder: Fraction
    water_total: Fraction
    solids: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """What a step uses up of one stock or fitting: net and with waste, in the SI unit of `dimension`."""

    stock: str
    dimension: Dimension
    net: Fraction
    gross: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighLine:
    """One line of a batch sheet: exact amount, what the scale shows, and the running total on the scale.
    kg, or m3 for a mix measured by volume."""

    stock: str
    exact: Fraction
    shown: Fraction
    running: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """One bucket. volume m3 and mass kg with waste. minutes: mix, carry and place."""

    name: str
    mix: str
    volume: Fraction
    mass: Fraction
    by_volume: bool
    minutes: int
    lines: tuple[WeighLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPart:
    """A step as the clock sees it: one coat, lift or grit; `suffix` is "", "coat-1", "lift-2", "grit-120".
    minutes are whole, for one copy. depth m of a lift."""

    suffix: str
    minutes: int
    batches: tuple[Batch, ...] = ()
    depth: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StepTakeoff:
    """Quantities of one step for one copy. area m2, volume m3 and mass kg are net, without waste.
    waste: the share that was added. uses: what it takes from the stores, all parts together.
    faces: the single faces that it lies on, as "piece.face"; a pour into a mold lies on all of its piece."""

    owner: str
    step: str
    parts: tuple[StepPart, ...]
    area: Fraction | None = None
    volume: Fraction | None = None
    mass: Fraction | None = None
    waste: Fraction = Fraction(0)
    uses: tuple[Use, ...] = ()
    faces: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceTakeoff:
    """One copy of a piece. volume m3 of what is cast; faces: m2 of every named face and group;
    wet kg as cast, dry kg with everything that stays on it. source: "shape", "mesh" or "measured"."""

    piece: str
    volume: Fraction
    faces: Mapping[str, Fraction]
    wet: Fraction
    dry: Fraction
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """One material of the whole build. net and gross in the SI unit of `dimension`; `of`: per step,
    ("stool.body", gross for all copies)."""

    stock: str
    dimension: Dimension
    net: Fraction
    gross: Fraction
    of: tuple[tuple[str, Fraction], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """What a demold, place or move asks of people: mass kg, people, kg a person, and the limit in kg."""

    step: str
    things: str
    mass: Fraction
    people: int
    each: Fraction
    limit: Fraction | None
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearing:
    """What a fitting carries: mass kg laid on it, what it may carry in kg (all of them), in which step."""

    step: str
    fitting: str
    mass: Fraction
    carries: Fraction | None
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Takeoff:
    """All quantities of a build. steps goes by (owner, step name)."""

    pieces: Mapping[str, PieceTakeoff]
    recipes: Mapping[str, Recipe]
    steps: Mapping[tuple[str, str], StepTakeoff]
    bill: tuple[BillLine, ...]
    lifts: tuple[Lift, ...]
    bearings: tuple[Bearing, ...]
    assumptions: tuple[Assumption, ...] = field(default=(), compare=False)
