"""Lines of work: what each must say, and what it may."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from fractions import Fraction

from castlang.spec import findings
from castlang.spec.amounts import (
    count_of,
    date_of,
    moment_of,
    positive,
    quantity_of,
    share_of,
    window_of,
)
from castlang.spec.block import Block, text_of, word_of
from castlang.spec.builds import gangs_of
from castlang.spec.model import Mix, Mold, Step, StepKind, Window
from castlang.spec.names import one_of
from castlang.spec.quantity import Dimension, Quantity
from castlang.spec.references import Scope, face_refs, thing_ref, thing_refs, things_of
from castlang.syntax.model import Part, Statement, Word

_TAIL = frozenset({"takes", "rate", "by", "using", "at", "share_lost", "earliest", "latest", "pause", "each", "overlap"})
CLAUSES: Mapping[str, frozenset[str]] = {
    "layer": _TAIL | {"on", "method"},
    "press": _TAIL | {"on"},
    "pour": _TAIL | {"into"},
    "scrim": _TAIL | {"on", "laps"},
    "insert": _TAIL | {"on"},
    "pass": _TAIL | {"on", "method", "wetness", "between"},
    "work": _TAIL | {"on", "wetness"},
    "test": _TAIL,
    "place": _TAIL | {"on"},
    "move": _TAIL,
    "load": _TAIL | {"on"},
    "take": _TAIL,
    "free": _TAIL,
    "demold": _TAIL,
    "release": _TAIL | {"on", "method"},
    "cure": frozenset({"at", "shelter", "takes", "by", "tend"}),
    "dry": frozenset({"at"}),
    "wait": frozenset(),
    "within": frozenset(),
    "done": frozenset({"at", "by"}),
}
"""Which clauses mean something on which line."""

WORDS = {"share_lost": "waste", "wetness": "wet or dry", "method": "the way it is put on", "shelter": "covered or open",
         "pause": "may-pause"}  # fmt: skip


def clauses_of(scope: Scope, line: Statement) -> dict[str, Part]:
    """The clauses of a line by label; doubled ones and ones without meaning there are told."""
    found: dict[str, Part] = {}
    allowed = CLAUSES[line.kind]
    known = frozenset().union(*CLAUSES.values())
    for part in line.clauses():
        if part.label not in known:
            continue
        word = WORDS.get(part.label, part.label)
        if part.label == "pause":
            word = _first(part)
            label = "through-breaks" if word == "through-breaks" else "pause"
        else:
            label = part.label
        if part.label not in allowed:
            scope.ledger.say(findings.OUT_OF_PLACE, f"`{word}` means nothing on a `{line.kind}` line", part.span)
        elif label in found:
            scope.ledger.say(
                findings.SAID_TWICE,
                f"`{word}` is said twice on one step",
                part.span,
                related=((found[label].span, "the first one"),),
            )
        else:
            found[label] = part
    return found


def _first(part: Part) -> str:
    child = part.children[0] if part.children else None
    return child.text if isinstance(child, Word) else ""


def step_of(scope: Scope, line: Statement, mixes: Mapping[str, Mix], molds: Mapping[str, Mold]) -> Step | None:
    """One line of work; None when it cannot be made out (then told)."""
    owner = scope.own
    if owner is None:
        return None
    clauses = clauses_of(scope, line)
    made = Step(
        kind=StepKind(line.kind),
        owner=owner.name,
        name=step_name(line) or line.kind,
        span=line.span,
    )
    made = with_tail(scope, line, clauses, made)
    read = _READ.get(line.kind)
    if read is not None:
        made = read(scope, line, clauses, made)
    _need_work(scope, line, clauses, made)
    return made


def step_name(line: Statement) -> str | None:
    """The name that people call a step by; None for lines that are no steps."""
    if line.kind in ("wait", "within", "cure", "dry", "after"):
        return None
    if line.kind in ("take", "free"):
        target = word_of(line.body, "thing")
        return None if target is None else f"{line.kind}-{target}"
    if line.kind in ("demold", "release"):
        return line.kind
    return word_of(line.body, "name")


def with_tail(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> Step:
    """What every step may say."""
    ledger = scope.ledger
    block = Block(ledger, line, frozenset({"write", "hazard", "under", "note"}))
    pause = clauses.get("pause")
    texts = line.texts()
    if len(texts) > 1:
        ledger.say(findings.SAID_TWICE, "the step has two texts", texts[1].span, "put the second one on a `note` line")
    takes = clauses.get("takes")
    rate = clauses.get("rate")
    if takes is not None and rate is not None:
        ledger.say(findings.SAID_TWICE, "the step says both `takes` and `rate`", rate.span, "keep the one that is true")
    rate_part = rate.part("amount") if rate is not None else None
    found = quantity_of(ledger, rate_part, Dimension.AREA_RATE, Dimension.VOLUME_RATE) if rate_part is not None else None
    if rate_part is not None and positive(ledger, found, rate_part) is None:
        found = None
    return replace(
        step,
        takes=amount_on(scope, takes, Dimension.TIME),
        rate=found,
        gang=gangs_of(ledger, clauses["by"]) if "by" in clauses else (),
        using=_stations(scope, clauses.get("using")),
        at=_temperature(scope, clauses.get("at")),
        waste=_share(scope, clauses.get("share_lost")),
        earliest=_moment(scope, clauses.get("earliest"), end=False),
        latest=_moment(scope, clauses.get("latest"), end=True),
        may_pause=pause is not None and _first(pause) == "may-pause",
        through_breaks="through-breaks" in clauses,
        overlap=amount_on(scope, clauses.get("overlap"), Dimension.TIME),
        each=_each(scope, clauses.get("each")),
        instruction=texts[0].text[1:-1] if texts else None,
        notes=block.notes(),
        writes=tuple(text_of(under.body) or "" for under in block.all("write")),
        hazards=tuple(
            w.text
            for under in block.all("hazard")
            for names in (under.body.part("names"),)
            if names is not None
            for w in names.words("thing")
        ),
    )


def amount_on(scope: Scope, clause: Part | None, dimension: Dimension) -> Fraction | None:
    """The positive SI value of a clause's amount."""
    part = clause.part("amount") if clause is not None else None
    return None if part is None else positive(scope.ledger, quantity_of(scope.ledger, part, dimension), part)


