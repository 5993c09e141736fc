"""What a `load` fills into a piece: how much, whether it fits, and whether it stays there."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from castlang.problems.model import Finding, Outcome, Problem
from castlang.spec.model import FaceRef, Spec, Step, StepKind
from castlang.spec.quantity import Dimension
from castlang.takeoff import step_findings, wording
from castlang.takeoff.bodies import NOUGHT
from castlang.takeoff.geometry import Geometry
from castlang.takeoff.said import Said
from castlang.takeoff.standing import steps_of

Hole = tuple[str, str]
"""A piece, and its cut-out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Basin:
    """A face that is filled: in how many copies of its piece at once."""

    ref: FaceRef
    geometry: Geometry
    copies: Fraction

    @property
    def name(self) -> str:
        return f"{self.ref.piece}.{self.ref.face}"

    @property
    def holds(self) -> bool:
        return self.geometry.holds(self.ref.face)

    def volume(self, depth: Fraction | None) -> Fraction:
        """m3 up to `depth` m above the floor, in all copies; None is to the rim."""
        return self.geometry.inside_volume(self.ref.face, depth) * self.copies


def closed_holes(spec: Spec) -> frozenset[Hole]:
    """The cut-outs that something is built into, worked on or poured into: none of them runs out."""
    found: set[Hole] = set()
    for step in steps_of(spec):
        if step.kind in (StepKind.INSERT, StepKind.WORK):
            found.update((ref.piece, ref.face) for ref in step.on)
        elif step.kind is StepKind.POUR and step.cavity is not None and step.cavity[1] is not None:
            found.add((step.cavity[0], step.cavity[1]))
    return frozenset(found)


def filled(
    step: Step, basins: tuple[Basin, ...], density: Fraction | None, closed: frozenset[Hole], units: str
) -> Outcome[tuple[Fraction | None, Fraction | None]]:
    """m3 and kg that the load `step` comes to, as far as it tells them itself.

    density: kg/m3 of what is filled in. A mass may be laid on any face; in what holds a liquid it must fit.
    Findings: holds-nothing, load-too-deep, hole-below-level.
    """
    said = Said()
    amount = step.amount if not step.full else None
    by_mass = amount is not None and amount.dimension is Dimension.MASS
    by_depth = amount is None or amount.dimension is Dimension.LENGTH
    depth = amount.si if amount is not None and by_depth else None
    dry = [basin for basin in basins if not basin.holds]
    if by_depth:
        for basin in dry:
            said.found(_holds_nothing(step, basin))
        volume: Fraction | None = sum((basin.volume(depth) for basin in basins), NOUGHT)
    elif by_mass and amount is not None:
        volume = amount.si / density if density else None
    else:
        volume = amount.si if amount is not None else None
    if volume is not None and basins and not dry:
        over = tuple(_overflows(step, basins, volume, depth, units))
        for problem in over or _leaks(step, basins, volume, closed, units):
            said.found(problem)
    return said.outcome((None, amount.si) if by_mass and amount is not None else (volume, None))


def _holds_nothing(step: Step, basin: Basin) -> Problem:
    message = f"{step.owner}.{step.name} loads {basin.name}, which holds no liquid"
    return _problem(step_findings.HOLDS_NOTHING, step, message)


def _overflows(
    step: Step, basins: tuple[Basin, ...], volume: Fraction, depth: Fraction | None, units: str
) -> Iterator[Problem]:
    if depth is not None:
        for basin in basins:
            room = basin.geometry.room(basin.ref.face)
            if depth > room:
                message = (
                    f"{step.owner}.{step.name} fills {basin.name} {wording.length(depth, units)} deep, "
                    f"and it is {wording.length(room, units)} deep to the rim"
                )
                yield _problem(step_findings.LOAD_TOO_DEEP, step, message)
        return
    most = sum((basin.volume(None) for basin in basins), NOUGHT)
    if volume > most:
        message = (
            f"{step.owner}.{step.name} fills {wording.volume(volume, units)} into "
            f"{', '.join(basin.name for basin in basins)}, which takes {wording.volume(most, units)}"
        )
        yield _problem(step_findings.LOAD_TOO_DEEP, step, message)


def _leaks(
    step: Step, basins: tuple[Basin, ...], volume: Fraction, closed: frozenset[Hole], units: str
) -> Iterator[Problem]:
    """Holes below the level that `volume` m3 come to, shared by the basins as they hold."""
    most = sum((basin.volume(None) for basin in basins), NOUGHT)
    for basin in basins:
        here = volume * basin.volume(None) / most if most and len(basins) > 1 else volume
        for hole, low in basin.geometry.openings(basin.ref.face):
            if (basin.ref.piece, hole) in closed or basin.volume(low) >= here:
                continue
            where = f"{wording.length(low, units)} above its floor" if low else "in its floor"
            message = f"{step.owner}.{step.name} fills {basin.name} higher than {hole}, which opens {where}"
            yield _problem(step_findings.HOLE_BELOW_LEVEL, step, message)


def _problem(finding: Finding, step: Step, message: str) -> Problem:
    return Problem(finding=finding, message=message, span=step.span, about=(f"{step.owner}.{step.name}",))
