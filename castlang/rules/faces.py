"""Where steps lie: the faces of a piece that a step works on, and those that two steps share."""

from castlang.rules.model import Ground
from castlang.rules.order import before, key
from castlang.spec.model import Step


def faces_of(ground: Ground, piece: str, step: Step) -> tuple[str, ...]:
    """The single faces of `piece` that `step` lies on."""
    done = ground.takeoff.steps.get(key(step))
    mark = f"{piece}."
    return tuple(face.removeprefix(mark) for face in (done.faces if done else ()) if face.startswith(mark))


def shared_faces(ground: Ground, piece: str, one: Step, other: Step) -> tuple[str, ...]:
    """The single faces of `piece` that both steps lie on."""
    theirs = faces_of(ground, piece, other)
    return tuple(face for face in faces_of(ground, piece, one) if face in theirs)


def ground_between(ground: Ground, piece: str, one: Step, other: Step, face: str) -> bool:
    """Whether `face` is ground at some grit after `one` and before `other`."""
    return any(
        step.grits
        and face in faces_of(ground, piece, step)
        and before(ground, piece, one, step)
        and before(ground, piece, step, other)
        for step in ground.work[piece]
    )
