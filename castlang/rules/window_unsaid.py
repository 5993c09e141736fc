"""What is laid wet on wet has a window."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import SHELL
from castlang.rules.faces import shared_faces
from castlang.rules.ground import blocks_of, touched
from castlang.rules.materials import LAID, mix_of, sets_with_water
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Gap, GapKind, Item, Step, StepKind

FINDING = Finding(
    name="window-unsaid",
    severity=Severity.WARNING,
    says="a layer goes on a wet one, and nothing says how old that one may be",
    why="the plan may put a break or a night between the two, and then they do not bond",
    remedy="write the window between the two lines, as in `wait 30 min to 75 min`",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Neighbours among the layers of one block, wet on wet, without a longest time between them."""
    for owner in blocks_of(ground.spec):
        above: Step | None = None
        between: list[Item] = []
        for item in owner.sequence:
            if not isinstance(item, Step) or item.kind not in LAID:
                between.append(item)
                continue
            piece = None if above is None else _wet_on_wet(ground, above, item)
            if above is not None and piece is not None and not _bounded(between):
                yield problem_at(
                    FINDING,
                    item,
                    piece,
                    f"{name_of(item)} goes on {name_of(above)} while it is wet, "
                    "and no longest time stands between them",
                    related=(above,),
                )
            above, between = item, []


def _wet_on_wet(ground: Ground, above: Step, below: Step) -> str | None:
    """The piece on whose faces two layers lie that set with water, if there is one."""
    if not all(sets_with_water(mix_of(ground, step)) for step in (above, below)):
        return None
    pieces = (piece for piece in touched(below) if shared_faces(ground, piece, above, below))
    return next(pieces, None)


def _bounded(between: list[Item]) -> bool:
    """Whether a wait with a longest time, or what ends the wet state, stands between two layers."""
    for item in between:
        if isinstance(item, Step) and item.kind is StepKind.DEMOLD:
            return True
        if isinstance(item, Gap) and (
            item.kind in (GapKind.CURE, GapKind.DRY) or item.window.longest is not None
        ):
            return True
    return False


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=SHELL
    + """\
    layer     skin 3 mm of face on show sprayed takes 20 min by 2
    layer     back 8 mm of backer on show laid takes 30 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
""",
    keeps=SHELL
    + """\
    layer     skin 3 mm of face on show sprayed takes 20 min by 2
    wait      20 min to 60 min
    layer     back 8 mm of backer on show laid takes 30 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
""",
)
