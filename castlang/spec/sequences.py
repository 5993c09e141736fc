"""The steps of a block in order, with the steps that other lines bring: release, cover, uncover."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from castlang.spec import findings
from castlang.spec.block import STEP_LINES, step_name
from castlang.spec.clauses import clauses_of
from castlang.spec.crews import gangs_of
from castlang.spec.defaults import default
from castlang.spec.gaps import after_of, gap_of
from castlang.spec.ledger import Ledger
from castlang.spec.model import PUT_ON, FaceRef, Gang, Gap, Item, Mix, Mold, Step, StepKind
from castlang.spec.names import Names
from castlang.spec.quantity import Dimension, Quantity
from castlang.spec.references import Scope
from castlang.spec.steps import between_coats, step_of
from castlang.spec.tails import amount_on
from castlang.syntax.model import Part, Statement, Word


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """What a sequence is read with: mixes and molds by name, and the shop's own defaults."""

    mixes: Mapping[str, Mix]
    molds: Mapping[str, Mold]
    defaults: Mapping[str, Quantity]


def names_in(statement: Statement, names: Names) -> tuple[str, ...]:
    """Every name that a step of this block will bear, those that other lines bring included."""
    found: list[str] = []
    above: str | None = None
    for line in statement.under:
        if line.kind not in STEP_LINES:
            continue
        if line.kind == "cure" and above is not None and _says(line, "covered"):
            found += [_free(f"{above}.cover", found), _free(f"{above}.uncover", found)]
            continue
        name = step_name(line)
        if name is None:
            continue
        if line.kind in ("take", "free"):
            name = _free(name, found)
        above = name
        found.append(name)
        if line.kind == "take" and _released(line, names):
            found.append(_free("release", found))
            above = found[-1]
    return tuple(found)


def _free(name: str, taken: list[str]) -> str:
    """The name, or with a number behind it when it is taken."""
    number = 2
    free = name
    while free in taken:
        free = f"{name}-{number}"
        number += 1
    return free


def _says(line: Statement, word: str) -> bool:
    return any(
        isinstance(child, Word) and child.text == word
        for part in line.clauses()
        if part.label == "shelter"
        for child in part.children
    )


def _released(line: Statement, names: Names) -> bool:
    word = line.body.word("thing")
    named = names.get(word.text) if word is not None else None
    return (
        named is not None and named.kind == "mold" and any(u.kind == "release" for u in named.statement.under)
    )


def sequence_of(scope: Scope, statement: Statement, shop: Shop) -> tuple[Item, ...]:
    """The lines of work of one block, in order."""
    items: list[Item] = []
    taken: list[str] = []
    seen: dict[str, Statement] = {}
    held: dict[str, Statement] = {}
    laid: Mix | None = None
    put_on: str | None = None
    for line in statement.under:
        if line.kind not in STEP_LINES:
            continue
        if line.kind == "after":
            items.append(after_of(scope, line))
            continue
        if line.kind in ("wait", "within", "cure", "dry"):
            gap = gap_of(scope, line, laid, put_on)
            if gap is not None:
                items += _gap(scope, line, gap, items, taken, shop)
            continue
        step = step_of(scope, line, shop.mixes, shop.molds)
        if step is None or _taken_twice(scope.ledger, step, line, held):
            continue
        if step.kind in (StepKind.TAKE, StepKind.FREE) and step.name in taken:
            step = replace(step, name=_free(step.name, taken))
        if step.name in seen:
            scope.ledger.say(
                findings.NAME_TWICE,
                f"`{step.name}` is the name of a step of `{step.owner}` already",
                line.span,
                related=((seen[step.name].span, "the first one"),),
            )
            continue
        seen[step.name] = line
        taken.append(step.name)
        step = between_coats(scope, line, step, shop.mixes)
        laid = shop.mixes.get(step.material or "", laid)
        put_on = step.material if step.kind in PUT_ON and step.material else put_on
        items.append(step)
        items += _release(scope.ledger, step, taken, shop)
    return tuple(items)


def _taken_twice(ledger: Ledger, step: Step, line: Statement, held: dict[str, Statement]) -> bool:
    """Whether the step takes what is taken already (told). `held`: what is taken, with its line; kept."""
    target = step.target or ""
    if step.kind is StepKind.FREE:
        held.pop(target, None)
    if step.kind is not StepKind.TAKE:
        return False
    first = held.setdefault(target, line)
    if first is line:
        return False
    ledger.say(
        findings.SAID_TWICE,
        f"`{target}` is taken already, and not freed in between",
        line.span,
        related=((first.span, "the first `take`"),),
    )
    return True


def _gap(
    scope: Scope, line: Statement, gap: Gap, items: list[Item], taken: list[str], shop: Shop
) -> list[Item]:
    """The gap, with covering in front of it and uncovering behind where the cure is covered."""
    above = next((item for item in reversed(items) if isinstance(item, Step)), None)
    while above is not None and above.kind in (StepKind.COVER, StepKind.UNCOVER):
        position = items.index(above)
        above = next((item for item in reversed(items[:position]) if isinstance(item, Step)), None)
    if above is None and gap.after is None:
        scope.ledger.say(
            findings.OUT_OF_PLACE,
            f"the `{line.kind}` has no step above it to count from",
            line.span,
            "put it under the step, or say `after` which step",
        )
        return []
    if not gap.covered or above is None:
        return [gap]
    covers = [_cover(scope, line, above, kind, taken, shop) for kind in (StepKind.COVER, StepKind.UNCOVER)]
    return [covers[0], gap, covers[1]]


def _cover(scope: Scope, line: Statement, above: Step, kind: StepKind, taken: list[str], shop: Shop) -> Step:
    clauses = clauses_of(scope, line)
    ledger = scope.ledger
    if "takes" in clauses or "by" in clauses:
        told = _told_work(scope, clauses, shop)
    else:
        told = (default(ledger, shop.defaults, "cover-time"), (Gang(count=1),))
    name = _free(f"{above.name}.{kind}", taken)
    taken.append(name)
    return Step(
        kind=kind,
        owner=above.owner,
        name=name,
        takes=told[0],
        gang=told[1],
        span=line.span,
    )


def _told_work(scope: Scope, clauses: Mapping[str, Part], shop: Shop) -> tuple[Fraction, tuple[Gang, ...]]:
    """`takes` and `by` of a covered cure count for covering and again for uncovering."""
    takes = amount_on(scope, clauses.get("takes"), Dimension.TIME)
    gang = gangs_of(scope.ledger, clauses["by"]) if "by" in clauses else ()
    return (takes or default(scope.ledger, shop.defaults, "cover-time")), (gang or (Gang(count=1),))


def _release(ledger: Ledger, step: Step, taken: list[str], shop: Shop) -> list[Item]:
    """The oiling that a mold asks for before every casting."""
    mold = shop.molds.get(step.target or "") if step.kind is StepKind.TAKE else None
    if mold is None or mold.release is None:
        return []
    name = _free("release", taken)
    taken.append(name)
    told = mold.release
    on = tuple(face for face in told.on if face.piece == step.owner)
    if not on:
        on = (FaceRef(piece=step.owner, face="all", span=step.span),)
        ledger.assume(
            f"mold {mold.name}",
            "release goes on the mold behind all faces of the piece",
            "common practice, no source",
            f"release {told.material} on {step.owner}.FACE",
            told.span,
        )
    takes, gang = told.takes, told.gang
    if takes is None and told.rate is None:
        takes = default(ledger, shop.defaults, "release-time")
        gang = gang or (Gang(count=1),)
    return [replace(told, owner=step.owner, name=name, on=on, takes=takes, gang=gang)]
