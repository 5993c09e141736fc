"""What is cast, and the jobs that join it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from castlang.source.model import Span
from castlang.spec.model.steps import Item
from castlang.spec.model.times import NOWHERE


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
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """A body from a mesh file; `unit` is the length in m of one unit in the file; `data` its bytes."""

    file: str
    unit: Fraction
    data: bytes = field(repr=False)
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A body added (`plus`) or cut out. `on` is the face it sits on; `placed` are (distance m, edge word)."""

    name: str
    plus: bool
    shape: Shape
    on: str | None = None
    placed: tuple[tuple[Fraction, str], ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lip:
    """A return of `deep` m along an edge, inward."""

    name: str
    deep: Fraction
    on: str
    span: Span = field(default=NOWHERE, compare=False, repr=False)


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
    sequence: tuple[Item, ...] = ()
    notes: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Steps that join pieces or are done for the build; done once."""

    name: str
    label: str | None = None
    sequence: tuple[Item, ...] = ()
    notes: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)
