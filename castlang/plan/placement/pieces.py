"""Pieces: how much work there is in each copy of a piece, or of another thing that is made."""

from collections.abc import Iterable

from castlang.plan.model import Task

Piece = tuple[str, str]  # an owner and a copy


def work_of_pieces(tasks: Iterable[Task]) -> dict[Piece, int]:
    """Minutes times people of all tasks of each piece."""
    work: dict[Piece, int] = {}
    for task in tasks:
        piece = task.owner, task.copy
        work[piece] = work.get(piece, 0) + task.minutes * sum(people for _, people in task.crew)
    return work
