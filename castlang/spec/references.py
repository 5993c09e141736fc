"""Dotted names: which step, piece, face or cavity they mean."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from castlang.source.model import Span
from castlang.spec import findings
from castlang.spec.ledger import Ledger
from castlang.spec.model import Copies, StepRef, ThingRef
from castlang.spec.names import Names, near_remedy
from castlang.spec.sizes import Sizes
from castlang.syntax.model import Part, Word

STEP_PART = re.compile(r"(lift|coat|grit|batch|layer)-\d+$")
GAPS = ("wait", "cure", "dry")
POINTS = ("start", "end")
OWNERS = ("piece", "job", "mold", "temp")
"""The kinds of block that have steps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Owner:
    """What a dotted name can reach in one block: its copies, steps and, for a piece, faces and cavities.

    whole, counted, shaped: whether every line could be read that says its steps, its copies, its shape; where
    not, a step, a copy, a face is not missing for sure.
    """

    name: str
    kind: str
    plain: int = 1
    mirrored: int = 0
    steps: tuple[str, ...] = ()
    faces: tuple[str, ...] = ()
    cavities: tuple[str, ...] = ()
    whole: bool = True
    counted: bool = True
    shaped: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """Everything that names are looked up in, seen from one owner. sizes: the `size` lines, by name."""

    ledger: Ledger
    names: Names
    owners: Mapping[str, Owner]
    own: Owner | None = field(default=None)
    sizes: Sizes = field(default_factory=dict)


def step_ref(scope: Scope, word: Word, *, fittings: bool = True) -> StepRef | None:
    """What a name in `after`, `wait ... after` or `done` means; None when nothing, told."""
    segments = word.text.split(".")
    own = scope.own
    if own is not None and segments[0] in own.steps:
        other = scope.names.get(segments[0])
        if (
            other is not None
            and other.kind in ("piece", "job", "fitting", "mold", "temp")
            and len(segments) == 1
        ):
            scope.ledger.say(
                findings.TWO_MEANINGS,
                f"`{word.text}` is a step of `{own.name}` and a {other.kind} of its own",
                word.span,
                f"write `{own.name}.{word.text}` for the step, or rename one of them",
                related=((other.span, f"the {other.kind} `{other.name}`"),),
            )
            return None
        return _inside(scope, own, segments, word, Copies())
    named = scope.names.get(segments[0])
    if named is not None and named.kind == "fitting" and fittings:
        return StepRef(owner=named.name, fitting=True, span=word.span)
    owner = scope.owners.get(segments[0])
    if owner is None:
        _unknown_step(scope, segments[0], word.span)
        return None
    copies, rest = _copies(scope, owner, segments[1:], word)
    if copies is None:
        return None
    if not rest:
        return StepRef(owner=owner.name, copies=copies, span=word.span)
    return _inside(scope, owner, rest, word, copies)


def _inside(scope: Scope, owner: Owner, segments: list[str], word: Word, copies: Copies) -> StepRef | None:
    """A step of `owner`, with what may stand behind its name."""
    step: str | None = segments[0]
    rest = segments[1:]
    if step in POINTS and not rest and step not in owner.steps:
        return StepRef(owner=owner.name, copies=copies, point=step, span=word.span)
    if rest and f"{step}.{rest[0]}" in owner.steps:
        step, rest = f"{step}.{rest[0]}", rest[1:]
    if step not in owner.steps:
        if owner.whole and scope.ledger.is_missing(step or ""):
            scope.ledger.say(
                findings.UNKNOWN_NAME,
                f"`{owner.name}` has no step called `{step}`",
                word.span,
                near_remedy(step or "", owner.steps),
            )
        return None
    part = gap = point = None
    if rest and STEP_PART.match(rest[0]):
        part, rest = rest[0], rest[1:]
    if rest and rest[0] in GAPS:
        gap, rest = rest[0], rest[1:]
    if rest and rest[0] in POINTS:
        point, rest = rest[0], rest[1:]
    if rest:
        scope.ledger.say(
            findings.UNKNOWN_NAME,
            f"`{'.'.join(rest)}` means nothing behind the step `{step}`",
            word.span,
            "behind a step can stand `.start`, `.end`, `.lift-2`, `.coat-1`, `.grit-120` or `.cure`",
        )
        return None
    return StepRef(
        owner=owner.name, copies=copies, step=step, part=part, gap=gap, point=point, span=word.span
    )


def _unknown_step(scope: Scope, name: str, span: Span) -> None:
    if not scope.ledger.is_missing(name, *OWNERS, "fitting"):
        return
    own = scope.own
    known = [*scope.owners, *(own.steps if own is not None else ())]
    known += [n for n, named in scope.names.items() if named.kind == "fitting"]
    other = scope.names.get(name)
    if other is not None:
        scope.ledger.say(
            findings.WRONG_KIND,
            f"`{name}` is a {other.kind}; a step or a piece is wanted here",
            span,
            related=((other.span, f"the {other.kind} `{name}`"),),
        )
    else:
        scope.ledger.say(
            findings.UNKNOWN_NAME,
            f"there is no step, piece or job called `{name}`",
            span,
            near_remedy(name, known),
        )


