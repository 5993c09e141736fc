"""Piece blocks: the body; the steps are read in `sequences`."""

from collections.abc import Mapping
from dataclasses import dataclass

from castlang.spec import findings
from castlang.spec.block import Block, text_of, word_of
from castlang.spec.faces import piece_faces
from castlang.spec.ledger import Ledger
from castlang.spec.model import Lip, Mesh, Part, Piece, Shape
from castlang.spec.molds import made_of
from castlang.spec.shapes import Bytes, faces_by_group, lip_of, mesh_of, part_of, shape_of
from castlang.spec.sizes import Sizes
from castlang.syntax.model import Statement

REPEATING = frozenset({"make", "plus", "less", "lip", "face"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A piece as far as it can be read without its steps, with every face word that it has."""

    piece: Piece
    faces: tuple[str, ...]


def body_of(ledger: Ledger, statement: Statement, sizes: Sizes, read: Bytes) -> Body:
    """The shape, copies, parts, lips and faces of a piece."""
    block = Block(ledger, statement, REPEATING)
    name = word_of(statement.body, "name") or ""
    plain, mirrored = made_of(ledger, block)
    shape_line, mesh_line = block.one("shape"), block.one("mesh")
    shape = shape_of(ledger, shape_line, sizes) if shape_line is not None else None
    mesh = mesh_of(ledger, mesh_line, read) if mesh_line is not None else None
    if shape_line is None and mesh_line is None and statement.lacks("shape", "mesh"):
        ledger.say(
            findings.NOT_SAID,
            f"the piece `{name}` does not say its shape",
            statement.span,
            'add a `shape` line, or `mesh mm "file.stl"`',
        )
    if shape_line is not None and mesh_line is not None:
        ledger.say(findings.SAID_TWICE, f"the piece `{name}` has both a shape and a mesh", mesh_line.span)
    parts, lips = _added(ledger, block, shape, mesh, sizes)
    named = (*(part.name for part in parts), *(lip.name for lip in lips))
    kind: str | None = shape.kind if shape is not None else (None if mesh is not None else "")
    words = tuple(shape.sizes) if shape is not None else ()
    groups: Mapping[str, tuple[str, ...]] = {}
    if shape is not None or mesh is not None:
        groups = faces_by_group(ledger, block, kind or "mesh", words, named)
    piece = Piece(
        name=name,
        label=text_of(statement.body),
        count=plain,
        mirrored=mirrored,
        shape=shape,
        mesh=mesh,
        parts=parts,
        lips=lips,
        faces=groups,
        notes=block.notes(),
        span=statement.span,
    )
    return Body(piece=piece, faces=piece_faces(kind, words, named, tuple(groups)))


def _added(
    ledger: Ledger, block: Block, shape: Shape | None, mesh: Mesh | None, sizes: Sizes
) -> tuple[tuple[Part, ...], tuple[Lip, ...]]:
    parts: list[Part] = []
    lips: list[Lip] = []
    seen: dict[str, Statement] = {}
    for line in block.all("plus", "less", "lip"):
        name = word_of(line.body, "name") or ""
        if name in seen:
            ledger.say(
                findings.NAME_TWICE,
                f"`{name}` is a part of the piece already",
                line.span,
                related=((seen[name].span, "the first one"),),
            )
            continue
        seen[name] = line
        if mesh is not None:
            ledger.say(
                findings.OUT_OF_PLACE,
                f"`{line.kind}` does not change a mesh",
                line.span,
                "change the mesh file, or write the piece as a shape",
            )
            continue
        if line.kind == "lip":
            lip = lip_of(ledger, line, shape, sizes)
            if lip is not None:
                lips.append(lip)
            continue
        part = part_of(ledger, line, sizes)
        if part is not None:
            parts.append(part)
    return tuple(parts), tuple(lips)
