"""What is poured into a body or a cavity, and in how many lifts.

    V = A h,   n = ceil(h / l)

h depth m, A section m2, l the mix's greatest lift m; the lifts are equal. `full` is what layers and told
pours leave; its depth is the cavity's, in the proportion that is left.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from castlang.problems.model import Finding, Outcome, Problem
from castlang.spec.model import Mix, Spec, Step, StepKind
from castlang.spec.quantity import Dimension
from castlang.takeoff import step_findings, wording
from castlang.takeoff.bodies import NOUGHT, Body
from castlang.takeoff.said import Said

MOST = 999

Place = tuple[str, str | None]
"""What a pour goes into: a piece, and its cut-out; None for the body."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hollow:
    """What a pour goes into, empty: volume m3, depth m, mean section m2."""

    volume: Fraction
    depth: Fraction

    @property
    def section(self) -> Fraction:
        return self.volume / self.depth


@dataclass(frozen=True, slots=True, kw_only=True)
class Poured:
    """One pour in one copy: volume m3, depth m."""

    volume: Fraction
    depth: Fraction


def place_of(step: Step) -> Place:
    """What a pour goes into."""
    return step.cavity or (step.owner, None)


def pours_of(spec: Spec) -> dict[Place, tuple[Step, ...]]:
    """All pours of the build, of whichever piece or job, by what they go into."""
    found: dict[Place, list[Step]] = {}
    for owner in spec.owners():
        for item in owner.sequence:
            if isinstance(item, Step) and item.kind is StepKind.POUR:
                found.setdefault(place_of(item), []).append(item)
    return {place: tuple(pours) for place, pours in found.items()}


def poured_of(
    step: Step, body: Body, pours: Sequence[Step], densities: Mapping[str, Fraction], units: str
) -> Outcome[Poured]:
    """The volume and depth of the pour `step` into `body` or a cavity of it.

    pours: all that go into the same place, this one among them. densities: kg/m3 by material, for a pour told
    by mass. units: what messages tell. Findings: a shell that has no body, a pour deeper than its place,
    nothing left for a full one.
    """
    said = Said()
    hollow = said.heard(_hollow(step, body))
    if hollow is None:
        return said.outcome(None)
    if hollow.volume <= 0 or hollow.depth <= 0:
        message = f"{_name(step)} pours into a place that has no room"
        said.found(_problem(step_findings.NOTHING_LEFT_TO_POUR, step, message))
        return said.outcome(None)
    if not step.full:
        volume = _told(step, hollow, densities)
        if volume is None:
            return said.outcome(None)  # the missing density was said with its mix or stock
        if volume > hollow.volume:
            message = (
                f"{_name(step)} pours {wording.volume(volume, units)}, "
                f"{wording.length(volume / hollow.section, units)} deep, into a place of "
                f"{wording.volume(hollow.volume, units)}, {wording.length(hollow.depth, units)} deep"
            )
            said.found(_problem(step_findings.POUR_TOO_DEEP, step, message))
        return said.outcome(Poured(volume=volume, depth=volume / hollow.section))
    left = hollow.volume - _taken(step, body, hollow, pours, densities)
    if left <= 0:
        whole = wording.volume(hollow.volume, units)
        message = f"{_name(step)} is to fill what is left, and nothing is left of {whole}"
        said.found(_problem(step_findings.NOTHING_LEFT_TO_POUR, step, message))
        return said.outcome(None)
    return said.outcome(Poured(volume=left, depth=hollow.depth * left / hollow.volume))


def lifts_of(mix: Mix | None, poured: Poured) -> tuple[Poured, ...]:
    """`poured` in as few equal lifts as the mix's greatest lift allows; none when that is past counting."""
    count = ceil(poured.depth / mix.lift) if mix is not None and mix.lift else 1
    if count > MOST:
        return ()
    return (Poured(volume=poured.volume / count, depth=poured.depth / count),) * count


def _hollow(step: Step, body: Body) -> Outcome[Hollow]:
    cut = place_of(step)[1]
    if cut is not None:
        cavity = body.geometry.cavity(cut, shell_thickness(body, cut))
        return Outcome(value=Hollow(volume=cavity.volume, depth=cavity.depth))
    if body.geometry.shell:
        message = f"{_name(step)} pours into the body of {body.piece.name}, which is made of layers alone"
        return Outcome(value=None, problems=(_problem(step_findings.POUR_INTO_SHELL, step, message),))
    return Outcome(value=Hollow(volume=body.volume, depth=body.geometry.depth()))


def shell_thickness(body: Body, cut: str) -> Fraction | None:
    """How thick the layers lie where a hole goes through: a hole in a shell is as deep as they are."""
    if not body.geometry.shell or not body.thick:
        return None
    on = next((part.on for part in body.piece.parts if part.name == cut), None)
    faces = body.geometry.primitives(on) if on else tuple(body.thick)
    return max((body.thick.get(face, NOUGHT) for face in faces), default=None)


def _told(step: Step, hollow: Hollow, densities: Mapping[str, Fraction]) -> Fraction | None:
    if step.amount is None:
        return NOUGHT
    if step.amount.dimension is Dimension.VOLUME:
        return step.amount.si
    if step.amount.dimension is Dimension.MASS:
        density = densities.get(step.material or "")
        return step.amount.si / density if density else None
    return hollow.section * step.amount.si


def _taken(
    step: Step, body: Body, hollow: Hollow, pours: Sequence[Step], densities: Mapping[str, Fraction]
) -> Fraction:
    """m3 that layers and other pours take of the same place; a full pour before this one takes all."""
    taken = sum(body.laid.values(), NOUGHT) if place_of(step)[1] is None else NOUGHT
    full = [(pour.owner, pour.name) for pour in pours if pour.full]
    if full and full[0] != (step.owner, step.name):
        return hollow.volume
    return taken + sum((_told(p, hollow, densities) or NOUGHT for p in pours if not p.full), NOUGHT)


def _name(step: Step) -> str:
    return f"{step.owner}.{step.name}"


def _problem(finding: Finding, step: Step, message: str) -> Problem:
    return Problem(finding=finding, message=message, span=step.span, about=(_name(step),))
