"""Random whole builds as text: pieces of every kind in several crafts, cast, cured, finished and joined.

A build is drawn once and written in metric or in US units from the same exact amounts, as one file or as
several that use one another, its blocks in any order. Nearly all of them can be planned.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st
from random_amounts import Both, areas, density, length, lengths, masses, speed, temperature, volume, volumes
from random_shapes import MESH, Body, Line, bodies
from random_steps import gang, piece_block
from random_stores import Block, stores

from castlang.spec.kinds import KINDS

METRIC, US = "metric", "us"


@dataclass(frozen=True, slots=True)
class RandomBuild:
    """Blocks of lines; the first one is the build's own."""

    blocks: tuple[Block, ...]

    def _repr_pretty_(self, printer: Any, cycle: bool) -> None:
        """A failing build is shown as its text."""
        printer.text(f"RandomBuild:\n{self.text(METRIC)}")

    def text(self, system: str, order: Sequence[int] = ()) -> str:
        """The whole build in one text, blocks in `order` (as drawn when it is left out)."""
        numbers = order or range(len(self.blocks))
        return "\n\n".join(written(self.blocks[n], system) for n in numbers) + "\n"

    def files(self, system: str, order: Sequence[int], homes: Sequence[int]) -> dict[str, bytes]:
        """The build divided into files: block n goes to file homes[n]; the main one uses all the others."""
        names = ["main.pour", *(f"part-{n}.pour" for n in range(1, max(homes) + 1))]
        texts = dict.fromkeys(names, "")
        for n in order:
            texts[names[homes[n]]] += written(self.blocks[n], system) + "\n\n"
            if n % 3 == 0:  # a `use` line may stand between any two blocks, more than once
                texts["main.pour"] += "".join(f'use "{name}"\n' for name in names[1:][: n % 5]) + "\n"
        texts["main.pour"] += "".join(f'use "{name}"\n' for name in reversed(names[1:]))
        return {name: text.encode() for name, text in texts.items()}


def written(block: Block, system: str) -> str:
    return "\n".join(
        " ".join(getattr(part, system) if isinstance(part, Both) else part for part in line if part)
        for line in block
    )


@st.composite
def builds(draw: st.DrawFn, most: int = 5, meshes: bool = False) -> RandomBuild:
    """One to `most` pieces with the stores, molds, stations, fittings and jobs that they need. meshes: some
    of the pieces come as a mesh (`random_shapes.mesh_files`)."""
    known = (*KINDS, *[MESH] * 5) if meshes else tuple(KINDS)
    kinds = draw(st.lists(st.sampled_from(known), min_size=1, max_size=most))
    roles = draw(st.booleans())
    start = draw(st.sampled_from(("2027-03-01", "2027-06-17", "2028-02-28")))
    head, shop = _build(draw, roles, start)
    foreign = any(str(line[0]).startswith("    exchange") for line in head)
    fittings = _fittings(draw, foreign)
    blocks = [*shop, *draw(stores()), *_stations(draw), *fittings, _temp(draw), *_sizes(draw)]
    pieces: list[Pieced] = []
    for index, kind in enumerate(kinds):
        name = f"{kind}-{'abcde'[index]}"
        body = draw(bodies(kind))
        made = draw(st.sampled_from(((1, 0), (1, 0), (2, 0), (3, 0), (1, 1))))
        blocks.append(piece_block(draw, name, body, made, [other for other, *_ in pieces], roles))
        blocks.append(_mold(draw, name, made[1] > 0, roles))
        pieces.append((name, body, made))
    blocks += _jobs(draw, pieces, roles)
    blocks += _told(draw, pieces, date.fromisoformat(start))
    return RandomBuild((head, *blocks))


Pieced = tuple[str, Body, tuple[int, int]]
"""A piece: its name, its body, how many are made plain and mirrored."""

# ---------------------------------------------------------------- the build and the shop

HOURS = (
    ("    hours mon to fri 07:30 to 12:00, 12:30 to 16:30",),
    ("    hours mon to thu 7:00 to 11:30, 12:00 to 17:30", "    hours sat 08:00 to 13:00"),
    ("    hours mon to fri 08:00 to 17:00",),
    ("    hours mon to sun 00:00 to 24:00",),
)


