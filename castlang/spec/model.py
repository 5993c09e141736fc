"""The build as it was meant. Frozen; lengths m, times s, masses kg, temperatures K, shares 0 to 1.

Places (`span`) take no part in equality, so two specs are equal when they mean the same.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from enum import StrEnum
from fractions import Fraction

from castlang.problems.model import Assumption
from castlang.source.model import Span
from castlang.spec.quantity import Money, Quantity

NOWHERE = Span(file="", line=0, column=0, end=0)


def _span() -> Span:
    return field(default=NOWHERE, compare=False, repr=False)  # type: ignore[no-any-return]


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A least time and, where there is one, a longest, in s."""

    least: Fraction
    longest: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """Calendar days, first and last, both in it."""

    first: date
    last: date
    text: str | None = None
    span: Span = _span()


# ---------------------------------------------------------------- what the shop keeps


@dataclass(frozen=True, slots=True, kw_only=True)
class Package:
    """How a stock is sold: `bag of 25 kg`, or a sheet of two sides in m."""

    word: str
    amount: Quantity | None = None
    sheet: tuple[Fraction, Fraction] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A material as it is bought. density kg/m3, areal mass kg/m2, solids as a share, covers m2/m3."""

    name: str
    label: str | None = None
    density: Fraction | None = None
    areal: Fraction | None = None
    solids: Fraction | None = None
    package: Package | None = None
    price: Money | None = None
    have: Fraction = Fraction(0)
    lead: Fraction = Fraction(0)
    ordered: date | None = None
    keeps: Fraction | None = None
    covers: Fraction | None = None
    hazards: tuple[str, ...] = ()
    waste: Fraction | None = None
    kerf: Fraction | None = None
    grain: str | None = None
    notes: tuple[str, ...] = ()
    span: Span = _span()


class DoseKind(StrEnum):
    PARTS = "parts"
    MASS = "mass"  # kg for one yield of the mix
    VOLUME = "volume"  # m3 for one yield of the mix
    SHARE = "share"  # of `of`: "binder", "mix" or a stock's name, by mass
    FILL = "fill"  # the volume that the others leave


@dataclass(frozen=True, slots=True, kw_only=True)
class Dose:
    kind: DoseKind
    value: Fraction = Fraction(0)
    of: str | None = None


class Role(StrEnum):
    BINDER = "binder"
    SAND = "sand"
    FILLER = "filler"
    LIQUID = "liquid"
    FIBER = "fiber"
    PIGMENT = "pigment"
    PART = "part"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ingredient:
    """One line of a recipe. `as_solids`: the dose counts the dry solids of a liquid.
    `damp`: free moisture, as a share of the oven-dry mass; may be negative; None when not said."""

    role: Role
    stock: str
    dose: Dose
    as_solids: bool = False
    damp: Fraction | None = None
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Water:
    """`total`: all water that counts, with what liquids and damp sand bring; else what is added."""

    dose: Dose
    total: bool
    stock: str | None = None
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """A recipe with its variants already applied; `base` is what it was made from.

    measure: "mass" or "volume" for a mix in parts A and B (all ingredients are then Role.PART).
    works: working time s at `works_at` K. lift m, thick (least, greatest) m, recoat and covers (m2/m3).
    air: share of entrapped air, None when not said. yields: the volume in m3 that mass doses make.
    """

    name: str
    label: str | None = None
    base: str | None = None
    ingredients: tuple[Ingredient, ...] = ()
    water: Water | None = None
    order: tuple[str, ...] = ()
    measure: str | None = None
    air: Fraction | None = None
    yields: Fraction | None = None
    works: Window | None = None
    works_at: Fraction | None = None
    mixing: Fraction | None = None
    carry: Fraction | None = None
    wet_edge: Fraction | None = None
    lift: Fraction | None = None
    thick: tuple[Fraction, Fraction | None] | None = None
    recoat: Window | None = None
    covers: Fraction | None = None
    density: Fraction | None = None
    hazards: tuple[str, ...] = ()
    waste: Fraction | None = None
    doubles: Fraction | None = None
    ages: tuple[str, Fraction | None] | None = None
    strength: tuple[tuple[Fraction, Fraction, Fraction], ...] = ()  # (Pa, s, K)
    notes: tuple[str, ...] = ()
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A board cut to `long` by `wide` m."""

    name: str
    long: Fraction
    wide: Fraction
    count: int = 1
    stock: str | None = None
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """A treated edge of a mold: `fillet 4 mm`."""

    kind: str
    size: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Mold:
    """A mold (`temporary` False) or a temporary work such as a dam or brace (True).

    `release` is the step that oils it before every casting, when there is one.
    `lasts`: castings each of the copies bears; None when not counted.
    """

    name: str
    label: str | None = None
    temporary: bool = False
    count: int = 1
    mirrored: int = 0
    fits: tuple[str, ...] = ()
    board: str | None = None
    panels: tuple[Panel, ...] = ()
    edges: tuple[Edge, ...] = ()
    release: "Step | None" = None
    lasts: int | None = None
    sequence: "tuple[Item, ...]" = ()
    hazards: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A mixer, table, rack, truck. `holds` is pieces (count), volume or mass; `scale` (least, greatest, step) kg."""

    name: str
    label: str | None = None
    have: int = 1
    holds: Quantity | None = None
    least: Quantity | None = None
    scale: tuple[Fraction, Fraction, Fraction] | None = None
    price: Money | None = None  # an hour
    closed: tuple[Days, ...] = ()
    notes: tuple[str, ...] = ()
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """Something bought or made outside. weight and carries kg each."""

    name: str
    label: str | None = None
    buy: int | None = None
    price: Money | None = None
    lead: Fraction = Fraction(0)
    ordered: date | None = None
    weight: Fraction | None = None
    carries: Fraction | None = None
    hazards: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    span: Span = _span()


# ---------------------------------------------------------------- pieces and jobs


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """One straight wall of a `run`, m long, and the turn at its end in degrees (None after the last)."""

    long: Fraction
    turn: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A plain body: `kind` and its sizes in m by the words long wide high deep thick wall leg rise dia
    top-dia foot-dia. `legs` only for kind "run"."""

    kind: str
    sizes: Mapping[str, Fraction]
    legs: tuple[Leg, ...] = ()
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """A body from a mesh file; `unit` is the length in m of one unit in the file; `data` its bytes."""

    file: str
    unit: Fraction
    data: bytes = field(repr=False)
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A body added (`plus`) or cut out. `on` is the face it sits on; `placed` are (distance m, edge word)."""

    name: str
    plus: bool
    shape: Shape
    on: str | None = None
    placed: tuple[tuple[Fraction, str], ...] = ()
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Lip:
    """A return of `deep` m along an edge, inward."""

    name: str
    deep: Fraction
    on: str
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """Something that is cast, `count` times plain and `mirrored` times mirrored.

    `faces`: named groups of faces. `sequence`: steps, gaps and orders as written.
    """

    name: str
    label: str | None = None
    count: int = 1
    mirrored: int = 0
    shape: Shape | None = None
    mesh: Mesh | None = None
    parts: tuple[Part, ...] = ()
    lips: tuple[Lip, ...] = ()
    faces: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    sequence: "tuple[Item, ...]" = ()
    notes: tuple[str, ...] = ()
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Steps that join pieces or are done for the build; done once."""

    name: str
    label: str | None = None
    sequence: "tuple[Item, ...]" = ()
    notes: tuple[str, ...] = ()
    span: Span = _span()


