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
    """Those of `placed_on` that are done when `step` begins, as far as the lines above it say so."""
    return tuple(
        placing
        for placing in done_before(step, spec)
        if placing.onto is not None and placing.onto.name == name
    )


def stands_on(name: str, step: Step, spec: Spec) -> Step | None:
    """The last placing of the thing of that name before `step` begins; None where it stands on nothing."""
    placings = [
        placing for placing in done_before(step, spec) if name in (thing.name for thing in placing.things)
    ]
    own = [placing for placing in placings if placing.owner == step.owner]
    found = own or placings
    return found[-1] if found else None


def done_before(step: Step, spec: Spec) -> tuple[Step, ...]:
    """The placings that are done when `step` begins: those above it in its own sequence, and those of the
    owners that an `after` line there waits for."""
    sequences = {owner.name: owner.sequence for owner in spec.owners()}
    done: list[Step] = []
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
                done.append(item)
            elif isinstance(item, After):
                waiting += [(ref.owner, "") for ref in item.refs if ref.step is None]
    keys = {(one.owner, one.name) for one in done}
    return tuple(
        one
        for one in steps_of(spec)
        if one.kind is StepKind.PLACE and one.onto is not None and (one.owner, one.name) in keys
    )
