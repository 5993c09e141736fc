"""A step in shop words: what to do, with how much, by whom."""

from fractions import Fraction

from castlang.plan.model import Task
from castlang.plan.records.recorded import done_of
from castlang.sheets import amounts, times
from castlang.sheets.basis import Basis, called, is_ready, volume_text, with_copy
from castlang.sheets.dated_text import dated, joined, sentence
from castlang.sheets.handling import load_lines
from castlang.sheets.shared_sheets import batches_into, code_of, sheet_of
from castlang.spec.model import Done, FaceRef, Gang, Piece, Shape, Spec, Step, StepKind, ThingRef
from castlang.spec.quantity import Dimension
from castlang.takeoff.model import StepPart, StepTakeoff


def work_name(task: Task) -> str:
    """The task inside its owner: `hone.grit-120`."""
    return f"{task.step}.{task.part}" if task.part else task.step


def people(gang: tuple[Gang, ...] | tuple[tuple[str | None, int], ...]) -> str:
    """`by 2 caster, 1 finisher`, `by 3`; empty when nobody is needed."""
    pairs = [(g.role, g.count) if isinstance(g, Gang) else g for g in gang]
    told = [f"{count} {role}" if role else str(count) for role, count in pairs if count]
    return f"by {', '.join(told)}" if told else ""


def faces(owner: str, on: tuple[FaceRef, ...]) -> str:
    """The faces' names; those of another piece with its name."""
    return ", ".join(ref.face if ref.piece == owner else f"{ref.piece}.{ref.face}" for ref in on)


def things(spec: Spec, refs: tuple[ThingRef, ...]) -> str:
    """The things that a step handles, in words."""
    return ", ".join(f"{called(spec, ref.name)}{_copies(spec, ref)}" for ref in refs)


def _copies(spec: Spec, ref: ThingRef) -> str:
    """Which copies are meant; an only one has no number."""
    made = spec.pieces.get(ref.name) or spec.molds.get(ref.name)
    if made is None or (made.count, made.mirrored) == (1, 0):
        return ""
    copies = ref.copies
    if copies.each:
        return ", each"
    if copies.first is None:
        return ""
    mark = "m" if copies.mirrored else ""
    last = f" to {mark}{copies.last}" if copies.last not in (None, copies.first) else ""
    return f" {mark}{copies.first}{last}"


def act(spec: Spec, step: Step, part: str, units: str) -> str:
    """What to do, in one line: `7 mm of Hand-laid backer on all, laid`."""
    words = [_lead(spec, step, part, units)]
    where = faces(step.owner, step.on)
    if where and step.kind is not StepKind.RELEASE:
        words.append(f"on {where}")
    if step.kind is StepKind.INSERT and step.onto is not None:
        words.append(f"on {called(spec, step.onto.name)}")
    if step.cavity is not None:
        piece, cavity = step.cavity
        inside = cavity or "the body"
        where = inside if piece == step.owner else f"{inside} of {called(spec, piece)}"
        if step.full and not part:
            words = [f"fill {where} with {called(spec, step.material or '')}"]
        else:
            words.append(f"into {where}")
    method = "" if step.kind in (StepKind.POUR, StepKind.PRESS) else step.method
    how = [method or "", f"laps {amounts.length(step.laps, units)}" if step.laps is not None else ""]
    if step.grits:
        how.append("wet" if step.wet else "dry")
    return ", ".join(word for word in (" ".join(words).strip(), *how) if word)


def _lead(spec: Spec, step: Step, part: str, units: str) -> str:
    material = called(spec, step.material) if step.material else ""
    target = called(spec, step.target) if step.target else ""
    listed = things(spec, step.things)
    number = part.rpartition("-")[2]
    match step.kind:
        case StepKind.TAKE:
            return f"take {target}".strip()
        case StepKind.FREE:
            return f"give back {target}".strip()
        case StepKind.DEMOLD:
            return f"take out of {target}" if target else "take out of the mold"
        case StepKind.RELEASE:
            behind = faces(step.owner, step.on)
            where = f", behind {behind}" if behind not in ("", "all") else ", all over"
            return f"{material or 'release agent'} on the mold{where}"
        case StepKind.COVER:
            return f"cover {_covered(spec, step)} and keep it covered"
        case StepKind.UNCOVER:
            return f"uncover {_covered(spec, step)}"
        case StepKind.TEND:
            return ""  # the name says it
        case StepKind.PLACE:
            return f"place {listed}" + (f" on {called(spec, step.onto.name)}" if step.onto else "")
        case StepKind.MOVE | StepKind.TEST:
            return f"{step.kind.value} {listed}".strip()
        case StepKind.LOAD:
            return f"fill {_amount(step, units)} of {material}"
        case StepKind.WORK:
            return " ".join(word for word in (step.label or "", f"on {listed}" if listed else "") if word)
        case _ if step.grits:
            return f"grit {number}" if part.startswith("grit-") else f"grit {_listed(step.grits)}"
        case _ if part.startswith("coat-"):
            film = f", {_amount(step, units)} in all" if _is_film(step) else ""
            return f"coat {number} of {material}{film}"
        case StepKind.POUR if part.startswith("lift-"):
            amount = "" if step.full else f"{_amount(step, units)} of "
            return f"lift {number}: {amount}{material}"
        case _:
            return f"{_amount(step, units)} of {material}".strip()