def _build(draw: st.DrawFn, roles: bool, start: str) -> tuple[Block, list[Block]]:
    """The build's own block, and now and then a `shop` block with some of its lines."""
    lines: list[Line] = [('build yard "Random yard"',), (f"    start {start}",)]
    lines += [(text,) for text in draw(st.sampled_from(HOURS))]
    lines.append(("    air", temperature(draw(st.integers(10, 30)))))
    if draw(st.booleans()):
        lines.append(("    air", temperature(draw(st.integers(8, 34))), "on 2027-03-02 to 2027-03-03"))
    lines.append((f"    crew {'2 caster, 2 finisher, 1' if roles else draw(st.integers(3, 6))}",))
    if draw(st.booleans()):
        lines.append(("    night", temperature(draw(st.integers(5, 20)))))
    if draw(st.booleans()):
        lines.append((f"    humidity {draw(st.integers(20, 90))} %",))
    if draw(st.booleans()):
        lines.append(("    draft", speed(draw(st.integers(0, 300)))))
    if draw(st.booleans()):
        lines.append((f"    wage {draw(st.integers(20, 60))} EUR/h",))
    if draw(st.booleans()):
        lines.append((f"    waste {draw(st.integers(0, 15))} %",))
    if draw(st.booleans()):
        lines.append((f"    closed {start[:8]}{int(start[8:]) + draw(st.integers(0, 1)):02d}",))
    if draw(st.booleans()):
        day = f"2027-03-{draw(st.integers(1, 9)):02d}"
        who = " finisher" if roles else ""
        lines.append((f"    away 1{who} on {day} to 2027-03-12",))
    if draw(st.booleans()):
        lines.append((f"    print {draw(st.sampled_from(('us', 'metric')))}",))
    if draw(st.integers(0, 2)) == 0:
        lines.append(("    lift-limit", draw(masses(30, 60))))
    if draw(st.integers(0, 2)) == 0:
        lines.append(("    due 2029-03-01",))
    if draw(st.integers(0, 2)) == 0:
        lines.append((f"    exchange USD 0.9{draw(st.integers(0, 9))} EUR on 2027-01-15",))
    if draw(st.integers(0, 2)) == 0:
        lines.append((f"    priority {draw(st.integers(1, 9))}",))
    if draw(st.integers(0, 2)):
        return tuple(lines), []
    shared = [line for line in lines if str(line[0]).split()[0] in ("humidity", "draft", "wage", "closed")]
    shop = [(("shop",), *shared)] if shared else []
    return tuple(line for line in lines if line not in shared), shop


def _stations(draw: st.DrawFn) -> list[Block]:
    holds = draw(volumes(6, 30)) if draw(st.booleans()) else draw(masses(60, 300))
    mixer: list[Line] = [('station mixer "Pan mixer"',), ("    holds", holds)]
    if draw(st.booleans()):
        mixer.append((f"    have {draw(st.integers(1, 3))}",))
    if draw(st.integers(0, 2)) == 0:
        step = Both("1 g", "100000/45359237 lb")
        mixer.append(("    scale", draw(masses(1, 2)), "to", draw(masses(90, 99)), "step", step))
    rack: list[Line] = [("station rack",), (f"    holds {draw(st.integers(1, 6))} pieces",)]
    if draw(st.integers(0, 2)) == 0:
        rack.append(("    closed 2027-03-03 to 2027-03-04",))
    table: Block = (("station table",), (f"    have {draw(st.integers(1, 2))}",))
    gantry: Block = (("station gantry",), ("    lifts", draw(masses(300, 1500))))
    return [tuple(mixer), tuple(rack), table, gantry]


def _fittings(draw: st.DrawFn, foreign: bool) -> list[Block]:
    """What is bought; `foreign`: prices in a second currency may stand among them."""
    crate: list[Line] = [("fitting crate",), ("    weight", draw(masses(20, 60)))]
    if draw(st.booleans()):
        crate.append((f"    price {draw(st.integers(20, 90))} {'USD' if foreign else 'EUR'}",))
    bracket: list[Line] = [
        ('fitting bracket "Welded bracket"',),
        (f"    buy {draw(st.integers(1, 40))}",),
        ("    weight", draw(masses(1, 5))),
    ]
    if draw(st.booleans()):
        bracket.append((f"    lead {draw(st.integers(1, 12))} days",))
    if draw(st.booleans()):
        bracket.append(("    carries", draw(masses(4000, 9000))))
    dowel: list[Line] = [("fitting dowel",), ("    price 1.20 EUR",)]
    if draw(st.booleans()):
        dowel += [("    lead 5 days",), ("    ordered 2027-02-26",)]
    if draw(st.booleans()):
        dowel.append(("    weight", draw(masses(1, 2))))
    return [tuple(bracket), tuple(dowel), tuple(crate)]


def _temp(draw: st.DrawFn) -> Block:
    return (
        ("temp braces",),
        (f"    make {draw(st.integers(1, 2))}",),
        ("    panel gusset", draw(lengths(6, 24)), "x", draw(lengths(6, 24)), "make 4 of ply"),
        (f"    work cut takes {draw(st.integers(10, 90))} min by 1",),
    )


def _sizes(draw: st.DrawFn) -> list[Block]:
    return [
        (("size broad", draw(lengths(12, 24))),),
        (
            (
                "size tall broad + 2 *",
                f"edge-size - {draw(st.integers(0, 2))} * edge-size +",
                draw(lengths(1, 9)),
            ),
        ),
        (("size edge-size", draw(lengths(1, 3)), '"as the sample has it"'),),
    ]


