"""Mesh files: volume, areas by direction, and whether the surface closes. The only door to trimesh."""

import io
import logging
import warnings
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import fsum, isfinite, sqrt
from pathlib import PurePath
from typing import Any

from castlang.problems.model import Assumption, Outcome
from castlang.spec.kinds import MESH_FACES
from castlang.spec.model import Mesh, Piece, Step, StepKind
from castlang.takeoff.forms import ZERO
from castlang.takeoff.grid import held
from castlang.takeoff.shape_findings import MESH_EXTRA, MESH_FILE, MESH_OPEN, PART_ON_MESH, told
from castlang.takeoff.solid_pieces import Cavity

_TYPES = ("stl", "obj", "3mf")
_STEEP = 1 / sqrt(2)  # the cosine of 45 degrees


@dataclass(frozen=True, slots=True, kw_only=True)
class MeshPiece:
    """Figures of a closed surface. areas: m2 by direction, up and down within 45 degrees of upright."""

    volume: Fraction
    areas: Mapping[str, Fraction]
    high: Fraction

    @property
    def faces(self) -> tuple[str, ...]:
        return MESH_FACES

    @property
    def everything(self) -> tuple[str, ...]:
        return MESH_FACES

    @property
    def stands_for(self) -> Mapping[str, tuple[str, ...]]:
        return {}

    @property
    def depth(self) -> Fraction:
        return self.high

    @property
    def thinnest(self) -> Fraction | None:
        return None

    def area(self, face: str) -> Fraction:
        return self.areas[face]

    def laid(self, thickness: Mapping[str, Fraction]) -> Fraction:
        told_areas = ((self.areas[face], thick) for face, thick in thickness.items())
        return min(self.volume, sum((area * thick for area, thick in told_areas), ZERO))

    def holds(self, face: str) -> bool:
        return False

    def inside_volume(self, face: str, depth: Fraction | None) -> Fraction:
        return ZERO

    def room(self, face: str) -> Fraction:
        return ZERO

    def openings(self, face: str) -> tuple[tuple[str, Fraction], ...]:
        return ()

    def cavity(self, name: str, shell_thickness: Fraction | None) -> Cavity:
        raise KeyError(name)


def mesh_of(piece: Piece, mesh: Mesh) -> Outcome[MeshPiece]:
    """The figures of a piece's mesh file. STL, OBJ or 3MF, told by the end of the file's name."""
    named = [(part.name, part.span) for part in piece.parts] + [(lip.name, lip.span) for lip in piece.lips]
    problems = [
        told(PART_ON_MESH, f"{name} of {piece.name} sits on a body from a mesh file", span, piece.name)
        for name, span in named
    ]
    read = _read(piece, mesh)
    problems += read.problems
    if read.value is None or problems:
        return Outcome(value=None, problems=tuple(problems))
    return Outcome(value=_figures(read.value, mesh.unit), assumptions=_assumed(piece))


def _read(piece: Piece, mesh: Mesh) -> Outcome[Any]:
    kind = PurePath(mesh.file).suffix.lower().removeprefix(".")
    name = f'mesh "{mesh.file}" of {piece.name}'
    if kind not in _TYPES:
        message = f"{name} is not an STL, OBJ or 3MF file by its name"
        return Outcome(value=None, problems=(told(MESH_FILE, message, mesh.span, piece.name),))
    try:
        import trimesh
    except ImportError:
        message = f"{name} cannot be read: what reads mesh files is not installed"
        return Outcome(value=None, problems=(told(MESH_EXTRA, message, mesh.span, piece.name),))
    logging.getLogger("trimesh").addHandler(logging.NullHandler())  # its remarks are not for the crew
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            surface = trimesh.load_mesh(io.BytesIO(mesh.data), file_type=kind)
            faces = len(surface.faces)
            closed = faces > 0 and bool(surface.is_watertight and surface.is_winding_consistent)
            filled = closed and isfinite(surface.volume) and surface.volume != 0
    except Exception:  # whatever a broken file sets off in the reader is the file's fault
        message = f"{name} cannot be read as {kind.upper()}"
        return Outcome(value=None, problems=(told(MESH_FILE, message, mesh.span, piece.name),))
    if not faces:
        message = f"{name} has no triangles in it"
        return Outcome(value=None, problems=(told(MESH_FILE, message, mesh.span, piece.name),))
    if not filled:
        message = f"the surface of {name} does not close: {faces} triangles with holes or turned faces"
        return Outcome(value=None, problems=(told(MESH_OPEN, message, mesh.span, piece.name),))
    return Outcome(value=surface)


def _figures(surface: Any, unit: Fraction) -> MeshPiece:
    """Volume by the divergence theorem, a sixth of the sum of a . (b x c) over all triangles; areas by the
    way that each triangle looks, seen from outside. Summed without loss, so the same in any order."""
    points = surface.vertices.tolist()
    low, high = ([pick(p[axis] for p in points) for axis in range(3)] for pick in (min, max))
    middle = [(a + b) / 2 for a, b in zip(low, high, strict=True)]
    points = [_less(p, middle) for p in points]
    sixths: list[float] = []
    looks: list[tuple[float, float]] = []  # area, upward part of the normal
    for a, b, c in surface.faces.tolist():
        cross = _cross(_less(points[b], points[a]), _less(points[c], points[a]))
        sixths.append(_dot(points[a], cross))
        twice = sqrt(_dot(cross, cross))
        looks.append((twice / 2, cross[2] / twice if twice else 0.0))
    volume = fsum(sixths) / 6
    flip = 1 if volume > 0 else -1
    areas = {
        "up": [area for area, rise in looks if rise * flip > _STEEP],
        "down": [area for area, rise in looks if rise * flip < -_STEEP],
        "sides": [area for area, rise in looks if abs(rise) <= _STEEP],
    }
    return MeshPiece(
        volume=held(Fraction(abs(volume)) * unit**3),
        areas={face: held(Fraction(fsum(areas[face])) * unit**2) for face in MESH_FACES},
        high=held(Fraction(high[2] - low[2]) * unit),
    )


def _less(p: list[float], q: list[float]) -> list[float]:
    return [p[0] - q[0], p[1] - q[1], p[2] - q[2]]


def _dot(p: list[float], q: list[float]) -> float:
    return p[0] * q[0] + p[1] * q[1] + p[2] * q[2]


def _cross(p: list[float], q: list[float]) -> list[float]:
    return [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]]


def _assumed(piece: Piece) -> tuple[Assumption, ...]:
    laid = [s for s in piece.sequence if isinstance(s, Step) and s.kind in (StepKind.LAYER, StepKind.PRESS)]
    if not laid:
        return ()
    return (
        Assumption(
            subject=f"layers of {piece.name}",
            says="area times thickness, corners not taken off",
            source="a mesh file has no faces to offset",
            line=f'measured volume of {piece.name} 20 L "how"',
            span=laid[0].span,
        ),
    )
