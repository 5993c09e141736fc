"""Whose turn it is: which copy of a mold each casting goes into, and how many a station or a temporary work
serves at once."""

from castlang.spec.copies import copies_of
from castlang.spec.model import Mold, Spec, Station, Step, StepKind
from castlang.spec.quantity import Dimension

Taking = tuple[str, str, str]
"""A taking of one copy: owner, copy, step."""


def mold_turns(spec: Spec) -> dict[Taking, str]:
    """The copy of the mold for every taking of one: the castings take turns by number, piece after piece.

    A casting that no copy of the mold is the right way round for goes, for want of a better, into the first.
    """
    turns: dict[Taking, str] = {}
    taken: dict[tuple[str, bool], int] = {}
    for owner in spec.owners():
        for copy in copies_of(owner):
            for step in owner.sequence:
                mold = _mold_taken(step, spec) if isinstance(step, Step) else None
                if mold is None or not isinstance(step, Step):
                    continue
                mirrored = copy.startswith("m")
                able = [c for c in copies_of(mold) if c.startswith("m") == mirrored] or copies_of(mold)[:1]
                turn = taken.get((mold.name, mirrored), 0)
                taken[mold.name, mirrored] = turn + 1
                turns[owner.name, copy, step.name] = able[turn % len(able)]
    return turns


def _mold_taken(step: Step, spec: Spec) -> Mold | None:
    mold = spec.molds.get(step.target or "") if step.kind is StepKind.TAKE else None
    return None if mold is None or mold.temporary else mold


def places_of(station: Station) -> int:
    """How many steps or pieces fit at once: pieces where it holds pieces, else one for each that there is."""
    pieces = station.holds is not None and station.holds.dimension is Dimension.COUNT
    return station.have * (int(station.holds.si) if pieces and station.holds is not None else 1)
