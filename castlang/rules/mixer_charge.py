"""A mixer mixes a charge that its tools reach."""

from collections.abc import Iterator
from fractions import Fraction

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import SLAB
from castlang.rules.model import Ground, Rule
from castlang.rules.order import key
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Station, Step
from castlang.spec.quantity import Dimension
from castlang.takeoff.model import Batch, Takeoff
from castlang.takeoff.wording import mass, percent, volume

LEAST = Fraction(20, 100)
"""Share of what a mixer holds, below which it mixes badly: common practice, no source."""

FINDING = Finding(
    name="mixer-charge",
    severity=Severity.WARNING,
    says="a batch fills less than a fifth of its mixer, and the mixer tells no least charge",
    why="the blades do not reach a small charge: it stays on the wall and in the corners, unmixed",
    remedy="use a smaller mixer, mix several batches at once, or tell the mixer's `least` charge",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Steps with a batch that is small in each of its mixers; one that tells `least` is measured by that."""
    for owner in ground.spec.owners():
        for step in owner.sequence:
            if not isinstance(step, Step) or key(step) not in ground.takeoff.steps:
                continue
            stations = [ground.spec.stations[name] for name in step.using if name in ground.spec.stations]
            if any(station.least is not None for station in stations):
                continue
            for batch in _batches(ground.takeoff, key(step)):
                filled = [(share, s) for s in stations if (share := _filled(s, batch)) is not None]
                if filled and max(share for share, _ in filled) < LEAST:
                    yield _problem(step, batch, filled, ground.spec.build.units)
                    break


def _batches(takeoff: Takeoff, step: tuple[str, str]) -> Iterator[Batch]:
    """The batches of a step; those that it shares with others stand with the step that leads."""
    yield from (batch for part in takeoff.steps[step].parts for batch in part.batches)
    yield from (batch for shared in takeoff.shared if shared.steps[0] == step for batch in shared.batches)


def _filled(station: Station, batch: Batch) -> Fraction | None:
    """The share of `station` that a batch fills; None where it holds neither a volume nor a mass."""
    holds = station.holds
    if holds is None or holds.dimension not in (Dimension.VOLUME, Dimension.MASS):
        return None
    return (batch.volume if holds.dimension is Dimension.VOLUME else batch.mass) / holds.si


def _problem(step: Step, batch: Batch, filled: list[tuple[Fraction, Station]], units: str) -> Problem:
    share, mixer = max(filled, key=lambda pair: pair[0])
    by_volume = mixer.holds is not None and mixer.holds.dimension is Dimension.VOLUME
    amount = volume(batch.volume, units) if by_volume else mass(batch.mass, units)
    message = f"a batch of {name_of(step)} is {amount}, {percent(share)} of what {mixer.name} holds; "
    message += f"wanted are at least {percent(LEAST)}"
    return problem_at(FINDING, step, step.owner, message, about=(mixer.name,))


_REST = """\
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
"""

RULE = Rule(
    finding=FINDING,
    check=check,
    breaks="""\
station drum "Drum mixer"
    holds     80 L
"""
    + SLAB
    + "    pour      body full of casting into bed using drum takes 30 min by 2\n"
    + _REST,
    keeps="""\
station drum "Drum mixer"
    holds     80 L
    least     5 L
"""
    + SLAB
    + "    pour      body full of casting into bed using drum takes 30 min by 2\n"
    + _REST,
)
