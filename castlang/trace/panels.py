"""Panels of molds and the sheets that they are cut from.

panel.MOLD.NAME    panel.MOLD.NAME.long    panel.MOLD.NAME.wide    sheets.STOCK
"""

import re
from collections.abc import Iterator
from fractions import Fraction

from castlang.spec.quantity import Dimension
from castlang.takeoff.bill import area_of
from castlang.takeoff.model import BoardPanel, Nest
from castlang.takeoff.panels import THICK, cast_in
from castlang.takeoff.shapes import sizes_of
from castlang.trace.ground import Ground, Subject
from castlang.trace.model import Figure, Input

NOUGHT = Fraction(0)
JOINTS = "butt joints: long sides run past the ends, and stand on the base"


def _names(ground: Ground) -> Iterator[str]:
    for panel in ground.takeoff.panels:
        for which in ("", ".long", ".wide"):
            yield f"panel.{panel.mold}.{panel.name}{which}"
    for nest in ground.takeoff.nests:
        yield f"sheets.{nest.stock}"


def _figure(ground: Ground, name: str) -> Figure | None:
    kind, _, rest = name.partition(".")
    if kind == "sheets":
        nest = next((nest for nest in ground.takeoff.nests if nest.stock == rest), None)
        return None if nest is None else _sheets(ground, name, nest)
    words = rest.split(".")
    if kind != "panel" or len(words) not in (2, 3):
        return None
    panel = next((p for p in ground.takeoff.panels if [p.mold, p.name] == words[:2]), None)
    if panel is None:
        return None
    if len(words) == 3:
        return _side(ground, name, panel, words[2]) if words[2] in ("long", "wide") else None
    return Figure(
        name=name,
        value=panel.long * panel.wide,
        dimension=Dimension.AREA,
        says=f"one {panel.name} of {panel.mold}",
        formula="l w",
        inputs=ground.inputs(("l", f"{name}.long"), ("w", f"{name}.wide")),
        source="the build" if panel.told else JOINTS,
    )


PANELS = Subject(names=_names, figure=_figure)


def _side(ground: Ground, name: str, panel: BoardPanel, which: str) -> Figure:
    """One size of a panel: told, or from the shape and the board's thickness."""
    value = panel.long if which == "long" else panel.wide
    if panel.told:
        return ground.told(name, value, Dimension.LENGTH, panel.span)
    rule = panel.rule[0] if which == "long" else panel.rule[1]
    return Figure(
        name=name,
        value=value,
        dimension=Dimension.LENGTH,
        says=f"{panel.name} of {panel.mold}, {'along' if which == 'long' else 'across'}",
        formula=rule,
        inputs=_of_shape(ground, panel, rule),
        source=JOINTS,
    )


def _of_shape(ground: Ground, panel: BoardPanel, rule: str) -> tuple[Input, ...]:
    """The sizes of the shape that stand in a rule, and the thickness of the board."""
    bodies = {name: body for name in ground.measured.pieces if (body := ground.body(name)) is not None}
    body = cast_in(ground.measured.molds[panel.mold], bodies)
    shape = body.piece.shape if body is not None else None
    words = set(re.findall(r"[a-z]+", rule))
    pairs: list[tuple[str, Figure | str | None]] = []
    if shape is not None:
        pairs += [
            (word, ground.told(f"{panel.mold} casts {word}", size, Dimension.LENGTH, shape.span))
            for word, size in sizes_of(shape).items()
            if word in words
        ]
    if "t" in words:
        stock = ground.measured.stocks.get(panel.stock)
        thick = (stock.thick if stock is not None else None) or THICK
        span = stock.span if stock is not None else panel.span
        pairs.append(
            ("t", ground.told(f"thickness of {panel.stock}", thick, Dimension.LENGTH, span, "thick"))
        )
    return ground.inputs(*pairs)


# ---------------------------------------------------------------- sheets


def for_panels(ground: Ground, name: str, stock: str, mold: str, gross: Fraction) -> Figure:
    """What the panels of a mold take of a board: their part of its whole sheets, or their area with waste."""
    panels = [panel for panel in ground.takeoff.panels if panel.mold == mold and panel.stock == stock]
    area = Figure(
        name=f"panels of {mold} from {stock}",
        value=sum((area_of(panel) for panel in panels), NOUGHT),
        dimension=Dimension.AREA,
        formula="sum of a n",
        inputs=tuple(one for panel in panels for one in _all_of(ground, panel)),
    )
    says = f"board for {mold}"
    nest = next((nest for nest in ground.takeoff.nests if nest.stock == stock), None)
    if nest is None or not panels:
        return Figure(
            name=name,
            value=gross,
            dimension=Dimension.AREA,
            says=says,
            formula="A (1 + w)" if panels else "the faces of what it casts, with waste",
            inputs=(Input(symbol="A", figure=area),) if panels else (),
            source="counted by area",
        )
    whole = sum((area_of(panel) for panel in ground.takeoff.panels if panel.stock == stock), NOUGHT)
    return Figure(
        name=name,
        value=gross,
        dimension=Dimension.AREA,
        says=f"{says}: its part of the sheets, offcuts with it",
        formula="n L W A / S",
        inputs=ground.inputs(
            ("n", f"sheets.{stock}"),
            ("L", _of_sheet(ground, nest, "length", nest.long)),
            ("W", _of_sheet(ground, nest, "width", nest.wide)),
            ("A", area),
            ("S", Figure(name=f"all panels of {stock}", value=whole, dimension=Dimension.AREA)),
        ),
        source="whole sheets, by the cut list",
    )


def _all_of(ground: Ground, panel: BoardPanel) -> tuple[Input, ...]:
    number = Figure(
        name=f"number of {panel.mold}.{panel.name}",
        value=Fraction(panel.count * panel.molds),
        source="for each mold, times the molds made",
    )
    return ground.inputs(("a", f"panel.{panel.mold}.{panel.name}"), ("n", number))


def _of_sheet(ground: Ground, nest: Nest, what: str, side: Fraction) -> Figure:
    stock = ground.measured.stocks[nest.stock]
    return ground.told(f"{what} of a sheet of {nest.stock}", side, Dimension.LENGTH, stock.span, "sold")


def _sheets(ground: Ground, name: str, nest: Nest) -> Figure:
    stock = ground.measured.stocks[nest.stock]
    least = Figure(
        name="no layout takes fewer", value=Fraction(nest.bound), source="by area, and by large panels"
    )
    return Figure(
        name=name,
        value=Fraction(nest.number),
        word="sheets",
        says=f"sheets of {nest.stock} that the cut list takes",
        formula="counted in the cut list; at least b",
        inputs=ground.inputs(
            ("b", least),
            ("k", ground.told(f"kerf of {nest.stock}", nest.kerf, Dimension.LENGTH, stock.span, "kerf")),
        ),
        source=f"the layout on sheet CUT {nest.stock}",
    )
