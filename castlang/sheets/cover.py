"""The cover: what is built, by when and by whom; what is taken, waived and left open; every caution."""

import re
from collections.abc import Iterable
from pathlib import PurePath

from castlang.problems.model import Assumption, Problem, Severity
from castlang.sheets import amounts, times
from castlang.sheets.basis import Basis, called
from castlang.sheets.cautions import cautions_of
from castlang.sheets.dated_text import DatedText, aside, dated, sentence
from castlang.sheets.days_off import days_off
from castlang.sheets.hazards import hazards_of_build
from castlang.sheets.instructions import body_text, count_text, people
from castlang.sheets.model import Align, Block, Column, Facts, Prose, Row, Sheet, Table
from castlang.sheets.schedule import due_text
from castlang.sheets.stamps import stamp_of
from castlang.sheets.unfinished import unfinished
from castlang.spec.model import Done, StepRef

CODE = "COVER"
DAYS = "DAY"
MOST_LISTED = 16  # sheets of one kind named one by one; more are told as a span

KINDS = {
    "BATCH": "batch sheets, one a step that mixes",
    "CUT": "cut lists, one a board that is sold in sheets",
    "MOLD": "travellers of molds",
    "TEMP": "travellers of temporary works",
    "PIECE": "travellers of pieces, one a copy",
    "JOB": "travellers of jobs",
    DAYS: "day sheets",
}


def cover_sheet(basis: Basis, others: tuple[Sheet, ...]) -> Sheet:
    """`others` are the sheets that the contents list names."""
    build = basis.spec.build
    blocks: list[Block] = [_facts(basis), pieces_table(basis)]
    if build.notes:
        blocks.append(Prose(title="Notes", lines=build.notes, points=True))
    blocks += days_off(basis)
    blocks.append(contents_table(others))
    blocks += [findings_table(basis), waivers_table(basis), assumptions_table(basis)]
    if basis.spec.measured:
        blocks.append(measured_table(basis))
    if basis.spec.done:
        blocks.append(done_table(basis))
    open_points = unfinished(basis.spec)
    if open_points:
        blocks.append(Prose(title="Not worked out yet", lines=open_points, points=True))
    blocks += cautions_of(hazards_of_build(basis.spec), basis.units)
    blocks.append(stamps_table(others))
    return Sheet(
        code=CODE,
        title=aside(build.label or build.name),
        subtitle=aside(build.name if build.label else ""),
        blocks=tuple(blocks),
        outline=0,
        section="Cover",
    )


def _facts(basis: Basis) -> Facts:
    build, plan = basis.spec.build, basis.plan
    finish = times.date_of(plan.network.hours.start, plan.finish)
    finished = dated(f"{times.full_day(finish)} {times.clock(plan.finish % times.DAY, basis.units)}")
    pairs: list[tuple[str, str]] = [
        ("start", times.full_day(build.start)),
        ("finish", finished),
    ]
    if build.due is not None:
        pairs.append(("due", dated(f"{times.full_day(build.due)}, {due_text(basis)}")))
    pairs.append(("crew", people(build.crew).removeprefix("by ") or "not told"))
    whole = sum(hours.minutes for hours in basis.costing.hours)
    pairs.append(("work of people", times.working_hours(whole)))
    by_hand = [lift for lift in basis.takeoff.lifts if lift.hoist is None]
    heaviest = max(by_hand, key=lambda lift: lift.each, default=None)
    if heaviest is not None:
        pairs.append(
            ("heaviest lift", f"{amounts.mass(heaviest.each, basis.units)} a person, {heaviest.step}")
        )
    elif basis.takeoff.lifts:
        pairs.append(("heaviest lift", "none by hand"))
    return Facts(pairs=tuple(pairs))


