"""What stands on what: the `place` steps of a build, and which of them come before a step."""

from castlang.spec.model import After, Spec, Step, StepKind


def steps_of(spec: Spec) -> tuple[Step, ...]:
    """Every step of every owner, in order."""
    return tuple(item for owner in spec.owners() for item in owner.sequence if isinstance(item, Step))


def placed_on(name: str, spec: Spec) -> tuple[Step, ...]:
    """The steps that place something on the thing of that name."""
    return tuple(
        step
        for step in steps_of(spec)
        if step.kind is StepKind.PLACE and step.onto is not None and step.onto.name == name
    )


def placed_before(name: str, step: Step, spec: Spec) -> tuple[Step, ...]:
    """Those of `placed_on` that are done when `step` begins, as far as the lines above it say so: its own
    sequence, and the owners that an `after` line there waits for."""
    sequences = {owner.name: owner.sequence for owner in spec.owners()}
    done: list[tuple[str, str]] = []
    waiting, seen = [(step.owner, step.name)], set()
    while waiting:
        owner, until = waiting.pop()
        if (owner, until) in seen or owner not in sequences:
            continue
        seen.add((owner, until))
        for item in sequences[owner]:
            if isinstance(item, Step):
                if item.name == until:
                    break
                done.append((owner, item.name))
            elif isinstance(item, After):
                waiting += [(ref.owner, "") for ref in item.refs if ref.step is None]
    return tuple(placing for placing in placed_on(name, spec) if (placing.owner, placing.name) in done)
