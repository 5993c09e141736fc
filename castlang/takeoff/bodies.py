"""A piece's body with the layers laid in it, in the order in which they are laid.

A layer's volume is what its thickness adds to what lies there already: the difference of two offsets, so
that an inside corner is not counted twice.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from castlang.problems.model import Outcome, Problem
from castlang.spec.model import FaceRef, Piece, Spec, Step, StepKind
from castlang.takeoff import step_findings, wording
from castlang.takeoff.geometry import Geometry, geometry_of
from castlang.takeoff.measured import measured_value
from castlang.takeoff.said import Said

NOUGHT = Fraction(0)
ONE = Fraction(1)
LAID = (StepKind.LAYER, StepKind.PRESS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """One copy. volume m3 inside the finished outside, as measured or computed; laid: m3 of each layer by
    (owner, step); thick: m on every plain face, all layers; stretch: measured over computed area."""

    piece: Piece
    geometry: Geometry
    volume: Fraction
    laid: Mapping[tuple[str, str], Fraction]
    thick: Mapping[str, Fraction]
    stretch: Fraction = ONE
    areas: Mapping[str, Fraction] = field(default_factory=dict)

    @property
    def copies(self) -> int:
        return self.piece.count + self.piece.mirrored

    def area(self, faces: tuple[str, ...]) -> Fraction:
        """m2 of `faces` together, each spot once; a measured face counts as measured."""
        if len(faces) == 1 and faces[0] in self.areas:
            return self.areas[faces[0]]
        areas = [self.geometry.areas[face] for face in primitives_of(self.geometry, faces)]
        return sum(areas[1:], start=areas[0]) * self.stretch if areas else NOUGHT


def primitives_of(geometry: Geometry, faces: tuple[str, ...]) -> tuple[str, ...]:
    """The plain faces that `faces` are made of, each once, in the order named."""
    return tuple(dict.fromkeys(plain for face in faces for plain in geometry.primitives(face)))


def faces_on(step: Step, piece: str) -> tuple[str, ...]:
    """The faces of `piece` that `step` lies on."""
    return tuple(ref.face for ref in step.on if ref.piece == piece)


def pieces_on(on: tuple[FaceRef, ...]) -> tuple[str, ...]:
    """The pieces whose faces are named, each once."""
    return tuple(dict.fromkeys(ref.piece for ref in on))


def jobs_on(spec: Spec) -> dict[str, tuple[Step, ...]]:
    """The steps of jobs by the pieces that they lie on or pour into, in order: looked up once, since to look
    through all jobs for each piece takes the square of the build."""
    found: dict[str, list[Step]] = {}
    for job in spec.jobs.values():
        for step in job.sequence:
            if isinstance(step, Step):
                into = (step.cavity[0],) if step.cavity is not None else ()
                for piece in dict.fromkeys((*pieces_on(step.on), *into)):
                    found.setdefault(piece, []).append(step)
    return {piece: tuple(steps) for piece, steps in found.items()}


def body_of(piece: Piece, spec: Spec, jobs: tuple[Step, ...]) -> Outcome[Body]:
    """The body of `piece` and what its own steps and those of `jobs` (see `jobs_on`) lay in it.

    Findings: those of its shape, and layers thicker than the piece.
    """
    said = Said()
    geometry = said.heard(geometry_of(piece, units=spec.build.units))
    if geometry is None:
        return said.outcome(None)
    laid: dict[tuple[str, str], Fraction] = {}
    thick: dict[str, Fraction] = {}
    stretch = _stretch(piece, spec, geometry)
    before = NOUGHT
    for step in layers_on(piece, jobs):
        if step.amount is None:
            continue
        for face in primitives_of(geometry, faces_on(step, piece.name)):
            thick[face] = thick.get(face, NOUGHT) + step.amount.si
        if _too_thick(piece, geometry, thick, step, spec.build.units, said):
            return said.outcome(None)
        after = geometry.laid(thick)
        laid[step.owner, step.name] = (after - before) * stretch
        before = after
    return said.outcome(
        Body(
            piece=piece,
            geometry=geometry,
            volume=measured_value(spec, "volume", piece.name) or geometry.volume,
            laid=laid,
            thick=thick,
            stretch=stretch,
            areas={
                m.of.split(".", 1)[1]: m.amount.si
                for m in spec.measured
                if m.what == "area" and m.of.startswith(f"{piece.name}.")
            },
        )
    )


def layers_on(piece: Piece, jobs: tuple[Step, ...]) -> tuple[Step, ...]:
    """Layers on `piece` in order: its own, then those of jobs."""
    return tuple(
        item
        for item in (*piece.sequence, *jobs)
        if isinstance(item, Step) and item.kind in LAID and faces_on(item, piece.name)
    )


def _stretch(piece: Piece, spec: Spec, geometry: Geometry) -> Fraction:
    measured = measured_value(spec, "area", piece.name)
    if measured is None:
        return ONE
    computed = geometry.area("all")
    return ONE if computed == 0 else measured / computed


def _too_thick(
    piece: Piece, geometry: Geometry, thick: Mapping[str, Fraction], step: Step, units: str, said: Said
) -> bool:
    thinnest = None if geometry.shell else geometry.thinnest()
    if thinnest is None:
        return False
    for face, thickness in thick.items():
        if thickness > thinnest:
            said.found(
                Problem(
                    finding=step_findings.LAYERS_TOO_THICK,
                    message=f"layers on {face} of {piece.name} come to {wording.length(thickness, units)} "
                    f"with {step.name}, and the piece is {wording.length(thinnest, units)} there",
                    span=step.span,
                    about=(f"{step.owner}.{step.name}",),
                )
            )
            return True
    return False
