"""Mix blocks, with variants worked out from their base."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from castlang.spec import findings
from castlang.spec.amounts import quantity_of, range_of, window_of
from castlang.spec.block import Block, text_of, word_of
from castlang.spec.doses import water_of
from castlang.spec.ingredients import ROLES, check_recipe, ingredients_of, order_of
from castlang.spec.ledger import Ledger
from castlang.spec.model import Mix, Role
from castlang.spec.names import Named, Names, one_of
from castlang.spec.quantity import Dimension
from castlang.spec.stocks import acts_on, share_on, value_of
from castlang.syntax.model import Part, Statement

AGES = {
    "nurse-saul": (Dimension.TEMPERATURE, "-10 degC"),
    "arrhenius": (Dimension.TEMPERATURE_STEP, "4000 K"),
}
LEAST_Q, MOST_Q = 1000, 10_000  # K; common practice, no source


def mixes_of(ledger: Ledger, names: Names) -> dict[str, Mix]:
    """Every mix by name, sorted; bases before variants, circles told once."""
    written = {name: named for name, named in names.items() if named.kind == "mix"}
    done: dict[str, Mix | None] = {}
    for name in sorted(written):
        _mix(ledger, name, written, names, done, ())
    return {name: mix for name, mix in sorted(done.items()) if mix is not None}


def _mix(
    ledger: Ledger,
    name: str,
    written: Mapping[str, Named],
    names: Names,
    done: dict[str, Mix | None],
    above: tuple[str, ...],
) -> Mix | None:
    if name in done:
        return done[name]
    statement = written[name].statement
    if name in above:
        circle = [*above[above.index(name) :], name]
        ledger.say(
            findings.CIRCLE,
            f"the mixes {' -> '.join(f'`{n}`' for n in circle)} are made from one another in a circle",
            statement.span,
            related=tuple((written[n].span, f"the mix `{n}`") for n in circle[:-1]),
        )
        done[name] = None
        return None
    base: Mix | None = None
    word = statement.body.word("base")
    if word is not None:
        meant = one_of(ledger, names, word.text, word.span, ("mix",))
        if meant is not None:
            base = _mix(ledger, meant.name, written, names, done, (*above, name))
        if base is None:
            done.setdefault(name, None)
            return done[name]
    if name not in done:
        done[name] = _read(ledger, statement, base, names)
    return done[name]


def _read(ledger: Ledger, statement: Statement, base: Mix | None, names: Names) -> Mix:
    block = Block(ledger, statement, ROLES | {"reaches"})
    start = base or Mix(name="")
    ingredients, whole = ingredients_of(ledger, block, start, names)
    works = block.one("works")
    told: dict[str, Any] = {
        "density": value_of(ledger, block, "density", Dimension.DENSITY),
        "air": share_on(ledger, block, "entrained", most=30),
        "yields": value_of(ledger, block, "yields", Dimension.VOLUME),
        "mixing": value_of(ledger, block, "mixing", Dimension.TIME, zero=True),
        "carry": value_of(ledger, block, "carry", Dimension.TIME, zero=True),
        "wet_edge": value_of(ledger, block, "wet_edge", Dimension.TIME),
        "lift": value_of(ledger, block, "lift", Dimension.LENGTH),
        "covers": value_of(ledger, block, "covers", Dimension.COVERAGE),
        "volume_solids": share_on(ledger, block, "volume_solids"),
        "doubles": value_of(ledger, block, "doubles", Dimension.TEMPERATURE_STEP),
        "waste": share_on(ledger, block, "waste", most=300),
        "water": water_of(ledger, block, names),
        "measure": _measure(ledger, block),
        "acts": acts_on(ledger, block),
    }
    for kind, read in (("thick", Dimension.LENGTH), ("recoat", Dimension.TIME), ("works", Dimension.TIME)):
        line = block.one(kind)
        if line is None:
            continue
        if kind == "thick":
            told["thick"] = range_of(ledger, line.body, read)
        elif kind == "recoat":
            told["recoat"] = window_of(ledger, line.body)
        else:
            told.update(_works(ledger, line.body))
    if block.names("hazard"):
        told["hazards"] = block.names("hazard")
    sets = any(i.role is Role.BINDER for i in ingredients)
    if sets and works is None and base is None and statement.lacks("works"):
        ledger.say(
            findings.NOT_SAID,
            f"the mix `{word_of(statement.body, 'name')}` does not say how long it can be worked",
            statement.span,
            "add a line such as `works 40 min at 20 degC`",
        )
    told.update(_ageing(ledger, block))
    kept = {key: value for key, value in told.items() if value is not None}
    mix = replace(
        start,
        name=word_of(statement.body, "name") or "",
        label=text_of(statement.body),
        base=base.name if base is not None else None,
        ingredients=ingredients,
        notes=(*start.notes, *block.notes()),
        span=statement.span,
        order=(),
        **kept,
    )
    if not whole or statement.broken:
        return mix
    check_recipe(ledger, statement, mix)
    return replace(mix, order=order_of(ledger, block, mix, start))


def _works(ledger: Ledger, line: Part) -> dict[str, object]:
    amounts = line.parts("amount")
    at = quantity_of(ledger, amounts[-1], Dimension.TEMPERATURE)
    trimmed = Part(label="works", children=amounts[:-1], line=line.line)
    return {"works": window_of(ledger, trimmed), "works_at": None if at is None else at.si}


def _ageing(ledger: Ledger, block: Block) -> dict[str, object]:
    told: dict[str, object] = {}
    line = block.one("ages")
    if line is not None:
        word = line.body.word("word")
        amount = line.body.part("amount")
        if word is not None and word.text not in AGES:
            ledger.say(
                findings.BAD_VALUE,
                f"a mix ages by `nurse-saul` or `arrhenius`, not `{word.text}`",
                word.span,
                "write `ages nurse-saul -10 degC` (the datum) or `ages arrhenius 4000 K` (the constant)",
            )
        elif word is not None and amount is None:
            example = AGES[word.text][1]
            ledger.say(
                findings.NOT_SAID,
                f"`ages {word.text}` does not say its {'datum' if word.text == 'nurse-saul' else 'constant'}",
                line.span,
                f"write it, as in `ages {word.text} {example}`",
            )
        elif word is not None and amount is not None:
            value = quantity_of(ledger, amount, AGES[word.text][0])
            if value is not None and word.text == "arrhenius" and not LEAST_Q <= value.si <= MOST_Q:
                ledger.say(
                    findings.BAD_VALUE,
                    f"`{value.written}` is no constant of a mix that sets: these are 1000 K to 10000 K",
                    amount.span,
                    "write `ages arrhenius 4000 K`",
                )
            elif value is not None:
                told["ages"] = (word.text, value.si)
    reached = []
    for line in block.all("reaches"):
        parts = line.body.parts("amount")
        values = [
            quantity_of(ledger, part, dim)
            for part, dim in zip(
                parts, (Dimension.PRESSURE, Dimension.TIME, Dimension.TEMPERATURE), strict=True
            )
        ]
        if all(v is not None for v in values):
            reached.append(tuple(v.si for v in values if v is not None))
    if reached:
        told["strength"] = tuple(reached)
    return told


def _measure(ledger: Ledger, block: Block) -> str | None:
    line = block.one("measure")
    word = line.body.word("word") if line is not None else None
    if word is None:
        return None
    if word.text not in ("mass", "volume"):
        ledger.say(
            findings.BAD_VALUE, f"parts are measured by `mass` or by `volume`, not `{word.text}`", word.span
        )
        return None
    return word.text
