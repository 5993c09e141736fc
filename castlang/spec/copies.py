"""Copies of pieces and molds, and the names of their tasks."""

from castlang.spec.model import Copies, Job, Mold, Piece


def copies_of(owner: Piece | Mold | Job) -> tuple[str, ...]:
    """The copies in order: plain "1", "2" ..., then mirrored "m1" ...; a single one has no number, ""."""
    if isinstance(owner, Job):
        return ("",)
    if owner.count + owner.mirrored <= 1:
        return ("" if owner.count else "m1",)
    plain = tuple(str(n) for n in range(1, owner.count + 1))
    return (*plain, *(f"m{n}" for n in range(1, owner.mirrored + 1)))


def chosen(owner: Piece | Mold | Job, copies: Copies, own: str | None) -> tuple[str, ...]:
    """The copies that a reference means; `own` is the copy of the step that refers, for `each`."""
    all_ = copies_of(owner)
    if copies.each:
        return (own,) if own in all_ else ()
    if copies.first is None or copies.last is None:
        return all_
    if len(all_) == 1:
        return all_
    mark = "m" if copies.mirrored else ""
    return tuple(f"{mark}{n}" for n in range(copies.first, copies.last + 1) if f"{mark}{n}" in all_)


def task_name(owner: str, copy: str, step: str, part: str = "") -> str:
    """`stool.3.hone.grit-120`."""
    return ".".join(x for x in (owner, copy, step, part) if x)
