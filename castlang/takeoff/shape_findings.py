"""What can be wrong with a shape, a part of it or a mesh file. Data first; `told` makes a problem of one."""

from castlang.problems.model import Finding, Problem, Severity
from castlang.source.model import Span

_GEOMETRY = "plane and solid geometry"
_MEANING = "castlang reference, shapes"


def _error(name: str, says: str, why: str, remedy: str, source: str = _GEOMETRY) -> Finding:
    return Finding(name=name, severity=Severity.ERROR, says=says, why=why, remedy=remedy, source=source)


NO_BODY = _error(
    "no-body",
    "the sizes of a shape leave no body, or none of that kind",
    "walls that meet, or a cap higher than its sphere allows, cannot be cast",
    "change the size that is named so that the body closes",
)
NO_SHAPE = _error(
    "no-shape",
    "a piece has neither a shape nor a mesh",
    "everything that is ordered and mixed follows from the body",
    "give the piece a `shape` line, or a `mesh` line",
    _MEANING,
)
PART_SEAT = _error(
    "part-seat",
    "a cut-out or added body sits on a face that is not there, is not one flat face, or takes none",
    "the face sets how deep a cut goes and which area it takes away",
    "name one face of the piece behind `on`",
    _MEANING,
)
PART_OFF_FACE = _error(
    "part-off-face",
    "a cut-out or added body does not lie wholly on the face that it sits on, or lies across a fold of it",
    "what hangs over an edge is neither cut out nor carried, and what lies across a fold is not flat",
    "make it smaller, or move it with `placed`",
)
PART_OVERLAP = _error(
    "part-overlap",
    "two cut-outs or added bodies on one face lie over each other",
    "their volumes and areas would be counted twice",
    "say where each sits with `placed`, or set the second `on` the first",
)
CUT_DEPTH = _error(
    "cut-depth",
    "a cut-out goes deeper than the body behind its face, or has no depth where it needs one",
    "a cut cannot take away more than is there",
    "leave the depth out to go right through, or make it less than the body",
)
CUT_IN_SHELL = _error(
    "cut-in-shell",
    "a cut-out in a shell has a depth of its own",
    "a shell is as thick as its layers, so what is cut out of it goes through",
    "leave the depth out, or give the piece a thickness",
    _MEANING,
)
CUT_THROUGH_WALL = _error(
    "cut-through-wall",
    "a cut-out breaks through the side of the body",
    "nothing is left between the cut and the outside",
    "make the cut-out smaller, or the body larger",
)
PLACED_EDGE = _error(
    "placed-edge",
    "a place counts from an edge that the face does not have, or twice in one direction",
    "a place is one distance across the face and one up it, to the middle of the part",
    "count from one edge of the face each way",
    _MEANING,
)
LIP_PLACE = _error(
    "lip-place",
    "a lip runs along an edge that carries none, or on a body that has its own thickness",
    "a lip is a return of a shell, made by the same layers",
    "put the lip on a free edge of a panel, corner-wall or run, or add a body with `plus`",
    _MEANING,
)
PLUS_ON_SHELL = _error(
    "plus-on-shell",
    "a body is added to a shell",
    "a shell has no body of its own that could carry one",
    "give the piece a thickness, or make the added body a piece of its own",
    _MEANING,
)
LAYER_ON_EDGE = _error(
    "layer-on-edge",
    "a layer lies on an edge, or on the walls of a hole, of a shell",
    "the edge of a shell is made by its layers: there is no mold to lay on",
    "lay on the faces against the mold, or add a `lip` along the edge",
    _MEANING,
)
PART_ON_MESH = _error(
    "part-on-mesh",
    "a body from a mesh file has a cut-out, an added body or a lip",
    "the faces of a mesh go by direction and have no edges to measure from",
    "draw the part in the mesh file",
    _MEANING,
)
MESH_EXTRA = _error(
    "mesh-extra",
    "a mesh file is used, but what reads mesh files is not installed",
    "mesh files need a library that a plain install leaves out",
    'pip install "castlang[mesh]"',
    _MEANING,
)
MESH_FILE = _error(
    "mesh-file",
    "a mesh file cannot be read",
    "without its triangles the body has no volume",
    "export the body again as STL, OBJ or 3MF",
    _MEANING,
)
MESH_OPEN = _error(
    "mesh-open",
    "the surface of a mesh does not close",
    "the volume inside a surface with holes is not known",
    "close the holes in the model, or write `measured volume of` the piece",
)

FINDINGS = (
    NO_SHAPE, NO_BODY, PART_SEAT, PART_OFF_FACE, PART_OVERLAP, CUT_DEPTH, CUT_IN_SHELL,
    CUT_THROUGH_WALL, PLACED_EDGE, LIP_PLACE, PLUS_ON_SHELL, LAYER_ON_EDGE, PART_ON_MESH,
    MESH_EXTRA, MESH_FILE, MESH_OPEN,
)  # fmt: skip


def told(finding: Finding, message: str, span: Span, *about: str, remedy: str | None = None) -> Problem:
    """One finding met at one place, about the named pieces and parts."""
    return Problem(finding=finding, message=message, span=span, remedy=remedy, about=about)
