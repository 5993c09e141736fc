"""Points in time that begin a hold, moved as late as nothing else has to move."""

from castlang.plan.placement.board import OFF, Board
from castlang.plan.ties import Ties


def take_late(board: Board, k: int) -> None:
    """Begin what is held from point k on as late as nothing else has to move, so that it serves others until
    then. Only points in time are moved, never work."""
    ties = board.floor.ties
    start = board.start[k]
    latest = board.hold_end(k)
    for arc in ties.out[k]:
        head = board.start[arc.head]
        if head == OFF or latest is None:
            return  # what comes after is not placed yet and may want it early
        latest = min(latest, arc.back(board.end[arc.head] if arc.head_end else head))
    if latest is None or latest <= start or not any(arc.gap for arc in ties.out[k]):
        return
    board.lift(k)
    if board.put(k, latest):
        board.lift(k)
        board.put(k, start)


def is_point(ties: Ties, k: int) -> bool:
    """Whether task k is a point in time that may be moved."""
    task = ties.tasks[k]
    return not task.minutes and not task.crew and not task.needs and task.latest is None
