"""Faces: which ones a line lies on."""

from castlang.spec import findings
from castlang.spec.kinds import KINDS, MESH_FACES, faces_of
from castlang.spec.model import FaceRef
from castlang.spec.names import near_remedy
from castlang.spec.references import Scope, no_span, things_of
from castlang.syntax.model import Part, Word

BEHIND_FACES = ("sprayed", "laid", "brushed", "rolled", "wet", "dry")
"""Words that stand behind the faces, and are read as a face when its name is lost."""


def piece_faces(
    kind: str | None, sizes: tuple[str, ...], parts: tuple[str, ...], groups: tuple[str, ...]
) -> tuple[str, ...]:
    """Every face word of a piece; kind None is a mesh, "" unknown."""
    if kind is None:
        return ("all", *MESH_FACES, *parts, *groups)
    if kind not in KINDS:
        return ("all", *parts, *groups)
    return (*faces_of(kind, sizes), *parts, *groups)


def face_refs(scope: Scope, part: Part | None) -> tuple[FaceRef, ...]:
    """The faces of a list: `show`, `shell.show`, or a piece's name for all of it."""
    refs: list[FaceRef] = []
    for word, last in things_of(part):
        if last is not None:
            no_span(scope, last)
            continue
        found = _face(scope, word)
        if found is not None:
            refs.append(found)
    return tuple(refs)


def _face(scope: Scope, word: Word) -> FaceRef | None:
    segments = word.text.split(".")
    owner = scope.own
    if (
        owner is not None
        and owner.kind == "piece"
        and (len(segments) == 1 and segments[0] not in scope.owners)
    ) or (owner is not None and owner.kind == "piece" and segments[0] in owner.faces and len(segments) == 1):
        face = segments[0]
    else:
        owner = scope.owners.get(segments[0])
        if owner is None or owner.kind != "piece":
            if scope.ledger.is_missing(segments[0], "piece"):
                known = [n for n, o in scope.owners.items() if o.kind == "piece"]
                scope.ledger.say(
                    findings.UNKNOWN_NAME,
                    f"there is no piece called `{segments[0]}`",
                    word.span,
                    near_remedy(segments[0], known) or "a face of a piece is written as in `shell.front`",
                )
            return None
        face = segments[1] if len(segments) > 1 else "all"
        if len(segments) > 2:
            scope.ledger.say(findings.UNKNOWN_FACE, f"`{word.text}` is not a face", word.span)
            return None
    if face not in owner.faces:
        if not owner.shaped or (face in scope.ledger.unread and face not in BEHIND_FACES):
            return None
        message = f"`{owner.name}` has no face called `{face}`"
        remedy = near_remedy(face, owner.faces) or f"its faces are {', '.join(owner.faces)}"
        if face in BEHIND_FACES:
            message = f"the name of a face is missing in front of `{face}`"
            example = "show" if "show" in owner.faces else "all"
            remedy = f"write on which face, as in `on {example} {face}`"
        scope.ledger.say(findings.UNKNOWN_FACE, message, word.span, remedy)
        return None
    return FaceRef(piece=owner.name, face=face, span=word.span)
