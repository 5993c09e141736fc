"""Which steps are served by the same batches, and which copies of them are cast in one round.

A round is what can stand in molds, on stations and under temporary works at one time: three stools and two
molds make a round of two and a round of one.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import count

from castlang.problems.model import Problem
from castlang.spec.copies import copies_of
from castlang.spec.model import Spec, Step, StepKind
from castlang.spec.turns import Taking, mold_turns, places_of
from castlang.takeoff import batch_findings
from castlang.takeoff.bodies import LAID
from castlang.takeoff.model import StepTakeoff

MIXED = (*LAID, StepKind.POUR, StepKind.PASS)
Key = tuple[str, str]


def groups_of(spec: Spec, steps: Sequence[Step]) -> tuple[tuple[Step, ...], ...]:
    """The steps that share their batches, group by group: first the one whose line says so, then those that
    it names, in its order. A step that names itself alone, of a single copy, shares with nobody."""
    known = {(step.owner, step.name): step for step in steps}
    seen: set[Key] = set()
    groups = []
    named = {key for step in steps for key in step.batch_with}
    heads = [s for s in steps if s.batch_with and (s.owner, s.name) not in named - {(s.owner, s.name)}]
    for step in (*heads, *(s for s in steps if s.batch_with)):
        group = tuple(known[key] for key in _reached((step.owner, step.name), known) if key not in seen)
        seen |= {(one.owner, one.name) for one in group}
        if len([copy for one in group for copy in copies_done(spec, one)]) > 1:
            groups.append(group)
    return tuple(groups)


def _reached(first: Key, known: Mapping[Key, Step]) -> Iterator[Key]:
    """Everything that one step's line leads to, and everything that leads to any of it."""
    found: dict[Key, None] = {}
    waiting = [first]
    while waiting:
        key = waiting.pop(0)
        if key in found or key not in known:
            continue
        found[key] = None
        waiting += known[key].batch_with
        waiting += [other for other, step in known.items() if key in step.batch_with]
    yield from found


def copies_done(spec: Spec, step: Step) -> tuple[str, ...]:
    """The copies of which a step is done: those of its owner, or of the piece behind `each`."""
    if step.each is not None and step.each in spec.pieces:
        return copies_of(spec.pieces[step.each])
    return next(copies_of(owner) for owner in spec.owners() if owner.name == step.owner)


# ---------------------------------------------------------------- what cannot be shared


def unlike(group: Sequence[Step], taken: Mapping[Key, StepTakeoff]) -> Problem | None:
    """Why the steps of a group cannot share their batches; None where they can."""
    first = group[0]
    for step in group:
        why = _why_not(first, step, taken)
        if why is not None:
            return Problem(
                finding=batch_findings.NOT_SHARED,
                message=f"{first.owner}.{first.name} and {step.owner}.{step.name} cannot share batches: {why}"
                if step is not first
                else f"{first.owner}.{first.name} cannot share its batches: {why}",
                span=first.span,
                related=() if step is first else ((step.span, f"{step.owner}.{step.name}"),),
                about=tuple(dict.fromkeys(f"{s.owner}.{s.name}" for s in (first, step))),
            )
    return None


def _why_not(first: Step, step: Step, taken: Mapping[Key, StepTakeoff]) -> str | None:
    name = f"{step.owner}.{step.name}"
    if step.kind not in MIXED or step.material is None:
        return f"{name} mixes nothing"
    if step.material != first.material:
        return f"one is of {first.material}, the other of {step.material}"
    if step.may_pause:
        return f"{name} may pause, and its mix would set meanwhile"
    here, there = taken.get((first.owner, first.name)), taken.get((step.owner, step.name))
    if here is not None and there is not None and len(here.parts) != len(there.parts):
        return f"one comes in {len(here.parts)} lifts or coats, the other in {len(there.parts)}"
    return None


# ---------------------------------------------------------------- rounds


@dataclass(slots=True)
class _Rounds:
    """What stands where, round by round, while copies are dealt out."""

    stood: dict[tuple[int, str], int] = field(default_factory=dict)

    def free(self, number: int, places: Mapping[str, int]) -> bool:
        return all(self.stood.get((number, name), 0) < places[name] for name in places)

    def put(self, number: int, places: Mapping[str, int]) -> None:
        for name in places:
            self.stood[number, name] = self.stood.get((number, name), 0) + 1


def rounds_of(spec: Spec, group: Sequence[Step]) -> tuple[tuple[tuple[Step, str], ...], ...]:
    """The steps with their copies, round by round; in a round as the group stands, copies by number."""
    turns, rounds = mold_turns(spec), _Rounds()
    dealt: dict[int, list[tuple[Step, str]]] = {}
    for step in group:
        at = 0
        for copy in copies_done(spec, step):
            places = _places(spec, step, copy, turns)
            at = next(number for number in count(at) if rounds.free(number, places))
            rounds.put(at, places)
            dealt.setdefault(at, []).append((step, copy))
    return tuple(tuple(dealt[number]) for number in sorted(dealt))


def _places(spec: Spec, step: Step, copy: str, turns: Mapping[Taking, str]) -> dict[str, int]:
    """What a copy stands in when the step comes, and how many stand there at once."""
    owner = next(owner for owner in spec.owners() if owner.name == step.owner)
    held: dict[str, int] = {}
    for item in owner.sequence:
        if not isinstance(item, Step):
            continue
        if (item.owner, item.name) == (step.owner, step.name):
            break
        target = item.target or ""
        if item.kind is StepKind.TAKE and target in spec.molds:
            mold = spec.molds[target]
            turn = turns.get((owner.name, copy, item.name))
            held[target if mold.temporary else f"{target}.{turn}"] = (
                max(1, mold.count) if mold.temporary else 1
            )
        elif item.kind is StepKind.TAKE and target in spec.stations:
            held[target] = places_of(spec.stations[target])
        elif item.kind is StepKind.FREE:
            held.pop(target, None)
        elif item.kind is StepKind.DEMOLD:
            held = {name: places for name, places in held.items() if "." not in name}
    return held