def pieces_table(basis: Basis) -> Table:
    spec, rows = basis.spec, []
    for piece in spec.pieces.values():
        taken = basis.takeoff.pieces.get(piece.name)
        weight = amounts.mass(taken.dry, basis.units) if taken is not None else ""
        count = count_text(piece.count, piece.mirrored)
        rows.append(
            Row(
                cells=(called(spec, piece.name), piece.name, count, body_text(piece, basis.units), weight),
                trace=f"weight.{piece.name}" if taken is not None else "",
            )
        )
    return Table(
        key="pieces",
        title="What is built",
        columns=(
            Column(key="piece", title="piece", share=2),
            Column(key="name", title="name", share=1.3),
            Column(key="count", title="count", share=1),
            Column(key="shape", title="shape", share=4),
            Column(key="weight", title="finished, each", align=Align.RIGHT, share=1.2),
        ),
        rows=tuple(rows),
        empty="no piece is cast",
    )


# ---------------------------------------------------------------- contents


def contents_table(sheets: tuple[Sheet, ...]) -> Table:
    """One row a sheet; sheets of a kind (batches, travellers, days) share a row."""
    groups: dict[str, list[str]] = {}
    rows: dict[str, tuple[str, str, str]] = {}
    for sheet in sheets:
        kind, _, name = sheet.code.partition(" ")
        if kind in KINDS and name:
            groups.setdefault(kind, []).append(name)
            count = f"{len(groups[kind])}"
            rows[kind] = (kind, f"{KINDS[kind]}: {_names(groups[kind])}", count)
        else:
            rows[sheet.code] = (sheet.code, sheet.title, "1")
    return Table(
        key="contents",
        title="Sheets of this binder",
        columns=(
            Column(key="code", title="sheet", share=1.2),
            Column(key="title", title="what", share=7),
            Column(key="count", title="sheets", align=Align.RIGHT, share=0.7),
        ),
        rows=tuple(
            Row(cells=tuple(map(dated, cells)) if kind == DAYS else cells) for kind, cells in rows.items()
        ),
    )


def stamps_table(sheets: tuple[Sheet, ...]) -> Table:
    """Every sheet with its stamps, which take no part in the cover's own; of days there are as many as the
    plan takes."""
    rows = []
    for sheet in sheets:
        stamp = stamp_of(sheet)
        code = dated(sheet.code) if sheet.code.startswith(f"{DAYS} ") else sheet.code
        cells = (code, aside(stamp.facts), aside(stamp.dates or "none"))
        rows.append(Row(cells=cells))
    return Table(
        key="stamps",
        title="Stamps: a printed sheet that bears both of its stamps is still right",
        columns=(
            Column(key="code", title="sheet", share=2.2),
            Column(key="facts", title="facts", share=1),
            Column(key="dates", title="dates", share=1),
        ),
        rows=tuple(rows),
        abreast=2,
    )


def _names(names: list[str]) -> str:
    if len(names) <= MOST_LISTED:
        return ", ".join(names)
    return f"{names[0]} to {names[-1]}"


# ---------------------------------------------------------------- what was taken, waived, found


def assumptions(basis: Basis) -> tuple[Assumption, ...]:
    """Those of every stage, each once, in the order of the stages."""
    stages: Iterable[Assumption] = (
        *basis.spec.assumptions,
        *basis.takeoff.assumptions,
        *basis.plan.network.assumptions,
        *basis.costing.assumptions,
    )
    return tuple(dict.fromkeys(stages))


def assumptions_table(basis: Basis) -> Table:
    return Table(
        key="assumptions",
        title="Taken, because the build does not say: check each",
        columns=(
            Column(key="thing", title="thing", share=1.6),
            Column(key="taken", title="what was taken", share=4),
            Column(key="source", title="from", share=2.2),
            Column(key="line", title="the line that would say it", share=2.6),
        ),
        rows=tuple(
            Row(cells=(_thing(basis, a.subject), a.says, a.source, a.line)) for a in assumptions(basis)
        ),
        empty="nothing was taken: the build says it all",
    )


def _thing(basis: Basis, subject: str) -> str:
    """What something was taken of; a sheet is not known by the build's own name."""
    name = basis.spec.build.name
    return sentence("build ", aside(name)) if subject == f"build {name}" else subject