# ---------------------------------------------------------------- steps and what ties them


class StepKind(StrEnum):
    LAYER = "layer"
    PRESS = "press"
    POUR = "pour"
    SCRIM = "scrim"
    INSERT = "insert"
    PASS = "pass"
    WORK = "work"
    PLACE = "place"
    MOVE = "move"
    TEST = "test"
    LOAD = "load"
    TAKE = "take"
    FREE = "free"
    DEMOLD = "demold"
    RELEASE = "release"  # made from the mold's `release` line, before every casting
    COVER = "cover"  # made from a covered cure
    UNCOVER = "uncover"
    TEND = "tend"


@dataclass(frozen=True, slots=True, kw_only=True)
class Copies:
    """Which copies of a thing: numbers `first` to `last` of the plain or the mirrored count; `each` pairs
    copy with copy. All None or False: every copy."""

    first: int | None = None
    last: int | None = None
    mirrored: bool = False
    each: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ThingRef:
    """A piece, mold, fitting or job, with the copies meant. `kind` is "piece", "mold", "fitting", "job"."""

    name: str
    kind: str
    copies: Copies = Copies()
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRef:
    """A step of `owner`, or the whole of it (`step` None), or a point of it.

    part: "lift-3" and the like. point: "start" or "end" (None: the end of the work and of the gap lines
    directly under it). gap: the word of the gap meant ("cure", "dry", "wait").
    """

    owner: str
    copies: Copies = Copies()
    step: str | None = None
    part: str | None = None
    point: str | None = None
    gap: str | None = None
    fitting: bool = False
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceRef:
    """A face (plain, grouped, of a lip or cut-out) of a piece. face "all" is everything."""

    piece: str
    face: str
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Gang:
    """People on a step: how many of a role; role None is anybody."""

    count: int
    role: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of work. Which fields are set depends on `kind`.

    material: a stock, mix or fitting. amount: thickness (LENGTH), AREAL_MASS, FILM, VOLUME, MASS or a COUNT
    of coats, layers or pieces; None with `full`. cavity: for a pour, (piece, cut-out or None for its body).
    takes: s, for the whole gang and for each coat, lift and grit; rate: m2/s or m3/s of the gang.
    target: what a take, free or demold handles. method: sprayed laid brushed rolled pressed poured.
    """

    kind: StepKind
    owner: str
    name: str
    label: str | None = None
    material: str | None = None
    amount: Quantity | None = None
    full: bool = False
    on: tuple[FaceRef, ...] = ()
    cavity: tuple[str, str | None] | None = None
    things: tuple[ThingRef, ...] = ()
    onto: ThingRef | None = None
    grits: tuple[int, ...] = ()
    method: str | None = None
    wet: bool | None = None
    takes: Fraction | None = None
    rate: Quantity | None = None
    gang: tuple[Gang, ...] = ()
    using: tuple[str, ...] = ()
    at: Fraction | None = None
    laps: Fraction | None = None
    between: Window | None = None
    waste: Fraction | None = None
    earliest: datetime | None = None
    latest: datetime | None = None
    may_pause: bool = False
    through_breaks: bool = False
    overlap: Fraction | None = None
    each: str | None = None
    target: str | None = None
    instruction: str | None = None
    notes: tuple[str, ...] = ()
    writes: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    span: Span = _span()


class GapKind(StrEnum):
    WAIT = "wait"
    WITHIN = "within"
    CURE = "cure"
    DRY = "dry"


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A wait between the step above (or `after`) and the step below, in s; told at `at` K.

    covered: True or False on a cure. until: strength in Pa in place of a time. tend: (every s, gang).
    The steps that cover, uncover and tend stand in the sequence on their own.
    """

    kind: GapKind
    owner: str
    window: Window
    after: StepRef | None = None
    at: Fraction | None = None
    covered: bool | None = None
    until: Fraction | None = None
    tend: tuple[Fraction, tuple[Gang, ...]] | None = None
    text: str | None = None
    notes: tuple[str, ...] = ()
    writes: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class After:
    """Order alone: the next step of the sequence starts when all of `refs` have ended."""

    owner: str
    refs: tuple[StepRef, ...]
    span: Span = _span()


