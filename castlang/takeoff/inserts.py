"""What fittings are built into, and how many of them one copy gets.

    n = ceil(N t / c)

N of an `insert` line, done t times in the build, into c copies of a thing: where they do not come out even,
each copy counts as the one that has most.
"""

from fractions import Fraction
from math import ceil

from castlang.spec.model import Spec, Step, StepKind
from castlang.takeoff.bill import times_done


def base_of(step: Step) -> str | None:
    """The name of what a `place` or an `insert` stands on or is built into; None where nothing says so."""
    if step.onto is not None:
        return step.onto.name
    if step.kind is not StepKind.INSERT:
        return None
    return step.on[0].piece if step.on else step.owner


def number_in_all(step: Step, spec: Spec) -> int:
    """How many fittings an `insert` builds in, all its doings together."""
    number = step.amount.si if step.amount is not None else Fraction(1)
    return int(number) * times_done(spec, step)


def number_in_one(step: Step, spec: Spec) -> int:
    """How many of them the copy gets that has most."""
    return ceil(Fraction(number_in_all(step, spec), copies_of_base(step, spec)))


def copies_of_base(step: Step, spec: Spec) -> int:
    """Of how many copies is what an `insert` builds into; of a fitting, as many as the build buys."""
    base = base_of(step) or ""
    piece = spec.pieces.get(base)
    if piece is not None:
        return piece.count + piece.mirrored
    fitting = spec.fittings.get(base)
    return (fitting.buy or 1) if fitting is not None else 1
