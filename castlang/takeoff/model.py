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
    ("recipe", "told" or "measured"). water_total kg counts what liquids and damp sand bring; binder kg.
    warmth: K as it leaves the mixer, where one of its materials was measured; else None."""

    mix: str
    density: Fraction
    density_from: str
    lines: tuple[RecipeLine, ...]
    air: Fraction
    binder: Fraction
    water_total: Fraction
    solids: Fraction
    warmth: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """What a step uses up of one stock or fitting: net and with waste, in the SI unit of `dimension`."""

    stock: str
    dimension: Dimension
    net: Fraction
    gross: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighLine:
    """One line of a batch sheet: exact amount, what the scale shows, and the sum so far of what it shows.
    kg, or m3 for a mix measured by volume. carries: the most, kg, that the scale carries on which the line is
    weighed; None when no scale is told, and for what is measured by volume."""

    stock: str
    exact: Fraction
    shown: Fraction
    running: Fraction
    carries: Fraction | None = None

    @property
    def apart(self) -> bool:
        """Whether it is weighed by itself, since the scale does not carry what is in the bucket with it."""
        return self.carries is not None and self.running > self.carries


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingTime:
    """How long a mix can be worked: s, at K, halved by each `doubles` K; the last two None: as told."""

    seconds: Fraction
    at: Fraction | None = None
    doubles: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """One bucket. volume m3 and mass kg with waste. minutes: mix, carry and place.

    limit: what no batch fewer would keep ("mixer", "working time", "wet edge", "scale"), "" for one batch.
    error: the greatest share by which rounding to the scale moves a dose, or of parts the ratio; error_in:
    the stock that it moves.
    """

    name: str
    mix: str
    volume: Fraction
    mass: Fraction
    by_volume: bool
    minutes: int
    lines: tuple[WeighLine, ...]
    limit: str = ""
    error: Fraction = Fraction(0)
    error_in: str = ""


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
    faces: the single faces that it lies on, as "piece.face"; a pour into a mold lies on all of its piece.
    working: how long its mix can be worked, as its batches are cut for it. shares: whether its batches serve
    other steps or other copies too; they then stand in `Takeoff.shared`, and its parts have none."""

    owner: str
    step: str
    parts: tuple[StepPart, ...]
    area: Fraction | None = None
    volume: Fraction | None = None
    mass: Fraction | None = None
    waste: Fraction = Fraction(0)
    uses: tuple[Use, ...] = ()
    faces: tuple[str, ...] = ()
    working: WorkingTime | None = None
    shares: bool = False
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedRun:
    """A step of one copy, or a coat or lift of it, that shared batches serve: whole minutes in which it is
    placed, m3 with waste."""

    owner: str
    copy: str
    step: str
    suffix: str
    minutes: int
    volume: Fraction

    @property
    def task(self) -> str:
        """Its name in the plan."""
        return ".".join(word for word in (self.owner, self.copy, self.step, self.suffix) if word)


@dataclass(frozen=True, slots=True, kw_only=True)
class Serving:
    """What one batch puts into one of the runs: m3, from `begin` to `end` s of that run's work."""

    run: int
    volume: Fraction
    begin: Fraction
    end: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedBatches:
    """Batches that serve several runs, which are cast one right after another, as they stand in `runs`.

    name: that of the step that leads, with its lift or coat, and with its round where not all copies find a
    mold at once. servings: what each batch serves. placing: s from a batch's first in place to its last, at
    most.
    """

    name: str
    mix: str
    steps: tuple[tuple[str, str], ...]
    runs: tuple[SharedRun, ...]
    batches: tuple[Batch, ...]
    servings: tuple[tuple[Serving, ...], ...]
    placing: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceTakeoff:
    """One copy of a piece. volume m3 of what is cast; faces: m2 of every named face and group.
    wet kg as it leaves the mold, nothing lost by drying; dry kg with everything that stays on it, nothing
    lost either: what lifts count; dried kg once its free water is gone.
    source: "shape", "mesh" or "measured"."""

    piece: str
    volume: Fraction
    faces: Mapping[str, Fraction]
    wet: Fraction
    dry: Fraction
    source: str
    dried: Fraction = Fraction(0)


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
    """What a demold, place, move or insert asks of people: mass kg, people, kg a person, and the limit in kg.
    hoist: the station that carries it in their place, by which it hangs or on which it stands already; then
    each is 0."""

    step: str
    things: str
    mass: Fraction
    people: int
    each: Fraction
    limit: Fraction | None
    hoist: str | None = None
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
class Shipment:
    """What a move takes away at once: kg of all `number` things, with their crates where they stand on them;
    station: what it goes with, and the kg that it holds."""

    step: str
    things: str
    number: int
    mass: Fraction
    station: str | None = None
    holds: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bending:
    """A plain piece lying flat on its two ends: span and thickness m, stress in Pa from its own weight."""

    piece: str
    span: Fraction
    thick: Fraction
    stress: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What a pour presses on the foot of its mold while it is liquid: depth m, pressure Pa."""

    step: str
    depth: Fraction
    pressure: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPanel:
    """A panel of one mold as it is cut, `long` by `wide` m, along the grain and across it; count for one copy
    of the mold, of which there are `molds`. told: by a line of the build, else worked out by `rule` from the
    sizes of the shape and the board's thickness t; joint: how it meets its neighbours."""

    mold: str
    name: str
    stock: str
    long: Fraction
    wide: Fraction
    count: int
    molds: int = 1
    told: bool = True
    joint: str = ""
    rule: tuple[str, str] = ("", "")
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A panel where it lies on its sheet: its near left corner, and its size along the sheet's length (x) and
    across it (y), m. number counts the panels of one name, over all copies of the mold."""

    mold: str
    panel: str
    number: int
    x: Fraction
    y: Fraction
    along: Fraction
    across: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Nest:
    """All panels of one sheet stock, laid out: long, wide of a sheet, kerf of the saw, m. sheets: the cuts on
    each; bound: no layout takes fewer sheets; through: every cut runs from edge to edge of what is left.
    grain: which side of the sheet it runs along ("long", "wide"), None where panels may be turned.
    too_large: panels that no sheet holds, as "mold.panel"; spare: the sheets counted for them by area."""

    stock: str
    long: Fraction
    wide: Fraction
    kerf: Fraction
    grain: str | None
    sheets: tuple[tuple[Cut, ...], ...]
    bound: int
    through: bool
    too_large: tuple[str, ...] = ()
    spare: int = 0

    @property
    def number(self) -> int:
        """Sheets to have."""
        return len(self.sheets) + self.spare


@dataclass(frozen=True, slots=True, kw_only=True)
class Takeoff:
    """All quantities of a build. steps goes by (owner, step name); shared: batches of `batch-with` lines."""

    pieces: Mapping[str, PieceTakeoff]
    recipes: Mapping[str, Recipe]
    steps: Mapping[tuple[str, str], StepTakeoff]
    bill: tuple[BillLine, ...]
    lifts: tuple[Lift, ...]
    bearings: tuple[Bearing, ...]
    shipments: tuple[Shipment, ...] = ()
    bendings: tuple[Bending, ...] = ()
    heads: tuple[Head, ...] = ()
    panels: tuple[BoardPanel, ...] = ()
    nests: tuple[Nest, ...] = ()
    shared: tuple[SharedBatches, ...] = ()
    assumptions: tuple[Assumption, ...] = field(default=(), compare=False)