Item = Step | Gap | After


# ---------------------------------------------------------------- the build


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """Hours on weekdays `first` to `last` (Monday is 0), as (from, to) pairs."""

    first: int
    last: int
    spells: tuple[tuple[time, time], ...]
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """A value (K, or a share for humidity) for all days, or for `days`."""

    value: Fraction
    days: Days | None = None
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Away:
    """People missing on some days."""

    count: int
    days: Days
    role: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchange:
    """1 of `sold` is worth `rate` of `bought`, told on `on`."""

    sold: str
    rate: Fraction
    bought: str
    on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """The build and its shop. wage: money an hour. units: "metric" or "us"."""

    name: str
    label: str | None = None
    revision: str | None = None
    start: date = date(1970, 1, 5)
    due: date | None = None
    shifts: tuple[Shift, ...] = ()
    closed: tuple[Days, ...] = ()
    crew: tuple[Gang, ...] = ()
    away: tuple[Away, ...] = ()
    air: tuple[Climate, ...] = ()
    night: tuple[Climate, ...] = ()
    humidity: tuple[Climate, ...] = ()
    draft: Fraction | None = None
    wage: Money | None = None
    waste: Fraction | None = None
    units: str = "metric"
    margin: Fraction | None = None
    overhead: Fraction | None = None
    freight: Money | None = None
    exchange: tuple[Exchange, ...] = ()
    priority: int | None = None
    lift_limit: Fraction | None = None  # kg a person
    logger: str | None = None
    notes: tuple[str, ...] = ()
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiver:
    """A finding accepted with a reason, on steps, pieces, mixes: dotted names as written."""

    finding: str
    on: tuple[str, ...]
    reason: str
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A value measured in the shop: `what` is density mass volume area works warmth; amount in SI."""

    what: str
    of: str
    amount: Quantity
    how: str
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """What was really done: a step, from when to when."""

    step: StepRef
    start: datetime
    end: datetime
    at: Fraction | None = None
    gang: tuple[Gang, ...] = ()
    lots: tuple[tuple[str, str], ...] = ()
    text: str | None = None
    span: Span = _span()


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """A whole build, resolved. Every mapping goes by name, in sorted order of the names."""

    build: Build
    stocks: Mapping[str, Stock]
    mixes: Mapping[str, Mix]
    molds: Mapping[str, Mold]
    stations: Mapping[str, Station]
    fittings: Mapping[str, Fitting]
    pieces: Mapping[str, Piece]
    jobs: Mapping[str, Job]
    waivers: tuple[Waiver, ...] = ()
    measured: tuple[Measured, ...] = ()
    done: tuple[Done, ...] = ()
    defaults: Mapping[str, Quantity] = field(default_factory=dict)  # the shop's `assume` lines
    assumptions: tuple[Assumption, ...] = field(default=(), compare=False)

    def owners(self) -> tuple[Piece | Job | Mold, ...]:
        """Everything that has a sequence of steps: molds, pieces, jobs, each in order of name."""
        return (*self.molds.values(), *self.pieces.values(), *self.jobs.values())
