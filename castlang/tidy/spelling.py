"""The one spelling of each unit."""

from castlang.spec.units import COUNTED, SPELLED, unit_of

_ONE = {"days": "day", "weeks": "week", **{many: one for one, many in COUNTED.items() if one != many}}
"""Words that follow their number, many to one."""


def own_spelling(number: str, unit: str) -> str:
    """The unit's own spelling behind `number`: `h` for `hrs`, `kg/m3` for `kg/m³`, `day` for `1 days`.

    A word that is no unit, or whose other spelling would not mean exactly the same, is left as it is.
    """
    meant = unit_of(unit)
    own = "/".join(SPELLED.get(word, word) for word in unit.split("/"))
    told = unit_of(own)
    if meant is None or told is None:
        return unit
    if (meant.factor, meant.offset, meant.dimension, meant.word) != (
        told.factor,
        told.offset,
        told.dimension,
        told.word,
    ):
        return unit
    many = COUNTED.get(own, own)
    return _ONE[many] if number == "1" and many in _ONE else many