def _temperature(scope: Scope, clause: Part | None) -> Fraction | None:
    part = clause.part("amount") if clause is not None else None
    found = quantity_of(scope.ledger, part, Dimension.TEMPERATURE) if part is not None else None
    return None if found is None else found.si


def _share(scope: Scope, clause: Part | None) -> Fraction | None:
    part = clause.part("amount") if clause is not None else None
    return None if part is None else share_of(scope.ledger, part, most=300)


def _moment(scope: Scope, clause: Part | None, *, end: bool) -> datetime | None:
    part = clause.part("date") if clause is not None else None
    if clause is None or part is None:
        return None
    return moment_of(scope.ledger, date_of(scope.ledger, part), clause.part("time"), end_of_day=end)


def _stations(scope: Scope, clause: Part | None) -> tuple[str, ...]:
    names = clause.part("names") if clause is not None else None
    found: list[str] = []
    for word in names.words("thing") if names is not None else ():
        station = one_of(scope.ledger, scope.names, word.text, word.span, ("station",))
        if station is not None and station.name not in found:
            found.append(station.name)
    return tuple(found)


def _each(scope: Scope, clause: Part | None) -> str | None:
    word = clause.word("word") if clause is not None else None
    if word is None:
        return None
    if scope.own is not None and scope.own.kind != "job":
        scope.ledger.say(findings.OUT_OF_PLACE, "`each` stands on a job's step; a piece's step is done for each copy anyway", word.span)
        return None
    piece = one_of(scope.ledger, scope.names, word.text, word.span, ("piece",))
    return piece.name if piece is not None else None


