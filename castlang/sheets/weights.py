"""Weights: what pieces weigh, what each lift asks of people, what fittings carry."""

from dataclasses import replace
from fractions import Fraction

from castlang.sheets import amounts
from castlang.sheets.basis import Basis, called
from castlang.sheets.cautions import CEILING, caution_of
from castlang.sheets.instructions import count_text
from castlang.sheets.model import Align, Block, Column, Prose, Row, Sheet, Table
from castlang.takeoff.lifting import load_constant
from castlang.takeoff.model import Bearing, Lift, PieceTakeoff

CODE = "WEIGHTS"

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
    blocks.append(bearings_table(basis))
    if basis.takeoff.shipments:
        blocks.append(shipments_table(basis))
    blocks += indications(basis)
    blocks.append(caution_of("lifting", basis.units))
    return Sheet(
        code=CODE,
        title="Weights and lifts",
        subtitle="what each lift asks of people",
        blocks=tuple(blocks),
        outline=0,
        section="Weights",
    )


def _reference(units: str) -> str:
    return amounts.mass(load_constant(units), units)


def _limit(lift: Lift, units: str) -> Fraction:
    return load_constant(units) if lift.limit is None else lift.limit


def pieces_table(basis: Basis) -> Table:
    return Table(
        key="piece-weights",
        title="Pieces, each copy",
        columns=(
            Column(key="piece", title="piece", share=3),
            Column(key="copies", title="copies", share=1.6),
            Column(key="volume", title="cast volume", align=Align.RIGHT, share=1.3),
            Column(key="wet", title="wet, and demolded", align=Align.RIGHT, share=1.4),
            Column(key="dried", title="dried out, about", align=Align.RIGHT, share=1.3),
            Column(key="dry", title="finished, at most", align=Align.RIGHT, share=1.3),
            Column(key="all_copies", title="all, at most", align=Align.RIGHT, share=1.3),
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
            amounts.cast_volume(taken.volume, units),
            amounts.mass(taken.wet, units),
            amounts.mass(taken.dried, units),
            amounts.mass(taken.dry, units),
            amounts.mass(taken.dry * copies, units),
            SOURCES.get(taken.source, taken.source),
        ),
        trace=f"weight.{taken.piece}",
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
    by_hand = lift.hoist is None
    over = lift.each > limit and by_hand
    verdict = f"over by {amounts.mass(lift.each - limit, units)}: hoist or more people" if over else "within"
    limited = amounts.mass(limit, units) if lift.limit is not None else f"{_reference(units)}, reference"
    return Row(
        cells=(
            lift.step,
            lift.things,
            amounts.mass(lift.mass, units),
            str(lift.people),
            amounts.mass(lift.each, units) if by_hand else "",
            limited if by_hand else "",
            verdict if lift.hoist is None else f"on {called(basis.spec, lift.hoist)}",
        ),
        strong=over,
        trace=f"lift.{lift.step}",
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
        trace=f"load.{bearing.step}.{bearing.fitting}",
    )


def shipments_table(basis: Basis) -> Table:
    """What leaves at once, crates with it where the pieces were placed on them."""
    units = basis.units
    rows = []
    for shipment in basis.takeoff.shipments:
        over = shipment.holds is not None and shipment.mass > shipment.holds
        holds = amounts.mass(shipment.holds, units) if shipment.holds is not None else ""
        rows.append(
            Row(
                cells=(
                    shipment.step,
                    ", ".join(called(basis.spec, name) for name in shipment.things.split(", ")),
                    str(shipment.number),
                    amounts.mass(shipment.mass, units),
                    called(basis.spec, shipment.station) if shipment.station else "",
                    holds,
                ),
                strong=over,
                trace=f"shipment.{shipment.step}",
            )
        )
    return Table(
        key="shipments",
        title="What is moved at once",
        columns=(
            Column(key="step", title="step", share=2),
            Column(key="things", title="what, with its crate where it stands on one", share=3),
            Column(key="number", title="pieces", align=Align.RIGHT, share=0.8),
            Column(key="weight", title="weight", align=Align.RIGHT, share=1.2),
            Column(key="with", title="with", share=1.6),
            Column(key="holds", title="which holds", align=Align.RIGHT, share=1.2),
        ),
        rows=tuple(rows),
    )


ENGINEER = (
    "For an indication only: no figure here says that a piece or a mold holds.",
    "A young mix has a small part of its strength: carry a thin piece on edge or on its board.",
    "The value to build by is a licensed engineer's.",
)


def indications(basis: Basis) -> list[Block]:
    """What thin pieces and filled molds bear; nothing where there are none."""
    units = basis.units
    bent = [
        Row(
            cells=(
                called(basis.spec, bending.piece),
                f"flat on its two ends, {amounts.length(bending.span, units)} apart",
                f"{amounts.length(bending.thick, units)} thick",
                f"{amounts.pressure(bending.stress, units)} of bending",
            ),
            trace=f"stress.{bending.piece}",
        )
        for bending in basis.takeoff.bendings
    ]
    pressed = [
        Row(
            cells=(
                head.step,
                "on the foot of its mold, while liquid",
                f"{amounts.length(head.depth, units)} deep",
                amounts.head(head.pressure, units),
            ),
            trace=f"head.{head.step}",
        )
        for head in basis.takeoff.heads
    ]
    if not bent and not pressed:
        return []
    table = Table(
        key="indications",
        title="Indications",
        columns=(
            Column(key="what", title="what", share=2),
            Column(key="how", title="how", share=3),
            Column(key="size", title="size", share=1.4),
            Column(key="bears", title="from its own weight", share=2),
        ),
        rows=(*bent, *pressed),
    )
    return [table, Prose(lines=ENGINEER)]


def weights_table(basis: Basis) -> Table:
    """Pieces, lifts and bearings as one table: what it is, its weight, people, each, limit, verdict."""
    rows = [
        replace(row, cells=("piece", name, dry, "", "", "", f"wet {wet}, {found}"))
        for row in pieces_table(basis).rows
        for name, _, _, wet, _, dry, _, found in (row.cells,)
    ]
    for row in lifts_table(basis).rows:
        step, things, weight, people, each, limit, verdict = row.cells
        rows.append(replace(row, cells=(f"lift {step}", things, weight, people, each, limit, verdict)))
    for row in bearings_table(basis).rows:
        step, fitting, load, carries, verdict = row.cells
        rows.append(replace(row, cells=(f"load in {step}", f"on {fitting}", load, "", "", carries, verdict)))
    return Table(
        key="weights",
        title="Weights and lifts",
        columns=(
            Column(key="where", title="where", share=2.2),
            Column(key="what", title="what", share=2.2),
            Column(key="weight", title="weight", align=Align.RIGHT, share=1.1),
            Column(key="people", title="people", align=Align.RIGHT, share=0.7, spare=1),
            Column(key="each", title="each carries", align=Align.RIGHT, share=1.1),
            Column(key="limit", title="against", align=Align.RIGHT, share=1.3, spare=2),
            Column(key="verdict", title="so", share=3),
        ),
        rows=tuple(rows),
        empty="nothing is weighed in this build",
    )
