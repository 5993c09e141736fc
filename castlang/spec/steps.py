"""Lines of work: what each must say, and what it may."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from castlang.spec import findings
from castlang.spec.amounts import count_of, positive, quantity_of, window_of
from castlang.spec.block import step_name
from castlang.spec.clauses import clauses_of, first_word
from castlang.spec.faces import BEHIND_FACES, face_refs
from castlang.spec.films import film_coats
from castlang.spec.model import FaceRef, Mix, Mold, Step, StepKind, Window
from castlang.spec.names import one_of
from castlang.spec.quantity import Dimension, Quantity
from castlang.spec.references import Scope, thing_ref, thing_refs, things_of
from castlang.spec.sizes import length_of
from castlang.spec.tails import Fields, need, need_work, tail_of
from castlang.syntax.model import Part, Statement, Word

MOST_COATS = 100
"""No step has more coats or layers: each is planned on its own."""


def step_of(
    scope: Scope, line: Statement, mixes: Mapping[str, Mix], molds: Mapping[str, Mold]
) -> Step | None:
    """One line of work; None when it cannot be made out (then told)."""
    owner = scope.own
    if owner is None:
        return None
    clauses = clauses_of(scope, line)
    read = _READ.get(line.kind)
    tail = tail_of(scope, line, clauses)
    made = Step(
        kind=StepKind(line.kind),
        owner=owner.name,
        name=step_name(line) or line.kind,
        span=line.span,
        **tail,
        **(read(scope, line, clauses) if read is not None else {}),
    )
    need_work(scope, line, clauses, made)
    return made


def material_of(scope: Scope, line: Statement, *kinds: str) -> str | None:
    """The name behind `of`, when it is of one of `kinds`."""
    word = line.body.word("material")
    found = one_of(scope.ledger, scope.names, word.text, word.span, kinds) if word is not None else None
    return found.name if found is not None else None


def _amount(
    scope: Scope, line: Statement, *dimensions: Dimension, counted: str | None = None
) -> Quantity | None:
    part = line.body.part("amount")
    if part is None:
        return _named_length(scope, line) if Dimension.LENGTH in dimensions else None
    wanted = (*dimensions, Dimension.COUNT) if counted else dimensions
    found = quantity_of(scope.ledger, part, *wanted)
    if positive(scope.ledger, found, part) is None or found is None:
        return None
    if found.dimension is Dimension.COUNT and found.word == counted and found.si > MOST_COATS:
        message = f"`{found.written}` is too much, at most {MOST_COATS} {counted}"
        scope.ledger.say(findings.BAD_VALUE, message, part.span)
        return None
    if found.dimension is Dimension.COUNT and (found.word != counted or found.si.denominator != 1):
        scope.ledger.say(
            findings.WRONG_UNIT, f"`{found.written}`: a whole number of {counted} is wanted", part.span
        )
        return None
    return found


def _named_length(scope: Scope, line: Statement) -> Quantity | None:
    """The length of a named size in the place of an amount."""
    named = line.body.part("size_name")
    length = length_of(scope.ledger, named, scope.sizes) if named is not None else None
    word = named.word("size") if named is not None else None
    if length is None or word is None:
        return None
    return Quantity(si=length, dimension=Dimension.LENGTH, written=word.text)


def _faces(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> tuple[FaceRef, ...]:
    on = clauses.get("on")
    need(scope, line, on is not None, "on which faces", "on show")
    return face_refs(scope, on.part("things") if on is not None else None)


def method_of(scope: Scope, line: Statement, clauses: Mapping[str, Part], *, required: bool) -> str | None:
    """The way it is put on: sprayed, laid, brushed or rolled."""
    part = clauses.get("method")
    if required:
        there = part is not None or _read_as_face(clauses.get("on"))
        need(scope, line, there, "how it is put on: sprayed, laid, brushed or rolled", "sprayed")
    return first_word(part) if part is not None else None


def _read_as_face(on: Part | None) -> bool:
    """Whether a word such as `sprayed` stands where a face is missing, which is told with the faces."""
    words = things_of(on.part("things")) if on is not None else ()
    return bool(words) and words[-1][0].text in BEHIND_FACES


def _layer(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> Fields:
    return {
        "amount": _amount(scope, line, Dimension.LENGTH),
        "material": material_of(scope, line, "mix"),
        "on": _faces(scope, line, clauses),
        "method": "pressed" if line.kind == "press" else method_of(scope, line, clauses, required=True),
    }


def _pour(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> Fields:
    amount = _amount(scope, line, Dimension.LENGTH, Dimension.VOLUME)
    material = material_of(scope, line, "mix")
    into = clauses.get("into")
    word = into.word("thing") if into is not None else None
    need(scope, line, word is not None, "into what it is poured", "into desk-mold")
    return {
        "amount": amount,
        "full": line.body.part("full") is not None,
        "material": material,
        "method": "poured",
        "cavity": _cavity(scope, word) if word is not None else None,
    }


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
        if owner.shaped and scope.ledger.is_missing(rest):
            known = ", ".join(owner.cavities) or "none"
            scope.ledger.say(
                findings.UNKNOWN_NAME,
                f"`{owner.name}` has no cut-out called `{rest}`",
                word.span,
                f"its cut-outs are {known}",
            )
        return None
    if scope.ledger.is_missing(first, "mold", "piece") and (owner is None or owner.shaped):
        scope.ledger.say(
            findings.WRONG_KIND if named is not None else findings.UNKNOWN_NAME,
            f"`{word.text}` is not something that can be poured into here",
            word.span,
            "pour into the mold that the piece takes, or into a cut-out, as in `into shell.slot`",
        )
    return None


def _scrim(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> Fields:
    laps = clauses.get("laps")
    return {
        "amount": _amount(scope, line, counted="layers"),
        "material": material_of(scope, line, "stock"),
        "laps": length_of(scope.ledger, laps, scope.sizes) if laps is not None else None,
        "on": _faces(scope, line, clauses),
    }


def _insert(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> Fields:
    count = line.body.part("count")
    number = count_of(scope.ledger, count) if count is not None else None
    amount = (
        None
        if number is None
        else Quantity(si=Fraction(number), dimension=Dimension.COUNT, word="pieces", written=str(number))
    )
    said: Fields = {"material": material_of(scope, line, "fitting"), "amount": amount}
    on = clauses.get("on")
    if on is None:
        own = scope.own
        what = "what it is built into, so that its weight counts there"
        need(scope, line, own is None or own.kind != "job", what, "on shell.front` or `on frame")
        return said
    words = things_of(on.part("things"))
    onto = _fitting_among(scope, words)
    faces = face_refs(scope, on.part("things")) if onto is None else ()
    if len({face.piece for face in faces}) > 1 or (onto is not None and len(words) > 1):
        message = "a fitting is built into one thing: write a line for each"
        scope.ledger.say(findings.OUT_OF_PLACE, message, words[-1][0].span)
    return {**said, "on": faces, "onto": thing_ref(scope, onto) if onto is not None else None}


def _fitting_among(scope: Scope, words: tuple[tuple[Word, Word | None], ...]) -> Word | None:
    """The first word that names a fitting, and no face of the piece that the line stands in."""
    faces = scope.own.faces if scope.own is not None and scope.own.kind == "piece" else ()
    for word, _ in words:
        named = scope.names.get(word.text.partition(".")[0])
        if named is not None and named.kind == "fitting" and word.text not in faces:
            return word
    return None


def _pass(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> Fields:
    grit = line.body.part("grit")
    on = _faces(scope, line, clauses)
    if grit is not None:
        numbers = [count_of(scope.ledger, part) for part in grit.parts("count")]
        wetness = clauses.get("wetness")
        there = wetness is not None or _read_as_face(clauses.get("on"))
        need(scope, line, there, "whether it is ground `wet` or `dry`", "wet")
        for label in ("method", "between"):
            if label in clauses:
                scope.ledger.say(
                    findings.OUT_OF_PLACE, f"`{label}` means nothing on a pass at a grit", clauses[label].span
                )
        return {
            "on": on,
            "grits": tuple(n for n in numbers if n is not None),
            "wet": None if wetness is None else first_word(wetness) == "wet",
        }
    amount = _amount(scope, line, Dimension.AREAL_MASS, Dimension.FILM, Dimension.LENGTH, counted="coats")
    material = material_of(scope, line, "mix", "stock")
    dimension = amount.dimension if amount is not None else None
    coats = dimension in (Dimension.COUNT, Dimension.LENGTH)
    wetness = clauses.get("wetness")
    if wetness is not None and dimension is not Dimension.LENGTH:
        scope.ledger.say(
            findings.OUT_OF_PLACE,
            "`wet` or `dry` belongs to a grit, or to the thickness of a film",
            wetness.span,
        )
    dry = dimension is Dimension.LENGTH and wetness is not None and first_word(wetness) == "dry"
    between = clauses.get("between")
    return {
        "on": on,
        "amount": amount,
        "material": material,
        "wet": False if dry else None,
        "between": window_of(scope.ledger, between) if between is not None else None,
        "method": method_of(scope, line, clauses, required=coats),
    }


def between_coats(scope: Scope, line: Statement, step: Step, mixes: Mapping[str, Mix]) -> Step:
    """The wait between coats: told, or the mix's recoat; more than one coat must have one."""
    mix = mixes.get(step.material or "")
    count = _coats(step, mix)
    if count <= 1 or step.between is not None:
        return step
    if any(clause.label == "between" for clause in line.clauses()):
        return step
    if mix is not None and mix.recoat is not None:
        window = Window(least=mix.recoat.least, longest=mix.recoat.longest)
        return replace(step, between=window, recoat_of=mix.name)
    if step.material is not None and not line.broken:
        scope.ledger.say(
            findings.NOT_SAID,
            f"the step `{step.name}` has {count} coats and does not say the wait between them",
            line.span,
            "add `between 2 h to 6 h`, or `recoat` to the mix",
        )
    return step