def _covered(spec: Spec, step: Step) -> str:
    """What is covered; a job covers what it has made."""
    return "the work" if step.owner in spec.jobs else called(spec, step.owner)


def _listed(grits: tuple[int, ...]) -> str:
    return ", ".join(str(grit) for grit in grits)


def _is_film(step: Step) -> bool:
    amount = step.amount
    return step.kind is StepKind.PASS and amount is not None and amount.dimension is Dimension.LENGTH


def _amount(step: Step, units: str) -> str:
    if step.full or step.amount is None:
        return "full"
    if _is_film(step):
        return f"{amounts.film_thickness(step.amount.si, units)} {'dry' if step.wet is False else 'wet'} film"
    return amounts.amount(step.amount, units)


# ---------------------------------------------------------------- lines under a step


def part_of(takeoff: StepTakeoff | None, suffix: str) -> StepPart | None:
    """Which coat, lift or grit of its step a task is, in words."""
    parts = takeoff.parts if takeoff is not None else ()
    return next((part for part in parts if part.suffix == suffix), None)


def lines_of(basis: Basis, task: Task) -> tuple[str, ...]:
    """Everything that the crew must know beside what to do and when, most needed first."""
    step = basis.steps.get((task.owner, task.step))
    quantities = basis.takeoff.steps.get((task.owner, task.step))
    part = part_of(quantities, task.part)
    batches = batches_of(basis, task)
    sizes = _sizes(basis, quantities, step) if part is None or _is_first(quantities, part) else ""
    lines = [effort(basis, task) if batches else joined(effort(basis, task), sizes)]
    if step is not None and step.instruction:
        lines.append(step.instruction)
    lines.append(joined(batches, sizes) if batches else "")
    lines += handled(basis, task)
    if quantities is not None and (part is None or _is_first(quantities, part)):
        lines.append(_stores(basis, quantities))
    lines += _spells(basis, task)
    lines += _noted(step, basis.units)
    lines += [_done(basis, done) for done in done_of(basis.spec, task)]
    return tuple(line for line in lines if line)


def handled(basis: Basis, task: Task) -> tuple[str, ...]:
    """How deep a lift of a pour is, and what the step weighs: what the hands must know, on every sheet."""
    part = part_of(basis.takeoff.steps.get((task.owner, task.step)), task.part)
    if part is not None and part.depth is not None and part.suffix.startswith("lift-"):
        return (f"this lift {amounts.length(part.depth, basis.units)} deep", *load_lines(basis, task))
    return load_lines(basis, task)


def told_of(basis: Basis, task: Task) -> tuple[str, ...]:
    """What the build says to whoever does a task: its instruction, its notes, how warm to keep it."""
    step = basis.steps.get((task.owner, task.step))
    instruction = step.instruction if step is not None else None
    return (*((instruction,) if instruction else ()), *_noted(step, basis.units))


def writes_of(basis: Basis, task: Task) -> tuple[str, ...]:
    """What the crew fills in for a task, beside when and by whom."""
    step = basis.steps.get((task.owner, task.step))
    return step.writes if step is not None else ()


def _noted(step: Step | None, units: str) -> tuple[str, ...]:
    if step is None:
        return ()
    return (*step.notes, *([f"keep at {_at(step, units)}"] if step.at is not None else []))


def effort(basis: Basis, task: Task) -> str:
    """`40 min, to 09:40; by 2; using Pan mixer`."""
    placed = basis.placed[task.name]
    using = [called(basis.spec, need.resource) for need in task.needs]
    end = basis.moment_after(placed.start, placed.end)
    words = [
        sentence(times.span(basis.minutes(task)), dated(f", to {end}")) if task.minutes else "",
        people(task.crew),
        f"using {', '.join(using)}" if using else "",
    ]
    return joined(*words)


def _at(step: Step, units: str) -> str:
    return amounts.temperature(step.at or Fraction(0), units)


