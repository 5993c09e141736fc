"""What goes on a face: coats by coverage, by mass or by volume an area; scrim with its laps.

    V = A / c,   V = A f,   M = A m,   V = A WFT / n        for one coat
    A_scrim = A n (1 + laps / 1 m)         strips of 1 m, each laid `laps` over the last

A m2, c m2/m3 (the spreading rate), f m3/m2, m kg/m2, n layers or coats, WFT m the wet film (`spec.films`).
Source of the first: spreading-rate identity. What is lost in spraying is waste: L lost of what is sprayed is
L / (1 - L) of what stays.
"""

from dataclasses import dataclass
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.defaults import DEFAULTS
from castlang.spec.films import film_coats, wet_film
from castlang.spec.model import Mix, Step, Stock
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff import mix_findings, sources

LAPS = DEFAULTS["laps"].value
STRIP = Fraction(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Coats:
    """`count` equal coats, each of `volume` m3 or of `mass` kg (the other is None)."""

    count: int
    volume: Fraction | None = None
    mass: Fraction | None = None


def coats_of(step: Step, material: Mix | Stock, area: Fraction) -> Outcome[Coats]:
    """The coats of `material` that `step` puts on `area` m2.

    Findings: coats told by number, and no coverage told; a film told dry, and no volume solids.
    """
    amount = step.amount
    dimension = amount.dimension if amount else Dimension.COUNT
    told = amount.si if amount else Fraction(1)
    if dimension is Dimension.AREAL_MASS:
        return Outcome(value=Coats(count=1, mass=area * told))
    if dimension is Dimension.FILM:
        return Outcome(value=Coats(count=1, volume=area * told))
    if dimension is Dimension.LENGTH:
        return _film(step, material, area)
    if dimension is Dimension.MASS:
        return Outcome(value=Coats(count=1, mass=told))
    if dimension is Dimension.VOLUME:
        return Outcome(value=Coats(count=1, volume=told))
    if not material.covers:
        kind = _kind(material)
        problem = Problem(
            finding=mix_findings.MISSING_COVERS,
            message=f"{step.owner}.{step.name} puts coats of {material.name} on, and nothing says how far "
            "a litre goes",
            span=step.span,
            remedy=f"write `covers N m2/L` under {kind} {material.name}",
            related=((material.span, f"{kind} {material.name}"),),
            about=(f"{step.owner}.{step.name}", material.name),
        )
        return Outcome(value=None, problems=(problem,))
    return Outcome(value=Coats(count=max(1, int(told)), volume=area / material.covers))


def _film(step: Step, material: Mix | Stock, area: Fraction) -> Outcome[Coats]:
    """A film told by its thickness, in as few coats as its mix goes on in."""
    wet = wet_film(step, material)
    if wet is None:
        problem = Problem(
            finding=mix_findings.MISSING_VOLUME_SOLIDS,
            message=f"{step.owner}.{step.name} tells a dry film of {material.name}, and nothing says how "
            "much of a wet film stays",
            span=step.span,
            remedy=f"write `volume-solids N %` under {_kind(material)} {material.name}",
            related=((material.span, f"{_kind(material)} {material.name}"),),
            about=(f"{step.owner}.{step.name}", material.name),
        )
        return Outcome(value=None, problems=(problem,))
    count = film_coats(step, material)
    return Outcome(value=Coats(count=count, volume=area * wet / count))


def _kind(material: Mix | Stock) -> str:
    return "mix" if isinstance(material, Mix) else "stock"


def scrim_of(step: Step, area: Fraction, shop_laps: Quantity | None = None) -> Outcome[Fraction]:
    """m2 of scrim for the layers of `step` on `area` m2, laps included: its own, else the shop's."""
    layers = step.amount.si if step.amount else Fraction(1)
    assumed = [
        Assumption(
            subject=f"step {step.owner}.{step.name}",
            says="strips of 1 m, one lap for each",
            source=sources.COMMON,
            line=f"waste N % behind {step.name}",
            span=step.span,
        )
    ]
    laps = step.laps
    if laps is None and shop_laps is not None:
        laps = shop_laps.si
    elif laps is None:
        laps = LAPS
        assumed.append(
            Assumption(
                subject="laps",
                says=DEFAULTS["laps"].says,
                source=DEFAULTS["laps"].source,
                line="assume laps 50 mm",
                span=step.span,
            )
        )
    return Outcome(value=area * layers * (1 + laps / STRIP), assumptions=tuple(assumed))
