"""Shapes, parts added and cut out, lips, faces and meshes of a piece."""

from collections.abc import Callable
from fractions import Fraction

from castlang.spec import findings
from castlang.spec.amounts import positive, quantity_of
from castlang.spec.block import Block, text_of, word_of
from castlang.spec.kinds import BY_OTHER_NAMES, KINDS, faces_of, missing_sizes, plain_words
from castlang.spec.ledger import Ledger
from castlang.spec.model import Leg, Lip, Mesh, Part, Shape
from castlang.spec.names import near_remedy, refuse_unit
from castlang.spec.quantity import Dimension
from castlang.spec.sizes import Sizes, length_of
from castlang.spec.units import unit_of
from castlang.syntax import model as written
from castlang.syntax.model import Statement, Word

EDGES = ("left", "right", "front", "back", "top", "foot", "rim", "floor")

Bytes = Callable[[str, str], bytes | str]
"""Reads a file named in another: (the name as written, the file that names it) to bytes, or why not."""


def shape_of(ledger: Ledger, line: Statement, sizes: Sizes) -> Shape | None:
    """The `shape` line of a piece."""
    return _shape(ledger, line, sizes, cut=False)


def _shape(ledger: Ledger, line: Statement, sizes: Sizes, *, cut: bool) -> Shape | None:
    word = line.body.word("word")
    if word is None:
        return None
    if word.text not in KINDS:
        ledger.say(
            findings.UNKNOWN_SHAPE,
            f"there is no shape called `{word.text}`",
            word.span,
            BY_OTHER_NAMES.get(word.text)
            or near_remedy(word.text, KINDS)
            or f"the shapes are {', '.join(KINDS)}",
        )
        return None
    kind = KINDS[word.text]
    told: dict[str, Fraction | None] = {}
    good = True
    for dim in line.body.parts("dim"):
        name = _dim_word(dim)
        plain = plain_words(kind.name, [name]).get(name)
        value = length_of(ledger, dim, sizes)
        if plain is None:
            wanted = ", ".join((*kind.sizes, *kind.optional))
            ledger.say(
                findings.SHAPE_SIZES, f"a {kind.name} has no `{name}`", dim.span, f"its sizes are {wanted}"
            )
            good = False
        elif plain in told:
            ledger.say(findings.SHAPE_SIZES, f"the {kind.name} is told `{plain}` twice", dim.span)
            good = False
        else:
            told[plain] = value
    missing = missing_sizes(kind.name, told, cut=cut)
    if missing and not line.broken:
        ledger.say(
            findings.SHAPE_SIZES,
            f"the {kind.name} lacks {' and '.join(f'`{m}`' for m in missing)}",
            word.span,
            f"add it to the line, as in `400 mm {missing[0]}`",
        )
        good = False
    legs = _legs(ledger, line, kind.name, sizes)
    values = {name: value for name, value in told.items() if value is not None}
    if not good or legs is None or len(values) != len(told):
        return None
    return Shape(kind=kind.name, sizes=values, legs=legs, span=word.span)


def _dim_word(dim: written.Part) -> str:
    part = dim.part("dim_word")
    first = part.children[0] if part is not None else None
    return first.text if isinstance(first, Word) else ""


def _legs(ledger: Ledger, line: Statement, kind: str, sizes: Sizes) -> tuple[Leg, ...] | None:
    """`leg` and `turn` lines under a run, taking turns; None when they are wrong (then told)."""
    legs: list[Leg] = []
    turned = True
    for under in line.under:
        if kind != "run":
            ledger.say(findings.OUT_OF_PLACE, f"`{under.kind}` belongs under `shape run`", under.span)
            return None
        if under.kind == "leg" and turned:
            long = length_of(ledger, under.body, sizes)
            if long is None:
                return None
            legs.append(Leg(long=long))
            turned = False
        elif under.kind == "turn" and not turned:
            part = under.body.part("amount")
            angle = quantity_of(ledger, part, Dimension.ANGLE) if part is not None else None
            if angle is None:
                return None
            if not -180 < angle.si < 180 or angle.si == 0:
                ledger.say(
                    findings.BAD_VALUE, "a wall turns by less than 180 deg, left or (minus) right", under.span
                )
                return None
            legs[-1] = Leg(long=legs[-1].long, turn=angle.si)
            turned = True
        else:
            ledger.say(
                findings.OUT_OF_PLACE,
                f"this `{under.kind}` does not take turns with the lines above",
                under.span,
                "write `leg 2400 mm`, `turn 90 deg`, `leg 900 mm`, and end with a leg",
            )
            return None
    if kind == "run" and (not legs or turned) and not line.broken:
        ledger.say(
            findings.NOT_SAID,
            "the run needs its legs, and ends with one",
            line.span,
            "add lines under it: `leg 2400 mm`, `turn 90 deg`, `leg 900 mm`",
        )
        return None
    return tuple(legs)


