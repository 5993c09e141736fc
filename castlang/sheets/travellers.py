"""Travellers: one for each copy of a piece, each mold and temporary work, each job. It goes with the work."""

from dataclasses import replace

from castlang.plan.model import GapEdge, Task
from castlang.sheets import amounts
from castlang.sheets.basis import Basis, Owner, called, copy_order, is_arrival, owner_of, with_copy
from castlang.sheets.cautions import in_short, titles_of
from castlang.sheets.cut_list import panels_table
from castlang.sheets.drying_out import drying_line
from castlang.sheets.hazards import hazards_of_gap, hazards_of_step, unique
from castlang.sheets.instructions import body_text, lines_of, shape_text, task_title, writes_of
from castlang.sheets.model import (
    Block,
    Facts,
    Item,
    Items,
    Prose,
    Sheet,
    WriteIn,
)
from castlang.sheets.tending import tending_line
from castlang.sheets.used_notes import used_notes
from castlang.sheets.waits import bounds, gaps_of, loose_gaps, passing_into, texts_of, until, wait_items
from castlang.spec.model import Job, Mold, Piece, StepKind

SECTIONS = {"PIECE": "Pieces", "MOLD": "Molds", "TEMP": "Temporary", "JOB": "Jobs"}

NOT_TOLD = "not told"

MIRRORED = "mirrored: left is right"
OTHER_HAND = {"left": "right", "right": "left"}

# Steps that are ticked alone: nobody asks later when a sheet of plastic was pulled over.
UNRECORDED = frozenset({StepKind.COVER, StepKind.UNCOVER, StepKind.TAKE, StepKind.FREE})


def travellers(basis: Basis) -> tuple[Sheet, ...]:
    """Molds and temporary works, pieces, jobs; each kind in the order in which the plan begins them."""
    groups: dict[tuple[str, str], list[Task]] = {}
    for task in basis.run:
        if is_arrival(task):
            continue
        copy = "" if task.owner in basis.spec.jobs else task.copy
        groups.setdefault((task.owner, copy), []).append(task)
    order = list(groups)
    kinds = {name: kind_of(owner_of(basis.spec, name)) for name, _ in order}
    rank = {kind: index for index, kind in enumerate(("MOLD", "TEMP", "PIECE", "JOB"))}
    first = {name: index for index, (name, _) in reversed(list(enumerate(order)))}
    order.sort(key=lambda key: (rank[kinds[key[0]]], first[key[0]], copy_order(key[1])))
    told: dict[str, str] = {}
    for name, copy in order:
        told.setdefault(name, _code(basis, name, copy))
    return tuple(_sheet(basis, name, copy, tuple(groups[(name, copy)]), told[name]) for name, copy in order)


def kind_of(owner: Owner | None) -> str:
    """Whether an owner is a mold, a temporary work, a piece or a job."""
    match owner:
        case Piece():
            return "PIECE"
        case Mold():
            return "TEMP" if owner.temporary else "MOLD"
        case _:
            return "JOB"


def code_of_traveller(basis: Basis, task: Task) -> str:
    """The code of the sheet that a task stands on: `PIECE stool.3`, `JOB strip`."""
    return _code(basis, task.owner, "" if task.owner in basis.spec.jobs else task.copy)


def _code(basis: Basis, owner: str, copy: str) -> str:
    return f"{kind_of(owner_of(basis.spec, owner))} {with_copy(owner, copy)}"


def _sheet(basis: Basis, name: str, copy: str, tasks: tuple[Task, ...], told: str) -> Sheet:
    """`told`: the sheet of the first copy, which alone bears what is the same for all: the shape, the notes
    and what to do about the hazards. The others point to it; each line of work keeps its warnings."""
    owner = owner_of(basis.spec, name)
    kind = kind_of(owner)
    numbered = f", {copy}" if copy else ""
    words, code = hazards_of(basis, tasks), _code(basis, name, copy)
    first = code == told
    blocks: list[Block] = [_facts(basis, owner, copy, tasks, None if first else told)]
    if owner is not None and owner.notes and first:
        blocks.append(Prose(title="Notes", lines=owner.notes, points=True))
    if first:
        blocks += used_notes(basis, [(task.owner, task.step) for task in tasks])
    if words and first:
        blocks.append(in_short("Before you start", words))
    if isinstance(owner, Mold) and any(panel.mold == name for panel in basis.takeoff.panels):
        blocks.append(panels_table(basis, name))
    items = [item for task in tasks for item in items_of(basis, task)]
    blocks.append(Items(items=tuple(items)))
    blocks.append(WriteIn(lines=(("checked by", 0.25), ("date", 0.2), ("what was different", 0.55))))
    return Sheet(
        code=code,
        title=f"{called(basis.spec, name)}{numbered}",
        subtitle=with_copy(name, copy),
        blocks=tuple(blocks),
        section=SECTIONS[kind],
    )


# ---------------------------------------------------------------- the head of a sheet


def _facts(basis: Basis, owner: Owner | None, copy: str, tasks: tuple[Task, ...], told: str | None) -> Facts:
    """told: the sheet that bears the rest; None for the first copy's own."""
    begin = min(basis.placed[task.name].start for task in tasks)
    end = max(basis.placed[task.name].end for task in tasks)
    pairs: list[tuple[str, str]] = [("from", basis.moment(begin)), ("to", basis.moment(end))]
    if told is not None:
        if isinstance(owner, Piece) and copy.startswith("m"):
            pairs += [("hand", MIRRORED), *_placed_parts(basis, owner, copy)]
        pairs.append(("shape, notes, cautions", f"sheet {told}"))
    elif isinstance(owner, Piece):
        pairs += _piece_facts(basis, owner, copy)
    elif isinstance(owner, Mold):
        pairs += _mold_facts(basis, owner)
    elif isinstance(owner, Job):
        pairs.append(("done", "once, for the whole build"))
    return Facts(pairs=tuple(pairs))


