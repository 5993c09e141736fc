"""In which order the lines of a mix go into the bucket."""

from collections.abc import Sequence

from castlang.spec.model import Mix
from castlang.takeoff.model import RecipeLine


def in_order(mix: Mix, lines: Sequence[RecipeLine]) -> tuple[RecipeLine, ...]:
    """Lines in the order of addition; what `order` does not name comes after, as written."""
    place = {name: index for index, name in enumerate(mix.order)}

    def key(line: RecipeLine) -> int:
        named = place.get(line.stock)
        if named is None and line.role == "water":
            named = place.get("water")
        return len(place) if named is None else named

    return tuple(sorted(lines, key=key))
