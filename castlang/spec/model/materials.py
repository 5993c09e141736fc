"""What a shop buys and mixes: stocks, packages, recipes."""

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from fractions import Fraction

from castlang.source.model import Span
from castlang.spec.model.times import NOWHERE, Window
from castlang.spec.quantity import Money, Quantity


class Acts(StrEnum):
    """What a material does where it is put on, as far as the rules of the trade must know it."""

    RELEASE = "release"  # keeps a casting from its mold
    FILLER = "filler"  # fills voids, and is ground back
    COLOR = "color"  # a wash, stain or dye: has to soak in
    PRIMER = "primer"  # closes pores; what comes next bonds to it
    RESIN = "resin"  # cast, and spoilt by water
    FILM = "film"  # a sealer that forms a film
    PENETRATING = "penetrating"  # a sealer that soaks in and repels
    OTHER = "other"  # none of these: a wax, a wash-down


@dataclass(frozen=True, slots=True, kw_only=True)
class Package:
    """How a stock is sold: `bag of 25 kg`, or a sheet of two sides in m."""

    word: str
    amount: Quantity | None = None
    sheet: tuple[Fraction, Fraction] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """A further size that a stock is sold in, with the price of one."""

    package: Package
    price: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """A part that is bought with others in one package: the stock that is the kit, how much of the part one
    kit holds."""

    name: str
    amount: Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A material as it is bought. density kg/m3, areal mass kg/m2, solids as a share by mass, volume_solids
    as a share of the wet film, covers m2/m3, thick m of a board. more: sizes that it is sold in beside
    `package`, which alone `have` counts."""

    name: str
    label: str | None = None
    density: Fraction | None = None
    areal: Fraction | None = None
    solids: Fraction | None = None
    package: Package | None = None
    price: Money | None = None
    more: tuple[Pack, ...] = ()
    kit: Kit | None = None
    have: Fraction = Fraction(0)
    lead: Fraction = Fraction(0)
    ordered: date | None = None
    keeps: Fraction | None = None
    covers: Fraction | None = None
    volume_solids: Fraction | None = None
    hazards: tuple[str, ...] = ()
    waste: Fraction | None = None
    thick: Fraction | None = None
    kerf: Fraction | None = None
    grain: str | None = None
    acts: Acts | None = None
    notes: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)


class DoseKind(StrEnum):
    """What a dose is told in, and the unit of its value."""

    PARTS = "parts"
    MASS = "mass"  # kg for one yield of the mix
    VOLUME = "volume"  # m3 for one yield of the mix
    SHARE = "share"  # of `of`: "binder", "mix" or a stock's name, by mass
    FILL = "fill"  # the volume that the others leave


@dataclass(frozen=True, slots=True, kw_only=True)
class Dose:
    """How much of an ingredient: `value` in what `kind` says; `of` is what a share is of."""

    kind: DoseKind
    value: Fraction = Fraction(0)
    of: str | None = None


class Role(StrEnum):
    """What an ingredient is in its mix."""

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
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Water:
    """`total`: all water that counts, with what liquids and damp sand bring; else what is added."""

    dose: Dose
    total: bool
    stock: str | None = None
    span: Span = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """A recipe with its variants already applied; `base` is what it was made from.

    measure: "mass" or "volume" for a mix in parts A and B (all ingredients are then Role.PART).
    works: working time s at `works_at` K. lift m, thick (least, greatest) m, recoat and covers (m2/m3).
    air: share of entrapped air, None when not said. yields: the volume in m3 that mass doses make.
    volume_solids: what stays of a wet film, as a share of it.
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
    volume_solids: Fraction | None = None
    density: Fraction | None = None
    hazards: tuple[str, ...] = ()
    waste: Fraction | None = None
    doubles: Fraction | None = None
    ages: tuple[str, Fraction | None] | None = None
    strength: tuple[tuple[Fraction, Fraction, Fraction], ...] = ()  # (Pa, s, K)
    acts: Acts | None = None
    notes: tuple[str, ...] = ()
    span: Span = field(default=NOWHERE, compare=False, repr=False)
