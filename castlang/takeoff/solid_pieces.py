"""A piece with a thickness of its own: its form, with what stands on it and what is cut out of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from castlang.problems.model import Assumption, Outcome, Problem
from castlang.spec.kinds import KINDS
from castlang.spec.model import Piece, Shape
from castlang.takeoff.blocks import Blocks
from castlang.takeoff.forms import ZERO, Form
from castlang.takeoff.grid import root
from castlang.takeoff.parts import Seated, seated
from castlang.takeoff.revolutions import Frustum
from castlang.takeoff.shape_findings import CUT_DEPTH, CUT_THROUGH_WALL, LIP_PLACE, told
from castlang.takeoff.shapes import form_of, sizes_of
from castlang.takeoff.wording import METRIC


@dataclass(frozen=True, slots=True, kw_only=True)
class Cavity:
    """A cut-out: volume m3, depth m, section m2 of the cut on its face, walls m2 without its floor."""

    volume: Fraction
    depth: Fraction
    section: Fraction
    walls: Fraction


def cavity_of(part: Seated, form: Form, depth: Fraction) -> Cavity:
    """What a cut-out holds when its own form is `form`."""
    ends = {part.mouth, part.end}
    return Cavity(
        volume=form.remaining({}),
        depth=depth,
        section=form.area(part.mouth),
        walls=sum((form.area(face) for face in form.faces if face not in ends), ZERO),
    )


@dataclass(frozen=True, kw_only=True)
class SolidPiece:
    """form: the body; parts: what sits on it. Square parts of a square body are in the form already."""

    form: Form
    parts: tuple[Seated, ...] = ()

    @cached_property
    def faces(self) -> tuple[str, ...]:
        own = self.form.faces
        return (*own, *(part.name for part in self.parts if part.name not in own))

    @property
    def everything(self) -> tuple[str, ...]:
        return self.faces

    @property
    def stands_for(self) -> Mapping[str, tuple[str, ...]]:
        return {}

    @cached_property
    def volume(self) -> Fraction:
        return self._remaining({})

    @property
    def depth(self) -> Fraction:
        upright = [p.depth for p in self.parts if p.part.plus and p.seat.face in ("top", "foot")]
        return self.form.depth + sum(upright, ZERO)

    @property
    def thinnest(self) -> Fraction | None:
        least = [p.seat.behind - p.depth for p in self.parts if not p.part.plus and not p.through]
        least += [wall for p in self.parts for wall in _walls(self.form, p)]
        own = self.form.thinnest
        return min([*least, own]) if own is not None else None

    def _loose(self) -> list[Seated]:
        return [part for part in self.parts if part.name not in self.form.faces]

    def _remaining(self, grown: Mapping[str, Fraction]) -> Fraction:
        left = self.form.remaining(grown)
        for part in self._loose():
            left += part.kept(grown) if part.part.plus else -part.kept(grown)
        return max(ZERO, left)

    def area(self, face: str) -> Fraction:
        own = next((p for p in self._loose() if p.name == face), None)
        whole = own.area() if own is not None else self.form.area(face)
        return whole - sum((part.covers(face) for part in self._loose()), ZERO)

    def laid(self, thickness: Mapping[str, Fraction]) -> Fraction:
        return self.volume - self._remaining(thickness)

    def holds(self, face: str) -> bool:
        return face in self.form.holds or self._pool(face) is not None

    def _pool(self, face: str) -> Seated | None:
        """The cut-out of that name, when it opens upward and has a floor."""
        part = next((p for p in self.parts if p.name == face), None)
        if part is None or part.part.plus or part.through:
            return None
        open_up = part.seat.face in ("top", "floor", "inside") or self._pool(part.seat.face) is not None
        return part if open_up else None

    def inside_volume(self, face: str, depth: Fraction | None) -> Fraction:
        pool = self._pool(face)
        if pool is None:
            return self.form.inside(depth)
        if depth is None or depth >= pool.depth:
            return pool.form.remaining({})
        return pool.form.remaining({pool.mouth: pool.depth - depth})

    def room(self, face: str) -> Fraction:
        pool = self._pool(face)
        return self.form.room if pool is None else pool.depth

    def openings(self, face: str) -> tuple[tuple[str, Fraction], ...]:
        within = {face} if self._pool(face) is not None else {"floor", "inside", "foot"}
        floor = self.form.depth - self.form.room
        found = []
        for part in self.parts:
            if part.part.plus:
                continue
            middle, half = part.outline.centre[1], part.outline.size[1] / 2
            upright = face in self.form.holds and part.seat.edges[2] == "foot"
            if part.seat.face in within:
                if part.through:
                    found.append((part.name, ZERO))
                within.add(part.name)
            elif upright and part.through and middle + half > floor:
                found.append((part.name, max(ZERO, middle - half - floor)))
        return tuple(found)

    def cavity(self, name: str, shell_thickness: Fraction | None) -> Cavity:
        for part in self.parts:
            if part.name == name and not part.part.plus:
                return cavity_of(part, part.form, part.depth)
        raise KeyError(name)


def _walls(form: Form, part: Seated) -> list[Fraction]:
    """The thickness left beside a round cut-out in a round body, at both its ends, m."""
    cut = part.form
    upright = part.seat.face in ("top", "foot")
    if not (isinstance(form, Frustum) and isinstance(cut, Frustum) and upright) or part.part.plus:
        return []
    off = [abs(middle - part.seat.across / 2) for middle in part.outline.centre]
    aside = root(off[0] ** 2 + off[1] ** 2)
    low = form.high - part.depth if part.seat.face == "top" else ZERO
    return [(form.dia_at(low + z) - cut.dia_at(z)) / 2 - aside for z in (ZERO, part.depth)]


def solid_of(piece: Piece, shape: Shape, *, units: str = METRIC) -> Outcome[SolidPiece]:
    """The solid of a piece, its parts set on it one after another."""
    problems: list[Problem] = []
    assumptions: list[Assumption] = []
    made = form_of(shape, sizes_of(shape), piece.name, piece.name, units=units)
    for lip in piece.lips:
        message = f"{lip.name} of {piece.name} is a lip, and a {shape.kind} with a thickness carries none"
        problems.append(told(LIP_PLACE, message, lip.span, piece.name, f"{piece.name}.{lip.name}"))
    if made.value is None:
        return Outcome(value=None, problems=(*made.problems, *problems))
    form: Form = made.value
    seats = dict(form.seats()) if piece.parts else {}
    parts: list[Seated] = []
    for part in piece.parts:
        face = part.on or KINDS[shape.kind].seat
        single = KINDS[shape.kind].groups.get(face, (face,))
        if face not in seats and len(single) == 1:
            face = single[0]
        sat = seated(part, piece.name, seats, parts, face=face, units=units)
        problems += sat.problems
        assumptions += sat.assumptions
        if sat.value is None:
            continue
        parts.append(sat.value)
        end = sat.value.end_seat()
        if end is not None:
            seats[end.face] = end
        if isinstance(form, Blocks) and sat.value.block is not None:
            form = form.joined(part.name, sat.value.block, plus=part.plus)
        if any(wall <= 0 for wall in _walls(form, sat.value)):
            message = f"{part.name} breaks through the side of {piece.name}"
            problems.append(
                told(CUT_THROUGH_WALL, message, part.span, piece.name, f"{piece.name}.{part.name}")
            )
    whole = SolidPiece(form=form, parts=tuple(parts))
    if not problems and whole.volume <= 0:
        message = f"what is cut out of {piece.name} leaves nothing of it"
        problems.append(told(CUT_DEPTH, message, piece.span, piece.name))
    return Outcome(
        value=None if problems else whole, problems=tuple(problems), assumptions=tuple(assumptions)
    )
