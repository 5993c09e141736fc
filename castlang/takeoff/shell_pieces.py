"""A piece without a thickness of its own: panel, corner-wall and run, as their layers make them."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.kinds import KINDS
from castlang.spec.model import Lip, Part, Piece, Shape, Step, StepKind
from castlang.spec.quantity import Dimension
from castlang.takeoff import wording
from castlang.takeoff.forms import ZERO, Seat
from castlang.takeoff.parts import Seated, at_depth, seated
from castlang.takeoff.shape_findings import (
    LAYER_ON_EDGE,
    LIP_PLACE,
    PART_SEAT,
    PLUS_ON_SHELL,
    told,
)
from castlang.takeoff.shapes import fold_of, no_body, sizes_of
from castlang.takeoff.shells import FoldShell, Opening, Shell, Skin, corner_shell, panel_shell
from castlang.takeoff.solid_pieces import Cavity, cavity_of
from castlang.takeoff.wording import METRIC

_MOLD_FACES: Mapping[str, tuple[str, ...]] = {
    "panel": ("front",),
    "run": ("front",),
    "corner-wall": ("front", "side"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ShellPiece:
    """hull: the skins against the mold. main: its mold faces; lips: edge -> name; built: m by own layers."""

    kind: str
    hull: Shell | FoldShell
    main: tuple[str, ...]
    lips: Mapping[str, str] = field(default_factory=dict)
    parts: tuple[Seated, ...] = ()
    built: Mapping[str, Fraction] = field(default_factory=dict)

    @property
    def faces(self) -> tuple[str, ...]:
        return (*self.everything, *self._edges(), *(part.name for part in self.parts))

    def _edges(self) -> tuple[str, ...]:
        own = KINDS[self.kind].faces
        return tuple(face for face in own if face not in self.main and face not in self.lips)

    @property
    def everything(self) -> tuple[str, ...]:
        """What lies against the mold: the main faces and the lips."""
        return (*self.main, *self.lips.values())

    @property
    def stands_for(self) -> Mapping[str, tuple[str, ...]]:
        """An edge with a lip is that lip."""
        return {edge: (name,) for edge, name in self.lips.items() if edge in KINDS[self.kind].faces}

    @property
    def volume(self) -> Fraction:
        return ZERO

    @property
    def depth(self) -> Fraction:
        return ZERO

    @property
    def thinnest(self) -> Fraction | None:
        return None

    def _round(self) -> list[Seated]:
        """The holes that are not square ones among the skins."""
        square = {opening.name for opening in self.hull.openings} if isinstance(self.hull, Shell) else ()
        return [part for part in self.parts if part.name not in square]

    def area(self, face: str) -> Fraction:
        hole = next((part for part in self.parts if part.name == face), None)
        if hole is not None:
            form = at_depth(hole, hole.depth)
            return cavity_of(hole, form, hole.depth).walls if form is not None else ZERO
        if face in self.everything:
            return self.hull.mold_area(face) - self._holes(face)
        if face == "back":
            return self.hull.back_area() - sum((self._holes(main) for main in self.main), ZERO)
        return self.hull.edge_area(face)

    def _holes(self, face: str) -> Fraction:
        return sum((part.form.area(part.mouth) for part in self._round() if part.seat.face == face), ZERO)

    def laid(self, thickness: Mapping[str, Fraction]) -> Fraction:
        behind = thickness.get("back", ZERO)
        grown = dict(thickness)
        for face in self.main:
            grown[face] = thickness.get(face, ZERO) + behind
        total = self.hull.laid(grown)
        for part in self._round():
            hole = at_depth(part, grown.get(part.seat.face, ZERO))
            total -= hole.remaining({}) if hole is not None else ZERO
        return max(ZERO, total)

    def holds(self, face: str) -> bool:
        return False

    def inside_volume(self, face: str, depth: Fraction | None) -> Fraction:
        return ZERO

    def room(self, face: str) -> Fraction:
        return ZERO

    def openings(self, face: str) -> tuple[tuple[str, Fraction], ...]:
        return ()

    def cavity(self, name: str, shell_thickness: Fraction | None) -> Cavity:
        part = next(part for part in self.parts if part.name == name) if self._has(name) else None
        if part is None:
            raise KeyError(name)
        depth = part.depth if shell_thickness is None else shell_thickness
        form = at_depth(part, depth)
        if form is None:
            return Cavity(volume=ZERO, depth=ZERO, section=part.form.area(part.mouth), walls=ZERO)
        return cavity_of(part, form, depth)

    def _has(self, name: str) -> bool:
        return any(part.name == name for part in self.parts)


def shell_of(piece: Piece, shape: Shape, *, units: str = METRIC) -> Outcome[ShellPiece]:
    """The shell of a piece, with its lips and holes."""
    sizes = sizes_of(shape)
    problems = list(no_body(shape, sizes, piece.name, piece.name, units=units))
    problems += _bad_lips(piece, sizes, units)
    for part in piece.parts:
        if part.plus:
            message = f"{part.name} is added to {piece.name}, which has no thickness of its own"
            problems.append(told(PLUS_ON_SHELL, message, part.span, piece.name, f"{piece.name}.{part.name}"))
    if problems:
        return Outcome(value=None, problems=tuple(problems))
    built = _built(piece, shape.kind)
    lips = {lip.on: lip for lip in piece.lips}
    made = ShellPiece(
        kind=shape.kind,
        hull=_hull(shape, sizes, lips, built),
        main=_MOLD_FACES[shape.kind],
        lips=_edge_names(shape.kind, lips),
        built=built,
    )
    return _with_holes(piece, shape, made, units)


def _with_holes(piece: Piece, shape: Shape, made: ShellPiece, units: str) -> Outcome[ShellPiece]:
    problems: list[Problem] = []
    assumptions: list[Assumption] = []
    seats = made.hull.seats()
    groups = KINDS[shape.kind].groups
    openings: list[Opening] = []
    for part in piece.parts:
        face = part.on or KINDS[shape.kind].seat
        single = groups.get(face, (face,))
        face = single[0] if len(single) == 1 else face
        if face in made.lips.values():
            problems.append(_on_lip(part, piece, face, seats))
            continue
        sat = seated(part, piece.name, seats, made.parts, face=face, shell=True, units=units)
        problems += sat.problems
        assumptions += sat.assumptions
        if sat.value is None:
            continue
        made = replace(made, parts=(*made.parts, sat.value))
        opening = _opening(sat.value)
        if opening is not None:
            openings.append(opening)
    if isinstance(made.hull, Shell):
        made = replace(made, hull=replace(made.hull, openings=tuple(openings)))
    problems += _layers_on_edges(piece, made)
    return Outcome(value=None if problems else made, problems=tuple(problems), assumptions=tuple(assumptions))


def _on_lip(part: Part, piece: Piece, lip: str, seats: Mapping[str, Seat]) -> Problem:
    able = " or ".join(f"`on {face}`" for face in seats)
    message = f"{part.name} of {piece.name} sits on {lip}, which is a lip, and lips take no parts"
    remedy = f"write {able}; a hole in a return is drawn as one in a run or a panel of its own"
    return told(PART_SEAT, message, part.span, piece.name, f"{piece.name}.{part.name}", remedy=remedy)


def _opening(part: Seated) -> Opening | None:
    """A square hole as a flat rectangle of its face."""
    if part.block is None or part.seat.frame is None:
        return None
    frame = part.seat.frame
    low, high = list(part.block.box.low), list(part.block.box.high)
    low[frame.axis] = high[frame.axis] = frame.low[frame.axis]
    return Opening(
        name=part.name,
        skin=Skin(
            face=part.seat.face,
            axis=frame.axis,
            way=-frame.outward,
            low=(low[0], low[1], low[2]),
            high=(high[0], high[1], high[2]),
        ),
    )


def _hull(
    shape: Shape, sizes: Mapping[str, Fraction], lips: Mapping[str, Lip], built: Mapping[str, Fraction]
) -> Shell | FoldShell:
    returns = {edge: (lip.name, lip.deep) for edge, lip in lips.items()}
    if shape.kind == "run":
        return FoldShell(fold=fold_of(shape), high=sizes["high"], lips=returns, built=built)
    if shape.kind == "panel":
        skins = panel_shell(sizes["long"], sizes["high"], returns)
    else:
        skins = corner_shell(sizes["long"], sizes["wide"], sizes["high"], returns)
    mains = len(_MOLD_FACES[shape.kind])
    return Shell(main=skins[:mains], lips=skins[mains:], built=built, high=sizes["high"])


def _edge_names(kind: str, lips: Mapping[str, Lip]) -> dict[str, str]:
    """Each single edge with the lip on it; a group of edges with one lip is written out."""
    names: dict[str, str] = {}
    for edge, lip in lips.items():
        for single in KINDS[kind].groups.get(edge, (edge,)):
            names[single] = lip.name
    return names


def _bad_lips(piece: Piece, sizes: Mapping[str, Fraction], units: str) -> list[Problem]:
    problems: list[Problem] = []
    kind = KINDS[piece.shape.kind] if piece.shape else None
    taken: dict[str, str] = {}
    least = min(length for word, length in sizes.items() if word != "high") if len(sizes) > 1 else None
    for lip in piece.lips:
        about = (piece.name, f"{piece.name}.{lip.name}")
        if kind is None or lip.on not in kind.edges:
            edges = ", ".join(kind.edges) if kind else "none"
            message = f"{lip.name} of {piece.name} runs along {lip.on}, wanted one of {edges}"
            problems.append(told(LIP_PLACE, message, lip.span, *about))
            continue
        for edge in kind.groups.get(lip.on, (lip.on,)):
            if edge in taken:
                message = f"{lip.name} and {taken[edge]} of {piece.name} run along one edge, {edge}"
                problems.append(told(LIP_PLACE, message, lip.span, *about))
            taken[edge] = lip.name
        too_deep = kind.name == "corner-wall" and least is not None and lip.deep > least
        if lip.deep <= 0 or too_deep:
            message = f"{lip.name} of {piece.name} is {wording.length(lip.deep, units)} deep"
            most = wording.length(least, units) if too_deep and least is not None else ""
            wanted = f"at most {most}" if most else "more than 0"
            problems.append(told(LIP_PLACE, f"{message}, wanted {wanted}", lip.span, *about))
    return problems


def _layers(piece: Piece) -> list[Step]:
    return [
        item
        for item in piece.sequence
        if isinstance(item, Step) and item.kind in (StepKind.LAYER, StepKind.PRESS)
    ]


def _built(piece: Piece, kind: str) -> dict[str, Fraction]:
    """How thick the piece's own layers make each mold face, m."""
    built: dict[str, Fraction] = {}
    for step in _layers(piece):
        if step.amount is None or step.amount.dimension is not Dimension.LENGTH:
            continue
        for face in _MOLD_FACES[kind]:
            words = {word for ref in step.on if ref.piece == piece.name for word in _words(piece, ref.face)}
            groups = KINDS[kind].groups
            if words & {face, "all", "back", *(g for g, faces in groups.items() if face in faces)}:
                built[face] = built.get(face, ZERO) + step.amount.si
    return built


def _words(piece: Piece, face: str, within: tuple[str, ...] = ()) -> set[str]:
    """A face word and, when it is a group of the piece, every word under it."""
    if face in within:
        return set()
    under = [_words(piece, member, (*within, face)) for member in piece.faces.get(face, ())]
    return {face}.union(*under)


def _layers_on_edges(piece: Piece, made: ShellPiece) -> list[Problem]:
    """Layers that lie where a shell has no mold face."""
    edges = {face for face in (*made._edges(), *(part.name for part in made.parts)) if face != "back"}
    problems: list[Problem] = []
    for step in _layers(piece):
        for ref in step.on:
            words = _words(piece, ref.face) if ref.piece == piece.name else set()
            bare = sorted(words & edges)
            if bare:
                message = f"{step.name} lies on {', '.join(bare)} of {piece.name}, an edge of a shell"
                problems.append(told(LAYER_ON_EDGE, message, ref.span, f"{piece.name}.{step.name}"))
    return problems
