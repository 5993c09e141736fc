"""What brought water to a piece, and whether it could leave before the next step."""

from castlang.rules.materials import seals, wets
from castlang.rules.model import Ground
from castlang.rules.order import before, is_drying, waits_between
from castlang.spec.model import Step


def wet_under(ground: Ground, piece: str, over: Step) -> tuple[Step, ...]:
    """The steps that brought water to `piece` before `over`, with no drying between."""
    return tuple(
        step
        for step in ground.work[piece]
        if wets(ground, step)
        and not seals(ground, step)
        and before(ground, piece, step, over)
        and not waits_between(ground, piece, step, over, is_drying)
    )