def _need_work(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> None:
    """Work says how long and by how many; taking a mold or a station from its place does not."""
    free = step.kind in (StepKind.TAKE, StepKind.FREE, StepKind.RELEASE)
    if free and step.target is not None:
        named = scope.names.get(step.target)
        free = named is None or named.kind != "temp"
    missing = []
    if "takes" not in clauses and "rate" not in clauses:
        missing.append("`takes` or `rate`")
    if "by" not in clauses:
        missing.append("`by`")
    half = len(missing) == 1
    if not missing or line.broken or (free and not half):
        return
    scope.ledger.say(
        findings.NOT_SAID,
        f"the step `{step.name}` does not say {' nor '.join(missing)}",
        line.span,
        "say how long it takes and by how many people, as in `takes 35 min by 2`",
    )


def _need(scope: Scope, line: Statement, present: bool, what: str, example: str) -> None:
    if not present and not line.broken:
        scope.ledger.say(findings.NOT_SAID, f"the line does not say {what}", line.span, f"add it, as in `{example}`")


def material_of(scope: Scope, line: Statement, *kinds: str) -> str | None:
    """The name behind `of`, when it is of one of `kinds`."""
    word = line.body.word("material")
    found = one_of(scope.ledger, scope.names, word.text, word.span, kinds) if word is not None else None
    return found.name if found is not None else None


def _quantity(scope: Scope, line: Statement, step: Step, *dimensions: Dimension, counted: str | None = None) -> Step:
    if line.body.part("full") is not None:
        return replace(step, full=True)
    part = line.body.part("amount")
    if part is None:
        return step
    wanted = (*dimensions, Dimension.COUNT) if counted else dimensions
    found = quantity_of(scope.ledger, part, *wanted)
    if positive(scope.ledger, found, part) is None or found is None:
        return step
    if found.dimension is Dimension.COUNT and (found.word != counted or found.si.denominator != 1):
        scope.ledger.say(findings.WRONG_UNIT, f"`{found.written}`: a whole number of {counted} is wanted", part.span)
        return step
    return replace(step, amount=found)


def _faces(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> Step:
    on = clauses.get("on")
    _need(scope, line, on is not None, "on which faces", "on show")
    return replace(step, on=face_refs(scope, on.part("things") if on is not None else None))


def method_of(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step, *, required: bool) -> Step:
    """The way it is put on: sprayed, laid, brushed or rolled."""
    part = clauses.get("method")
    if required:
        _need(scope, line, part is not None, "how it is put on: sprayed, laid, brushed or rolled", "sprayed")
    return replace(step, method=_first(part) if part is not None else None)


def _layer(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> Step:
    step = _quantity(scope, line, step, Dimension.LENGTH)
    step = replace(step, material=material_of(scope, line, "mix"))
    step = _faces(scope, line, clauses, step)
    if line.kind == "press":
        return replace(step, method="pressed")
    return method_of(scope, line, clauses, step, required=True)


def _pour(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> Step:
    step = _quantity(scope, line, step, Dimension.LENGTH, Dimension.VOLUME)
    step = replace(step, material=material_of(scope, line, "mix"), method="poured")
    into = clauses.get("into")
    word = into.word("thing") if into is not None else None
    _need(scope, line, word is not None, "into what it is poured", "into desk-mold")
    return replace(step, cavity=_cavity(scope, word)) if word is not None else step


def _cavity(scope: Scope, word: Word) -> tuple[str, str | None] | None:
    """A mold (then the piece itself), a cut-out of this piece, or `piece.cut-out`."""
    own = scope.own
    first, _, rest = word.text.partition(".")
    named = scope.names.get(first)
    if own is not None and own.kind == "piece" and not rest and first in own.cavities:
        return own.name, first
    if named is not None and named.kind == "mold" and not rest and own is not None and own.kind == "piece":
        return own.name, None
    owner = scope.owners.get(first)
    if owner is not None and owner.kind == "piece" and rest:
        if rest in owner.cavities:
            return owner.name, rest
        if owner.certain:
            known = ", ".join(owner.cavities) or "none"
            scope.ledger.say(
                findings.UNKNOWN_NAME, f"`{owner.name}` has no cut-out called `{rest}`", word.span, f"its cut-outs are {known}"
            )
        return None
    if first not in scope.ledger.unread and (owner is None or owner.certain):
        scope.ledger.say(
            findings.WRONG_KIND if named is not None else findings.UNKNOWN_NAME,
            f"`{word.text}` is not something that can be poured into here",
            word.span,
            "pour into the mold that the piece takes, or into a cut-out, as in `into shell.slot`",
        )
    return None


def _scrim(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> Step:
    step = _quantity(scope, line, step, counted="layers")
    step = replace(step, material=material_of(scope, line, "stock"), laps=amount_on(scope, clauses.get("laps"), Dimension.LENGTH))
    return _faces(scope, line, clauses, step)


def _insert(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> Step:
    count = line.body.part("count")
    number = count_of(scope.ledger, count) if count is not None else None
    amount = None if number is None else Quantity(si=Fraction(number), dimension=Dimension.COUNT, word="pieces", written=str(number))
    on = clauses.get("on")
    return replace(
        step,
        material=material_of(scope, line, "fitting"),
        amount=amount,
        on=face_refs(scope, on.part("things")) if on is not None else (),
    )


def _pass(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> Step:
    grit = line.body.part("grit")
    step = _faces(scope, line, clauses, step)
    if grit is not None:
        numbers = [count_of(scope.ledger, part) for part in grit.parts("count")]
        wetness = clauses.get("wetness")
        _need(scope, line, wetness is not None, "whether it is ground `wet` or `dry`", "wet")
        for label in ("method", "between"):
            if label in clauses:
                scope.ledger.say(findings.OUT_OF_PLACE, f"`{label}` means nothing on a pass at a grit", clauses[label].span)
        return replace(
            step, grits=tuple(n for n in numbers if n is not None), wet=None if wetness is None else _first(wetness) == "wet"
        )
    step = _quantity(scope, line, step, Dimension.AREAL_MASS, Dimension.FILM, counted="coats")
    step = replace(step, material=material_of(scope, line, "mix", "stock"))
    coats = step.amount is not None and step.amount.dimension is Dimension.COUNT
    if "wetness" in clauses:
        scope.ledger.say(findings.OUT_OF_PLACE, "`wet` or `dry` belongs to a pass at a grit", clauses["wetness"].span)
    between = clauses.get("between")
    window = window_of(scope.ledger, between) if between is not None else None
    step = method_of(scope, line, clauses, step, required=coats)
    return replace(step, between=window)


def between_coats(scope: Scope, line: Statement, step: Step, mixes: Mapping[str, Mix]) -> Step:
    """The wait between coats: told, or the mix's recoat; more than one coat must have one."""
    many = step.kind is StepKind.PASS and step.amount is not None and step.amount.dimension is Dimension.COUNT
    if not many or step.amount is None or step.amount.si <= 1 or step.between is not None:
        return step
    mix = mixes.get(step.material or "")
    if mix is not None and mix.recoat is not None:
        return replace(step, between=Window(least=mix.recoat.least, longest=mix.recoat.longest))
    if step.material is not None and not line.broken:
        scope.ledger.say(
            findings.NOT_SAID,
            f"the step `{step.name}` has {step.amount.si} coats and does not say the wait between them",
            line.span,
            "add `between 2 h to 6 h`, or `recoat` to the mix",
        )
    return step


def _on_things(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> Step:
    step = replace(step, things=thing_refs(scope, line.body.part("things")))
    on = clauses.get("on")
    if line.kind != "place":
        if on is not None and line.kind == "work":
            step = replace(step, on=face_refs(scope, on.part("things")))
            wetness = clauses.get("wetness")
            step = replace(step, wet=None if wetness is None else _first(wetness) == "wet")
        return step
    _need(scope, line, on is not None, "on what it is placed", "on bracket")
    words = things_of(on.part("things")) if on is not None else ()
    if len(words) > 1:
        scope.ledger.say(findings.OUT_OF_PLACE, "a thing is placed on one thing", words[1][0].span)
    return replace(step, onto=thing_ref(scope, words[0][0]) if words else None)


def _load(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> Step:
    step = _quantity(scope, line, step, Dimension.LENGTH, Dimension.VOLUME, Dimension.MASS)
    step = replace(step, material=material_of(scope, line, "stock"))
    return _faces(scope, line, clauses, step)


def _target(scope: Scope, line: Statement, clauses: Mapping[str, Part], step: Step) -> Step:
    word = line.body.word("thing")
    if word is None:
        return step
    found = one_of(scope.ledger, scope.names, word.text, word.span, ("mold", "temp", "station"))
    return replace(step, target=found.name if found is not None else None)


_READ = {
    "layer": _layer,
    "press": _layer,
    "pour": _pour,
    "scrim": _scrim,
    "insert": _insert,
    "pass": _pass,
    "work": _on_things,
    "test": _on_things,
    "place": _on_things,
    "move": _on_things,
    "load": _load,
    "take": _target,
    "free": _target,
}