def batches_of(basis: Basis, task: Task) -> str:
    """How many batches, and where they stand; empty when the task mixes nothing."""
    code = code_of(*sheet_of(basis, task.owner, task.step))
    shared = batches_into(basis, task.name)
    if shared:
        return f"from {', '.join(shared)}, cast together: sheet {code}"
    part = part_of(basis.takeoff.steps.get((task.owner, task.step)), task.part)
    count = len(part.batches) if part is not None else 0
    if not count:
        return ""
    return f"{count} batch{'es' if count != 1 else ''}: sheet {code}"


def _is_first(quantities: StepTakeoff | None, part: StepPart) -> bool:
    return quantities is not None and part is quantities.parts[0]


def _sizes(basis: Basis, quantities: StepTakeoff | None, step: Step | None) -> str:
    """`0.528 m2, 41.1 mL, 79.2 g`, of all coats, lifts or grits together."""
    if quantities is None:
        return ""
    units, material = basis.units, step.material if step is not None else None
    sizes = [
        amounts.area(quantities.area, units) if quantities.area else "",
        volume_text(basis.spec, material, quantities.volume, units) if quantities.volume else "",
        amounts.mass(quantities.mass, units) if quantities.mass else "",
    ]
    told = ", ".join(size for size in sizes if size)
    return f"in all {told}" if told and len(quantities.parts) > 1 else told


def _stores(basis: Basis, quantities: StepTakeoff) -> str:
    """What is fetched for a step that mixes no batches."""
    if quantities.shares or any(part.batches for part in quantities.parts) or not quantities.uses:
        return ""
    uses = [
        f"{_use(use.gross, use.dimension, basis.units)} {called(basis.spec, use.stock)}"
        for use in quantities.uses
    ]
    waste = f", waste {amounts.share(quantities.waste)} in it" if quantities.waste else ""
    many = len(quantities.parts) > 1
    return f"from the stores{', in all' if many else ''}: {', '.join(uses)}{waste}"


def _use(gross: Fraction, dimension: Dimension, units: str) -> str:
    match dimension:
        case Dimension.MASS:
            return amounts.mass(gross, units)
        case Dimension.VOLUME:
            return amounts.volume(gross, units)
        case Dimension.AREA:
            return amounts.area(gross, units)
        case Dimension.LENGTH:
            return amounts.length(gross, units)
        case _:
            return amounts.brief(gross, 3)


def _spells(basis: Basis, task: Task) -> list[str]:
    spells = basis.placed[task.name].spells
    if len(spells) < 2:
        return []
    told = ", ".join(f"{basis.moment(a)} to {basis.moment_after(a, b)}" for a, b in spells)
    return [dated(f"worked {told}")]


def _done(basis: Basis, done: Done) -> str:
    units = basis.units
    return ", ".join(
        word
        for word in (
            f"done {times.point(done.start, units)} to {times.point(done.end, units)}",
            f"at {amounts.temperature(done.at, units)}" if done.at is not None else "",
            people(done.gang),
            done.text or "",
            *(f"lot of {called(basis.spec, stock)}: {lot}" for stock, lot in done.lots),
        )
        if word
    )


# ---------------------------------------------------------------- pieces


def shape_text(shape: Shape, units: str) -> str:
    """`slab 1050 mm long, 310 mm wide, 60 mm thick`."""
    sizes = [f"{amounts.length(size, units)} {word}" for word, size in shape.sizes.items()]
    for leg in shape.legs:
        turn = f", turn {amounts.brief(leg.turn, 2)} deg" if leg.turn is not None else ""
        sizes.append(f"leg {amounts.length(leg.long, units)}{turn}")
    return f"{shape.kind} {', '.join(sizes)}".strip()


def body_text(piece: Piece, units: str) -> str:
    """The plain body, or the mesh file that stands for it."""
    if piece.shape is not None:
        return shape_text(piece.shape, units)
    return f"mesh {piece.mesh.file}" if piece.mesh is not None else ""


def count_text(count: int, mirrored: int) -> str:
    """A count with its word, one or many: `1 casting`, `2 castings`."""
    return f"{count} and {mirrored} mirrored" if mirrored else str(count)


def task_title(basis: Basis, task: Task, *, full: bool) -> str:
    """`hone.grit-120: grit 120, on show, wet`; with the owner and copy when `full`."""
    if is_ready(task):
        return f"{with_copy(task.owner, task.copy)} is ready for what comes next"
    step = basis.steps.get((task.owner, task.step))
    name = f"{with_copy(task.owner, task.copy)}.{work_name(task)}" if full else work_name(task)
    done = act(basis.spec, step, task.part, basis.units) if step is not None else ""
    return f"{name}: {done}" if done else name