def _coats(step: Step, mix: Mix | None) -> int:
    """How many coats a pass puts on: told, or as many as the mix's greatest thickness makes of its film."""
    if step.kind is not StepKind.PASS or step.amount is None:
        return 0
    if step.amount.dimension is Dimension.COUNT:
        return int(step.amount.si)
    return film_coats(step, mix) if mix is not None else 0


def _on_things(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> Fields:
    things = thing_refs(scope, line.body.part("things"))
    on = clauses.get("on")
    if line.kind != "place":
        if on is None or line.kind != "work":
            return {"things": things}
        wetness = clauses.get("wetness")
        return {
            "things": things,
            "on": face_refs(scope, on.part("things")),
            "wet": None if wetness is None else first_word(wetness) == "wet",
        }
    need(scope, line, on is not None, "on what it is placed", "on bracket")
    words = things_of(on.part("things")) if on is not None else ()
    if len(words) > 1:
        scope.ledger.say(findings.OUT_OF_PLACE, "a thing is placed on one thing", words[1][0].span)
    return {"things": things, "onto": thing_ref(scope, words[0][0]) if words else None}


def _load(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> Fields:
    return {
        "amount": _amount(scope, line, Dimension.LENGTH, Dimension.VOLUME, Dimension.MASS),
        "full": line.body.part("full") is not None,
        "material": material_of(scope, line, "stock"),
        "on": _faces(scope, line, clauses),
    }


def _target(scope: Scope, line: Statement, clauses: Mapping[str, Part]) -> Fields:
    word = line.body.word("thing")
    if word is None:
        return {}
    found = one_of(scope.ledger, scope.names, word.text, word.span, ("mold", "temp", "station"))
    return {"target": found.name if found is not None else None}


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