def part_of(ledger: Ledger, line: Statement, sizes: Sizes) -> Part | None:
    """A `plus` or `less` line."""
    plus = line.kind == "plus"
    name = line.body.word("name")
    shape = _shape(ledger, line, sizes, cut=not plus)
    if name is None or shape is None:
        return None
    refuse_unit(ledger, name.text, name.span)
    kind = KINDS[shape.kind]
    if (plus and not kind.plus) or (not plus and not kind.less):
        able = [k.name for k in KINDS.values() if (k.plus if plus else k.less)]
        verb = "added" if plus else "cut out"
        ledger.say(
            findings.UNKNOWN_SHAPE,
            f"a {kind.name} cannot be {verb}",
            shape.span,
            f"what can be {verb} is {', '.join(able)}",
        )
        return None
    at = line.body.part("at_face")
    face = at.word("thing") if at is not None else None
    placed: list[tuple[Fraction, str]] = []
    seat = line.body.part("placed")
    for distance in seat.parts("distance") if seat is not None else ():
        edge = distance.word("word")
        amount = distance.part("amount")
        value = (
            positive(ledger, quantity_of(ledger, amount, Dimension.LENGTH), amount, zero=True)
            if amount is not None
            else length_of(ledger, distance, sizes)
        )
        if edge is None or value is None:
            continue
        if edge.text not in EDGES:
            ledger.say(
                findings.UNKNOWN_FACE,
                f"`{edge.text}` is not an edge to measure from",
                edge.span,
                near_remedy(edge.text, EDGES),
            )
            continue
        placed.append((value, edge.text))
    return Part(
        name=name.text,
        plus=plus,
        shape=shape,
        on=face.text if face is not None else None,
        placed=tuple(placed),
        span=line.span,
    )


def lip_of(ledger: Ledger, line: Statement, shape: Shape | None, sizes: Sizes) -> Lip | None:
    """A `lip` line."""
    name = line.body.word("name")
    deep = length_of(ledger, line.body, sizes)
    at = line.body.part("at_face")
    edge = at.word("thing") if at is not None else None
    if name is None or deep is None or edge is None:
        return None
    if shape is not None:
        edges = KINDS[shape.kind].edges
        if edge.text not in edges:
            remedy = near_remedy(edge.text, edges) if edges else "lips go on a panel, a corner-wall or a run"
            ledger.say(
                findings.UNKNOWN_FACE, f"a {shape.kind} takes no lip on `{edge.text}`", edge.span, remedy
            )
            return None
    return Lip(name=name.text, deep=deep, on=edge.text, span=line.span)


def mesh_of(ledger: Ledger, line: Statement, read: Bytes) -> Mesh | None:
    """A `mesh` line, with the bytes of its file."""
    word = line.body.word("word")
    name = text_of(line.body)
    if word is None or name is None:
        return None
    unit = unit_of(word.text)
    if unit is None or unit.dimension is not Dimension.LENGTH:
        ledger.say(
            findings.UNKNOWN_UNIT,
            f"`{word.text}` is not a unit of length for the mesh",
            word.span,
            "write mm, cm, m, in or ft",
        )
        return None
    text = line.body.word("text")
    data = read(name, line.span.file)
    if isinstance(data, str):
        ledger.say(findings.NO_FILE, f'the mesh file "{name}" {data}', text.span if text else line.span)
        return None
    return Mesh(file=name, unit=unit.factor, data=data, span=line.span)


def faces_by_group(
    ledger: Ledger, block: Block, kind: str, sizes: tuple[str, ...], named: tuple[str, ...]
) -> dict[str, tuple[str, ...]]:
    """The `face` lines: each name with the faces it stands for; `named` are lips and cut-outs."""
    plain = (*faces_of(kind, sizes), *named)
    groups: dict[str, tuple[str, ...]] = {}
    for line in block.all("face"):
        name = word_of(line.body, "name") or ""
        members = line.body.part("names")
        if name in plain or name in groups:
            ledger.say(findings.NAME_TWICE, f"`{name}` is a face of the piece already", line.span)
            continue
        good = []
        for word in members.words("thing") if members is not None else ():
            if word.text in plain or word.text in groups:
                good.append(word.text)
            else:
                known = [*plain, *groups]
                ledger.say(
                    findings.UNKNOWN_FACE,
                    f"the piece has no face called `{word.text}`",
                    word.span,
                    near_remedy(word.text, known) or f"its faces are {', '.join(known)}",
                )
        groups[name] = tuple(good)
    return groups
