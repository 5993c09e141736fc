"""Weights: what pieces weigh, what each lift asks of people, what fittings carry."""

from fractions import Fraction

from castlang.sheets import amounts
from castlang.sheets.basis import Basis, called
from castlang.sheets.cautions import CEILING, caution_of
from castlang.sheets.instructions import count_text
from castlang.sheets.model import Align, Block, Column, Prose, Row, Sheet, Table
from castlang.takeoff.model import Bearing, Lift, PieceTakeoff

CODE = "WEIGHTS"

# Load constant of the revised lifting equation, DHHS (NIOSH) 94-110, 1994. The two are the manual's own
# figures, each for its system of units; they are not exact conversions of one another.
LOAD_CONSTANT_KG = Fraction(23)
LOAD_CONSTANT_LB = Fraction(51)

SOURCES = {
    "shape": "from its shape",
    "mesh": "from its mesh",
    "measured": "measured",
}


def weights_sheet(basis: Basis) -> Sheet:
    blocks: list[Block] = [pieces_table(basis), lifts_table(basis)]
    if any(lift.limit is None for lift in basis.takeoff.lifts):
        blocks.append(
            Prose(
                lines=(
                    f"No limit is told: lifts are set beside {_reference(basis.units)} a person, {CEILING}",
                    "It does not hold for team lifts, awkward holds or carrying.",
                )
            )
        )
    blocks += [bearings_table(basis), caution_of("lifting", basis.units)]
    return Sheet(
        code=CODE,
        title="Weights and lifts",
        subtitle="what each lift asks of people",
        blocks=tuple(blocks),
        outline=0,
        section="Weights",
    )


def _reference(units: str) -> str:
    if units == amounts.US:
        return f"{amounts.brief(LOAD_CONSTANT_LB, 0)} lb"
    return f"{amounts.brief(LOAD_CONSTANT_KG, 0)} kg"


def _limit(lift: Lift, units: str) -> Fraction:
    if lift.limit is not None:
        return lift.limit
    return LOAD_CONSTANT_LB * amounts.POUND if units == amounts.US else LOAD_CONSTANT_KG


def pieces_table(basis: Basis) -> Table:
    return Table(
        key="piece-weights",
        title="Pieces, each copy",
        columns=(
            Column(key="piece", title="piece", share=3),
            Column(key="copies", title="copies", share=1.6),
            Column(key="volume", title="cast volume", align=Align.RIGHT, share=1.3),
            Column(key="wet", title="wet, as cast", align=Align.RIGHT, share=1.3),
            Column(key="dry", title="finished", align=Align.RIGHT, share=1.3),
            Column(key="all_copies", title="finished, all", align=Align.RIGHT, share=1.3),
            Column(key="found", title="found", share=1.4),
        ),
        rows=tuple(_piece_row(basis, piece) for piece in basis.takeoff.pieces.values()),
        empty="no piece is cast",
    )


def _piece_row(basis: Basis, taken: PieceTakeoff) -> Row:
    piece, units = basis.spec.pieces[taken.piece], basis.units
    copies = piece.count + piece.mirrored
    return Row(
        cells=(
            called(basis.spec, taken.piece),
            count_text(piece.count, piece.mirrored),
            amounts.volume(taken.volume, units),
            amounts.mass(taken.wet, units),
            amounts.mass(taken.dry, units),
            amounts.mass(taken.dry * copies, units),
            SOURCES.get(taken.source, taken.source),
        )
    )


def lifts_table(basis: Basis) -> Table:
    return Table(
        key="lifts",
        title="Lifts",
        columns=(
            Column(key="step", title="step", share=2.4),
            Column(key="things", title="what", share=2.4),
            Column(key="weight", title="weight", align=Align.RIGHT, share=1.2),
            Column(key="people", title="people", align=Align.RIGHT, share=0.8),
            Column(key="each", title="each carries", align=Align.RIGHT, share=1.2),
            Column(key="limit", title="against", align=Align.RIGHT, share=1.2),
            Column(key="verdict", title="so", share=2.4),
        ),
        rows=tuple(_lift_row(basis, lift) for lift in basis.takeoff.lifts),
        empty="no lift in this build",
    )


def _lift_row(basis: Basis, lift: Lift) -> Row:
    units, limit = basis.units, _limit(lift, basis.units)
    over = lift.each > limit
    shown = amounts.mass(limit, units) if lift.limit is not None else _reference(units)
    return Row(
        cells=(
            lift.step,
            lift.things,
            amounts.mass(lift.mass, units),
            str(lift.people),
            amounts.mass(lift.each, units),
            shown if lift.limit is not None else f"{shown}, reference",
            f"over by {amounts.mass(lift.each - limit, units)}: hoist or more people" if over else "within",
        ),
        strong=over,
    )


def bearings_table(basis: Basis) -> Table:
    return Table(
        key="bearings",
        title="What fittings carry",
        columns=(
            Column(key="step", title="step", share=2.4),
            Column(key="fitting", title="fitting", share=2.4),
            Column(key="load", title="load on it", align=Align.RIGHT, share=1.3),
            Column(key="carries", title="may carry", align=Align.RIGHT, share=1.3),
            Column(key="verdict", title="so", share=2.6),
        ),
        rows=tuple(_bearing_row(basis, bearing) for bearing in basis.takeoff.bearings),
        empty="no fitting carries a piece",
    )


def _bearing_row(basis: Basis, bearing: Bearing) -> Row:
    units = basis.units
    if bearing.carries is None:
        verdict, over = "not told: ask the maker before loading it", True
    else:
        over = bearing.mass > bearing.carries
        spare = abs(bearing.carries - bearing.mass)
        verdict = (
            f"over by {amounts.mass(spare, units)}" if over else f"{amounts.mass(spare, units)} to spare"
        )
    return Row(
        cells=(
            bearing.step,
            called(basis.spec, bearing.fitting),
            amounts.mass(bearing.mass, units),
            amounts.mass(bearing.carries, units) if bearing.carries is not None else "",
            verdict,
        ),
        strong=over,
    )


def weights_table(basis: Basis) -> Table:
    """Pieces, lifts and bearings as one table: what it is, its weight, people, each, limit, verdict."""
    rows = [
        Row(cells=("piece", row.cells[0], row.cells[4], "", "", "", f"wet {row.cells[3]}, {row.cells[6]}"))
        for row in pieces_table(basis).rows
    ]
    for row in lifts_table(basis).rows:
        step, things, weight, people, each, limit, verdict = row.cells
        rows.append(
            Row(cells=(f"lift {step}", things, weight, people, each, limit, verdict), strong=row.strong)
        )
    for row in bearings_table(basis).rows:
        step, fitting, load, carries, verdict = row.cells
        rows.append(
            Row(cells=(f"load in {step}", f"on {fitting}", load, "", "", carries, verdict), strong=row.strong)
        )
    return Table(
        key="weights",
        title="Weights and lifts",
        columns=(
            Column(key="where", title="where", share=2.2),
            Column(key="what", title="what", share=2.2),
            Column(key="weight", title="weight", align=Align.RIGHT, share=1.1),
            Column(key="people", title="people", align=Align.RIGHT, share=0.7),
            Column(key="each", title="each carries", align=Align.RIGHT, share=1.1),
            Column(key="limit", title="against", align=Align.RIGHT, share=1.3),
            Column(key="verdict", title="so", share=3),
        ),
        rows=tuple(rows),
        empty="nothing is weighed in this build",
    )
