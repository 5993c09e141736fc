"""What things weigh where they are lifted, carried and moved: with what stands on them, and with what they
stand on.

    m = own + what was placed on it before, shared by its copies + what was built into it

What another block than its own builds into a piece counts from that step on, and wherever no line says that
it comes later; what a piece builds into itself is in its own weight.

A piece that was placed on a fitting, a crate or a pallet, goes with it when it is moved: whichever of the two
the line names, they travel together.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from castlang.problems.model import Assumption
from castlang.spec.model import Copies, Spec, Step, StepKind, ThingRef
from castlang.takeoff.inserts import copies_of_base, number_in_all, number_in_one
from castlang.takeoff.model import PieceTakeoff, StepTakeoff
from castlang.takeoff.said import Said
from castlang.takeoff.standing import Placings, steps_of

NOUGHT = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """What is known of masses: the build, its pieces and steps, what is placed on what, loaded into what."""

    spec: Spec
    pieces: Mapping[str, PieceTakeoff]
    steps: Mapping[tuple[str, str], StepTakeoff]
    placings: Placings
    loads: Mapping[str, tuple[Step, ...]]


def loads_of(spec: Spec) -> dict[str, tuple[Step, ...]]:
    """The `load` steps of a build by the piece that they fill, in order."""
    found: dict[str, list[Step]] = {}
    for step in steps_of(spec):
        if step.kind is StepKind.LOAD:
            for piece in dict.fromkeys(ref.piece for ref in step.on):
                found.setdefault(piece, []).append(step)
    return {piece: tuple(steps) for piece, steps in found.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Burden:
    """One kind of thing that a step carries: the thing, how many, and kg of each with what stands on it."""

    ref: ThingRef
    number: int
    mass: Fraction


def burdens_of(step: Step, weights: Weights, said: Said) -> tuple[Burden, ...]:
    """What the things of `step` weigh. A `move` takes along the fitting that a piece was placed on before."""
    refs = [(ref, number_of(ref, weights.spec)) for ref in step.things]
    if step.kind is StepKind.MOVE:
        refs = _with_all_bases(step, refs, weights, said)
    named = frozenset(ref.name for ref, _ in refs) if step.kind is StepKind.MOVE else frozenset()
    return tuple(
        Burden(ref=ref, number=number, mass=with_load(ref, step, weights, said, named))
        for ref, number in refs
    )


def _with_all_bases(
    step: Step, refs: list[tuple[ThingRef, int]], weights: Weights, said: Said
) -> list[tuple[ThingRef, int]]:
    """`_with_bases`, and what those stand on in their turn: a piece on its frame in its crate."""
    for _ in weights.spec.fittings:
        below = _with_bases(step, refs, weights, said)
        if [(ref.name, number) for ref, number in below] == [(ref.name, number) for ref, number in refs]:
            break
        refs = below
    return refs


def _with_bases(
    step: Step, refs: list[tuple[ThingRef, int]], weights: Weights, said: Said
) -> list[tuple[ThingRef, int]]:
    """The things with what stands on a fitting replaced by that fitting: as many as the things moved need."""
    found: dict[str, tuple[ThingRef, int]] = {}
    for ref, number in refs:
        placing = weights.placings.last_of(ref.name, step)
        if placing is None or placing.onto is None or placing.onto.kind != "fitting":
            found[ref.name] = (ref, found[ref.name][1] + number if ref.name in found else number)
            continue
        base = placing.onto
        there = sum(number_of(thing, weights.spec) for thing in placing.things if thing.name == ref.name)
        of = number_of(base, weights.spec)
        number = max(1, min(of, ceil(Fraction(of * number, max(1, there)))))
        if base.name not in {other.name for other, _ in refs}:
            said.assumed(_goes_along(step, ref, base))
            number = max(number, found[base.name][1] if base.name in found else 0)
            found[base.name] = (replace(base, span=ref.span), number)
    return list(found.values())


def _goes_along(step: Step, ref: ThingRef, base: ThingRef) -> Assumption:
    return Assumption(
        subject=f"step {step.owner}.{step.name}",
        says=f"{base.name} goes along with {ref.name}, which was placed on it",
        source="nothing told",
        line=f"move {step.name} of {base.name}",
        span=step.span,
    )


def mass_of(ref: ThingRef, weights: Weights, said: Said) -> Fraction:
    """kg of one of the things meant, as it leaves the shop; nothing for what tells no weight."""
    if ref.name in weights.pieces and ref.kind == "piece":
        return weights.pieces[ref.name].dry
    fitting = weights.spec.fittings.get(ref.name) if ref.kind == "fitting" else None
    if fitting is not None and fitting.weight is not None:
        return fitting.weight
    said.assumed(
        Assumption(
            subject=f"{ref.kind} {ref.name}",
            says="no weight counted where it is lifted or carried",
            source="nothing told",
            line="weight N kg" if ref.kind == "fitting" else f"measured mass of {ref.name} N kg",
            span=ref.span,
        )
    )
    return NOUGHT


def with_load(
    ref: ThingRef, step: Step, weights: Weights, said: Said, named: frozenset[str] = frozenset()
) -> Fraction:
    """kg of one of the things meant, with its share of what was placed on it before `step`.

    named: what counts on its own beside it, once.
    """
    below = named | {ref.name}
    above = sum(
        (
            standing(thing, weights, said, below, before=step)
            for placing in weights.placings.on_before(ref.name, step)
            for thing in placing.things
        ),
        NOUGHT,
    )
    inside = built_into(ref.name, weights, said, below, before=step).in_one
    return mass_of(ref, weights, said) + above / number_of(ref, weights.spec) + inside


def number_of(ref: ThingRef, spec: Spec) -> int:
    """How many copies `ref` means; a fitting counts as many as the build buys, at least one."""
    piece = spec.pieces.get(ref.name) if ref.kind == "piece" else None
    if piece is not None:
        return copies_meant(ref.copies, piece.count, piece.mirrored)
    fitting = spec.fittings.get(ref.name) if ref.kind == "fitting" else None
    return (fitting.buy or 1) if fitting is not None else 1


def copies_meant(copies: Copies, count: int, mirrored: int) -> int:
    """How many of `count` plain and `mirrored` mirrored copies are meant."""
    if copies.each:
        return 1
    if copies.first is not None:
        return (copies.last or copies.first) - copies.first + 1
    return mirrored if copies.mirrored else count + mirrored


def standing(
    ref: ThingRef, weights: Weights, said: Said, below: frozenset[str], *, before: Step | None = None
) -> Fraction:
    """kg of the things meant, of what is loaded into them and of what stands on them; only what was placed
    `before` a step, where one is told, and then without water.

    Things that stand on each other in a circle count once.
    """
    if ref.name in below:
        return NOUGHT
    own = mass_of(ref, weights, said) * number_of(ref, weights.spec)
    known = weights.placings
    placings = known.on(ref.name) if before is None else known.on_before(ref.name, before)
    on_top = sum(
        (
            standing(thing, weights, said, below | {ref.name}, before=before)
            for step in placings
            for thing in step.things
        ),
        NOUGHT,
    )
    inside = built_into(ref.name, weights, said, below | {ref.name}, before=before)
    built_in = min(inside.in_all, inside.in_one * number_of(ref, weights.spec))
    return own + on_top + built_in + (_loaded(ref.name, weights) if before is None else NOUGHT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """kg that other blocks build into a thing: into all its copies, and into the one that has most."""

    in_all: Fraction = NOUGHT
    in_one: Fraction = NOUGHT


def built_into(
    name: str, weights: Weights, said: Said, below: frozenset[str], *, before: Step | None = None
) -> Inside:
    """What `insert` lines of other blocks leave in the thing of that name, with what stands on it; not those
    of which the lines say that they come later than `before`."""
    in_all, in_one = NOUGHT, NOUGHT
    for step in weights.placings.into(name, before):
        each = _each_inserted(step, weights, said, below, before)
        number, copies = number_in_all(step, weights.spec), copies_of_base(step, weights.spec)
        in_all += number * each
        in_one += number_in_one(step, weights.spec) * each
        if number % copies and each:
            said.assumed(_uneven(step, name, weights.spec))
    return Inside(in_all=in_all, in_one=in_one)


def _each_inserted(
    step: Step, weights: Weights, said: Said, below: frozenset[str], before: Step | None
) -> Fraction:
    """kg of one of the fittings that `step` builds in, with its share of what stands on them."""
    ref = ThingRef(name=step.material or "", kind="fitting", span=step.span)
    if ref.name in below:
        return NOUGHT
    known = weights.placings
    placings = known.on(ref.name) if before is None else known.on_before(ref.name, before)
    above = sum(
        (
            standing(thing, weights, said, below | {ref.name}, before=before)
            for placing in placings
            for thing in placing.things
        ),
        NOUGHT,
    )
    there = sum(number_in_all(one, weights.spec) for one in known.building_in(ref.name))
    return mass_of(ref, weights, said) + above / max(1, there)


def _uneven(step: Step, name: str, spec: Spec) -> Assumption:
    number, copies = number_in_all(step, spec), copies_of_base(step, spec)
    return Assumption(
        subject=f"step {step.owner}.{step.name}",
        says=f"{number} of {step.material} in {copies} of {name}: each counts as the one that has most",
        source="nothing told",
        line=f"insert {step.name} {number_in_one(step, spec) * copies} of {step.material}",
        span=step.span,
    )


def _loaded(piece: str, weights: Weights) -> Fraction:
    """kg that `load` steps put into `piece`, all copies: the most at one time is taken to be the sum."""
    return sum(
        (
            weights.steps[step.owner, step.name].mass or NOUGHT
            for step in weights.loads.get(piece, ())
            if (step.owner, step.name) in weights.steps
        ),
        NOUGHT,
    )