def waivers_table(basis: Basis) -> Table:
    return Table(
        key="waivers",
        title="Waived, with the reason",
        columns=(
            Column(key="finding", title="finding", share=1.6),
            Column(key="on", title="on", share=2.4),
            Column(key="reason", title="reason", share=5),
        ),
        rows=tuple(Row(cells=(w.finding, ", ".join(w.on), w.reason)) for w in basis.spec.waivers),
        empty="nothing was waived",
    )


def findings_table(basis: Basis) -> Table:
    weight = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}
    problems = sorted(basis.problems, key=lambda problem: weight[problem.finding.severity])
    return Table(
        key="findings",
        title="Found in the build and still open",
        columns=(
            Column(key="weight", title="weight", share=0.8),
            Column(key="finding", title="finding", share=1.4),
            Column(key="message", title="what was found", share=4),
            Column(key="remedy", title="what to do", share=3.4),
            Column(key="place", title="line", share=1.4),
        ),
        rows=tuple(_finding_row(problem) for problem in problems),
        empty="nothing is open",
    )


def _finding_row(problem: Problem) -> Row:
    """The file's own name is enough on paper: its folders would leave no room for the words."""
    place, finding = problem.span, problem.finding
    known = place.line > 0
    told = (finding.severity.value, finding.name, problem.message, problem.remedy or finding.remedy)
    line = aside(f"{PurePath(place.file).name}:{place.line}" if known else "")
    return Row(
        cells=(*(_placeless(text, place.file, dates=finding.dated) for text in told), line),
        strong=problem.finding.severity is not Severity.NOTE,
        data=(("place", str(place)),) if known else (),
    )


def _placeless(text: str, file: str, *, dates: bool) -> DatedText:
    """A text of dates or of facts in which the lines of a file that it names take no part."""
    said = re.sub(rf"{re.escape(file)}:\d+", "", text) if file else text
    return DatedText(text, dates=said) if dates else DatedText(text, facts=said)


def measured_table(basis: Basis) -> Table:
    return Table(
        key="measured",
        title="Measured, and used in place of what is worked out",
        columns=(
            Column(key="what", title="what", share=1),
            Column(key="of", title="of", share=2),
            Column(key="amount", title="amount", align=Align.RIGHT, share=1.4),
            Column(key="how", title="how", share=4),
        ),
        rows=tuple(
            Row(cells=(m.what, m.of, amounts.amount(m.amount, basis.units), m.how))
            for m in basis.spec.measured
        ),
    )


def done_table(basis: Basis) -> Table:
    units = basis.units
    return Table(
        key="done",
        title="Recorded as done",
        columns=(
            Column(key="step", title="step", share=2.4),
            Column(key="from", title="from", share=1.8),
            Column(key="to", title="to", share=1.8),
            Column(key="temperature", title="at", share=0.9),
            Column(key="people", title="by", share=0.8),
            Column(key="lots", title="lots", share=2),
            Column(key="text", title="what happened", share=3),
        ),
        rows=tuple(
            Row(
                cells=(
                    step_ref_text(done.step),
                    times.point(done.start, units),
                    times.point(done.end, units),
                    amounts.temperature(done.at, units) if done.at is not None else "",
                    people(done.gang).removeprefix("by "),
                    ", ".join(f"{called(basis.spec, stock)}: {lot}" for stock, lot in done.lots),
                    done.text or "",
                )
            )
            for done in sorted(basis.spec.done, key=_done_order)
        ),
    )


def _done_order(done: Done) -> tuple[object, ...]:
    return (done.start, done.end, step_ref_text(done.step))


def step_ref_text(ref: StepRef) -> str:
    """`tread.m1.nose`, `stool.3.hone.grit-120`."""
    copy = ""
    if ref.copies.first is not None:
        copy = f"{'m' if ref.copies.mirrored else ''}{ref.copies.first}"
    return ".".join(word for word in (ref.owner, copy, ref.step, ref.part) if word)
