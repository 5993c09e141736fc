"""Which of two steps on a piece comes first, and which waits lie between them.

Lines of one block follow one another. Across blocks the gaps of the network decide, copy by copy.
"""

from collections.abc import Callable, Iterator

from castlang.rules.model import Ground, Waited
from castlang.spec.copies import chosen, copies_of, task_name
from castlang.spec.model import Gap, GapKind, Step, ThingRef


def key(step: Step) -> tuple[str, str]:
    """A step by its owner and its name."""
    return step.owner, step.name


def before(ground: Ground, piece: str, one: Step, other: Step) -> bool:
    """Whether `other` cannot start on any copy of `piece` before `one` has ended there."""
    if one.owner == other.owner:
        return ground.place[key(one)] < ground.place[key(other)]
    copies = shared_copies(ground, piece, one, other)
    return bool(copies) and all(_precedes(ground, piece, copy, one, other) for copy in copies)


def unordered(ground: Ground, piece: str, one: Step, other: Step) -> bool:
    """Whether on some copy of `piece` nothing puts one of the two before the other."""
    if one.owner == other.owner:
        return False
    return any(
        not _precedes(ground, piece, copy, one, other) and not _precedes(ground, piece, copy, other, one)
        for copy in shared_copies(ground, piece, one, other)
    )


def waits_between(ground: Ground, piece: str, first: Step, then: Step, wanted: Callable[[Gap], bool]) -> bool:
    """Whether a wait that is `wanted` begins after `first` and is over before `then` can start."""
    return any(
        wanted(waited.gap)
        and _begins(ground, piece, first, waited, owner)
        and _over(ground, piece, waited, owner, then)
        for owner in dict.fromkeys(step.owner for step in ground.work[piece])
        for waited in ground.waits[owner]
    )


def is_cure(gap: Gap) -> bool:
    """A cure, covered or open."""
    return gap.kind is GapKind.CURE


def is_drying(gap: Gap) -> bool:
    """A time in which water leaves: `dry`, or a cure in the open."""
    return gap.kind is GapKind.DRY or (gap.kind is GapKind.CURE and not gap.covered)


# ---------------------------------------------------------------- copies and their tasks


def shared_copies(ground: Ground, piece: str, one: Step, other: Step) -> tuple[str, ...]:
    """The copies of `piece` that both steps touch."""
    theirs = copies_touched(ground, piece, other)
    return tuple(copy for copy in copies_touched(ground, piece, one) if copy in theirs)


def copies_touched(ground: Ground, piece: str, step: Step) -> tuple[str, ...]:
    """The copies of `piece` that a step touches: those that it names, else all."""
    owner = ground.spec.pieces[piece]
    named: list[ThingRef] = [t for t in step.things if t.name == piece]
    if step.onto is not None and step.onto.name == piece:
        named.append(step.onto)
    on_faces = any(face.piece == piece for face in step.on) or (step.cavity or ("",))[0] == piece
    if not named or on_faces or step.owner == piece or any(t.copies.each for t in named):
        return copies_of(owner)
    meant = {copy for thing in named for copy in chosen(owner, thing.copies, None)}
    return tuple(copy for copy in copies_of(owner) if copy in meant)


def _precedes(ground: Ground, piece: str, copy: str, one: Step, other: Step) -> bool:
    lasts = [last for _, last in _runs(ground, piece, copy, one)]
    firsts = [first for first, _ in _runs(ground, piece, copy, other)]
    return bool(lasts and firsts) and all(ground.order.precedes(a, b) for a in lasts for b in firsts)


def _runs(ground: Ground, piece: str, copy: str, step: Step) -> Iterator[tuple[str, str]]:
    """The first and the last task of a step, for each of its doings on that copy."""
    done = ground.takeoff.steps.get(key(step))
    suffixes = [part.suffix for part in done.parts] if done is not None else []
    first, last = (suffixes[0], suffixes[-1]) if suffixes else ("", "")
    for own in _doings(ground, piece, copy, step):
        ends = (task_name(step.owner, own, step.name, first), task_name(step.owner, own, step.name, last))
        if all(name in ground.order.index for name in ends):
            yield ends


def _doings(ground: Ground, piece: str, copy: str, step: Step) -> tuple[str, ...]:
    """The copies under which a step's tasks for that copy of `piece` stand."""
    spec = ground.spec
    if piece in (step.owner, step.each):
        return (copy,)
    if step.each is not None and step.each in spec.pieces:
        return copies_of(spec.pieces[step.each])
    return copies_of(spec.pieces[step.owner]) if step.owner in spec.pieces else ("",)


# ---------------------------------------------------------------- waits


def _begins(ground: Ground, piece: str, first: Step, waited: Waited, owner: str) -> bool:
    if waited.gap.after is None and first.owner == owner:
        return ground.place[key(first)] < waited.place
    above = waited.above
    return above is not None and (key(above) == key(first) or before(ground, piece, first, above))


def _over(ground: Ground, piece: str, waited: Waited, owner: str, then: Step) -> bool:
    if then.owner == owner:
        return waited.place < ground.place[key(then)]
    if waited.below is not None:
        if key(waited.below) == key(then) or before(ground, piece, waited.below, then):
            return True
    elif _after_the_end(ground, piece, owner, then):
        return True
    if waited.above is None or waited.gap.after is not None:
        return False
    return any(
        ref.point is None
        and ref.gap in (None, waited.gap.kind)
        and (key(step) == key(then) or before(ground, piece, step, then))
        for step, ref in ground.afters.get(key(waited.above), ())
    )


def _after_the_end(ground: Ground, piece: str, owner: str, then: Step) -> bool:
    """Whether `then` waits for all of `owner`, the waits under its last step included."""
    ends = ground.ends.get(owner, {})
    pairs = [
        (end, first)
        for copy in copies_touched(ground, piece, then)
        for own, end in ends.items()
        for first, _ in _runs(ground, piece, copy, then)
        if owner != piece or own == copy
    ]
    return bool(pairs) and all(ground.order.precedes(end, first) for end, first in pairs)
