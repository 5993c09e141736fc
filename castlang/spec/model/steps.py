"""Lines of work, the waits between them, and what they refer to."""

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from fractions import Fraction

from castlang.source.model import Span
from castlang.spec.model.times import NOWHERE, Window
from castlang.spec.quantity import Quantity


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


PUT_ON = frozenset({StepKind.LAYER, StepKind.PRESS, StepKind.POUR, StepKind.PASS})
"""Steps whose material then sets, cures or dries."""


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
    span: Span = field(default=NOWHERE, compare=False, repr=False)


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
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceRef:
    """A face (plain, grouped, of a lip or cut-out) of a piece. face "all" is everything."""

    piece: str
    face: str
    span: Span = field(default=NOWHERE, compare=False, repr=False)


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
    onto: what a place sets its things on, or the fitting that an insert is built into.
    batch_with: the (owner, step) that its batches serve too, all copies of each.
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
    recoat_of: str | None = None  # the mix that `between` is taken from
    waste: Fraction | None = None
    earliest: datetime | None = None
    latest: datetime | None = None
    may_pause: bool = False
    through_breaks: bool = False
    overlap: Fraction | None = None
    each: str | None = None
    batch_with: tuple[tuple[str, str], ...] = ()
    target: str | None = None
    instruction: str | None = None
    notes: tuple[str, ...] = ()
    writes: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)


class GapKind(StrEnum):
    WAIT = "wait"
    WITHIN = "within"
    CURE = "cure"
    DRY = "dry"


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A wait between the step above (or `after`) and the step below, in s; told at `at` K.

    told_at: the K at which its time is told where that is not `at`: of the mix's line about the strength.
    of: the mix or stock that was put on last, None where nothing was.
    covered: True or False on a cure. until: strength in Pa in place of a time. tend: (every s, gang).
    The steps that cover, uncover and tend stand in the sequence on their own.
    """

    kind: GapKind
    owner: str
    window: Window
    after: StepRef | None = None
    at: Fraction | None = None
    told_at: Fraction | None = None
    of: str | None = None
    covered: bool | None = None
    until: Fraction | None = None
    tend: tuple[Fraction, tuple[Gang, ...]] | None = None
    text: str | None = None
    notes: tuple[str, ...] = ()
    writes: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class After:
    """Order alone: the next step of the sequence starts when all of `refs` have ended."""

    owner: str
    refs: tuple[StepRef, ...]
    span: Span = field(default=NOWHERE, compare=False, repr=False)


Item = Step | Gap | After
"""One entry of a sequence."""
