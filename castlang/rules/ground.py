"""A build laid out for the rules: which steps touch which piece, and where steps and waits stand."""

from castlang.plan.model import Network
from castlang.rules.model import Ground, Key, Waited
from castlang.spec.model import After, Gap, Item, Job, Piece, Spec, Step, StepKind, StepRef
from castlang.takeoff.model import Takeoff

BESIDES = frozenset({StepKind.COVER, StepKind.UNCOVER, StepKind.TEND})
"""Steps that a cure brings: what it counts from stands above them."""


def ground_of(spec: Spec, takeoff: Takeoff, network: Network) -> Ground:
    """The ground of a build."""
    sequences = {owner.name: owner.sequence for owner in spec.owners()}
    return Ground(
        spec=spec,
        takeoff=takeoff,
        network=network,
        work=_work(spec),
        place={
            (item.owner, item.name): place
            for sequence in sequences.values()
            for place, item in enumerate(sequence)
            if isinstance(item, Step)
        },
        waits={name: _waits(sequence, sequences) for name, sequence in sequences.items()},
        afters=_afters(spec),
    )


def blocks_of(spec: Spec) -> tuple[Piece | Job, ...]:
    """Everything in which pieces are worked on: pieces, then jobs."""
    return (*spec.pieces.values(), *spec.jobs.values())


def touched(step: Step) -> tuple[str, ...]:
    """Names of what a step works on, each once: its owner, and the pieces whose faces or selves it names."""
    names = [step.owner, *(face.piece for face in step.on)]
    if step.cavity is not None:
        names.append(step.cavity[0])
    names += [thing.name for thing in step.things if thing.kind == "piece"]
    if step.onto is not None and step.onto.kind == "piece":
        names.append(step.onto.name)
    return tuple(dict.fromkeys(names))


def _work(spec: Spec) -> dict[str, tuple[Step, ...]]:
    """By piece, every step that touches it. Making a mold touches no piece yet."""
    found: dict[str, list[Step]] = {name: [] for name in spec.pieces}
    others: dict[str, list[Step]] = {name: [] for name in spec.pieces}
    for owner in blocks_of(spec):
        for item in owner.sequence:
            if isinstance(item, Step):
                for name in touched(item):
                    if name in found:
                        (found if name == owner.name else others)[name].append(item)
    return {name: (*own, *others[name]) for name, own in found.items()}


def _waits(sequence: tuple[Item, ...], sequences: dict[str, tuple[Item, ...]]) -> tuple[Waited, ...]:
    waits = []
    for place, item in enumerate(sequence):
        if isinstance(item, Gap):
            below = next((i for i in sequence[place + 1 :] if isinstance(i, Step)), None)
            far = item.after
            above = _last(sequence[:place]) if far is None else _named(far, sequences)
            waits.append(Waited(gap=item, place=place, above=above, below=below))
    return tuple(waits)


def _last(sequence: tuple[Item, ...]) -> Step | None:
    steps = (i for i in reversed(sequence) if isinstance(i, Step) and i.kind not in BESIDES)
    return next(steps, None)


def _named(ref: StepRef, sequences: dict[str, tuple[Item, ...]]) -> Step | None:
    sequence = sequences.get(ref.owner, ())
    return next((i for i in sequence if isinstance(i, Step) and i.name == ref.step), None)


def _afters(spec: Spec) -> dict[Key, tuple[tuple[Step, StepRef], ...]]:
    found: dict[Key, tuple[tuple[Step, StepRef], ...]] = {}
    for owner in spec.owners():
        waiting: list[StepRef] = []
        for item in owner.sequence:
            if isinstance(item, After):
                waiting += item.refs
            elif isinstance(item, Step):
                for ref in waiting:
                    key = (ref.owner, ref.step or "")
                    found[key] = (*found.get(key, ()), (item, ref))
                waiting = []
    return found
