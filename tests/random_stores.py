"""Random stores: stocks, mixes in every form, stations and fittings, in both systems of units."""

from hypothesis import strategies as st
from random_amounts import (
    Both,
    areal,
    areas,
    clock,
    coverage,
    density,
    length,
    lengths,
    masses,
    minutes,
    pressure,
    temperature,
    volumes,
)
from random_shapes import Line

Block = tuple[Line, ...]

STRENGTH = 2000  # psi, which `cast` reaches in a day or so

POWDERS = {"grey": 3150, "white": 3100, "clay": 2500, "fine-sand": 2650, "yard-sand": 2620, "ochre": 4100}
LIQUIDS = {"polymer": 1050, "plasticizer": 1080, "oil": 900, "wash": 1020}
PARTS = {"resin-a": 1100, "resin-b": 980, "sealer-a": 1050, "sealer-b": 1080}


@st.composite
def stores(draw: st.DrawFn) -> tuple[Block, ...]:
    """All stocks and mixes that a random piece may use."""
    stocks = [_powder(draw, name, kilos) for name, kilos in POWDERS.items()]
    stocks += [_liquid(draw, name, kilos) for name, kilos in {**LIQUIDS, **PARTS}.items()]
    stocks += [_glass(draw), _net(draw), _ply(draw)]
    stocks.append((("stock tap-water",), ("    density", density(998))))
    mixes = [
        _face(draw),
        _backer(draw),
        _cast(draw),
        _slurry(draw),
        _resin(draw),
        _sealer(draw),
        _release(draw),
    ]
    return (*stocks, *mixes)


def _stock(draw: st.DrawFn, name: str, *lines: Line) -> Block:
    return ((f'stock {name} "{name} of the shop"',), *lines, *_common(draw))


def _common(draw: st.DrawFn) -> list[Line]:
    lines: list[Line] = []
    if draw(st.booleans()):
        lines.append((f"    price {draw(st.integers(3, 120))}.{draw(st.integers(0, 99)):02d} EUR",))
    if draw(st.booleans()):
        lines.append((f"    lead {draw(st.integers(1, 6))} days",))
    if draw(st.integers(0, 3)) == 0:
        lines.append((f"    waste {draw(st.sampled_from(('0', '2.5', '7', '12')))} %",))
    if draw(st.booleans()):
        lines.append((f"    keeps {draw(st.integers(30, 400))} days",))
    return lines


def _sold(draw: st.DrawFn, word: str, amount: Both) -> list[Line]:
    lines: list[Line] = [(f"    sold {word} of", amount)]
    if draw(st.booleans()):
        lines.append((f"    have {draw(st.sampled_from(('1', '2', '0.5', '30')))} {word}s",))
    return lines


def _powder(draw: st.DrawFn, name: str, kilos: int) -> Block:
    sold = _sold(draw, "bag", draw(masses(20, 100))) if draw(st.booleans()) else []
    hazard: list[Line] = [("    hazard silica-dust",)] if draw(st.booleans()) else []
    return _stock(draw, name, ("    density", density(kilos)), *sold, *hazard)


def _liquid(draw: st.DrawFn, name: str, kilos: int) -> Block:
    lines: list[Line] = [("    density", density(kilos))]
    if name in ("polymer", "plasticizer"):
        lines.append((f"    solids {draw(st.integers(30, 55))} %",))
    acts = {"oil": "release", "wash": "color"}.get(name)
    if acts is not None and draw(st.integers(0, 3)):
        lines.append((f"    acts {acts}",))
    if name in ("oil", "wash"):
        lines.append(("    covers", coverage(draw(st.integers(200, 900)))))
    if draw(st.booleans()):
        mass = draw(st.booleans())
        lines += _sold(draw, "jug", draw(masses(2, 20)) if mass else draw(volumes(1, 5)))
    return _stock(draw, name, *lines)


def _glass(draw: st.DrawFn) -> Block:
    return _stock(draw, "glass", ("    density", density(2680)), *_sold(draw, "bag", draw(masses(10, 50))))


def _net(draw: st.DrawFn) -> Block:
    weight: Line = ("    weight", areal(draw(st.integers(80, 200))))
    sold = draw(st.sampled_from(("area", "mass", "none")))
    if sold == "none":
        return _stock(draw, "net", weight)
    amount = draw(areas(100, 600)) if sold == "area" else draw(masses(5, 30))
    return _stock(draw, "net", weight, *_sold(draw, "roll", amount))


def _ply(draw: st.DrawFn) -> Block:
    lines: list[Line] = [("    sold sheet of", length(48 * 16), "x", length(96 * 16))]
    if draw(st.booleans()):
        lines.append(("    kerf", draw(lengths(1 / 16, 1 / 4))))
    if draw(st.booleans()):
        lines.append((f"    grain {draw(st.sampled_from(('long', 'wide', 'none')))}",))
    return _stock(draw, "ply", *lines)


def _works(draw: st.DrawFn) -> list[Line]:
    lines: list[Line] = [
        (f"    works {draw(minutes(35, 70))} at", temperature(draw(st.sampled_from((18, 20, 22))))),
        (f"    mixing {draw(minutes(2, 8, 1))}",),
    ]
    if draw(st.booleans()):
        lines.append((f"    carry {draw(minutes(1, 4, 1))}",))
    if draw(st.integers(0, 4)) == 0:
        lines.append((f"    air {draw(st.integers(0, 8))} %",))
    if draw(st.integers(0, 3)) == 0:
        lines.append((f"    waste {draw(st.integers(0, 20))} %",))
    ages = draw(st.sampled_from(("", "", "", "datum", "arrhenius", "doubles")))
    if ages == "datum":
        lines.append(("    ages nurse-saul", temperature(draw(st.sampled_from((-10, 0))))))
    elif ages == "arrhenius":
        lines.append((f"    ages arrhenius {draw(st.sampled_from((3500, 5000)))} K",))
    elif ages == "doubles":
        lines.append((f"    doubles {draw(st.integers(8, 15))} K",))
    return lines


