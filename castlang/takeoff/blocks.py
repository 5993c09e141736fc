"""Bodies made of boxes: slab, panel, box, tray, angle, channel, and what is cut square out of them. Exact."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from castlang.takeoff.boxes import AXES, Block, Box, Corner, Side, difference_volume, shown
from castlang.takeoff.forms import ZERO, Frame, Grown, Seat

_WORDS = (("left", "right"), ("front", "back"), ("foot", "top"))
_OPEN = Side()


@dataclass(frozen=True, slots=True, kw_only=True)
class Blocks:
    """Solids together, less the voids. See `forms.Form` for what the rest means, m.

    places: makes the seats. Only a piece with parts asks for them, and they were a sixth of what a take-off
    holds."""

    faces: tuple[str, ...]
    depth: Fraction
    thinnest: Fraction | None
    solids: tuple[Block, ...]
    voids: tuple[Block, ...] = ()
    places: Callable[[], Mapping[str, Seat]] = dict
    hollow: Box | None = None  # the room inside, for a liquid
    holds: tuple[str, ...] = ()

    def seats(self) -> Mapping[str, Seat]:
        return self.places()

    def remaining(self, grown: Grown) -> Fraction:
        return difference_volume([s.moved(grown) for s in self.solids], [v.moved(grown) for v in self.voids])

    def area(self, face: str) -> Fraction:
        return shown(face, self.solids, self.voids)

    @property
    def room(self) -> Fraction:
        return ZERO if self.hollow is None else self.hollow.high[2] - self.hollow.low[2]

    def inside(self, depth: Fraction | None) -> Fraction:
        if self.hollow is None:
            return ZERO
        long, wide, high = (self.hollow.high[a] - self.hollow.low[a] for a in AXES)
        return long * wide * (high if depth is None else min(depth, high))

    def joined(self, name: str, block: Block, *, plus: bool) -> "Blocks":
        """With one more block, added or cut out, whose own face is called `name`."""
        faces = (*self.faces, name)
        if plus:
            return replace(self, faces=faces, solids=(*self.solids, block))
        return replace(self, faces=faces, voids=(*self.voids, block))


def flat_seat(
    face: str, axis: int, outward: int, low: Corner, high: Corner, *, behind: Fraction, far: str | None
) -> Seat:
    """The seat of a flat rectangle across an axis, from its corner `low` to `high`, m."""
    first, second = (a for a in AXES if a != axis)
    return Seat(
        face=face,
        across=high[first] - low[first],
        up=high[second] - low[second],
        edges=(*_WORDS[first], *_WORDS[second]),
        behind=behind,
        far=far,
        frame=Frame(axis=axis, outward=outward, low=low, high=high),
    )


def _box(long: Fraction, wide: Fraction, high: Fraction) -> Box:
    return Box(low=(ZERO, ZERO, ZERO), high=(long, wide, high))


def _outer(box: Box, names: tuple[str, str, str, str, str, str]) -> Block:
    sides = [Side(name=name) for name in names]
    return Block(box=box, sides=(sides[0], sides[1], sides[2], sides[3], sides[4], sides[5]))


_SIX = ("left", "right", "front", "back", "foot", "top")


def _face_seat(box: Box, number: int, face: str, far: str, behind: Fraction) -> Seat:
    axis, high_end = divmod(number, 2)
    low, high = list(box.low), list(box.high)
    if high_end:
        low[axis] = high[axis]
    else:
        high[axis] = low[axis]
    return flat_seat(
        face,
        axis,
        1 if high_end else -1,
        (low[0], low[1], low[2]),
        (high[0], high[1], high[2]),
        behind=behind,
        far=far,
    )


def plain_block(
    long: Fraction, wide: Fraction, high: Fraction, *, order: tuple[str, ...], depth: Fraction
) -> Blocks:
    """A solid block with its six faces, listed in `order`; `depth` is its depth as it is poured, m."""
    box = _box(long, wide, high)
    sizes = (long, wide, high)

    def places() -> dict[str, Seat]:
        return {
            face: _face_seat(box, number, face, _SIX[number ^ 1], sizes[number // 2])
            for number, face in enumerate(_SIX)
        }

    return Blocks(
        faces=order,
        depth=depth,
        thinnest=min(sizes),
        solids=(_outer(box, _SIX),),
        places=places,
    )


def tray(
    long: Fraction,
    wide: Fraction,
    high: Fraction,
    thick: Fraction,
    floor: Fraction,
    *,
    order: tuple[str, ...],
) -> Blocks:
    """A box open at the top; walls `thick`, floor `floor`, m."""
    box = _box(long, wide, high)
    void = Box(low=(thick, thick, floor), high=(long - thick, wide - thick, high))
    wall = Side(name="walls", inward=-1)
    block = Block(box=void, sides=(wall, wall, wall, wall, Side(name="floor", inward=-1), _OPEN))

    def places() -> dict[str, Seat]:
        inside = _face_seat(void, 4, "floor", "foot", floor)
        return {
            **{face: _face_seat(box, n, face, "walls", thick) for n, face in enumerate(_SIX[:4])},
            "foot": _face_seat(box, 4, "foot", "floor", floor),
            "floor": replace(inside, frame=_turned(inside.frame)),
        }

    return Blocks(
        faces=order,
        depth=high,
        thinnest=min(thick, floor),
        solids=(_outer(box, ("left", "right", "front", "back", "foot", "rim")),),
        voids=(block,),
        places=places,
        hollow=void,
        holds=("walls", "floor"),
    )


def channel(
    long: Fraction, wide: Fraction, high: Fraction, thick: Fraction, *, order: tuple[str, ...]
) -> Blocks:
    """A trough open at the top and at both ends, m. Its liquid counts as if the ends were dammed flush."""
    box = _box(long, wide, high)
    void = Box(low=(ZERO, thick, thick), high=(long, wide - thick, high))
    wall = Side(name="walls", inward=-1)
    block = Block(box=void, sides=(_OPEN, _OPEN, wall, wall, Side(name="floor", inward=-1), _OPEN))

    def places() -> dict[str, Seat]:
        floor = _face_seat(void, 4, "floor", "foot", thick)
        return {
            "front": _face_seat(box, 2, "front", "walls", thick),
            "back": _face_seat(box, 3, "back", "walls", thick),
            "foot": _face_seat(box, 4, "foot", "floor", thick),
            "floor": replace(floor, frame=_turned(floor.frame)),
        }

    return Blocks(
        faces=order,
        depth=high,
        thinnest=thick,
        solids=(_outer(box, ("left", "right", "front", "back", "foot", "rim")),),
        voids=(block,),
        places=places,
        hollow=void,
        holds=("walls", "floor"),
    )


def angle(
    long: Fraction, leg: Fraction, rise: Fraction, thick: Fraction, *, order: tuple[str, ...]
) -> Blocks:
    """A flat `leg` wide with an apron `rise` high hanging from its front, both `thick`, m."""
    box = _box(long, leg, rise)
    void = Box(low=(ZERO, thick, ZERO), high=(long, leg, rise - thick))
    inner = Side(name="inside", inward=-1)
    block = Block(box=void, sides=(_OPEN, _OPEN, inner, _OPEN, _OPEN, inner))

    def places() -> dict[str, Seat]:
        return {
            "top": _face_seat(box, 5, "top", "inside", thick),
            "front": _face_seat(box, 2, "front", "inside", thick),
        }

    return Blocks(
        faces=order,
        depth=rise,
        thinnest=thick,
        solids=(_outer(box, _SIX),),
        voids=(block,),
        places=places,
    )


def _turned(frame: Frame | None) -> Frame | None:
    return None if frame is None else replace(frame, outward=-frame.outward)


def seated_block(
    name: str, frame: Frame, host: str, *, centre: tuple[Fraction, Fraction], size: tuple[Fraction, ...],
    through: bool, plus: bool,
) -> Block:  # fmt: skip
    """A box on a flat face: `centre` and the first two of `size` count across and up the face, the third runs
    into the body (a cut-out) or out of it (a body that stands on the face), m."""
    first, second = (a for a in AXES if a != frame.axis)
    low, high = list(frame.low), list(frame.high)
    for axis, middle, length in zip((first, second), centre, size[:2], strict=True):
        low[axis] = frame.low[axis] + middle - length / 2
        high[axis] = frame.low[axis] + middle + length / 2
    upward = (frame.outward > 0) == plus
    plane = frame.low[frame.axis]
    low[frame.axis], high[frame.axis] = (plane, plane + size[2]) if upward else (plane - size[2], plane)
    own = Side(name=name, inward=1 if plus else -1)
    seat = Side(name=host, inward=-1) if plus else _OPEN
    sides = [own] * 6
    sides[2 * frame.axis + (0 if upward else 1)] = seat
    if through:
        sides[2 * frame.axis + (1 if upward else 0)] = _OPEN
    return Block(
        box=Box(low=(low[0], low[1], low[2]), high=(high[0], high[1], high[2])),
        sides=(sides[0], sides[1], sides[2], sides[3], sides[4], sides[5]),
    )


def end_frame(frame: Frame, block: Block, *, plus: bool) -> Frame:
    """The flat end of a seated block: the floor of a cut-out, the top of a body that stands."""
    low, high = list(block.box.low), list(block.box.high)
    if (frame.outward > 0) == plus:
        low[frame.axis] = high[frame.axis]
    else:
        high[frame.axis] = low[frame.axis]
    return Frame(
        axis=frame.axis,
        outward=frame.outward,
        low=(low[0], low[1], low[2]),
        high=(high[0], high[1], high[2]),
    )
