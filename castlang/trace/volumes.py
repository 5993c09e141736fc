"""Volumes of pieces: the bare shape, then what each part adds or takes.

volume.PIECE    body.PIECE    cavity.PIECE.PART
"""

from collections.abc import Iterator
from dataclasses import replace

from castlang.spec.model import StepKind
from castlang.spec.quantity import Dimension
from castlang.takeoff.bodies import LAID, pieces_on
from castlang.takeoff.pieces import CAST
from castlang.takeoff.pours import place_of, shell_thickness
from castlang.takeoff.shapes import sizes_of
from castlang.trace.areas import HANDBOOK, NOUGHT, built_up, changes_of, sizes_told
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure

BODIES = {
    "slab": "long wide thick",
    "box": "long wide high",
    "panel": "long high thick",
    "disc": "pi/4 dia^2 thick",
    "frustum": "pi/12 high (top-dia^2 + top-dia foot-dia + foot-dia^2)",
    "tube": "pi high thick (dia - thick)",
    "tray": "long wide high - (long - 2 thick) (wide - 2 thick) deep",
    "channel": "long (wide high - (wide - 2 thick) (high - thick))",
    "angle": "long (leg thick + (rise - thick) thick)",
    "ramp": "wide long (thick + rise/2)",
}


def _names(ground: Ground) -> Iterator[str]:
    for name in ground.takeoff.pieces:
        yield f"volume.{name}"
        yield f"body.{name}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    piece, _, part = rest.partition(".")
    if piece not in ground.spec.pieces or ground.body(piece) is None:
        return None
    if kind == "cavity" and part:
        return cavity_figure(ground, name, piece, part)
    if part:
        return None
    if kind == "volume":
        return volume_figure(ground, name, piece)
    return body_figure(ground, name, piece) if kind == "body" else None


VOLUMES = Subject(names=_names, figure=_figure)


def volume_figure(ground: Ground, name: str, piece: str) -> Figure:
    """What is cast of one copy: as measured; else the sum of its layers and pours; else its body."""
    taken = ground.takeoff.pieces[piece]
    line = ground.measured_line("volume", piece)
    if line is not None:
        return ground.said(name, line)
    cast = [
        ("V", f"volume.{owner}.{step}")
        for (owner, step), told in ground.steps.items()
        if owner == piece and told.kind in CAST and (owner, step) in ground.takeoff.steps
    ]
    jobs = [
        ("V", f"volume.{owner}.{step}")
        for (owner, step), told in ground.steps.items()
        if owner in ground.spec.jobs and told.kind in LAID and piece in pieces_on(told.on)
    ]
    own = [pair for pair in cast if _casts_itself(ground, pair[1], piece)]
    inputs = ground.inputs(*own)
    total = sum((i.figure.number for i in inputs), NOUGHT)
    if total and total == taken.volume and not jobs:
        return Figure(
            name=name,
            value=total,
            dimension=Dimension.VOLUME,
            says=f"what is cast of one {piece}",
            formula="sum of V",
            inputs=inputs,
            source="layers and pours of the piece",
        )
    return replace(body_figure(ground, name, piece), value=taken.volume)


def _casts_itself(ground: Ground, name: str, piece: str) -> bool:
    _, owner, step = name.split(".")
    told = ground.steps[owner, step]
    return place_of(told)[0] == piece if told.kind is StepKind.POUR else piece in pieces_on(told.on)


def body_figure(ground: Ground, name: str, piece: str) -> Figure:
    """The volume inside the finished outside of one copy, m3: as measured, else of its shape or mesh."""
    line = ground.measured_line("volume", piece)
    if line is not None:
        return ground.said(name, line)
    told = ground.measured.pieces[piece]
    body = ground.body(piece)
    formula = BODIES.get(told.shape.kind, "") if told.shape is not None else ""
    if told.shape is not None and told.shape.kind == "tray" and "deep" not in sizes_of(told.shape):
        formula = formula.replace("deep", "(high - thick)")
    bare, changes = built_up(told, lambda geometry: geometry.volume)
    if bare is None or not formula:
        changes = []
        formula = "inside of its triangles" if told.mesh else "worked out from the shape with its parts"
        inputs = list(sizes_told(ground, told))
    else:
        inputs = [*sizes_told(ground, told, formula), *changes_of(name, changes, Dimension.VOLUME)]
    return Figure(
        name=name,
        value=NOUGHT if body is None else body.volume,
        dimension=Dimension.VOLUME,
        says=f"the body of one {piece}",
        formula=formula + " + d" * len(changes),
        inputs=tuple(inputs),
        source=HANDBOOK,
    )


def cavity_figure(ground: Ground, name: str, piece: str, part: str) -> Figure | None:
    """What a cut-out holds; in a shell as deep as its layers are thick."""
    body = ground.body(piece)
    told = next((p for p in ground.measured.pieces[piece].parts if p.name == part), None)
    if body is None or told is None:
        return None
    volume = body.geometry.cavity(part, shell_thickness(body, part)).volume
    sizes = [
        (word, ground.told(f"{part} {word}", size, Dimension.LENGTH, told.span))
        for word, size in told.shape.sizes.items()
    ]
    return Figure(
        name=name,
        value=volume,
        dimension=Dimension.VOLUME,
        says=f"the hollow {part} of {piece}",
        formula="mouth x depth; a hole in a shell is as deep as its layers",
        inputs=ground.inputs(*sizes),
        source=HANDBOOK,
    )