def _mold(draw: st.DrawFn, piece: str, mirrored: bool, roles: bool) -> Block:
    lines: list[Line] = [
        (f"mold {piece}-mold",),
        (f"    fits {piece}",),
        (f"    make {draw(st.integers(1, 2))}",),
    ]
    if mirrored:
        lines.append(("    make 1 mirrored",))
    board = draw(st.integers(0, 2))
    if board:
        lines.append(("    board ply",))
    if board == 2:
        lines.append(("    panel side broad x tall make 2",))
        lines.append(("    panel end", draw(lengths(6, 24)), "x", draw(lengths(6, 40)), "of ply"))
    if draw(st.booleans()):
        lines.append(("    edge fillet", length(4)))
    if draw(st.booleans()):
        lines.append(("    lasts 20 castings",))
    on = draw(st.sampled_from(("", f"on {piece}.show", f"on {piece}.all")))
    takes = draw(st.sampled_from(("", "takes 15 min by 1")))
    lines.append((f"    release {draw(st.sampled_from(('oil', 'release')))} {on} {takes}".rstrip(),))
    hours = draw(st.integers(1, 9))
    lines.append((f"    work build-up takes {hours} h {gang(draw, roles)} may-pause",))
    return tuple(lines)


# ---------------------------------------------------------------- what joins the pieces, and what was told


def _jobs(draw: st.DrawFn, pieces: list[Pieced], roles: bool) -> list[Block]:
    """Inlays, loads, checks of each copy, placing on a fitting; and at the end the loading up."""
    blocks: list[Block] = []
    for name, body, made in pieces:
        lines: list[Line] = [(f"job join-{name}",), (f"    after {name}",)]
        if made[0] > 1 and draw(st.booleans()):
            some = f"{name}.1 to {name}.{made[0] - draw(st.integers(0, 1))}"
            lines[1] = (f"    after {some}",)
            lines.append((f"    test ring of {some} takes 10 min by 1",))
        if body.cavity and draw(st.booleans()):
            lines.append(
                (f"    pour inlay full of resin into {name}.{body.cavity} takes 20 min {gang(draw, roles)}",)
            )
            lines.append(("    cure 2 days at", temperature(22), "open"))
        if draw(st.booleans()):
            lines.append((f"    work check of {name} takes 5 min {gang(draw, roles)} each {name}",))
        if body.holds and draw(st.booleans()):
            amount = draw(st.sampled_from((length(16), length(24, 1), volume(2))))
            lines.append(
                ("    load fill-up", amount, f"of tap-water on {name}.{body.holds} takes 10 min by 1")
            )
            lines.append((f"    test leak of {name} takes 1 h {gang(draw, roles)}",))
        if draw(st.booleans()):
            lines.append((f"    place set of {name} on bracket takes 30 min {gang(draw, roles)}",))
        elif draw(st.booleans()):
            lines.append(
                (f"    place pack of {name} on crate using gantry takes 30 min {gang(draw, roles)}",)
            )
        if draw(st.booleans()):
            lines.append((f"    insert pins {draw(st.integers(1, 6))} of dowel on {name} takes 10 min by 1",))
        if len(lines) > 2:
            blocks.append(tuple(lines))
    joined = [block[0][0] for block in blocks]
    names = ", ".join(name for name, *_ in pieces)
    last: list[Line] = [("job hand-over",)]
    last += [(f"    after {str(job).removeprefix('job ')}",) for job in joined]
    carried = draw(st.sampled_from(("", "using gantry ")))
    last.append((f"    move load-up of {names} {carried}takes 1 h {gang(draw, roles)}",))
    return [*blocks, tuple(last)]


def _told(draw: st.DrawFn, pieces: list[Pieced], start: date) -> list[Block]:
    """Measured values, a record of what was done, and the shop's own defaults."""
    blocks: list[Block] = []
    name = pieces[0][0]
    if draw(st.integers(0, 3)) == 0:
        blocks.append((("measured density of cast", density(draw(st.integers(2000, 2300))), '"litre cup"'),))
    if draw(st.integers(0, 3)) == 0:
        blocks.append(((f"measured mass of {name}", draw(masses(20, 90)), '"on the scale"'),))
    if draw(st.integers(0, 3)) == 0:
        blocks.append(((f"measured area of {name}.show", draw(areas(4, 20)), '"with tape"'),))
    if draw(st.integers(0, 5)) == 0:
        blocks.append((('measured works of cast 50 min "by feel"',),))
    if draw(st.integers(0, 5)) == 0:
        blocks.append(((f'waive unordered-work on {name} "One man does both"',),))
    if draw(st.integers(0, 5)) == 0:
        day = start + timedelta(days=8)
        blocks.append(((f'done {name}.demold {day} 08:00 to 08:30 by 1 "Came off clean"',),))
    if draw(st.integers(0, 3)) == 0:
        blocks.append((("assume laps", draw(lengths(1, 4))),))
    if draw(st.integers(0, 3)) == 0:
        blocks.append((("assume entrapped-air 2 %",),))
    return blocks
