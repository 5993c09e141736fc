"""Random bodies: every plain shape with sizes that close, in both systems of units; cut-outs and lips."""

from collections.abc import Callable
from dataclasses import dataclass

from hypothesis import strategies as st
from random_amounts import Both, length, lengths

from castlang.spec.kinds import KINDS, faces_of

Line = tuple[str | Both, ...]
"""One line: texts, and amounts that differ by the system; a first text of four or eight spaces indents it."""

SHELLS = ("corner-wall", "panel", "run")


@dataclass(frozen=True, slots=True)
class Body:
    """The lines of a body, its kind, the face words that it has, and whether its layers alone make it."""

    lines: tuple[Line, ...]
    kind: str
    faces: tuple[str, ...]
    shell: bool
    cavity: str | None = None
    holds: str | None = None


MESH = "mesh"


def mesh_files() -> dict[str, bytes]:
    """The mesh that a body of kind `mesh` names: a block of 600 x 400 x 60 mm (STL, as text)."""
    corners = [(x, y, z) for x in (0, 600) for y in (0, 400) for z in (0, 60)]
    sides = ((0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3))
    rows = ["solid block"]
    for a, b, c, d in sides:
        for triangle in ((a, b, c), (a, c, d)):
            rows += ["facet normal 0 0 0", "outer loop"]
            rows += ["vertex {} {} {}".format(*corners[n]) for n in triangle]
            rows += ["endloop", "endfacet"]
    return {"block.stl": "\n".join([*rows, "endsolid block", ""]).encode()}


@st.composite
def bodies(draw: st.DrawFn, kind: str) -> Body:
    """A body of `kind`: its shape, and now and then a cut-out, an added body, a lip."""
    if kind == MESH:
        show = draw(st.sampled_from(("up", "up, sides", "down")))
        mesh: tuple[Line, ...] = (('    mesh mm "block.stl"',), (f"    face show {show}",))
        return Body(mesh, kind, ("all", "up", "down", "sides", "show"), False)
    sizes = {word: length(n, draw(st.integers(0, 14))) for word, n in _SIZES[kind](draw).items()}
    words = [(word, draw(st.sampled_from((word, *KINDS[kind].alternatives.get(word, ()))))) for word in sizes]
    words = draw(st.permutations(words))
    shape: list[str | Both] = [f"    shape {kind}"]
    for plain, word in words:
        shape += [sizes[plain], f"{word}," if (plain, word) != words[-1] else word]
    lines: list[Line] = [tuple(shape)]
    faces = list(faces_of(kind, tuple(sizes)))
    shell = kind in SHELLS and "thick" not in sizes
    if kind == "run":
        lines += _legs(draw)
    if shell and draw(st.booleans()):
        lines.append(
            ("    lip edge-lip", draw(lengths(2, 4)), f"on {draw(st.sampled_from(('top', 'foot')))}")
        )
        faces.append("edge-lip")
    cavity = None
    if kind in ("slab", "box") and draw(st.booleans()):
        added, cavity = _parts(draw)
        lines += added
        faces.append("cut")
    groups = ("front",) if shell else tuple(f for f in faces if f not in ("all", "cut"))
    show = draw(st.lists(st.sampled_from(groups), min_size=1, max_size=3, unique=True))
    lines.append((f"    face show {', '.join(show)}",))
    holds = {"tray": "floor", "bowl": "inside", "channel": "floor"}.get(kind)
    return Body(tuple(lines), kind, (*faces, "show"), shell, cavity, holds)


def _legs(draw: st.DrawFn) -> list[Line]:
    lines: list[Line] = [("        leg", draw(lengths(20, 60)))]
    for _ in range(draw(st.integers(0, 2))):
        lines.append((f"        turn {draw(st.sampled_from((90, -90, 45, 60)))} deg",))
        lines.append(("        leg", draw(lengths(20, 60))))
    return lines


def _parts(draw: st.DrawFn) -> tuple[list[Line], str | None]:
    """A cut-out in the top (a cavity when it has a floor), now and then a body that stands on the foot."""
    blind = draw(st.booleans())
    depth: Line = (",", draw(lengths(0.25, 1)), "deep") if blind else ()
    if draw(st.booleans()):
        cut: Line = ("    less disc cut", draw(lengths(1, 4)), "dia", *depth, "on top")
    else:
        cut = (
            "    less box cut",
            draw(lengths(1, 4)),
            "long,",
            draw(lengths(1, 4)),
            "wide",
            *depth,
            "on top",
        )
    if draw(st.booleans()):
        cut = (*cut, "placed", draw(lengths(3, 5)), "from left,", draw(lengths(3, 4)), "from back")
    lines = [cut]
    if draw(st.booleans()):
        lines.append(
            ("    plus box boss", draw(lengths(1, 3)), "long,", draw(lengths(1, 3)), "wide,",
             draw(lengths(1, 2)), "high on foot")
        )  # fmt: skip
    return lines, "cut" if blind else None


