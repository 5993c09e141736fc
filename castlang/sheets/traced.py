"""A traced figure as text: the figures that it goes back to, from the build's lines down to itself."""

from collections.abc import Sequence
from fractions import Fraction

from castlang.sheets import amounts
from castlang.sheets.amounts import FOOT, POUND, US
from castlang.spec.minor_units import places_told
from castlang.spec.quantity import Dimension, Money
from castlang.trace.model import Figure, Input

DIGITS = 6  # figures of a value, so that it can be followed by hand

# Units that go together, so that a formula holds in the figures as they are printed: size in SI, word.
_METRIC = {
    Dimension.LENGTH: (Fraction(1), "m"),
    Dimension.AREA: (Fraction(1), "m2"),
    Dimension.VOLUME: (Fraction(1), "m3"),
    Dimension.MASS: (Fraction(1), "kg"),
    Dimension.TIME: (Fraction(60), "min"),
    Dimension.TEMPERATURE: (Fraction(1), "K"),
    Dimension.TEMPERATURE_STEP: (Fraction(1), "K"),
    Dimension.SHARE: (Fraction(1, 100), "%"),
    Dimension.DENSITY: (Fraction(1), "kg/m3"),
    Dimension.AREAL_MASS: (Fraction(1), "kg/m2"),
    Dimension.FILM: (Fraction(1), "m3/m2"),
    Dimension.COVERAGE: (Fraction(1), "m2/m3"),
    Dimension.AREA_RATE: (Fraction(1, 60), "m2/min"),
    Dimension.VOLUME_RATE: (Fraction(1, 60), "m3/min"),
    Dimension.PRESSURE: (Fraction(1), "Pa"),
}
_US = {
    Dimension.LENGTH: (FOOT, "ft"),
    Dimension.AREA: (FOOT**2, "ft2"),
    Dimension.VOLUME: (FOOT**3, "ft3"),
    Dimension.MASS: (POUND, "lb"),
    Dimension.DENSITY: (POUND / FOOT**3, "lb/ft3"),
    Dimension.AREAL_MASS: (POUND / FOOT**2, "lb/ft2"),
    Dimension.FILM: (FOOT, "ft3/ft2"),
    Dimension.COVERAGE: (1 / FOOT, "ft2/ft3"),
    Dimension.AREA_RATE: (FOOT**2 / 60, "ft2/min"),
    Dimension.VOLUME_RATE: (FOOT**3 / 60, "ft3/min"),
}


def trace_lines(figures: Sequence[Figure], units: str) -> tuple[str, ...]:
    """The text: one paragraph a figure, in the order given; the last one is what was asked for."""
    lines: list[str] = []
    for figure in figures:
        lines += _paragraph(figure, units)
        lines.append("")
    shown = on_the_sheet(figures[-1], units) if figures else ""
    if shown:
        lines.append(f"on the sheet: {shown}")
    return tuple(lines)


def _paragraph(figure: Figure, units: str) -> list[str]:
    lines = [f"{figure.name} = {value_text(figure, units)}"]
    if figure.told:
        return [*lines, f"    told  {_place(figure)}"]
    if figure.says:
        lines.append(f"    {figure.says}")
    if figure.formula:
        lines.append(f"    = {figure.formula}")
    lines += _inputs(figure.inputs, units)
    if figure.source:
        lines.append(f"    source: {figure.source}")
    return lines


def _inputs(inputs: Sequence[Input], units: str) -> list[str]:
    rows = [(i.symbol, value_text(i.figure, units), i.figure.name, _where(i.figure)) for i in inputs]
    wide = [max(len(row[column]) for row in rows) for column in range(3)] if rows else []
    return [
        f"      {symbol.ljust(wide[0])}  {value.ljust(wide[1])}  {name.ljust(wide[2])}  {where}".rstrip()
        for symbol, value, name, where in rows
    ]


def _where(figure: Figure) -> str:
    if figure.told:
        return _place(figure)
    return "" if figure.inputs else figure.source


def _place(figure: Figure) -> str:
    return f"{figure.span.file}:{figure.span.line}: {figure.text}"


def value_text(figure: Figure, units: str) -> str:
    """The value in units that go together, to six figures; a date or a moment as it stands."""
    if figure.value is None:
        return figure.text
    value = figure.value
    if figure.dimension is Dimension.MONEY:
        return f"{amounts.fixed(value, places_told(value, figure.word))} {figure.word}"
    if figure.dimension is Dimension.COUNT:
        return f"{rounded(value)} {_one(figure.word) if value == 1 else figure.word}".strip()
    size, word = (_US if units == US else _METRIC).get(
        figure.dimension, _METRIC.get(figure.dimension, (Fraction(1), ""))
    )
    return f"{rounded(value / size)} {word}".strip()


def _one(word: str) -> str:
    return "batch" if word == "batches" else word.removesuffix("s")


def rounded(value: Fraction) -> str:
    """`value` to six figures, half to even; whole numbers keep all of theirs."""
    size, power = abs(value), 0
    while size >= 10:
        size, power = size / 10, power + 1
    while 0 < size < 1 and power > -30:
        size, power = size * 10, power - 1
    return amounts.brief(value, max(0, DIGITS - 1 - power))


def on_the_sheet(figure: Figure, units: str) -> str:
    """The value as the sheets print it."""
    if figure.value is None:
        return ""
    kind = figure.name.partition(".")[0]
    if ".batch-" in figure.name and not figure.name.endswith(("mass", *"0123456789")):
        return ""  # as it stands above: to the step of the scale
    if kind in ("need", "net", "left"):
        return amounts.total(figure.value, figure.dimension, units)
    match figure.dimension:
        case Dimension.MONEY:
            return amounts.money(Money(amount=figure.value, currency=figure.word))
        case Dimension.TIME:
            return f"{amounts.brief(figure.value / 60, 0)} min"
        case Dimension.COUNT:
            return ""
        case Dimension.LENGTH:
            return amounts.length(figure.value, units)
        case Dimension.AREA:
            return amounts.area(figure.value, units)
        case Dimension.VOLUME:
            return amounts.volume(figure.value, units)
        case Dimension.MASS:
            return amounts.mass(figure.value, units)
        case Dimension.DENSITY:
            return amounts.density(figure.value, units)
        case Dimension.PRESSURE:
            return amounts.pressure(figure.value, units)
        case _:
            return ""
