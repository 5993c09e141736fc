"""What stands on what and what is built into it: the `place` and `insert` steps of a build, and which steps
come before which."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from castlang.spec.model import After, Gap, Item, Spec, Step, StepKind, StepRef
from castlang.takeoff.inserts import base_of

Key = tuple[str, str]
"""Owner and name of a step."""


def steps_of(spec: Spec) -> tuple[Step, ...]:
    """Every step of every owner, in order."""
    return tuple(item for owner in spec.owners() for item in owner.sequence if isinstance(item, Step))


HANDLED = frozenset({StepKind.PLACE, StepKind.MOVE, StepKind.TEST, StepKind.DEMOLD, StepKind.INSERT})
"""Steps that lift something, or leave something on it."""


@dataclass(frozen=True, kw_only=True)
class Placings:
    """The steps of a build that place one thing on another or build one into another, looked up once: to look
    through all steps for each step that moves something takes the square of the build."""

    spec: Spec
    _done: dict[Key, frozenset[int]] = field(default_factory=dict)

    @cached_property
    def _all(self) -> tuple[Step, ...]:
        return tuple(step for step in steps_of(self.spec) if step.kind in HANDLED)

    @cached_property
    def _number(self) -> Mapping[Key, int]:
        return {(step.owner, step.name): number for number, step in enumerate(self._all)}

    @cached_property
    def _sequences(self) -> Mapping[str, tuple[Item, ...]]:
        return {owner.name: owner.sequence for owner in self.spec.owners()}

    @cached_property
    def _on(self) -> Mapping[str, tuple[Step, ...]]:
        return _by_base(self._all, StepKind.PLACE)

    @cached_property
    def _into(self) -> Mapping[str, tuple[Step, ...]]:
        return _by_base(self._all, StepKind.INSERT)

    @cached_property
    def _of(self) -> Mapping[str, tuple[Step, ...]]:
        found: dict[str, list[Step]] = {}
        for step in self._all:
            if step.kind is StepKind.INSERT and step.material is not None:
                found.setdefault(step.material, []).append(step)
        return {name: tuple(steps) for name, steps in found.items()}

    def on(self, name: str) -> tuple[Step, ...]:
        """The steps that place something on the thing of that name."""
        return self._on.get(name, ())

    def on_before(self, name: str, step: Step) -> tuple[Step, ...]:
        """Those of `on` that are done when `step` begins, as far as the lines above it say so."""
        done = self._done_before(step)
        return tuple(one for one in self.on(name) if self._number[one.owner, one.name] in done)

    def into(self, name: str, step: Step | None = None) -> tuple[Step, ...]:
        """The steps of other blocks that build something into the thing of that name: all but those of which
        the lines say that they come after `step`. What a piece builds into itself is in its own weight."""
        found = self._into.get(name, ())
        if step is None:
            return found
        number = self._number.get((step.owner, step.name))
        return tuple(one for one in found if number not in self._done_before(one))

    def building_in(self, fitting: str) -> tuple[Step, ...]:
        """The steps that build that fitting into anything."""
        return self._of.get(fitting, ())

    def last_of(self, name: str, step: Step) -> Step | None:
        """The last placing of the thing of that name before `step` begins; None where it was not placed."""
        placings = [one for one in self.before(step) if one.kind is StepKind.PLACE]
        found = [one for one in placings if name in (thing.name for thing in one.things)]
        own = [one for one in found if one.owner == step.owner]
        return next(reversed(own or found), None)

    def before(self, step: Step) -> tuple[Step, ...]:
        """The steps that lift, place or build in, and are done when `step` begins: those above it in its own
        sequence, and what the lines there wait for."""
        return tuple(self._all[number] for number in sorted(self._done_before(step)))

    def _done_before(self, step: Step) -> frozenset[int]:
        key = (step.owner, step.name)
        if key not in self._done:
            self._done[key] = frozenset(self._numbers_before(key))
        return self._done[key]

    def _numbers_before(self, key: Key) -> set[int]:
        done: set[int] = set()
        waiting, seen = [key], set()
        while waiting:
            owner, until = waiting.pop()
            if (owner, until) in seen:
                continue
            seen.add((owner, until))
            for item in self._sequences.get(owner, ()):
                waiting += _waited_for(item)
                if isinstance(item, Step):
                    if item.name == until:
                        break
                    number = self._number.get((item.owner, item.name))
                    if number is not None:
                        done.add(number)
                for ref in _refs_of(item):
                    number = self._number.get((ref.owner, ref.step or ""))
                    if number is not None and ref.point != "start":
                        done.add(number)
        return done


def _refs_of(item: Item) -> tuple[StepRef, ...]:
    if isinstance(item, After):
        return item.refs
    return (item.after,) if isinstance(item, Gap) and item.after is not None else ()


def _waited_for(item: Item) -> list[Key]:
    """The blocks, whole or up to a step, that are done when what comes below `item`, or the step that it is,
    begins: `place`, `move` and `test` wait for the last line of each thing."""
    if isinstance(item, Step):
        waits = item.kind in (StepKind.PLACE, StepKind.MOVE, StepKind.TEST)
        things = (*item.things, *((item.onto,) if item.onto is not None else ())) if waits else ()
        return [(thing.name, "") for thing in things if thing.name != item.owner]
    return [
        (ref.owner, ref.step or "") for ref in _refs_of(item) if ref.step is not None or ref.point != "start"
    ]


def _by_base(steps: tuple[Step, ...], kind: StepKind) -> dict[str, tuple[Step, ...]]:
    found: dict[str, list[Step]] = {}
    for step in steps:
        base = base_of(step) if step.kind is kind else None
        if base is not None and not (kind is StepKind.INSERT and base == step.owner):
            found.setdefault(base, []).append(step)
    return {name: tuple(steps) for name, steps in found.items()}
