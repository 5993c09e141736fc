"""Panels of a mold of straight boards around a plain shape, with the board's thickness at each corner.

    base  (L + 2 t) x (W + 2 t)      the sides stand on it, flush with its edge
    side  (L + 2 t) x H              twice: it runs past the ends
    end   W x H                      twice: it stands between the sides

L, W the shape's length and width, H its depth as it is cast, t the board's thickness, all m. Butt joints. A
core is a box of boards too: its top covers the boards under it, its sides run past its ends.

Round shapes, runs and meshes have no straight boards. What is added to or cut out of the shape needs formers
of its own, which are not in it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from castlang.spec.kinds import KINDS
from castlang.spec.model import Piece
from castlang.takeoff.bodies import NOUGHT, Body
from castlang.takeoff.shapes import sizes_of

ON_BASE = "the sides stand on it"
PAST = "on the base, past the ends"
BETWEEN = "on the base, between the sides"
SLOPE = "on the base, past the ends; cut to the slope"
APRON = "cut to the shape of the section; on the base, between the sides"
EDGE = "its layers, or its lip"
CORE_TOP = "covers the core's sides and ends"
CORE_PAST = "of the core, under its top, past its ends"
CORE_BETWEEN = "of the core, under its top, between its sides"


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One panel as cut: `long` by `wide` m, so many for one mold, and how it meets its neighbours.
    rule: how the two sizes follow from those of the shape, t the board's thickness."""

    name: str
    long: Fraction
    wide: Fraction
    count: int = 1
    joint: str = ""
    rule: tuple[str, str] = ("", "")


Sizes = Mapping[str, Fraction]


def boards_of(body: Body, thick: Fraction) -> tuple[Board, ...]:
    """The boards of one mold for `body`, cast open side up; none where it is not made of straight boards."""
    shape = body.piece.shape
    if shape is None or shape.kind not in _BOARDS:
        return ()
    boards = _BOARDS[shape.kind](body, sizes_of(shape), thick)
    return tuple(board for board in boards if board.long > 0 and board.wide > 0)


def formers(piece: Piece) -> tuple[str, ...]:
    """What the boards leave out: the names of parts added and cut out."""
    return tuple(part.name for part in piece.parts)


