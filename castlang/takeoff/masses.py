"""What things weigh where they are lifted, carried and moved: with what stands on them, and with what they
stand on.

    m = own + what was placed on it before, shared by its copies

A piece that was placed on a fitting, a crate or a pallet, goes with it when it is moved: whichever of the two
the line names, they travel together.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from castlang.problems.model import Assumption
from castlang.spec.model import Copies, Spec, Step, StepKind, ThingRef
from castlang.takeoff.model import PieceTakeoff, StepTakeoff
from castlang.takeoff.said import Said
from castlang.takeoff.standing import placed_before, placed_on, stands_on, steps_of

NOUGHT = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """What is known of masses: the build, its pieces and its steps."""

    spec: Spec
    pieces: Mapping[str, PieceTakeoff]
    steps: Mapping[tuple[str, str], StepTakeoff]


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
        refs = _with_bases(step, refs, weights, said)
    named = frozenset(ref.name for ref, _ in refs) if step.kind is StepKind.MOVE else frozenset()
    return tuple(
        Burden(ref=ref, number=number, mass=with_load(ref, step, weights, said, named))
        for ref, number in refs
    )


def _with_bases(
    step: Step, refs: list[tuple[ThingRef, int]], weights: Weights, said: Said
) -> list[tuple[ThingRef, int]]:
    """The things with what stands on a fitting replaced by that fitting: as many as the things moved need."""
    found: dict[str, tuple[ThingRef, int]] = {}
    for ref, number in refs:
        placing = stands_on(ref.name, step, weights.spec)
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
            for placing in placed_before(ref.name, step, weights.spec)
            for thing in placing.things
        ),
        NOUGHT,
    )
    return mass_of(ref, weights, said) + above / number_of(ref, weights.spec)


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
    spec = weights.spec
    placings = placed_on(ref.name, spec) if before is None else placed_before(ref.name, before, spec)
    on_top = sum(
        (
            standing(thing, weights, said, below | {ref.name}, before=before)
            for step in placings
            for thing in step.things
        ),
        NOUGHT,
    )
    return own + on_top + (_loaded(ref.name, weights) if before is None else NOUGHT)


def _loaded(piece: str, weights: Weights) -> Fraction:
    """kg that `load` steps put into `piece`, all copies: the most at one time is taken to be the sum."""
    return sum(
        (
            weights.steps[step.owner, step.name].mass or NOUGHT
            for step in steps_of(weights.spec)
            if step.kind is StepKind.LOAD
            and any(ref.piece == piece for ref in step.on)
            and (step.owner, step.name) in weights.steps
        ),
        NOUGHT,
    )
