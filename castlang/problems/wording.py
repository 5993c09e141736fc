"""Small pieces of wording that messages of every stage share."""

from collections.abc import Iterable


def either(names: Iterable[str]) -> str:
    """`a, b or c`; `nothing more` when there is none."""
    listed = list(names)
    if not listed:
        return "nothing more"
    return listed[0] if len(listed) == 1 else ", ".join(listed[:-1]) + " or " + listed[-1]