Drawn = dict[str, int]
"""Sizes by plain word, in sixteenths of an inch."""


def _in(draw: st.DrawFn, least: float, most: float) -> int:
    return draw(st.integers(int(least * 16), int(most * 16)))


def _block(thick: tuple[float, float], word: str, second: str) -> Callable[[st.DrawFn], Drawn]:
    return lambda draw: {
        "long": _in(draw, 12, 60), second: _in(draw, 10, 36), word: _in(draw, *thick),
    }  # fmt: skip


def _panel(draw: st.DrawFn) -> Drawn:
    made = {"long": _in(draw, 16, 60), "high": _in(draw, 12, 40)}
    return {**made, "thick": _in(draw, 1.5, 3)} if draw(st.booleans()) else made


def _tray(draw: st.DrawFn) -> Drawn:
    made = {"long": _in(draw, 16, 48), "wide": _in(draw, 12, 30), "high": _in(draw, 6, 14)}
    made["thick"] = _in(draw, 1.5, 2.5)
    return {**made, "deep": made["high"] - _in(draw, 1.5, 3)} if draw(st.booleans()) else made


def _bowl(draw: st.DrawFn) -> Drawn:
    dia = _in(draw, 14, 36)
    made = {"dia": dia, "high": draw(st.integers(dia // 4, dia * 2 // 5)), "thick": _in(draw, 1, 1.5)}
    return {**made, "foot-dia": draw(st.integers(dia // 8, dia // 4))} if draw(st.booleans()) else made


def _disc(draw: st.DrawFn) -> Drawn:
    return {"dia": _in(draw, 8, 40), "thick": _in(draw, 1.5, 4)}


def _tube(draw: st.DrawFn) -> Drawn:
    made = {"dia": _in(draw, 10, 30), "high": _in(draw, 8, 30), "thick": _in(draw, 1.5, 2.5)}
    return {**made, "deep": made["high"] - _in(draw, 1.5, 3)} if draw(st.booleans()) else made


def _frustum(draw: st.DrawFn) -> Drawn:
    return {"top-dia": _in(draw, 8, 24), "foot-dia": _in(draw, 8, 24), "high": _in(draw, 6, 24)}


def _dome(draw: st.DrawFn) -> Drawn:
    dia = _in(draw, 14, 36)
    made = {"dia": dia, "high": draw(st.integers(dia // 4, dia // 2))}
    return {**made, "thick": _in(draw, 1, 1.5)} if draw(st.booleans()) else made


def _ramp(draw: st.DrawFn) -> Drawn:
    made = {"long": _in(draw, 20, 60), "wide": _in(draw, 12, 36), "rise": _in(draw, 4, 10)}
    return {**made, "thick": _in(draw, 2, 4)} if draw(st.booleans()) else made


def _angle(draw: st.DrawFn) -> Drawn:
    made = {"long": _in(draw, 20, 60), "leg": _in(draw, 6, 16), "rise": _in(draw, 6, 16)}
    return {**made, "thick": _in(draw, 1.5, 2.5)}


def _channel(draw: st.DrawFn) -> Drawn:
    made = {"long": _in(draw, 20, 60), "wide": _in(draw, 10, 20), "high": _in(draw, 6, 12)}
    return {**made, "thick": _in(draw, 1.5, 2.5)}


def _corner(draw: st.DrawFn) -> Drawn:
    return {"long": _in(draw, 24, 72), "wide": _in(draw, 16, 48), "high": _in(draw, 16, 44)}


def _run(draw: st.DrawFn) -> Drawn:
    made = {"high": _in(draw, 16, 44)}
    return {**made, "thick": _in(draw, 1.5, 3)} if draw(st.booleans()) else made


_SIZES: dict[str, Callable[[st.DrawFn], Drawn]] = {
    "slab": _block((1.5, 4), "thick", "wide"),
    "panel": _panel,
    "box": _block((4, 16), "high", "wide"),
    "tray": _tray,
    "bowl": _bowl,
    "disc": _disc,
    "tube": _tube,
    "frustum": _frustum,
    "dome": _dome,
    "ramp": _ramp,
    "angle": _angle,
    "channel": _channel,
    "corner-wall": _corner,
    "run": _run,
}