def _copies(scope: Scope, owner: Owner, segments: list[str], word: Word) -> tuple[Copies | None, list[str]]:
    """The copy told at the front of `segments`; (None, ...) when it is not made, told."""
    if not segments:
        return Copies(), segments
    first = segments[0]
    if first == "each":
        return Copies(each=True), segments[1:]
    mirrored = re.fullmatch(r"m(\d+)", first)
    if not first.isdigit() and (mirrored is None or first in owner.steps):
        return Copies(), segments
    number = int(mirrored.group(1) if mirrored is not None else first)
    made = owner.mirrored if mirrored is not None else owner.plain
    if not 1 <= number <= made:
        if owner.counted:
            what = "mirrored" if mirrored is not None else "plain" if owner.mirrored else ""
            times = {0: "not made", 1: "made once"}.get(made, f"made {made} times")
            scope.ledger.say(
                findings.NO_SUCH_COPY,
                f"`{owner.name}` has no copy `{first}`: it is {times} {what}".rstrip(),
                word.span,
            )
        return None, []
    return Copies(first=number, last=number, mirrored=mirrored is not None), segments[1:]


def things_of(part: Part | None) -> tuple[tuple[Word, Word | None], ...]:
    """The names of a `things` part as (name, end of the span or None)."""
    if part is None:
        return ()
    found = []
    for span in part.parts("span"):
        words = span.words("thing")
        found.append((words[0], words[1] if len(words) > 1 else None))
    return tuple(found)


def step_refs(scope: Scope, part: Part | None, *, fittings: bool = True) -> tuple[StepRef, ...]:
    """Every reference of a list, spans joined."""
    refs: list[StepRef] = []
    for first, last in things_of(part):
        start = step_ref(scope, first, fittings=fittings)
        end = step_ref(scope, last, fittings=fittings) if last is not None else None
        if start is None or (last is not None and end is None):
            continue
        if end is None or last is None:
            refs.append(start)
            continue
        copies = _run(scope, start.copies, end.copies, last)
        same = (start.owner, start.step, start.part) == (end.owner, end.step, end.part)
        if copies is None or not same:
            if copies is not None:
                no_span(scope, last)
            continue
        refs.append(
            StepRef(
                owner=start.owner, copies=copies, step=start.step, part=start.part, point=start.point,
                gap=start.gap, span=first.span,
            )
        )  # fmt: skip
    return tuple(refs)


def _run(scope: Scope, first: Copies, last: Copies, word: Word) -> Copies | None:
    if first.first is None or last.last is None or first.mirrored != last.mirrored or last.last < first.first:
        no_span(scope, word)
        return None
    return Copies(first=first.first, last=last.last, mirrored=first.mirrored)


def no_span(scope: Scope, word: Word) -> None:
    """Tell that the span which ends with `word` is none."""
    scope.ledger.say(
        findings.BAD_RANGE,
        f"the span that ends with `{word.text}` does not run inside one count",
        word.span,
        "a span goes from a lower to a higher copy of one piece: `tread.1 to tread.4`",
    )


THINGS = {"piece": "piece", "mold": "mold", "temp": "mold", "fitting": "fitting", "job": "job"}


def thing_ref(scope: Scope, word: Word) -> ThingRef | None:
    """A piece (or some copies), mold, fitting or job."""
    segments = word.text.split(".")
    named = scope.names.get(segments[0])
    if named is None or named.kind not in THINGS:
        if named is not None:
            scope.ledger.say(
                findings.WRONG_KIND,
                f"`{segments[0]}` is a {named.kind}; a piece, mold, fitting or job is wanted here",
                word.span,
                related=((named.span, f"the {named.kind} `{named.name}`"),),
            )
        elif scope.ledger.is_missing(segments[0], *THINGS):
            known = [n for n, other in scope.names.items() if other.kind in THINGS]
            scope.ledger.say(
                findings.UNKNOWN_NAME,
                f"there is no piece or fitting called `{segments[0]}`",
                word.span,
                near_remedy(segments[0], known),
            )
        return None
    owner = scope.owners.get(named.name, Owner(name=named.name, kind=named.kind))
    copies, rest = _copies(scope, owner, segments[1:], word)
    if copies is None:
        return None
    if rest:
        scope.ledger.say(
            findings.UNKNOWN_NAME,
            f"`{'.'.join(rest)}` means nothing behind `{named.name}` here",
            word.span,
            f"write `{named.name}`",
        )
        return None
    return ThingRef(name=named.name, kind=THINGS[named.kind], copies=copies, span=word.span)


def thing_refs(scope: Scope, part: Part | None) -> tuple[ThingRef, ...]:
    """Every thing of a list, spans joined."""
    refs: list[ThingRef] = []
    for first, last in things_of(part):
        start = thing_ref(scope, first)
        end = thing_ref(scope, last) if last is not None else None
        if start is None or (last is not None and end is None):
            continue
        copies: Copies | None = start.copies
        if end is not None and last is not None:
            if start.name != end.name:
                no_span(scope, last)
                continue
            copies = _run(scope, start.copies, end.copies, last)
        if copies is not None:
            refs.append(ThingRef(name=start.name, kind=start.kind, copies=copies, span=start.span))
    return tuple(refs)
