"""What the build notes of the stations and fittings that work uses."""

from collections.abc import Iterable

from castlang.sheets.basis import Basis
from castlang.sheets.model import Prose
from castlang.spec.model import Fitting, Station, Step


def used_notes(basis: Basis, steps: Iterable[tuple[str, str]]) -> tuple[Prose, ...]:
    """One block of the notes of all that the steps (owner, name) use, each once: `Pan mixer: Wash it out.`;
    nothing where nothing is noted."""
    found = dict.fromkeys(
        f"{thing.label or thing.name}: {note}"
        for key in steps
        if key in basis.steps
        for thing in _used(basis, basis.steps[key])
        for note in thing.notes
    )
    if not found:
        return ()
    return (Prose(title="Notes on what is used", lines=tuple(found), points=True),)


def _used(basis: Basis, step: Step) -> list[Station | Fitting]:
    names = [*step.using, step.target, step.material, *(thing.name for thing in step.things)]
    if step.onto is not None:
        names.append(step.onto.name)
    things = (basis.spec.stations.get(name) or basis.spec.fittings.get(name) for name in names if name)
    return [thing for thing in things if thing is not None]
