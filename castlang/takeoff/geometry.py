"""One copy of a piece: areas of its faces, its volume, what layers fill, what its hollows hold.

The public door of the take-off's geometry. A piece's sizes are its finished outside; layers grow inward from
the mold. m, m2, m3.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import Protocol

from castlang.problems.model import Outcome
from castlang.spec.kinds import KINDS
from castlang.spec.model import Piece
from castlang.takeoff.meshes import mesh_of
from castlang.takeoff.shape_findings import NO_SHAPE, told
from castlang.takeoff.shapes import is_shell, sizes_of
from castlang.takeoff.shell_pieces import shell_of
from castlang.takeoff.solid_pieces import Cavity, solid_of
from castlang.takeoff.wording import METRIC

__all__ = ["Cavity", "Geometry", "geometry_of"]


class Figures(Protocol):
    """What a piece of any make can tell of its single faces; `Geometry` says what each means."""

    @property
    def faces(self) -> tuple[str, ...]: ...

    @property
    def everything(self) -> tuple[str, ...]: ...

    @property
    def stands_for(self) -> Mapping[str, tuple[str, ...]]: ...

    @property
    def volume(self) -> Fraction: ...

    @property
    def depth(self) -> Fraction: ...

    @property
    def thinnest(self) -> Fraction | None: ...

    def area(self, face: str) -> Fraction: ...

    def laid(self, thickness: Mapping[str, Fraction]) -> Fraction: ...

    def holds(self, face: str) -> bool: ...

    def inside_volume(self, face: str, depth: Fraction | None) -> Fraction: ...

    def room(self, face: str) -> Fraction: ...

    def openings(self, face: str) -> tuple[tuple[str, Fraction], ...]: ...

    def cavity(self, name: str, shell_thickness: Fraction | None) -> Cavity: ...


@dataclass(frozen=True, kw_only=True)
class Geometry:
    """One copy of a piece. shell: it has no thickness of its own, its layers make it.

    volume: m3 of the body with what was added and cut out; 0 for a shell before its layers.
    groups: names that stand for several faces, those of the shape and those of the piece.
    """

    piece: str
    shell: bool
    volume: Fraction
    figures: Figures
    groups: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def primitives(self, face: str) -> tuple[str, ...]:
        """The single faces that a word stands for, each once, in a fixed order. KeyError if unknown."""
        found = self._named(face, ())
        return tuple(name for name in self.figures.faces if name in found)

    def _named(self, face: str, within: tuple[str, ...]) -> tuple[str, ...]:
        if face in within:
            raise KeyError(face)
        if face == "all":
            return self.figures.everything
        if face in self.figures.stands_for:
            return self.figures.stands_for[face]
        if face in self.figures.faces:
            return (face,)
        return tuple(name for member in self.groups[face] for name in self._named(member, (*within, face)))

    def area(self, face: str) -> Fraction:
        """m2 of a face, group, lip or cut-out, less what is cut out of it. Raises KeyError if unknown."""
        return sum((self.areas[name] for name in self.primitives(face)), Fraction(0))

    @cached_property
    def areas(self) -> Mapping[str, Fraction]:
        """m2 of every single face, less what is cut out of it."""
        return {name: self.figures.area(name) for name in self.figures.faces}

    def laid(self, thickness: Mapping[str, Fraction]) -> Fraction:
        """m3 that layers fill which have grown inward by so many m from each single face.

        The difference of two offsets: inside corners are counted once. For what a further layer adds, take
        the difference of two calls. A mesh has no offsets: there it is area times thickness.
        """
        return self.figures.laid(thickness)

    def holds(self, face: str) -> bool:
        """Whether a liquid can stand on this face: an inside, or a cut-out that opens upward."""
        return any(self.figures.holds(name) for name in self.primitives(face))

    def inside_volume(self, face: str, depth: Fraction | None) -> Fraction:
        """m3 of liquid up to a depth (m) above the inside floor, at most to the rim; None is full.

        0 on a face that holds nothing (see `holds`). Raises KeyError for an unknown face.
        """
        for name in self.primitives(face):
            if self.figures.holds(name):
                return self.figures.inside_volume(name, depth)
        return Fraction(0)

    def room(self, face: str) -> Fraction:
        """How deep (m) what holds a liquid on this face is, from its floor to its rim; 0 if nothing does."""
        held = [name for name in self.primitives(face) if self.figures.holds(name)]
        return self.figures.room(held[0]) if held else Fraction(0)

    def openings(self, face: str) -> tuple[tuple[str, Fraction], ...]:
        """The holes that open into what holds a liquid on this face, and how high (m) above its floor they
        begin."""
        held = [name for name in self.primitives(face) if self.figures.holds(name)]
        return self.figures.openings(held[0]) if held else ()

    def cavity(self, name: str, shell_thickness: Fraction | None = None) -> Cavity:
        """A cut-out by its name; in a shell it is as deep as the layers told (None: the piece's own layers).

        Raises KeyError when no cut-out is called so.
        """
        return self.figures.cavity(name, shell_thickness)

    def depth(self) -> Fraction:
        """The greatest depth of the body as it is poured, m; what lifts are cut from."""
        return self.figures.depth

    def thinnest(self) -> Fraction | None:
        """The least thickness (m) that a layer may grow into; None where there is no such limit."""
        return self.figures.thinnest


def geometry_of(piece: Piece, *, units: str = METRIC) -> Outcome[Geometry]:
    """The geometry of one copy; a mirrored copy has the same quantities. units: what messages tell.

    Findings: see `shape_findings`. Assumptions: where a part sits when nothing was told, and the like.
    """
    made = _figures(piece, units)
    if made.value is None:
        return Outcome(value=None, problems=made.problems, assumptions=made.assumptions)
    kind = KINDS[piece.shape.kind].groups if piece.shape else {}
    there = set(made.value.faces) | set(made.value.stands_for)
    groups = {name: tuple(face for face in faces if face in there) for name, faces in kind.items()}
    geometry = Geometry(
        piece=piece.name,
        shell=piece.shape is not None and is_shell(piece.shape.kind, sizes_of(piece.shape)),
        volume=made.value.volume,
        figures=made.value,
        groups={**groups, **piece.faces},
    )
    return Outcome(value=geometry, problems=made.problems, assumptions=made.assumptions)


def _figures(piece: Piece, units: str) -> Outcome[Figures]:
    made: Outcome[Figures]
    if piece.mesh is not None:
        mesh = mesh_of(piece, piece.mesh)
        made = Outcome(value=mesh.value, problems=mesh.problems, assumptions=mesh.assumptions)
    elif piece.shape is None:
        message = f"{piece.name} has neither a shape nor a mesh"
        made = Outcome(value=None, problems=(told(NO_SHAPE, message, piece.span, piece.name),))
    elif is_shell(piece.shape.kind, sizes_of(piece.shape)):
        shell = shell_of(piece, piece.shape, units=units)
        made = Outcome(value=shell.value, problems=shell.problems, assumptions=shell.assumptions)
    else:
        solid = solid_of(piece, piece.shape, units=units)
        made = Outcome(value=solid.value, problems=solid.problems, assumptions=solid.assumptions)
    return made
