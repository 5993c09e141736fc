"""What changed in the body of a piece, and in a mold: sizes, parts, lips, faces, panels, edges."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from castlang.compare import shown
from castlang.compare.kinds import ChangeKind as Kind
from castlang.compare.lines import (
    Place,
    block_place,
    changed,
    come_or_gone,
    facts_changed,
    named_changed,
)
from castlang.compare.model import Change
from castlang.compare.shown import told_pair
from castlang.sheets import amounts
from castlang.spec.model import Edge, Mold, Part, Piece, Shape, Step


def piece_changed(old: Piece, new: Piece, units: str) -> Iterator[Change]:
    """Everything but its steps."""
    place = block_place(new.name)
    yield from facts_changed(old, new, place, units)
    yield from shape_changed(Kind.PIECE_RESIZED, old.shape, new.shape, place, units)
    for part in _parts_of_both(old, new):
        yield from shape_changed(Kind.PART, part[0].shape, part[1].shape, place.at(part[1].name), units)
    yield from named_changed(Kind.PART, place, _named(old.parts), _named(new.parts), shown.part, units)
    yield from named_changed(
        Kind.LIP,
        place,
        {lip.name: lip for lip in old.lips},
        {lip.name: lip for lip in new.lips},
        lambda lip, u: f"{amounts.length(lip.deep, u)} on {lip.on}",
        units,
        "lip",
    )
    yield from _faces_changed(old.faces, new.faces, place, units)
    yield from _order_changed(Kind.PART, place, "parts", old.parts, new.parts)
    yield from _order_changed(Kind.LIP, place, "lips", old.lips, new.lips)


def _named(parts: tuple[Part, ...]) -> Mapping[str, Part]:
    return {part.name: part for part in parts}


def _parts_of_both(old: Piece, new: Piece) -> Iterator[tuple[Part, Part]]:
    others = _named(new.parts)
    for part in old.parts:
        if part.name in others:
            yield part, others[part.name]


def shape_changed(
    kind: Kind, old: Shape | None, new: Shape | None, place: Place, units: str
) -> Iterator[Change]:
    """Each size that is another; of another kind of body the whole."""
    if old == new:
        return
    if old is None or new is None or old.kind != new.kind:
        a, b = told_pair(shown.shape, old, new, units)
        yield changed(kind, place, "body", a, b)
        return
    for word in [*old.sizes, *(w for w in new.sizes if w not in old.sizes)]:
        before, after = old.sizes.get(word), new.sizes.get(word)
        if before != after:
            a, b = told_pair(_length, before, after, units)
            yield changed(kind, place, "" if a and b else word, a, b, word if a and b else "")
    for number in range(max(len(old.legs), len(new.legs))):
        one = old.legs[number] if number < len(old.legs) else None
        other = new.legs[number] if number < len(new.legs) else None
        if one != other:
            a, b = told_pair(shown.leg, one, other, units)
            yield changed(kind, place.at(f"wall {number + 1}:"), "", a, b)


def _length(value: Fraction, units: str) -> str:
    return amounts.length(value, units)


def _faces_changed(
    old: Mapping[str, tuple[str, ...]], new: Mapping[str, tuple[str, ...]], place: Place, units: str
) -> Iterator[Change]:
    for name in [*old, *(n for n in new if n not in old)]:
        before, after = old.get(name), new.get(name)
        if before is None or after is None:
            there = shown.names(after or before or (), units)
            yield come_or_gone(Kind.FACE, place, "face", f"{name} ({there})", added=before is None)
        elif before != after:
            yield changed(
                Kind.FACE, place, f"face {name}", shown.names(before, units), shown.names(after, units)
            )


def _order_changed(
    kind: Kind, place: Place, word: str, old: tuple[object, ...], new: tuple[object, ...]
) -> Iterator[Change]:
    """Members with names in another order, which nothing else would tell."""
    before = [getattr(member, "name", "") for member in old]
    after = [getattr(member, "name", "") for member in new]
    if before != after and sorted(before) == sorted(after):
        yield changed(kind, place, f"order of {word}:", ", ".join(before), ", ".join(after))


# ---------------------------------------------------------------- molds


def mold_changed(old: Mold, new: Mold, units: str) -> Iterator[Change]:
    """Everything but its steps. Temporary works are told as such."""
    kind = Kind.TEMP if new.temporary else Kind.MOLD
    place = block_place(new.name)
    own = dict.fromkeys(("count", "mirrored", "fits", "board", "lasts"), kind)
    yield from facts_changed(old, new, place, units, kinds=own)
    if old.temporary != new.temporary:
        words = ["a temporary work" if mold.temporary else "a mold" for mold in (old, new)]
        yield changed(kind, place, "is", words[0], words[1])
    panels = [{panel.name: panel for panel in mold.panels} for mold in (old, new)]
    yield from named_changed(kind, place, panels[0], panels[1], shown.panel, units, "panel")
    yield from _order_changed(kind, place, "panels", old.panels, new.panels)
    yield from _edges_changed(kind, place, old.edges, new.edges, units)
    yield from _release_changed(place, old.release, new.release, units)


def _edges_changed(
    kind: Kind, place: Place, old: tuple[Edge, ...], new: tuple[Edge, ...], units: str
) -> Iterator[Change]:
    for number in range(max(len(old), len(new))):
        before = old[number] if number < len(old) else None
        after = new[number] if number < len(new) else None
        if before != after:
            a, b = told_pair(_edge, before, after, units)
            yield changed(kind, place, "edge", a, b)


def _edge(edge: Edge, units: str) -> str:
    return f"{edge.kind} {amounts.length(edge.size, units)}"


def _release_changed(place: Place, old: Step | None, new: Step | None, units: str) -> Iterator[Change]:
    if old is None or new is None:
        there = new or old
        if there is not None:
            yield come_or_gone(Kind.MOLD, place, "release", shown.work(there, units), added=old is None)
        return
    yield from facts_changed(old, new, place.at("release"), units)
    if (old.owner, old.name) != (new.owner, new.name):
        yield changed(Kind.MOLD, place, "release", f"{old.owner}.{old.name}", f"{new.owner}.{new.name}")
