"""Exact amounts with a dimension. Units end here: behind this line everything is SI."""

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction


class Dimension(StrEnum):
    """What an amount measures, and the SI unit of its value."""

    LENGTH = "length"  # m
    AREA = "area"  # m2
    VOLUME = "volume"  # m3
    MASS = "mass"  # kg
    TIME = "time"  # s
    TEMPERATURE = "temperature"  # K, a point on the scale
    TEMPERATURE_STEP = "temperature step"  # K, a difference
    SHARE = "share"  # 1 (6 % is 0.06)
    DENSITY = "mass per volume"  # kg/m3
    AREAL_MASS = "mass per area"  # kg/m2
    FILM = "volume per area"  # m3/m2
    COVERAGE = "area per volume"  # m2/m3
    AREA_RATE = "area per time"  # m2/s
    VOLUME_RATE = "volume per time"  # m3/s
    SPEED = "length per time"  # m/s
    PRESSURE = "pressure"  # Pa
    ANGLE = "angle"  # degrees
    MONEY = "money"  # one unit of the currency
    MONEY_RATE = "money per time"  # one unit of the currency a second
    COUNT = "count"  # 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """An exact amount in SI. `word` is the counted word or the currency code, where there is one;
    `written` is how the person wrote it and takes no part in equality."""

    si: Fraction
    dimension: Dimension
    word: str | None = None
    written: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Money:
    """An exact amount of one currency (ISO 4217 code)."""

    amount: Fraction
    currency: str