def _damp(draw: st.DrawFn) -> str:
    return draw(st.sampled_from(("", "damp 0 %", "damp 3 %", "damp 5.5 %", "damp -0.5 %")))


def _face(draw: st.DrawFn) -> Block:
    white = draw(st.integers(60, 95))
    water = draw(st.sampled_from(("0.33 of binder total", "36 % of binder total", "0.3 of binder added")))
    plasticized = draw(st.sampled_from(("binder", "white")))
    lines: list[Line] = [
        (f"    binder white {white} parts",),
        (f"    binder clay {100 - white} parts",),
        (f"    sand fine-sand {draw(st.integers(80, 140))} parts {_damp(draw)}",),
        (f"    liquid polymer {draw(st.integers(2, 7))} % of binder as solids",),
        (f"    water {water}",),
        (f"    liquid plasticizer 0.{draw(st.integers(2, 9))} % of {plasticized}",),
        (f"    pigment ochre {draw(st.integers(1, 6))} % of binder",),
    ]
    if draw(st.booleans()):
        lines.append(("    order water, polymer, plasticizer, white, clay, ochre, fine-sand",))
    thick: Line = ("    thick", draw(lengths(1 / 16, 1 / 8)), "to", draw(lengths(1 / 4, 1 / 2)))
    return (("mix face",), *lines, *_works(draw), thick)


def _backer(draw: st.DrawFn) -> Block:
    lines: list[Line] = [
        ("    omit fine-sand, ochre",),
        (f"    sand yard-sand {draw(st.integers(60, 110))} parts {_damp(draw)}",),
        (f"    fiber glass {draw(st.sampled_from(('2', '3', '2.5')))} % of mix",),
        ("    thick", draw(lengths(1 / 8, 1 / 4)), "to", draw(lengths(1 / 2, 1))),
    ]
    return (("mix backer from face",), *lines)


def _cast(draw: st.DrawFn) -> Block:
    """A pouring mix: in parts, in masses for one yield, or with a sand that fills."""
    form = draw(st.sampled_from(("parts", "masses", "fill", "shares")))
    lines: list[Line]
    if form == "parts":
        lines = [
            ("    binder grey 100 parts",),
            (f"    sand yard-sand {draw(st.integers(120, 240))} parts {_damp(draw)}",),
            (f"    water 0.{draw(st.integers(34, 48))} of binder total",),
        ]
    elif form == "shares":
        lines = [
            ("    binder grey 1 parts",),
            (f"    filler yard-sand {draw(st.integers(120, 240))} % of grey {_damp(draw)}",),
            (f"    water {draw(st.integers(34, 48))} % of binder added",),
            (f"    fiber glass 0.{draw(st.integers(2, 9))} % of mix",),
        ]
    else:
        sand: Line = (f"    sand yard-sand fill {_damp(draw)}",)
        if form == "masses":
            sand = ("    sand yard-sand", draw(masses(60, 70)), _damp(draw))
        lines = [
            ("    yields", draw(volumes(9, 10))),
            ("    binder grey", draw(masses(35, 45))),
            sand,
            ("    water", draw(masses(14, 17)), draw(st.sampled_from(("total", "added")))),
        ]
    if draw(st.booleans()):
        lines.append((f"    liquid plasticizer 0.{draw(st.integers(2, 9))} % of grey",))
    if draw(st.integers(0, 2)) == 0:
        lines += [("    lift", draw(lengths(4, 12))), (f"    recoat {clock(10)} to {clock(90)}",)]
    reached: Line = ("    reaches", pressure(STRENGTH), f"after {draw(st.integers(12, 30))} h at")
    return (("mix cast",), *lines, *_works(draw), (*reached, temperature(20)))


def _slurry(draw: st.DrawFn) -> Block:
    return (
        ("mix slurry from face",),
        ("    omit fine-sand",),
        (f"    works {draw(minutes(30, 40))} at", temperature(20)),
        ("    thick", length(1), "to", length(2)),
    )


def _two(draw: st.DrawFn, name: str, first: str, second: str, parts: tuple[str, ...]) -> list[Line]:
    return [
        (f"mix {name}",),
        (f"    measure {draw(st.sampled_from(('mass', 'volume')))}",),
        (f"    part {first} {draw(st.sampled_from(parts))} parts",),
        (f"    part {second} {draw(st.sampled_from(('1', '30', '0.5')))} parts",),
    ]


def _resin(draw: st.DrawFn) -> Block:
    lines = _two(draw, "resin", "resin-a", "resin-b", ("100", "2", "3"))
    if draw(st.integers(0, 7)):
        lines += [("    lift", draw(lengths(1 / 4, 1 / 2))), ("    recoat 4 h to 24 h",)]
    return (*lines, *_works(draw))


def _sealer(draw: st.DrawFn) -> Block:
    lines = _two(draw, "sealer", "sealer-a", "sealer-b", ("4", "2-1/2", "100"))
    covers: Line = ("    covers", coverage(draw(st.integers(200, 700))))
    works: Line = ("    works 60 min at", temperature(20))
    acts: Line = (draw(st.sampled_from(("    acts film", "    acts penetrating", ""))),)
    return (*lines, ("    recoat 2 h to 20 h",), covers, works, *([acts] if acts[0] else []))


def _release(draw: st.DrawFn) -> Block:
    lines = _two(draw, "release", "oil", "plasticizer", ("4", "9"))
    return (*lines, ("    covers", coverage(draw(st.integers(500, 900)))))
