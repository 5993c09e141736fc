"""Cut-outs and added bodies: which face they sit on, where, how deep, and whether they fit there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from castlang.problems.model import Assumption, Outcome
from castlang.spec.kinds import KINDS
from castlang.spec.model import Part
from castlang.takeoff import wording
from castlang.takeoff.blocks import end_frame, seated_block
from castlang.takeoff.boxes import Block
from castlang.takeoff.forms import ZERO, Form, Grown, Seat
from castlang.takeoff.outlines import Outline, placed
from castlang.takeoff.shape_findings import (
    CUT_DEPTH,
    CUT_IN_SHELL,
    PART_OVERLAP,
    PART_SEAT,
    told,
)
from castlang.takeoff.shapes import Sizes, form_of, sizes_of
from castlang.takeoff.wording import METRIC

_SQUARE = ("box", "slab")
_FLAT_ENDED = (*_SQUARE, "disc", "frustum")
_FOOT_SEATED = ("dome", "ramp")  # cut in with the foot outward


@dataclass(frozen=True, slots=True, kw_only=True)
class Seated:
    """A part in its place, m. mouth: the face of its own form that lies in the seat; end: the opposite one.

    block: the part as a box among boxes, where it is one.
    """

    part: Part
    seat: Seat
    form: Form
    mouth: str
    end: str | None
    outline: Outline
    depth: Fraction
    through: bool
    block: Block | None = None

    @property
    def name(self) -> str:
        return self.part.name

    def kept(self, grown: Grown) -> Fraction:
        """The volume (m3) that the part takes away, or adds, when layers have grown on it and round it."""
        way = 1 if self.part.plus else -1
        own = grown.get(self.name, ZERO)
        offsets = dict.fromkeys(self.form.faces, way * own)
        offsets[self.mouth] = -way * grown.get(self.seat.face, ZERO)
        if self.through and self.end and self.seat.far:
            offsets[self.end] = grown.get(self.seat.far, ZERO)
        return self.form.remaining(offsets)

    def covers(self, face: str) -> Fraction:
        """The area (m2) that the part takes off a face of what it sits on."""
        taken = self.form.area(self.mouth) if face == self.seat.face else ZERO
        if self.through and self.end and face == self.seat.far:
            taken += self.form.area(self.end)
        return taken

    def area(self) -> Fraction:
        """The surface (m2) that it shows, parts that sit on it not taken off."""
        hidden = {self.mouth, self.end} if self.through else {self.mouth}
        return sum((self.form.area(face) for face in self.form.faces if face not in hidden), ZERO)

    def walls(self) -> Fraction:
        """The surface (m2) without its mouth and without the opposite end."""
        ends = {self.mouth, self.end}
        return sum((self.form.area(face) for face in self.form.faces if face not in ends), ZERO)

    def end_seat(self) -> Seat | None:
        """The flat end as a seat for further parts: the floor of a cut-out, the top of an added body."""
        if self.through or self.end is None or self.part.shape.kind not in _FLAT_ENDED:
            return None
        own = self.form.seats()[self.end]
        frame = None
        if self.block is not None and self.seat.frame is not None:
            frame = end_frame(self.seat.frame, self.block, plus=self.part.plus)
        behind = self.seat.behind + (self.depth if self.part.plus else -self.depth)
        across, up = (own.across, own.up) if own.round else self.outline.size
        return replace(
            self.seat,
            face=self.name,
            across=across,
            up=up,
            behind=behind,
            round=own.round,
            curved=False,
            frame=frame,
            creases=(),
        )


def seated(
    part: Part,
    piece: str,
    seats: Mapping[str, Seat],
    before: Sequence[Seated],
    *,
    face: str,
    shell: bool = False,
    units: str = METRIC,
) -> Outcome[Seated]:
    """A part set on `face`, one of `seats`; `before` are the parts that are already there.

    Findings: part-seat, cut-depth, cut-in-shell, no-body, placed-edge, part-off-face, part-overlap.
    """
    about = (piece, f"{piece}.{part.name}")
    seat = seats.get(face)
    if seat is None:
        able = ", ".join(seats) or "none"
        message = f"{part.name} of {piece} sits on {face}, which takes none; faces that do are {able}"
        remedy = f"behind `on` stands one of the faces that do: {able}" if seats else None
        return Outcome(value=None, problems=(told(PART_SEAT, message, part.span, *about, remedy=remedy),))
    sizes = sizes_of(part.shape)
    deep = _depth(part, piece, seat, sizes, shell=shell, units=units)
    if deep.value is None:
        return Outcome(value=None, problems=deep.problems)
    depth, through = deep.value
    formed = _form(part, seat, sizes, depth, who=f"{part.name} of {piece}", about=about, units=units)
    if formed.value is None:
        return Outcome(value=None, problems=formed.problems)
    form, mouth, end = formed.value
    where = placed(part, piece, seat, form.seats().get(mouth), sizes, depth=depth, units=units)
    if where.value is None:
        return Outcome(value=None, problems=where.problems)
    outline = where.value
    block = None
    if part.shape.kind in _SQUARE and seat.frame is not None:
        block = seated_block(
            part.name,
            seat.frame,
            seat.face,
            centre=outline.centre,
            size=(*outline.size, depth),
            through=through,
            plus=part.plus,
        )
    made = Seated(
        part=part, seat=seat, form=form, mouth=mouth, end=end, outline=outline, depth=depth, through=through,
        block=block,
    )  # fmt: skip
    over = next((other for other in before if _over(made, other)), None)
    if over is not None:
        message = f"{part.name} and {over.name} of {piece} lie over each other on {seat.face}"
        problem = told(PART_OVERLAP, message, part.span, *about)
        return Outcome(value=None, problems=(replace(problem, related=((over.part.span, over.name),)),))
    return Outcome(value=made, assumptions=_assumed(made, piece, units))


def at_depth(part: Seated, depth: Fraction) -> Form | None:
    """The form of a hole through a shell that has become `depth` thick; None where there is nothing yet."""
    word = KINDS[part.part.shape.kind].depth
    if word is None or depth <= 0:
        return None
    return form_of(part.part.shape, {**sizes_of(part.part.shape), word: depth}, part.name).value


def _depth(
    part: Part, piece: str, seat: Seat, sizes: Sizes, *, shell: bool, units: str
) -> Outcome[tuple[Fraction, bool]]:
    """How deep the part goes into its seat, or stands out of it, and whether it goes through."""
    about = (piece, f"{piece}.{part.name}")
    name = f"{part.name} of {piece}"
    word = KINDS[part.shape.kind].depth
    thick = sizes.get("thick", ZERO) if part.shape.kind == "ramp" else ZERO
    deep = sizes.get(word or "high", sizes.get("rise", ZERO)) + thick
    if part.plus:
        return Outcome(value=(deep, False))
    if shell:
        if deep:
            message = f"{name} is {wording.length(deep, units)} deep in a shell, wanted no depth"
            return Outcome(value=None, problems=(told(CUT_IN_SHELL, message, part.span, *about),))
        return Outcome(value=(seat.behind, True))
    if not deep and seat.far is None:
        message = f"{name} has no depth, and a hole through {seat.face} does not come out on one face"
        return Outcome(
            value=None,
            problems=(told(CUT_DEPTH, message, part.span, *about, remedy="say how deep it goes"),),
        )
    if deep > seat.behind or (deep == seat.behind and (seat.far is None or word is None)):
        behind = wording.length(seat.behind, units)
        message = f"{name} is {wording.length(deep, units)} deep, behind {seat.face} are {behind}"
        return Outcome(value=None, problems=(told(CUT_DEPTH, message, part.span, *about),))
    return Outcome(value=(deep or seat.behind, deep in (ZERO, seat.behind)))


def _form(
    part: Part, seat: Seat, sizes: Sizes, depth: Fraction, *, who: str, about: tuple[str, ...], units: str
) -> Outcome[tuple[Form, str, str | None]]:
    """The part's own form, its face that lies in the seat, and the face opposite to that."""
    word = KINDS[part.shape.kind].depth
    full = dict(sizes)
    if word is not None and not part.plus:
        full[word] = depth or Fraction(1)  # a shell without layers yet: only the section counts
    made = form_of(part.shape, full, who, *about, units=units)
    if made.value is None:
        return Outcome(value=None, problems=made.problems)
    form = made.value
    head = next((face for face in ("top", "rim", "outside") if face in form.faces), None)
    down = "foot" if "foot" in form.faces else form.faces[0]
    foot_first = (seat.face == "foot") != part.plus or part.shape.kind in _FOOT_SEATED
    mouth, end = (down, head) if foot_first or head is None else (head, down)
    return Outcome(value=(form, mouth, end))


def _over(one: Seated, other: Seated) -> bool:
    return one.seat.face == other.seat.face and not one.seat.curved and one.outline.overlaps(other.outline)


def _assumed(made: Seated, piece: str, units: str) -> tuple[Assumption, ...]:
    part, seat = made.part, made.seat
    said: list[Assumption] = []
    subject = f"{part.name} of {piece}"
    if part.on is None:
        said.append(
            Assumption(
                subject=subject,
                says=f"on the {seat.face}",
                source="the face of that shape that takes parts",
                line=f"on {seat.face}",
                span=part.span,
            )
        )
    if not part.placed:
        across, up = (wording.length(middle, units) for middle in made.outline.centre)
        said.append(
            Assumption(
                subject=subject,
                says=f"in the middle of the {seat.face}",
                source="no place told",
                line=f"placed {across} from {seat.edges[0]}, {up} from {seat.edges[2]}",
                span=part.span,
            )
        )
    if seat.curved:
        said.append(
            Assumption(
                subject=subject,
                says=f"its mouth on the {seat.face} taken as flat",
                source="a cut into a round face is counted as one into a flat face",
                line=f'measured volume of {piece} 20 L "how"',
                span=part.span,
            )
        )
    return tuple(said)