def _open_box(
    long: Fraction, wide: Fraction, high: Fraction, t: Fraction, depth: str = "high"
) -> tuple[Board, ...]:
    past, base = "long + 2 t", ("long + 2 t", "wide + 2 t")
    return (
        Board(name="base", long=long + 2 * t, wide=wide + 2 * t, joint=ON_BASE, rule=base),
        Board(name="side", long=long + 2 * t, wide=high, count=2, joint=PAST, rule=(past, depth)),
        Board(name="end", long=wide, wide=high, count=2, joint=BETWEEN, rule=("wide", depth)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """A length of a core, and how it follows from the shape."""

    size: Fraction
    rule: str


def _core(long: _Side, wide: _Side, high: _Side, t: Fraction, *, ends: bool) -> tuple[Board, ...]:
    """A box of boards of that size outside; without ends where the mold's own close it."""
    deep, deep_rule = high.size - t, f"{high.rule} - t"
    boards = (
        Board(name="core-top", long=long.size, wide=wide.size, joint=CORE_TOP, rule=(long.rule, wide.rule)),
        Board(
            name="core-side", long=long.size, wide=deep, count=2, joint=CORE_PAST, rule=(long.rule, deep_rule)
        ),
    )
    end = Board(
        name="core-end",
        long=wide.size - 2 * t,
        wide=deep,
        count=2,
        joint=CORE_BETWEEN,
        rule=(f"{wide.rule} - 2 t", deep_rule),
    )
    return (*boards, end) if ends else boards


def _block(high: str) -> Callable[[Body, Sizes, Fraction], tuple[Board, ...]]:
    return lambda body, s, t: _open_box(s["long"], s["wide"], s[high], t, high)


def _tray(body: Body, s: Sizes, t: Fraction) -> tuple[Board, ...]:
    wall = s["thick"]
    deep = (
        _Side(size=s["deep"], rule="deep")
        if "deep" in s
        else _Side(size=s["high"] - wall, rule="high - thick")
    )
    long = _Side(size=s["long"] - 2 * wall, rule="long - 2 thick")
    wide = _Side(size=s["wide"] - 2 * wall, rule="wide - 2 thick")
    outside = _open_box(s["long"], s["wide"], s["high"], t)
    return (*outside, *_core(long, wide, deep, t, ends=True))


def _channel(body: Body, s: Sizes, t: Fraction) -> tuple[Board, ...]:
    wall = s["thick"]
    long = _Side(size=s["long"], rule="long")
    wide = _Side(size=s["wide"] - 2 * wall, rule="wide - 2 thick")
    deep = _Side(size=s["high"] - wall, rule="high - thick")
    outside = _open_box(s["long"], s["wide"], s["high"], t)
    return (*outside, *_core(long, wide, deep, t, ends=False))


def _angle(body: Body, s: Sizes, t: Fraction) -> tuple[Board, ...]:
    """Cast with its top down: the apron stands up along one side, held from within by a board."""
    long, leg, rise, thick = s["long"], s["leg"], s["rise"], s["thick"]
    past, hung = "long + 2 t", "hung behind the apron, between the ends"
    return (
        Board(name="base", long=long + 2 * t, wide=leg + 2 * t, joint=ON_BASE, rule=(past, "leg + 2 t")),
        Board(name="front", long=long + 2 * t, wide=rise, joint=PAST, rule=(past, "rise")),
        Board(name="back", long=long + 2 * t, wide=thick, joint=PAST, rule=(past, "thick")),
        Board(name="end", long=leg, wide=rise, count=2, joint=APRON, rule=("leg", "rise")),
        Board(name="inside", long=long, wide=rise - thick, joint=hung, rule=("long", "rise - thick")),
    )


def _ramp(body: Body, s: Sizes, t: Fraction) -> tuple[Board, ...]:
    long, wide, low = s["long"], s["wide"], s.get("thick", NOUGHT)
    high, past, up = low + s["rise"], "long + 2 t", "thick + rise" if low else "rise"
    return (
        Board(name="base", long=long + 2 * t, wide=wide + 2 * t, joint=ON_BASE, rule=(past, "wide + 2 t")),
        Board(name="side", long=long + 2 * t, wide=high, count=2, joint=SLOPE, rule=(past, up)),
        Board(name="low-end", long=wide, wide=low, joint=BETWEEN, rule=("wide", "thick")),
        Board(name="high-end", long=wide, wide=high, joint=BETWEEN, rule=("wide", up)),
    )


def _edges(body: Body) -> dict[str, Fraction]:
    """How wide a board each edge of a shell needs: its layers, or the lip along it where that is deeper."""
    piece = body.piece
    kind = KINDS[piece.shape.kind] if piece.shape else None
    layers = max(body.thick.values(), default=NOUGHT)
    edges = dict.fromkeys(("top", "foot", "left", "right", "ends"), layers)
    for lip in piece.lips:
        for edge in (lip.on, *(kind.groups.get(lip.on, ()) if kind else ())):
            edges[edge] = max(layers, lip.deep)
    return edges


def _panel(body: Body, s: Sizes, t: Fraction) -> tuple[Board, ...]:
    long, high, past = s["long"], s["high"], "long + 2 t"
    edges = dict.fromkeys(("top", "foot", "left", "right"), s["thick"]) if "thick" in s else _edges(body)
    deep = "thick" if "thick" in s else EDGE
    return (
        Board(name="base", long=long + 2 * t, wide=high + 2 * t, joint=ON_BASE, rule=(past, "high + 2 t")),
        Board(name="top-side", long=long + 2 * t, wide=edges["top"], joint=PAST, rule=(past, deep)),
        Board(name="foot-side", long=long + 2 * t, wide=edges["foot"], joint=PAST, rule=(past, deep)),
        Board(name="left-end", long=high, wide=edges["left"], joint=BETWEEN, rule=("high", deep)),
        Board(name="right-end", long=high, wide=edges["right"], joint=BETWEEN, rule=("high", deep)),
    )


def _corner_wall(body: Body, s: Sizes, t: Fraction) -> tuple[Board, ...]:
    """Two leaves: the front one runs past the side one at the corner; strips stand on both."""
    long, wide, high = s["long"], s["wide"], s["high"]
    edges = _edges(body)
    strips = []
    for edge in ("top", "foot"):
        deep = edges[edge]
        front, side = "on the front leaf, past the other", "on the side leaf, up to the other"
        strips += [
            Board(name=f"{edge}-front", long=long, wide=deep, joint=front, rule=("long", EDGE)),
            Board(
                name=f"{edge}-side", long=wide - deep, wide=deep, joint=side, rule=(f"wide - {EDGE}", EDGE)
            ),
        ]
    past, against = "past the side leaf at the corner; the strips stand on it", "against the front leaf"
    tall, ends = high + 2 * t, edges["ends"]
    return (
        Board(name="front-leaf", long=long + 2 * t, wide=tall, joint=past, rule=("long + 2 t", "high + 2 t")),
        Board(name="side-leaf", long=wide + t, wide=tall, joint=against, rule=("wide + t", "high + 2 t")),
        *strips,
        Board(name="end", long=high, wide=ends, count=2, joint="between the strips", rule=("high", EDGE)),
    )


_BOARDS: Mapping[str, Callable[[Body, Sizes, Fraction], tuple[Board, ...]]] = {
    "slab": _block("thick"),
    "box": _block("high"),
    "panel": _panel,
    "tray": _tray,
    "channel": _channel,
    "angle": _angle,
    "ramp": _ramp,
    "corner-wall": _corner_wall,
}