def _piece_facts(basis: Basis, piece: Piece, copy: str) -> list[tuple[str, str]]:
    units = basis.units
    pairs = [("shape", body_text(piece, units))]
    if copy.startswith("m"):
        pairs.append(("hand", MIRRORED))
    pairs += _placed_parts(basis, piece, copy)
    for lip in piece.lips:
        pairs.append((f"lip {lip.name}", f"{amounts.length(lip.deep, units)} on {lip.on}"))
    for face, members in piece.faces.items():
        pairs.append((f"face {face}", ", ".join(members)))
    taken = basis.takeoff.pieces.get(piece.name)
    if taken is not None:
        for face, size in taken.faces.items():
            if face in piece.faces:
                pairs.append((f"area of {face}", amounts.area(size, units)))
        pairs.append(
            ("weight", f"{amounts.mass(taken.wet, units)} wet, {amounts.mass(taken.dry, units)} finished")
        )
    return pairs


def _placed_parts(basis: Basis, piece: Piece, copy: str) -> list[tuple[str, str]]:
    """What is added and cut out, with its place as it is on this copy: what is told from the left of a plain
    one is told from the right of a mirrored one."""
    hand = OTHER_HAND if copy.startswith("m") else {}
    middles = {a.subject: a.line for a in basis.takeoff.assumptions if a.line.startswith("placed ")}
    pairs = []
    for part in piece.parts:
        text = shape_text(part.shape, basis.units) + (f" on {part.on}" if part.on else "")
        for at, edge in part.placed:
            text += f", {amounts.length(at, basis.units)} from {hand.get(edge, edge)}"
        middle = middles.get(f"{part.name} of {piece.name}")
        if middle and not part.placed:
            # From the middle it is as far to the one edge as to its twin: right on a mirrored copy too.
            text += f", in the middle, {middle.removeprefix('placed ')}: taken, since no place is told"
        pairs.append((f"{'plus' if part.plus else 'less'} {part.name}", text))
    return pairs


def _mold_facts(basis: Basis, mold: Mold) -> list[tuple[str, str]]:
    pairs = []
    if mold.fits:
        pairs.append(("for", ", ".join(called(basis.spec, piece) for piece in mold.fits)))
    if mold.board is not None:
        pairs.append(("board", called(basis.spec, mold.board)))
    for edge in mold.edges:
        pairs.append(("edges", f"{edge.kind} {amounts.length(edge.size, basis.units)}"))
    if mold.lasts is not None:
        pairs.append(("lasts", f"{mold.lasts} casting{'s' if mold.lasts != 1 else ''}"))
    return pairs


# ---------------------------------------------------------------- the work


def hazards_of(basis: Basis, tasks: tuple[Task, ...]) -> tuple[str, ...]:
    """The hazards of the tasks and of the waits above them, in the order of the work."""
    words: list[str] = []
    for task in tasks:
        step = basis.steps.get((task.owner, task.step))
        words += hazards_of_step(basis.spec, step) if step is not None else ()
        words += [word for gap in gaps_of(basis, task) for word in hazards_of_gap(gap)]
    return unique(words)


def items_of(basis: Basis, task: Task) -> tuple[Item, ...]:
    """The waits above a task, then the task, as they stand on its traveller."""
    above = passing_into(basis, task.name)
    waits = wait_items(basis, task)
    visits = tending_line(basis, task)
    if visits:
        waits = (replace(waits[0], lines=(*waits[0].lines, visits)), *waits[1:])
    return (*waits, item_of(basis, task, full=task.owner in basis.spec.jobs, above=above))


def _taken(basis: Basis, task: Task, *, full: bool, boxes: tuple[str, ...]) -> Item:
    """A step that is only taken as done: no time that nobody told, and room to write down what is known."""
    return Item(
        when=NOT_TOLD,
        what=task_title(basis, task, full=full),
        lines=("taken as done, since a later step is; write down what is known",),
        write=(*boxes, *writes_of(basis, task)),
    )


def item_of(basis: Basis, task: Task, *, full: bool, above: tuple[GapEdge, ...] = ()) -> Item:
    """`full` names the owner and copy, as day sheets and jobs need. above: the waits that stand over it."""
    step = basis.steps.get((task.owner, task.step))
    words = hazards_of_step(basis.spec, step) if step is not None else ()
    loose = loose_gaps(basis, task)
    words = unique([*words, *(word for gap in loose for word in hazards_of_gap(gap))])
    recorded = task.minutes and (step is None or step.kind not in UNRECORDED)
    boxes = ("began", "ended", "by") if recorded else ()
    if task.taken:
        return _taken(basis, task, full=full, boxes=boxes)
    done = task.done is not None
    limits = () if done else (drying_line(basis, task), *bounds(basis, task, above))
    return Item(
        when=basis.moment(basis.placed[task.name].start),
        what=task_title(basis, task, full=full),
        until="" if done else until(basis, task),
        lines=(*lines_of(basis, task), *filter(None, limits), *texts_of(loose, basis.units)),
        write=() if done else (*boxes, *writes_of(basis, task), *(w for gap in loose for w in gap.writes)),
        caution=titles_of(words),
        critical=task.name in basis.critical,
        done=done,
    )
