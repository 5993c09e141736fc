"""Areas and volumes of pieces: the bare shape, then what each part, lip and hole adds or takes.

area.PIECE.FACE    volume.PIECE    body.PIECE    cavity.PIECE.PART
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from castlang.spec.model import Lip, Piece
from castlang.spec.quantity import Dimension
from castlang.takeoff.geometry import Geometry, geometry_of
from castlang.takeoff.shapes import sizes_of
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input

HANDBOOK = "Machinery's Handbook, 31st edition (2020), mensuration"
NOUGHT = Fraction(0)

BLOCK = {
    "top": "long wide",
    "foot": "long wide",
    "front": "long high",
    "back": "long high",
    "left": "wide high",
    "right": "wide high",
}
RECTANGLES = {
    "box": BLOCK,
    "slab": {face: sides.replace("high", "thick") for face, sides in BLOCK.items()},
    "panel": {
        "front": "long high",
        "back": "long high",
        "top": "long thick",
        "foot": "long thick",
        "left": "high thick",
        "right": "high thick",
    },
    "tray": {
        "front": "long high",
        "back": "long high",
        "left": "wide high",
        "right": "wide high",
        "foot": "long wide",
    },
    "channel": {"front": "long high", "back": "long high", "foot": "long wide"},
    "angle": {"top": "long leg", "front": "long rise"},
    "corner-wall": {"front": "long high", "side": "wide high"},
}
"""The faces that are plain rectangles: the two size words of their sides."""

CURVED = {
    ("disc", "top"): "pi/4 dia^2",
    ("disc", "foot"): "pi/4 dia^2",
    ("disc", "side"): "pi dia thick",
    ("frustum", "top"): "pi/4 top-dia^2",
    ("frustum", "foot"): "pi/4 foot-dia^2",
    ("frustum", "side"): "pi/2 (top-dia + foot-dia) root(((top-dia - foot-dia)/2)^2 + high^2)",
    ("tube", "side"): "pi dia high",
    ("tube", "walls"): "pi (dia - 2 thick) high",
}

Along = Callable[[Mapping[str, Fraction], Fraction], Fraction | None]

LIPS: tuple[tuple[str, Along], ...] = (
    ("deep x long", lambda s, d: d * s["long"] if "long" in s else None),
    ("deep x high", lambda s, d: d * s["high"] if "high" in s else None),
    ("2 x deep x high", lambda s, d: 2 * d * s["high"] if "high" in s else None),
    (
        "deep x (long + wide - deep)",
        lambda s, d: d * (s["long"] + s["wide"] - d) if {"long", "wide"} <= s.keys() else None,
    ),
)
"""What a lip comes to that meets no other: along one edge, along both ends, round a corner."""


def _names(ground: Ground) -> Iterator[str]:
    for name, piece in ground.takeoff.pieces.items():
        for face in piece.faces:
            yield f"area.{name}.{face}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    piece, _, part = rest.partition(".")
    if piece not in ground.spec.pieces or ground.body(piece) is None:
        return None
    if kind == "area" and part:
        return area_figure(ground, name, piece, part)
    return None


AREAS = Subject(names=_names, figure=_figure)


# ---------------------------------------------------------------- areas


def area_figure(ground: Ground, name: str, piece: str, face: str) -> Figure | None:
    """The figure of an area of a piece, by its name; None when it is none."""
    body = ground.body(piece)
    if body is None:
        return None
    measured = ground.measured_line("area", f"{piece}.{face}")
    if measured is not None:
        return ground.said(name, measured)
    try:
        single = body.geometry.primitives(face)
        area = body.area((face,))
    except KeyError:
        return None
    says = f"{face} of {piece}"
    if single != (face,):
        parts = [("A", f"area.{piece}.{one}") for one in single]
        return Figure(
            name=name,
            value=area,
            dimension=Dimension.AREA,
            says=says,
            formula="sum of A",
            inputs=ground.inputs(*parts),
            source="the faces that the word stands for, each once",
        )
    return _single(ground, name, piece, face, says, body.stretch)


def _single(ground: Ground, name: str, piece: str, face: str, says: str, stretch: Fraction) -> Figure:
    """A plain face: its bare shape, with what each part and lip adds or takes, stretched as measured."""
    told = ground.measured.pieces[piece]
    formula = _area_formula(told, face)
    bare, changes = built_up(told, lambda geometry: _area(geometry, face))
    lip = next((lip for lip in told.lips if lip.name == face), None)
    if lip is not None:
        return _lip(ground, name, told, lip)
    if bare is None or not formula:
        body = ground.body(piece)
        return Figure(
            name=name,
            value=NOUGHT if body is None else body.area((face,)),
            dimension=Dimension.AREA,
            says=says,
            formula="sum of its triangles" if told.mesh else "worked out from the shape with its parts",
            inputs=sizes_told(ground, told),
            source=f"{HANDBOOK}; plane geometry",
        )
    inputs = [*sizes_told(ground, told, formula), *changes_of(name, changes, Dimension.AREA)]
    formula += " + d" * len(changes)
    if stretch != 1:
        inputs.append(Input(symbol="s", figure=_stretch(ground, piece, stretch)))
        formula = f"({formula}) s"
    value = (bare + sum((change for _, change in changes), NOUGHT)) * stretch
    return Figure(
        name=name,
        value=value,
        dimension=Dimension.AREA,
        says=says,
        formula=formula,
        inputs=tuple(inputs),
        source=HANDBOOK,
    )


def _lip(ground: Ground, name: str, piece: Piece, lip: Lip) -> Figure:
    """A return along an edge: as deep as told, all along it, where two meet counted once."""
    body = ground.body(piece.name)
    area = NOUGHT if body is None else body.area((lip.name,))
    sizes = {} if piece.shape is None else sizes_of(piece.shape)
    formula = next(
        (text for text, of in LIPS if (value := of(sizes, lip.deep)) is not None and value == area),
        "deep x the length of its edge, where lips meet counted once",
    )
    deep = ground.told(f"{lip.name} deep", lip.deep, Dimension.LENGTH, lip.span)
    return Figure(
        name=name,
        value=area,
        dimension=Dimension.AREA,
        says=f"{lip.name} of {piece.name}",
        formula=formula,
        inputs=(Input(symbol="deep", figure=deep), *sizes_told(ground, piece, formula)),
        source="plane geometry",
    )


def _stretch(ground: Ground, piece: str, stretch: Fraction) -> Figure:
    line = ground.measured_line("area", piece)
    return Figure(
        name=f"stretch of {piece}",
        value=stretch,
        formula="measured area / worked out area of all",
        inputs=ground.inputs(("A", None if line is None else ground.said(f"measured area of {piece}", line))),
        source="as measured",
    )


def _area(geometry: Geometry, face: str) -> Fraction | None:
    try:
        return geometry.area(face)
    except KeyError:
        return None


def _area_formula(piece: Piece, face: str) -> str:
    if piece.shape is None:
        return ""
    words = RECTANGLES.get(piece.shape.kind, {}).get(face, "").split()
    if words:
        return " x ".join(words) if set(words) <= set(sizes_of(piece.shape)) else ""
    return CURVED.get((piece.shape.kind, face), "")


def sizes_told(ground: Ground, piece: Piece, formula: str = "") -> tuple[Input, ...]:
    """The told sizes of the shape that stand in `formula`; all of them where there is none."""
    shape = piece.shape
    if shape is None:
        return ()
    words = set(re.findall(r"[a-z]+(?:-[a-z]+)*", formula))
    return ground.inputs(
        *(
            (word, ground.told(f"{piece.name} {word}", size, Dimension.LENGTH, shape.span))
            for word, size in sizes_of(shape).items()
            if not formula or word in words
        )
    )


def built_up(
    piece: Piece, of: Callable[[Geometry], Fraction | None]
) -> tuple[Fraction | None, list[tuple[str, Fraction]]]:
    """The figure of the bare shape, and what each lip and part changes, put on one after another."""
    stages = [(lip.name, piece.lips[:n], piece.parts[:0]) for n, lip in enumerate(piece.lips, 1)]
    stages += [(part.name, piece.lips, piece.parts[:n]) for n, part in enumerate(piece.parts, 1)]
    bare = _measure(replace(piece, lips=(), parts=()), of)
    if bare is None:
        return None, []
    before, changes = bare, []
    for word, lips, parts in stages:
        after = _measure(replace(piece, lips=lips, parts=parts), of)
        if after is None:
            return None, []
        if after != before:
            changes.append((word, after - before))
        before = after
    return bare, changes


def _measure(piece: Piece, of: Callable[[Geometry], Fraction | None]) -> Fraction | None:
    geometry = geometry_of(piece).value
    return None if geometry is None else of(geometry)


def changes_of(name: str, changes: list[tuple[str, Fraction]], dimension: Dimension) -> list[Input]:
    """What cut-outs and added parts take from a face or give to it."""
    return [
        Input(
            symbol="d",
            figure=Figure(
                name=f"{word} in {name}",
                value=change,
                dimension=dimension,
                formula="the figure with it, less the figure without it",
                source="plane and solid geometry",
            ),
        )
        for word, change in changes
    ]
