"""The shop's defaults: what is taken when the spec does not say, and the `assume` line that would set it."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from castlang.spec.ledger import Ledger
from castlang.spec.quantity import Dimension, Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Default:
    """A value in SI, how a sheet says it, and where it comes from."""

    value: Fraction
    dimension: Dimension
    says: str
    source: str


COMMON = "common practice, no source"

DEFAULTS: Mapping[str, Default] = {
    "cover-time": Default(
        value=Fraction(600),
        dimension=Dimension.TIME,
        says="covering and uncovering take 10 min each, by 1",
        source=COMMON,
    ),
    "cover-within": Default(
        value=Fraction(3600),
        dimension=Dimension.TIME,
        says="a face is covered within 1 h of the end of the work",
        source=COMMON,
    ),
    "release-time": Default(
        value=Fraction(900), dimension=Dimension.TIME, says="oiling a mold takes 15 min, by 1", source=COMMON
    ),
    "laps": Default(
        value=Fraction(5, 100), dimension=Dimension.LENGTH, says="scrim laps by 50 mm", source=COMMON
    ),
    "entrapped-air": Default(
        value=Fraction(3, 100), dimension=Dimension.SHARE, says="a mix holds 3 % of air", source=COMMON
    ),
}
"""Every default that an `assume` line can set."""


def default(ledger: Ledger, told: Mapping[str, Quantity], name: str) -> Fraction:
    """The shop's value, or the default, which is then listed once as an assumption."""
    if name in told:
        return told[name].si
    known = DEFAULTS[name]
    if all(a.subject != name for a in ledger.assumptions):
        ledger.assume(name, known.says, known.source, f"assume {name} {_example(name)}")
    return known.value


def _example(name: str) -> str:
    return {"cover-time": "10 min", "cover-within": "1 h", "release-time": "15 min", "laps": "50 mm",
            "entrapped-air": "3 %"}[name]  # fmt: skip
